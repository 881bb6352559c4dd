"""``purfling setup SLIP.toml [--wished]``: the set-up alone; with -o its two views as SVG."""

from argparse import ArgumentParser, Namespace

from purfling.cli.options import slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.reckonings.setup.compute import reckon
from purfling.reckonings.setup.sentences import table
from purfling.slips.reader import read_slip


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)
    parser.add_argument("--wished", action="store_true", help="the card with [wish.*] laid over it")


def run(args: Namespace) -> Outcome:
    """Reckon the card, as found or as wished."""
    slip = read_slip(slip_path(args.slip, "setup"))
    reckoned = reckon(slip, wished=args.wished)
    files: dict[str, bytes] = {}
    if args.out is not None:
        from purfling.drawing.svg import to_svg
        from purfling.reckonings.setup.pictures import views

        found = reckon(slip) if args.wished else reckoned
        drawn = views(found, reckoned if args.wished else None, args.language)
        files = {f"{name}-view.svg": to_svg(d).encode("utf-8") for name, d in drawn.items()}
    return Outcome(reckoned.answer, lambda language: table(reckoned, language), files)
