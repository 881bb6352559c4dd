"""Wire: what a lapping is wound of, and why a gauge number is no diameter."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any, Literal

from purfling.craft.refusals import Refusal

Form = Literal["wire", "thread", "strip"]

THINNEST_MM = 0.02  # a hair is thicker; below it a slip of the pen
THICKEST_MM = 1.0
# British standard wire gauge, thousandths of an inch, numbers 0 to 50 (standard gauge table, from memory).
_SWG_MIL = (
    324, 300, 276, 252, 232, 212, 192, 176, 160, 144,
    128, 116, 104, 92, 80, 72, 64, 56, 48, 40,
    36, 32, 28, 24, 22, 20, 18, 16.4, 14.8, 13.6,
    12.4, 11.6, 10.8, 10.0, 9.2, 8.4, 7.6, 6.8, 6.0, 5.2,
    4.8, 4.4, 4.0, 3.6, 3.2, 2.8, 2.4, 2.0, 1.6, 1.2,
    1.0,
)  # fmt: skip
LAST_GAUGE = len(_SWG_MIL) - 1


@dataclass(frozen=True)
class Material:
    """What a lapping is wound of: ``density_kg_m3``, ``form``, and whether the table is ``sure`` of it."""

    key: str
    density_kg_m3: float
    form: Form
    sure: bool
    source: str


@cache
def _table() -> dict[str, Any]:
    text = (resources.files("purfling.craft.tables") / "lapping.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@cache
def materials() -> dict[str, Material]:
    """Every material by its key, in the order of the table."""
    return {row["key"]: Material(**row) for row in _table()["material"]}


def bench_default(key: str) -> float:
    """A bench default of lapping.toml (source ``practice``)."""
    return float(_table()["bench"][key])


def material(key: str) -> Material:
    """The material of a name; spaces and hyphens count as underlines, capitals as small letters.

    Raises
    ------
    Refusal
        ``lapping.unknown_material`` with the known names.
    """
    plain = key.strip().lower().replace(" ", "_").replace("-", "_")
    found = materials().get(plain)
    if found is None:
        raise Refusal("lapping.unknown_material", value=key[:40], choices=", ".join(materials()))
    return found


def swg_mm(gauge: int) -> float:
    """Diameter [mm] of a number 0 to 50 of the British standard wire gauge."""
    return _SWG_MIL[gauge] * 0.0254


def awg_mm(gauge: int) -> float:
    """Diameter [mm] of a number of the American wire gauge.

    Equation: 0.127 * 92^((36 - n)/39). Reference: standard gauge rule, from memory.
    """
    return float(0.127 * 92.0 ** ((36 - gauge) / 39.0))


def checked_diameter(value: float, decimals: bool, field: str) -> float:
    """A wire diameter [mm], or a refusal of what is a gauge number.

    Parameters
    ----------
    value : float
        As written.
    decimals : bool
        Whether it was written with decimals (0.30, and not 30).
    field : str
        Its name in sentences.

    Raises
    ------
    Refusal
        Above 1.0 or without decimals: a gauge number. Names what that number is in both systems.
    """
    if value < 0 or (value == 0 and decimals):
        raise Refusal("slips.not_above", field=field, value=f"{value:g}", unit="mm", limit="0")
    if 0 < value < THINNEST_MM:
        limit = f"{THINNEST_MM:g}"
        raise Refusal("slips.below_hard", field=field, value=f"{value:g}", unit="mm", limit=limit)
    if value <= THICKEST_MM and decimals:
        return value
    if value == int(value) and value <= LAST_GAUGE:
        gauge = int(value)
        raise Refusal(
            "lapping.gauge_number",
            field=field,
            value=str(gauge),
            swg=f"{swg_mm(gauge):.3f}",
            awg=f"{awg_mm(gauge):.3f}",
        )
    raise Refusal(
        "lapping.gauge_beyond",
        field=field,
        value=f"{value:g}",
        swg=f"{swg_mm(30):.3f}",
        awg=f"{awg_mm(30):.3f}",
    )
