"""Tax rates of a country on a day, and the categories of EN 16931 (UNTDID 5305) that need a reason."""

import tomllib
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from importlib import resources

from purfling.craft.refusals import Refusal

# name -> category code; "standard" and the reduced ones take their rate from the table, the others are 0.
CATEGORIES = {
    "standard": "S",
    "reduced": "S",
    "reduced2": "S",
    "zero": "Z",
    "exempt": "E",
    "small_business": "E",
    "reverse_charge": "AE",
    "outside": "O",
}
NEEDS_REASON = ("exempt", "small_business", "reverse_charge", "outside")
NO_TAX_COUNTRIES = ("US",)


@dataclass(frozen=True)
class Tax:
    """A tax as a line carries it: name, EN 16931 category, rate in per cent, reason where no tax is due."""

    name: str
    category: str
    percent: Decimal
    reason: str = ""


@dataclass(frozen=True)
class _Row:
    country: str
    name: str
    percent: Decimal
    since: date


@cache
def _rows() -> tuple[_Row, ...]:
    text = (resources.files("purfling.reckonings.money") / "tax.toml").read_text(encoding="utf-8")
    return tuple(
        _Row(r["country"], r["name"], Decimal(r["percent"]), r["since"]) for r in tomllib.loads(text)["rate"]
    )


def countries() -> tuple[str, ...]:
    """Countries the table knows, those without a sales tax on services by default among them."""
    return tuple(dict.fromkeys([r.country for r in _rows()] + list(NO_TAX_COUNTRIES)))


def names_of(country: str) -> tuple[str, ...]:
    """The names of taxes a line may carry in a country."""
    own = tuple(dict.fromkeys(r.name for r in _rows() if r.country == country))
    return (*own, "zero", "exempt", "small_business", "reverse_charge", "outside")


def tax_on(country: str, name: str, day: date, reason: str = "", own: dict[str, str] | None = None) -> Tax:
    """The tax of a name in a country on a day.

    Parameters
    ----------
    country : two letters; name : a key of CATEGORIES; day : the date of supply; reason : why no tax is due;
    own : the shop's own rates by name, per cent as text, which overrule the table.

    Raises
    ------
    Refusal
        A name or country the table does not know, no rate yet on that day, a reason missing.
    """
    if name not in CATEGORIES:
        raise Refusal("money.unknown_tax", name=name[:40])
    category = CATEGORIES[name]
    if category != "S":
        if name in NEEDS_REASON and not reason.strip():
            raise Refusal("money.reason_missing", name=name)
        return Tax(name, category, Decimal(0), reason.strip())
    if own and own.get(name):
        return Tax(name, category, Decimal(own[name]))
    rows = [r for r in _rows() if r.country == country and r.name == name and r.since <= day]
    if not rows:
        raise Refusal("money.no_rate", name=name, country=country[:2], day=day.isoformat())
    return Tax(name, category, max(rows, key=lambda r: r.since).percent)
