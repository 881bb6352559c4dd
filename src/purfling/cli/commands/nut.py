"""``purfling nut SLIP.toml``: groove places, depths, edge margins and a 1:1 strip."""

from argparse import ArgumentParser, Namespace

from purfling.cli.options import number, slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.papers.nut_strip.build import strip_files
from purfling.reckonings.nut.compute import compute
from purfling.reckonings.nut.pictures import strip
from purfling.reckonings.nut.sentences import plain
from purfling.slips.reader import read_slip


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)
    parser.add_argument("--print-scale", metavar="X", help="printer's correction of the 1:1 strip")


def run(args: Namespace) -> Outcome:
    """Reckon the nut; with -o also its strip."""
    scale = number(args.print_scale, "--print-scale", "", 0.9, 1.1)
    case = compute(read_slip(slip_path(args.slip, "nut")))
    files: dict[str, bytes] = {}
    if args.out is not None:
        plain_scale = None if scale is None else 1.0
        sheet, unscaled = strip(case, args.language, scale), strip(case, args.language, plain_scale)
        files = strip_files(sheet, unscaled, args.language)
    return Outcome(case.answer, lambda language: plain(case, language), files)
