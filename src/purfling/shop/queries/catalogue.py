"""The shop's catalogue: the catalogue of operations with the shop's own words and log laid over it."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from django.utils.translation import get_language

from purfling.craft.operations import CatalogueOperation, catalogue
from purfling.planning.calendar import BenchHours
from purfling.shop.models import ShopHours, ShopOperation
from purfling.slips.hours import bench_hours
from purfling.words import say

USUAL_WEEK = {day: [["09:00", "12:30"], ["13:30", "18:00"]] for day in ("mon", "tue", "wed", "thu", "fri")}
OWN_PLACE = 1000


@dataclass(frozen=True)
class Offered:
    """An operation as this shop offers it: the catalogue's row, the shop's own row, or both."""

    code: str
    row: CatalogueOperation | None
    own: ShopOperation | None

    @property
    def of(self) -> str:
        """instrument or bow."""
        return self.row.of if self.row else self.own.of

    @property
    def place(self) -> int:
        """Its place in the order of work."""
        return self.row.place if self.row else OWN_PLACE

    @property
    def name(self) -> str:
        """Its name in the maker's language."""
        return operation_name(self.code, self.own)

    def minutes(self, family: str) -> int:
        """Hands-on minutes for a family."""
        own = (self.own.minutes or {}).get(family) if self.own else None
        return int(own or (self.row.minutes[family] if self.row else 15))

    @property
    def wait_kind(self) -> str:
        """What waits after the hands, empty for nothing."""
        return (self.own.wait_kind if self.own else "") or (self.row.wait_kind if self.row else "")

    @property
    def wait_minutes(self) -> int:
        """Usual wait [min]."""
        if self.own and self.own.wait_minutes is not None:
            return self.own.wait_minutes
        return self.row.wait_minutes if self.row else 0

    @property
    def price(self) -> Decimal | None:
        """The price on the wall; None where the shop has written none."""
        return self.own.price if self.own else None

    @property
    def usual(self) -> bool:
        """Belongs to the usual service."""
        if self.own and self.own.usual is not None:
            return self.own.usual
        return bool(self.row and self.row.usual)

    @property
    def after(self) -> tuple[str, ...]:
        """Codes of what must be done before it."""
        return (*(self.row.after if self.row else ()), *((self.own.after or []) if self.own else ()))

    @property
    def off(self) -> bool:
        """Not done in this shop."""
        return bool(self.own and self.own.off)

    @property
    def steps(self) -> list[str]:
        """The step card's lines."""
        return say(f"operations.{self.code}_steps", language()).splitlines() if self.row else []

    def is_for(self, kind: str, family: str) -> bool:
        """Whether an object can have it."""
        return self.of == kind and (self.row is None or family in self.row.families)


def language() -> str:
    """The maker's language, en or de."""
    given = (get_language() or "en")[:2]
    return given if given in ("en", "de") else "en"


def operation_name(code: str, own: ShopOperation | None = None) -> str:
    """An operation's name: the shop's own, else the catalogue's."""
    if own is not None:
        mine = own.name_de if language() == "de" else own.name_en
        if mine or own.own:
            return mine or own.name_en or own.name_de or code
    return say(f"operations.{code}", language()) if code in catalogue() else code


def shop_catalogue() -> dict[str, Offered]:
    """Every operation of this shop by its code, in the order of work. One query."""
    own = {o.code: o for o in ShopOperation.objects.all()}
    rows = catalogue()
    found = {code: Offered(code, row, own.get(code)) for code, row in rows.items()}
    found |= {code: Offered(code, None, o) for code, o in own.items() if code not in rows}
    return found


def not_before(offers: Mapping[str, Offered], code: str) -> tuple[str, ...]:
    """What must be done before an operation, also for one that the shop has no longer."""
    return offers[code].after if code in offers else ()


def shop_hours() -> BenchHours:
    """The bench hours of the shop; usual ones where it has written none. One query."""
    row = ShopHours.objects.first()
    if row is None or not row.week:
        return bench_hours(USUAL_WEEK, row.closed if row else [], row.evenings if row else None, "week")
    return bench_hours(row.week, row.closed, row.evenings, "week")
