"""``purfling strings SLIP.toml``: tensions, loads per foot, afterlength, gaps; a new set against it."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from purfling.cli.options import slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.reckonings.strings.compute import compute
from purfling.reckonings.strings.pictures import files
from purfling.reckonings.strings.sentences import plain
from purfling.slips.reader import read_slip


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)
    parser.add_argument("--strings", metavar="FILE", help="a slip with the new [[strings]]")


def run(args: Namespace) -> Outcome:
    """Reckon the set."""
    slip = read_slip(slip_path(args.slip, "strings"))
    case = compute(slip, None if args.strings is None else read_slip(Path(args.strings)))
    shown = files(case, args.language) if args.out is not None else {}
    return Outcome(case.answer, lambda language: plain(case, language), shown)
