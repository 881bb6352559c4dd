"""Sums of lines: decimals only, each rounding named, totals that always equal their parts."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from typing import Literal

from purfling.craft.refusals import Refusal
from purfling.reckonings.money.rates import Tax

CENT = Decimal("0.01")
Rule = Literal["per_rate", "per_line"]
Half = Literal["up", "even"]
MOST = Decimal("9999999.99")


@dataclass(frozen=True)
class Line:
    """A line of a paper: words, quantity, price of one, tax; ``unit`` a UN/ECE recommendation 20 code.

    ``key`` names the line within its estimate; ``unit_price`` holds the tax where prices are gross.
    """

    text: str
    quantity: Decimal
    unit_price: Decimal
    tax: Tax
    unit: str = "C62"
    key: str = ""


@dataclass(frozen=True)
class RateSum:
    """Everything under one tax: its net sum and its tax."""

    tax: Tax
    net: Decimal
    amount: Decimal


@dataclass(frozen=True)
class Total:
    """A paper's sums: net of each line, per tax, all together; ``rounding`` is added to what is paid."""

    lines_net: tuple[Decimal, ...]
    rates: tuple[RateSum, ...]
    net: Decimal
    tax: Decimal
    gross: Decimal
    rounding: Decimal
    due: Decimal


def cents(value: Decimal, half: Half = "up", step: Decimal = CENT) -> Decimal:
    """A sum rounded to ``step`` (a cent; 0.05 for Swiss cash), halves away from zero or to the even one."""
    mode = ROUND_HALF_UP if half == "up" else ROUND_HALF_EVEN
    return (value / step).quantize(Decimal(1), mode) * step


def check_line(line: Line) -> None:
    """Refuse a line that no paper can hold: no words, no quantity, a negative or endless price."""
    if not line.text.strip():
        raise Refusal("money.no_words")
    if not line.quantity.is_finite() or line.quantity == 0:
        raise Refusal("money.no_quantity", text=line.text[:40])
    if not line.unit_price.is_finite() or line.unit_price < 0 or abs(line.quantity * line.unit_price) > MOST:
        raise Refusal("money.bad_price", text=line.text[:40], value=str(line.unit_price)[:20])


def total(
    lines: Sequence[Line],
    rule: Rule = "per_rate",
    half: Half = "up",
    gross_prices: bool = False,
    cash_step: Decimal = CENT,
) -> Total:
    """Sums of lines.

    Parameters
    ----------
    lines : the lines; rule : tax rounded once per rate (EN 16931) or per line and then added; half : how
    halves are rounded; gross_prices : unit prices hold the tax; cash_step : what is paid is rounded to it.

    Returns
    -------
    Total with net = sum of line nets = sum of rate nets, tax = sum of rate taxes, gross = net + tax,
    due = gross + rounding.

    Raises
    ------
    Refusal
        As ``check_line``.
    """
    for line in lines:
        check_line(line)
    nets = (
        _gross_to_nets(lines, half)
        if gross_prices
        else [cents(line.quantity * line.unit_price, half) for line in lines]
    )
    rates: list[RateSum] = []
    for tax in dict.fromkeys(line.tax for line in lines):
        own = [n for line, n in zip(lines, nets, strict=True) if line.tax == tax]
        net = sum(own, Decimal(0))
        share = tax.percent / 100
        amount = (
            cents(net * share, half)
            if rule == "per_rate"
            else sum((cents(n * share, half) for n in own), Decimal(0))
        )
        rates.append(RateSum(tax, net, amount))
    net = sum(nets, Decimal(0))
    tax_sum = sum((r.amount for r in rates), Decimal(0))
    gross = net + tax_sum
    asked = _asked_gross(lines, half) if gross_prices else gross
    due = cents(asked, half, cash_step)
    return Total(tuple(nets), tuple(rates), net, tax_sum, gross, due - gross, due)


def _asked_gross(lines: Sequence[Line], half: Half) -> Decimal:
    return sum((cents(line.quantity * line.unit_price, half) for line in lines), Decimal(0))


def _gross_to_nets(lines: Sequence[Line], half: Half) -> list[Decimal]:
    """Net of each line so that the nets of one rate sum to the rounded net of its gross sum."""
    nets: list[Decimal] = [Decimal(0)] * len(lines)
    for tax in dict.fromkeys(line.tax for line in lines):
        places = [i for i, line in enumerate(lines) if line.tax == tax]
        divisor = 1 + tax.percent / 100
        gross = {i: cents(lines[i].quantity * lines[i].unit_price, half) for i in places}
        target = cents(sum(gross.values(), Decimal(0)) / divisor, half)
        for i in places:
            nets[i] = cents(gross[i] / divisor, half)
        left = target - sum((nets[i] for i in places), Decimal(0))
        step = CENT if left > 0 else -CENT
        by_size = sorted(places, key=lambda i: -abs(gross[i]))
        k = 0
        while left != 0:
            nets[by_size[k % len(by_size)]] += step
            left -= step
            k += 1
    return nets


def credited(lines: Sequence[Line]) -> list[Line]:
    """The same lines with their quantities turned round: what a credit note takes back."""
    return [replace(line, quantity=-line.quantity) for line in lines]
