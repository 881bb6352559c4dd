"""``purfling pegs SLIP.toml``: how far each peg goes in, what stands out, when to bush."""

from argparse import ArgumentParser, Namespace

from purfling.cli.options import slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.reckonings.pegs.compute import compute
from purfling.reckonings.pegs.pictures import files
from purfling.reckonings.pegs.sentences import plain
from purfling.slips.reader import read_slip


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)


def run(args: Namespace) -> Outcome:
    """Reckon the pegs."""
    case = compute(read_slip(slip_path(args.slip, "pegs")))
    shown = files(case, args.language) if args.out is not None else {}
    return Outcome(case.answer, lambda language: plain(case, language), shown)
