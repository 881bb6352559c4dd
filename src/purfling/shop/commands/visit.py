"""``purfling visit export N`` writes a visit as a slip; ``purfling visit import SLIP`` takes one in."""

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import Any

from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer
from purfling.shop.commands import open_book
from purfling.shop.commands.outcome import Said
from purfling.slips.reader import read_slip

ACTIONS = ("export", "import")


def options(parser: ArgumentParser) -> None:
    """What to do with which visit or slip, in which book."""
    parser.add_argument("action", nargs="?", metavar="export|import", help="what to do")
    parser.add_argument("which", nargs="?", metavar="N|SLIP.toml", help="number of the visit, or the slip")
    parser.add_argument("--book", metavar="DIR", help="folder of the book (default: book/shop)")


def _number(text: str | None) -> int:
    if text is None or not text.isdecimal() or len(text) > 8:
        raise Refusal("book.bad_visit_number", value=str(text)[:20])
    return int(text)


def _export(number: int) -> Said:
    import tomli_w

    from purfling.shop.domain.exchange import export_visit
    from purfling.shop.models import Visit

    visit = Visit.objects.select_related("player").filter(number=number).first()
    if visit is None:
        raise Refusal("book.no_visit", number=number)
    tables = export_visit(visit=visit)
    text = tomli_w.dumps(tables)
    answer = Answer({"number": number, "slip": tables})
    return Said(answer, lambda language: text, {f"visit-{number}.toml": text.encode("utf-8")})


def _import(path: Path) -> Said:
    from purfling.shop.domain.exchange import import_visit
    from purfling.shop.models import Maker
    from purfling.words import say

    slip = read_slip(path)
    owner = Maker.objects.filter(role="owner").first()
    if owner is None:
        raise Refusal("book.unclaimed")
    visit = import_visit(slip=slip, who=owner)
    results: dict[str, Any] = {"number": visit.number, "objects": visit.rows.count()}
    return Said(Answer(results), lambda language: say("book.imported", language, number=visit.number) + "\n")


def run(args: Namespace) -> Said:
    """Export or import one visit.

    Raises
    ------
    Refusal
        Neither export nor import; no such visit; no book in the folder; what the slip or the verbs refuse.
    """
    if args.action not in ACTIONS:
        raise Refusal(
            "slips.bad_choice", field="visit", value=str(args.action)[:40], choices=", ".join(ACTIONS)
        )
    if args.action == "export":
        number = _number(args.which)
        open_book(args.book)
        return _export(number)
    if args.which is None:
        raise Refusal("cli.no_slip", command="purfling visit import")
    read_slip(Path(args.which))
    open_book(args.book)
    return _import(Path(args.which))
