"""Sums of lines: hand-computed cases, then laws under every rounding rule."""

from datetime import date
from decimal import Decimal as D  # noqa: N817

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.refusals import Refusal
from purfling.reckonings.money.rates import Tax, countries, names_of, tax_on
from purfling.reckonings.money.sums import Line, cents, credited, total

FULL = Tax("standard", "S", D("19"))
LESS = Tax("reduced", "S", D("7"))


def line(price: str, quantity: str = "1", tax: Tax = FULL) -> Line:
    return Line("work", D(quantity), D(price), tax)


def test_a_service_by_hand_at_19_per_cent_net() -> None:
    # 180.00 + 75.50 = 255.50 net; 19 % = 48.545 -> 48.55; 304.05.
    found = total([line("180"), line("75.50")])
    assert (found.net, found.tax, found.gross) == (D("255.50"), D("48.55"), D("304.05"))


def test_two_rates_by_hand() -> None:
    # 255.50 at 19 % = 48.55 (48.545); 62.22 at 7 % = 4.36 (4.3554); total 370.63.
    found = total([line("180"), line("75.50"), line("31.11", "2", LESS)])
    assert [r.amount for r in found.rates] == [D("48.55"), D("4.36")]
    assert found.due == D("370.63")


def test_gross_prices_by_hand() -> None:
    # 75.00 with 19 % inside: 63.03 net (63.0252), 11.97 tax (11.9757 -> 11.98); 75.01, so 0.01 is taken off.
    found = total([line("75.00")], gross_prices=True)
    assert (found.net, found.tax, found.rounding, found.due) == (
        D("63.03"),
        D("11.98"),
        D("-0.01"),
        D("75.00"),
    )


def test_rounding_per_line_and_per_rate_differ_as_they_must() -> None:
    # Three lines of 0.13: 19 % of each 0.0247 -> 0.02, three times 0.06; of the sum 0.39: 0.0741 -> 0.07.
    lines = [line("0.13")] * 3
    assert total(lines, "per_line").tax == D("0.06")
    assert total(lines, "per_rate").tax == D("0.07")


def test_halves_up_or_even() -> None:
    assert cents(D("0.125"), "up") == D("0.13")
    assert cents(D("0.125"), "even") == D("0.12")
    assert cents(D("12.32"), "up", D("0.05")) == D("12.30")
    assert cents(D("12.325"), "up", D("0.05")) == D("12.35")


def test_swiss_cash_is_rounded_to_five_centimes() -> None:
    swiss = Tax("standard", "S", D("8.1"))
    found = total([line("100", tax=swiss)], cash_step=D("0.05"))
    assert (found.gross, found.rounding, found.due) == (D("108.10"), D("0.00"), D("108.10"))
    found = total([line("101", tax=swiss)], cash_step=D("0.05"))
    assert (found.gross, found.rounding, found.due) == (D("109.18"), D("0.02"), D("109.20"))


@pytest.mark.parametrize(
    ("bad", "code"),
    [
        (Line(" ", D(1), D(1), FULL), "no_words"),
        (Line("work", D(0), D(1), FULL), "no_quantity"),
        (Line("work", D(1), D("-1"), FULL), "bad_price"),
        (Line("work", D(1), D("NaN"), FULL), "bad_price"),
        (Line("work", D(1), D("99999999"), FULL), "bad_price"),
    ],
)
def test_a_line_that_no_paper_can_hold_is_refused(bad: Line, code: str) -> None:
    with pytest.raises(Refusal, match=code):
        total([bad])


taxes = st.sampled_from([FULL, LESS, Tax("standard", "S", D("25.5")), Tax("exempt", "E", D(0), "why")])
prices = st.decimals(0, 5000, places=2)
lines_of = st.lists(
    st.builds(lambda q, p, t: Line("work", q, p, t), st.decimals("0.25", 20, places=2), prices, taxes),
    min_size=1,
    max_size=8,
)
rules = st.sampled_from(["per_rate", "per_line"])
halves = st.sampled_from(["up", "even"])
steps = st.sampled_from([D("0.01"), D("0.05")])


@given(lines_of, rules, halves, st.booleans(), steps)
def test_parts_always_equal_the_whole(lines, rule, half, gross, step) -> None:  # type: ignore[no-untyped-def]
    found = total(lines, rule, half, gross, step)
    assert sum(found.lines_net) == found.net == sum(r.net for r in found.rates)
    assert sum(r.amount for r in found.rates) == found.tax
    assert found.gross == found.net + found.tax
    assert found.due == found.gross + found.rounding
    assert found.due % step == 0
    assert found.net == cents(found.net) and found.tax == cents(found.tax)


@given(lines_of, rules, halves, st.booleans())
def test_a_credit_note_cancels_to_nothing(lines, rule, half, gross) -> None:  # type: ignore[no-untyped-def]
    one, back = total(lines, rule, half, gross), total(credited(lines), rule, half, gross)
    assert one.net + back.net == 0 and one.tax + back.tax == 0 and one.due + back.due == 0


@given(lines_of, halves)
def test_gross_prices_are_paid_as_they_stand(lines, half) -> None:  # type: ignore[no-untyped-def]
    found = total(lines, "per_rate", half, gross_prices=True)
    assert found.due == sum(cents(x.quantity * x.unit_price, half) for x in lines)


def test_a_rate_is_that_of_its_day() -> None:
    assert tax_on("EE", "standard", date(2025, 6, 30)).percent == D("22")
    assert tax_on("EE", "standard", date(2025, 7, 1)).percent == D("24")
    assert tax_on("DE", "standard", date(2026, 1, 1), own={"standard": "16"}).percent == D("16")


def test_no_tax_needs_a_reason_and_an_unknown_name_is_refused() -> None:
    with pytest.raises(Refusal, match="reason_missing"):
        tax_on("DE", "small_business", date(2026, 1, 1))
    with pytest.raises(Refusal, match="unknown_tax"):
        tax_on("DE", "luxury", date(2026, 1, 1))
    with pytest.raises(Refusal, match="no_rate"):
        tax_on("US", "standard", date(2026, 1, 1))


def test_every_eu_country_has_a_standard_rate() -> None:
    # The EU's own floor for a standard rate is 15 % (Directive 2006/112/EC, article 97).
    eu = {
        "AT",
        "BE",
        "BG",
        "HR",
        "CY",
        "CZ",
        "DK",
        "EE",
        "FI",
        "FR",
        "DE",
        "GR",
        "HU",
        "IE",
        "IT",
        "LV",
        "LT",
        "LU",
        "MT",
        "NL",
        "PL",
        "PT",
        "RO",
        "SK",
        "SI",
        "ES",
        "SE",
    }
    assert len(eu) == 27
    for country in eu:
        assert tax_on(country, "standard", date(2026, 12, 1)).percent >= 15, country
        assert "standard" in names_of(country)
    assert {"GB", "CH", "US"} <= set(countries())
