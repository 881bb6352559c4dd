"""``purfling dressing SLIP.toml [--csv FILE]``: what must come off a fingerboard, where, and what follows."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from purfling.cli.options import slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.reckonings.dressing.compute import compute
from purfling.reckonings.dressing.sentences import plain
from purfling.slips.reader import read_slip


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)
    parser.add_argument(
        "--csv", metavar="FILE", help="the board's readings, a grid or lines (instead of the slip's)"
    )


def run(args: Namespace) -> Outcome:
    """Reckon."""
    slip = read_slip(slip_path(args.slip, "dressing"))
    case = compute(slip, Path(args.csv) if args.csv is not None else None)
    return Outcome(case.answer, lambda language: plain(case, language))
