"""Taking values out of one table of a slip, each looked at when it is taken."""

import re
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

from purfling.craft.quantities import Family, readings
from purfling.craft.refusals import Refusal
from purfling.slips.fields import Field, Table

_MOMENT = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$")
LONGEST_TEXT = 2000


def moment(text: Any, field: str) -> datetime:
    """A local moment ``YYYY-MM-DDTHH:MM``."""
    if isinstance(text, datetime):
        return text.replace(tzinfo=None, second=0, microsecond=0)
    if isinstance(text, str) and _MOMENT.match(text):
        try:
            return datetime.strptime(text, "%Y-%m-%dT%H:%M")
        except ValueError:
            pass
    raise Refusal("slips.bad_moment", field=field, value=str(text)[:40])


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


class View:
    """One table: ``number("arch_mm")`` gives the checked value or None, ``need_number`` refuses None."""

    def __init__(self, table: Table, data: Mapping[str, Any], where: str, family: Family | None) -> None:
        self.table = table
        self.data = data
        self.where = where
        self.family = family

    def has(self, key: str) -> bool:
        """Whether the key is given."""
        return key in self.data

    def path(self, key: str) -> str:
        """The name of a key in sentences: ``neck.projection_mm`` or ``strings 2: tension_n``."""
        return f"{self.where}: {key}" if self.table.many else f"{self.where}.{key}"

    def _limits(self, field: Field) -> tuple[float | None, float | None]:
        if field.low is not None or field.high is not None:
            return field.low, field.high
        reading = readings().get(f"{self.table.name}.{field.key}")
        if reading is None:
            return None, None
        return reading.hard_band(self.family)

    def checked(self, value: Any, field: Field, place: str) -> float:
        """A number within the hard limits of its field; ``place`` is its name in sentences."""
        if not _is_number(value):
            raise Refusal("slips.not_a_number", field=place, value=str(value)[:40], unit=field.unit or "1")
        try:
            number = float(value)
        except OverflowError as endless:
            raise Refusal("slips.not_finite", field=place, value=f"{str(value)[:12]}...") from endless
        low, high = self._limits(field)
        shown = {"field": place, "value": f"{number:g}", "unit": field.unit}
        if field.above is not None and number <= field.above:
            raise Refusal("slips.not_above", limit=f"{field.above:g}", **shown)
        if low is not None and number < low:
            raise Refusal("slips.below_hard", limit=f"{low:g}", **shown)
        if high is not None and number > high:
            raise Refusal("slips.above_hard", limit=f"{high:g}", **shown)
        return number

    def number(self, key: str) -> float | None:
        """A number within its hard range, or None where the key is absent."""
        field = self.table.field(key)
        if key not in self.data:
            return None
        return self.checked(self.data[key], field, self.path(key))

    def need_number(self, key: str) -> float:
        """A number that must be given."""
        found = self.number(key)
        if found is None:
            raise self.missing(key)
        return found

    def numbers(self, key: str, length: int | None = None) -> list[float] | None:
        """A list of numbers, of the given length where one is asked, or None where absent."""
        field = self.table.field(key)
        if key not in self.data:
            return None
        value = self.data[key]
        if not isinstance(value, list):
            raise Refusal("slips.not_a_list", field=self.path(key), value=str(value)[:40])
        if length is not None and len(value) != length:
            raise Refusal("slips.wrong_length", field=self.path(key), value=len(value), limit=length)
        return [self.checked(v, field, f"{self.path(key)}[{i}]") for i, v in enumerate(value, 1)]

    def need_numbers(self, key: str, length: int | None = None) -> list[float]:
        """A list of numbers that must be given."""
        found = self.numbers(key, length)
        if found is None:
            raise self.missing(key)
        return found

    def band(self, key: str) -> tuple[float, float] | None:
        """[least, most] in order, or None."""
        found = self.numbers(key, 2)
        if found is None:
            return None
        if found[0] > found[1]:
            raise Refusal("slips.band_upside_down", field=self.path(key), low=found[0], high=found[1])
        return found[0], found[1]

    def text(self, key: str) -> str | None:
        """A text of at most 2,000 characters, or None."""
        if key not in self.data:
            return None
        value = self.data[key]
        if not isinstance(value, str):
            raise Refusal("slips.not_a_text", field=self.path(key), value=str(value)[:40])
        if len(value) > LONGEST_TEXT:
            raise Refusal("slips.text_too_long", field=self.path(key), value=len(value), limit=LONGEST_TEXT)
        return value

    def need_text(self, key: str) -> str:
        """A text that must be given and not be empty."""
        found = self.text(key)
        if not found:
            raise self.missing(key)
        return found

    def texts(self, key: str) -> list[str]:
        """A list of texts (none where absent); one text stands for a list of one."""
        value = self.data.get(key, [])
        if isinstance(value, str):
            value = [value]
        if not isinstance(value, list) or not all(isinstance(v, str) for v in value):
            raise Refusal("slips.not_texts", field=self.path(key), value=str(value)[:40])
        return list(value)

    def choice(self, key: str) -> str | None:
        """One of the field's words, or None."""
        found = self.text(key)
        field = self.table.field(key)
        if found is not None and found not in field.choices:
            raise Refusal(
                "slips.bad_choice", field=self.path(key), value=found[:40], choices=", ".join(field.choices)
            )
        return found

    def need_choice(self, key: str) -> str:
        """One of the field's words, which must be given."""
        found = self.choice(key)
        if found is None:
            raise Refusal(
                "slips.missing_choice",
                field=self.path(key),
                choices=", ".join(self.table.field(key).choices),
            )
        return found

    def truth(self, key: str) -> bool | None:
        """true or false, or None."""
        value = self.data.get(key)
        if value is not None and not isinstance(value, bool):
            raise Refusal("slips.not_a_truth", field=self.path(key), value=str(value)[:40])
        return value

    def moment(self, key: str) -> datetime | None:
        """A local moment, or None."""
        return moment(self.data[key], self.path(key)) if key in self.data else None

    def check_all(self) -> None:
        """Look at every given value of a plain kind, whether a reckoning takes it or not.

        Raises
        ------
        Refusal
            The first value that its field does not allow.
        """
        looks: dict[str, Callable[[str], object]] = {
            "number": self.number,
            "numbers": self.numbers,
            "text": self.text,
            "choice": self.choice,
            "truth": self.truth,
            "moment": self.moment,
        }
        for key in self.data:
            look = looks.get(self.table.field(key).kind)
            if look is not None:
                look(key)

    def missing(self, key: str) -> Refusal:
        """The refusal that names a key which must be given."""
        field = self.table.field(key)
        if not field.unit:
            return Refusal("slips.missing_plain", field=self.path(key))
        return Refusal("slips.missing", field=self.path(key), unit=field.unit)
