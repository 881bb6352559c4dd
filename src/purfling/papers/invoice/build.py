"""Paper -> the PDF of an invoice, deposit or credit note, with its XML inside and a payment QR for euro."""

from decimal import Decimal
from typing import Any

from purfling.drawing.shapes import Drawing, Rect
from purfling.papers.common import frame
from purfling.papers.typeset import typeset
from purfling.reckonings.money.einvoice import Paper, Party, embed, to_xml
from purfling.words import say

WORDS = (
    "date",
    "delivered",
    "due",
    "number",
    "words",
    "quantity",
    "price",
    "sum",
    "net",
    "tax",
    "total",
    "rounding",
    "to_pay",
    "pay_to",
    "refers",
    "tax_number",
    "own_rules",
)


def money(value: Decimal, language: str) -> str:
    """An amount with two decimals and the language's decimal sign."""
    text = f"{value:.2f}"
    return text.replace(".", ",") if language == "de" else text


def _quantity(value: Decimal, language: str) -> str:
    text = f"{value.normalize():f}"
    return text.replace(".", ",") if language == "de" else text


def _address(party: Party) -> list[str]:
    town = " ".join(p for p in (party.postcode, party.town) if p)
    return [p for p in (party.name, party.line_one, town) if p]


def _rows(paper: Paper, language: str) -> list[dict[str, str]]:
    rows = []
    for line, net in zip(paper.lines, paper.total.lines_net, strict=True):
        rate = f"{line.tax.percent.normalize():f} %" if line.tax.category == "S" else "-"
        rows.append(
            {
                "words": line.text,
                "quantity": _quantity(line.quantity, language),
                "net": money(net, language),
                "rate": rate.replace(".", ",") if language == "de" else rate,
            }
        )
    return rows


def qr_drawing(paper: Paper) -> Drawing | None:
    """The payment QR (EPC069-12) as squares of 0.8 mm, where euro are owed to an IBAN."""
    due = paper.total.due - paper.paid
    if paper.currency != "EUR" or not paper.iban or due <= 0:
        return None
    from segno.helpers import make_epc_qr

    code = make_epc_qr(
        name=paper.seller.name[:70], iban=paper.iban, amount=due, text=paper.number, bic=paper.bic or None
    )
    side = 0.8
    rows = [list(r) for r in code.matrix]
    n = len(rows)
    items = tuple(
        Rect((x + 2) * side, (n - 1 - y + 2) * side, side, side, None, "ink")
        for y, row in enumerate(rows)
        for x, dark in enumerate(row)
        if dark
    )
    return Drawing((n + 4) * side, (n + 4) * side, items, "payment QR")


def invoice_pdf(paper: Paper, subject: str = "", small: bool = False, language: str = "en") -> bytes:
    """The paper as PDF/A-3 with its EN 16931 XML embedded.

    Parameters
    ----------
    paper : the paper; subject : the visit's number for the foot; small : the short form for small sums, which
    leaves the buyer's address out where the law allows it; language : of the words.
    """
    reasons = [r.tax.reason for r in paper.total.rates if r.tax.reason]
    t = paper.total
    data: dict[str, Any] = {
        **frame(say(f"money.title_{paper.kind}", language), paper.number, language, ()),
        "words": {w: say(f"money.w_{w}", language) for w in WORDS}
        | {"page": say("papers.page", language), "of": say("papers.of", language)},
        "number": paper.number,
        "issued_on": paper.issued_on.strftime("%d.%m.%Y"),
        "delivered_on": paper.delivered_on.strftime("%d.%m.%Y"),
        "due_on": paper.due_on.strftime("%d.%m.%Y") if paper.due_on else "",
        "seller": _address(paper.seller),
        "seller_numbers": [n for n in (paper.seller.vat_number, paper.seller.tax_number) if n],
        "buyer": [paper.buyer.name] if small else _address(paper.buyer),
        "refers_to": paper.refers_to,
        "subject": subject,
        "rows": _rows(paper, language),
        "rates": [
            {
                "rate": f"{r.tax.percent.normalize():f} %" if r.tax.category == "S" else r.tax.category,
                "net": money(r.net, language),
                "tax": money(r.amount, language),
            }
            for r in t.rates
        ],
        "net": money(t.net, language),
        "tax": money(t.tax, language),
        "gross": money(t.gross, language),
        "rounding": money(t.rounding, language) if t.rounding else "",
        "to_pay": f"{money(t.due - paper.paid, language)} {paper.currency}",
        "iban": paper.iban,
        "bic": paper.bic,
        "terms": paper.terms,
        "reasons": reasons,
    }
    qr = qr_drawing(paper)
    pdf = typeset("invoice", data, {"qr": qr} if qr else {}, standard="a-3b")
    return embed(pdf, to_xml(paper), language)
