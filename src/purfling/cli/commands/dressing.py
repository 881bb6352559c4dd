"""``purfling dressing SLIP.toml [--csv FILE]``: what must come off a fingerboard, where, and what follows."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from purfling.cli.options import number, slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.craft.refusals import Refusal
from purfling.drawing.strips import PAPERS
from purfling.reckonings.dressing.compute import compute
from purfling.reckonings.dressing.sentences import plain
from purfling.slips.reader import read_slip


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)
    parser.add_argument(
        "--csv", metavar="FILE", help="the board's readings, a grid or lines (instead of the slip's)"
    )
    parser.add_argument("--print-scale", metavar="X", help="printer's correction of the 1:1 templates")
    parser.add_argument("--paper", metavar="NAME", default="a4", help="of the templates: a4 or us-letter")


def run(args: Namespace) -> Outcome:
    """Reckon; with -o also the sheets and the 1:1 templates."""
    if args.paper not in PAPERS:
        raise Refusal("slips.bad_choice", field="--paper", value=args.paper[:40], choices=", ".join(PAPERS))
    scale = number(args.print_scale, "--print-scale", "", 0.9, 1.1)
    slip = read_slip(slip_path(args.slip, "dressing"))
    case = compute(slip, Path(args.csv) if args.csv is not None else None)
    files: dict[str, bytes] = {}
    if args.out is not None:
        from purfling.papers.dressing.build import dressing_files

        files = dressing_files(case, args.language, scale, args.paper)
    return Outcome(case.answer, lambda language: plain(case, language), files)
