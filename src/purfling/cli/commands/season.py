"""``purfling season SLIP.toml --before OLD.toml``: is it the season or has the neck dropped."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from purfling.cli.options import slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.craft.refusals import Refusal
from purfling.reckonings.season.compute import compute
from purfling.reckonings.season.pictures import files
from purfling.reckonings.season.sentences import plain
from purfling.slips.reader import read_slip


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)
    parser.add_argument("--before", metavar="OLD.toml", help="the earlier card of the same instrument")
    parser.add_argument(
        "--bridge-kept", action="store_true", help="the bridge stood untouched between the two"
    )


def run(args: Namespace) -> Outcome:
    """Reckon the two cards."""
    now = slip_path(args.slip, "season")
    if args.before is None:
        raise Refusal("arithmetic.no_before")
    case = compute(read_slip(Path(args.before)), read_slip(now), args.bridge_kept)
    shown = files(case, args.language) if args.out is not None else {}
    return Outcome(case.answer, lambda language: plain(case, language), shown)
