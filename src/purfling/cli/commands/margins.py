"""``purfling margins SLIP.toml``: room against swing, open and stopped, bowed and plucked."""

from argparse import ArgumentParser, Namespace

from purfling.cli.options import slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.reckonings.margins.compute import compute
from purfling.reckonings.margins.pictures import files
from purfling.reckonings.margins.sentences import plain
from purfling.slips.reader import read_slip


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)


def run(args: Namespace) -> Outcome:
    """Reckon the margins."""
    case = compute(read_slip(slip_path(args.slip, "margins")))
    shown = files(case, args.language) if args.out is not None else {}
    return Outcome(case.answer, lambda language: plain(case, language), shown)
