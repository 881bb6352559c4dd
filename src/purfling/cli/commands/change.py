"""``purfling change SLIP.toml``: what follows when board, clearance, projection or strings change."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from purfling.cli.options import number, slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.craft.refusals import Refusal
from purfling.reckonings.change.compute import Asked, compute
from purfling.reckonings.change.pictures import files
from purfling.reckonings.change.sentences import plain
from purfling.slips.reader import read_slip

MOST_OFF = 8.0  # mm of wood; more is a slip of the pen


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)
    parser.add_argument(
        "--board-at-nut", metavar="MM", help="wood taken off at the nut (negative: thicker board)"
    )
    parser.add_argument("--board-at-end", metavar="MM", help="wood taken off at the board's end")
    parser.add_argument("--nut-kept", action="store_true", help="the nut is left as high as it is")
    parser.add_argument(
        "--clearance-at-end",
        metavar="low=MM,high=MM",
        help="change of the outer strings' clearances at the end",
    )
    parser.add_argument(
        "--projection", metavar="MM", help="change of the projection; 10 and more: the new projection itself"
    )
    parser.add_argument("--strings", metavar="FILE", help="a slip with the new [[strings]]")


def outer(text: str | None, option: str) -> tuple[float, float] | None:
    """``low=-0.5,high=-0.3`` or one number for all strings -> (low, high) [mm]; None where not given."""
    if text is None:
        return None
    if "=" not in text:
        value = number(text, option, "mm", -8, 8)
        assert value is not None
        return value, value
    found: dict[str, float] = {}
    for part in text.split(","):
        key, _, shown = part.partition("=")
        key = key.strip()
        if key not in ("low", "high") or key in found:
            raise Refusal("arithmetic.bad_outer", field=option, value=text[:40])
        value = number(shown.strip(), f"{option} {key}", "mm", -8, 8)
        assert value is not None
        found[key] = value
    if len(found) < 2:
        raise Refusal("arithmetic.bad_outer", field=option, value=text[:40])
    return found["low"], found["high"]


def run(args: Namespace) -> Outcome:
    """Reckon the change."""
    slip = read_slip(slip_path(args.slip, "change"))
    asked = Asked(
        board_at_nut_mm=number(args.board_at_nut, "--board-at-nut", "mm", -MOST_OFF, MOST_OFF) or 0.0,
        board_at_end_mm=number(args.board_at_end, "--board-at-end", "mm", -MOST_OFF, MOST_OFF) or 0.0,
        nut_kept=args.nut_kept,
        clearance_at_end_mm=outer(args.clearance_at_end, "--clearance-at-end"),
        projection_mm=number(args.projection, "--projection", "mm", -10, 250),
        strings=None if args.strings is None else read_slip(Path(args.strings)),
    )
    case = compute(slip, asked)
    return Outcome(
        case.answer,
        lambda language: plain(case, language),
        files(case, args.language) if args.out is not None else {},
    )
