"""A paper as EN 16931 wants it: terms by their numbers, then CII XML by the factur-x library."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any, Literal

from purfling.reckonings.money.sums import Line, Total

PaperKind = Literal["invoice", "deposit", "credit_note"]
TYPE_CODES: dict[PaperKind, str] = {"invoice": "380", "deposit": "386", "credit_note": "381"}
# VATEX codes of the exemptions that have one; small businesses give their reason in words.
REASON_CODES = {"AE": "VATEX-EU-AE", "O": "VATEX-EU-O"}


@dataclass(frozen=True)
class Party:
    """Seller or buyer: name, address lines, town, postcode, two-letter country, tax and trade numbers."""

    name: str
    line_one: str = ""
    town: str = ""
    postcode: str = ""
    country: str = ""
    vat_number: str = ""
    tax_number: str = ""
    email: str = ""


@dataclass(frozen=True)
class Paper:
    """All of an issued paper that the XML and the PDF both show."""

    kind: PaperKind
    number: str
    issued_on: date
    delivered_on: date
    due_on: date | None
    currency: str
    seller: Party
    buyer: Party
    lines: tuple[Line, ...]
    total: Total
    iban: str = ""
    bic: str = ""
    terms: str = ""
    refers_to: str = ""
    refers_on: date | None = None
    paid: Decimal = Decimal(0)


def _party(party: Party) -> dict[str, Any]:
    found: dict[str, Any] = {"name": party.name, "country_code": party.country or "XX"}
    for key, value in (
        ("addr_l1", party.line_one),
        ("city", party.town),
        ("postcode", party.postcode),
        ("vat_identifier", party.vat_number),
        ("tax_identifier", party.tax_number),
    ):
        if value:
            found[key] = value
    return found


def _money(value: Decimal) -> str:
    return f"{value:.2f}"


def _unit_price(line: Line, net: Decimal) -> str:
    """Net price of one, up to four decimals, never negative (BR-27)."""
    return f"{abs(net / line.quantity):.4f}"


def terms_of(paper: Paper) -> dict[str, Any]:
    """Business terms (BT, BG) of a paper, as the library takes them."""
    sign = Decimal(-1) if paper.kind == "credit_note" else Decimal(1)
    t = paper.total
    found: dict[str, Any] = {
        "BT-1": paper.number,
        "BT-2": paper.issued_on,
        "BT-3": TYPE_CODES[paper.kind],
        "BT-5": paper.currency,
        "BT-24": "urn:cen.eu:en16931:2017",
        "BT-72": paper.delivered_on,
        "BT-106": _money(sign * t.net),
        "BT-109": _money(sign * t.net),
        "BT-110": _money(sign * t.tax),
        "BT-112": _money(sign * t.gross),
        "BT-115": _money(sign * t.due - paper.paid),
        "BG-4": _party(paper.seller),
        "BG-7": _party(paper.buyer),
        "BG-23": _breakdown(paper, sign),
        "BG-25": _lines(paper.lines, t.lines_net, sign),
    }
    if t.rounding:
        found["BT-114"] = _money(sign * t.rounding)
    if paper.paid:
        found["BT-113"] = _money(paper.paid)
    if paper.due_on:
        found["BT-9"] = paper.due_on
    if paper.terms:
        found["BT-20"] = paper.terms
    if paper.iban:
        found |= {"BT-81": "58", "BT-84": paper.iban, "BT-85": paper.seller.name}
        if paper.bic:
            found["BT-86"] = paper.bic
    if paper.refers_to:
        reference: dict[str, Any] = {"BT-25": paper.refers_to}
        if paper.refers_on:
            reference["BT-26"] = paper.refers_on
        found["BG-3"] = [reference]
    return found


def _breakdown(paper: Paper, sign: Decimal) -> list[dict[str, Any]]:
    rows = []
    for rate in paper.total.rates:
        row: dict[str, Any] = {
            "BT-116": _money(sign * rate.net),
            "BT-117": _money(sign * rate.amount),
            "BT-118": rate.tax.category,
        }
        if rate.tax.category != "O":
            row["BT-119"] = f"{rate.tax.percent:f}"
        if rate.tax.reason:
            row["BT-120"] = rate.tax.reason
        if rate.tax.category in REASON_CODES:
            row["BT-121"] = REASON_CODES[rate.tax.category]
        rows.append(row)
    return rows


def _lines(lines: Sequence[Line], nets: Sequence[Decimal], sign: Decimal) -> list[Mapping[str, Any]]:
    rows: list[Mapping[str, Any]] = []
    for number, (line, net) in enumerate(zip(lines, nets, strict=True), 1):
        row: dict[str, Any] = {
            "BT-126": str(number),
            "BT-129": f"{(sign * line.quantity).normalize():f}",
            "BT-130": line.unit,
            "BT-131": _money(sign * net),
            "BT-146": _unit_price(line, net),
            "BT-151": line.tax.category,
            "BT-153": line.text[:200],
        }
        if line.tax.category != "O":
            row["BT-152"] = f"{line.tax.percent:f}"
        rows.append(row)
    return rows


def to_xml(paper: Paper) -> bytes:
    """CII XML of a paper, checked against its XSD (the rules are checked in the tests with saxonche)."""
    from facturx import generate_xml

    made = generate_xml(terms_of(paper), flavor="factur-x", level="en16931", check_schematron=None)
    return bytes(made if isinstance(made, bytes) else made[0])


def embed(pdf: bytes, xml: bytes, language: str = "en") -> bytes:
    """The PDF/A-3 with the XML attached as EN 16931's hybrid form wants it."""
    from facturx import generate_from_binary

    made = generate_from_binary(
        pdf,
        xml,
        flavor="factur-x",
        level="en16931",
        check_xsd=True,
        lang=language,
        afrelationship="alternative",
    )
    return bytes(made)
