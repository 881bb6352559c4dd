"""``purfling bow-room SLIP.toml``: string planes, middle strings, waist, the player's kept curve."""

from argparse import ArgumentParser, Namespace

from purfling.cli.options import slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.reckonings.bow_room.compute import compute
from purfling.reckonings.bow_room.pictures import files
from purfling.reckonings.bow_room.sentences import plain
from purfling.slips.reader import read_slip


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)


def run(args: Namespace) -> Outcome:
    """Reckon the bow's room."""
    case = compute(read_slip(slip_path(args.slip, "bow-room")))
    shown = files(case, args.language) if args.out is not None else {}
    return Outcome(case.answer, lambda language: plain(case, language), shown)
