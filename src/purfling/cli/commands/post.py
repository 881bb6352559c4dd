"""``purfling post SLIP.toml``: length and ends when the sound post moves, season, map of tries."""

from argparse import ArgumentParser, Namespace

from purfling.cli.options import number, slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.reckonings.post.compute import compute
from purfling.reckonings.post.pictures import files
from purfling.reckonings.post.sentences import plain
from purfling.slips.reader import read_slip


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)
    parser.add_argument(
        "--outward", metavar="MM", help="move towards the outside of the body (negative: inward)"
    )
    parser.add_argument("--back", metavar="MM", help="move towards the tail (negative: towards the neck)")


def run(args: Namespace) -> Outcome:
    """Reckon the post."""
    slip = read_slip(slip_path(args.slip, "post"))
    outward = number(args.outward, "--outward", "mm", -15, 15)
    back = number(args.back, "--back", "mm", -15, 15)
    case = compute(slip, outward, back)
    shown = files(case, args.language) if args.out is not None else {}
    return Outcome(case.answer, lambda language: plain(case, language), shown)
