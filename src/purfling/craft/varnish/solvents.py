"""Solvents and mixtures in the Teas triangle, and the tests of one instrument that lie near a mixture."""

import math
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources

from purfling.craft.refusals import Refusal

TOTAL_TOLERANCE = 0.5  # percent; printed rows are whole numbers
MOST_PARTS = 8
NEAR = 10.0  # of the triangle's side of 100: the shop's own caution, common practice, no source
SAME = 0.75  # nearer than this a test was made with the same mixture
HARMFUL = frozenset({"dulled", "softened", "colour", "dissolved"})


@dataclass(frozen=True)
class Fractions:
    """Fractional solubility parameters [percent of 100]: dispersion, polar, hydrogen bonding."""

    dispersion: float
    polar: float
    hydrogen: float

    @property
    def total(self) -> float:
        """Their sum."""
        return self.dispersion + self.polar + self.hydrogen

    @property
    def plane(self) -> tuple[float, float]:
        """Place (x, y) in a triangle of side 100: polar corner (0, 0), hydrogen (100, 0), dispersion up."""
        return self.hydrogen + self.dispersion / 2, self.dispersion * math.sqrt(3) / 2


@dataclass(frozen=True)
class Solvent:
    """One row of solvents.toml; ``kinds`` is what it is for the stop page."""

    key: str
    fractions: Fractions
    kinds: tuple[str, ...]
    source: str


@dataclass(frozen=True)
class SpotPoint:
    """One spot test as a point: its fractions, what was seen, and whose record it is."""

    fractions: Fractions
    result: str
    record: str = ""


@dataclass(frozen=True)
class NearSpot:
    """A test that lies ``away`` from a mixture, of a triangle whose side is 100."""

    point: SpotPoint
    away: float

    @property
    def same(self) -> bool:
        """Made with the same mixture."""
        return self.away <= SAME

    @property
    def harmful(self) -> bool:
        """The varnish was dulled, softened, lost colour or dissolved."""
        return self.point.result in HARMFUL


def checked(fractions: Fractions, name: str = "") -> Fractions:
    """The fractions themselves, where each is 0 to 100 and they total 100.

    Raises
    ------
    Refusal
        ``varnish.fractions_total``: a faulty row of a printed table is not drawn.
    """
    parts = (fractions.dispersion, fractions.polar, fractions.hydrogen)
    if not all(math.isfinite(p) and 0.0 <= p <= 100.0 for p in parts):
        raise Refusal("varnish.fraction_range", name=name)
    if abs(fractions.total - 100.0) > TOTAL_TOLERANCE:
        raise Refusal("varnish.fractions_total", name=name, total=float(f"{fractions.total:.6g}"))
    return fractions


@cache
def solvents() -> dict[str, Solvent]:
    """Every solvent of the table by its key, checked as it is read."""
    text = (resources.files("purfling.craft.tables") / "solvents.toml").read_text(encoding="utf-8")
    found: dict[str, Solvent] = {}
    for key, row in tomllib.loads(text).items():
        fractions = checked(Fractions(*(float(p) for p in row["parts"])), key)
        found[key] = Solvent(key, fractions, tuple(row["kinds"]), row["source"])
    return found


def from_hansen(dispersion: float, polar: float, hydrogen: float) -> Fractions:
    """Fractions from the three Hansen parameters [same unit].

    Equation
    --------
    f_i = 100 d_i / (d_d + d_p + d_h).
    """
    total = dispersion + polar + hydrogen
    if not (math.isfinite(total) and total > 0 and min(dispersion, polar, hydrogen) >= 0):
        raise Refusal("varnish.fraction_range", name="")
    return Fractions(100 * dispersion / total, 100 * polar / total, 100 * hydrogen / total)


def blended(parts: Sequence[tuple[float, Fractions]]) -> Fractions:
    """Fractions of a mixture.

    Parameters
    ----------
    parts : pairs (volume, fractions); volumes in any one unit, each above 0.

    Raises
    ------
    Refusal
        No part, too many, a volume that is not above 0, fractions that do not total 100.

    Equation
    --------
    f = sum(v_i f_i) / sum(v_i), volumes before mixing.

    Validity
    --------
    An empirical scale; it knows nothing of evaporation, water films, or what a varnish is made of.

    Reference
    ---------
    Teas 1968; the mixing rule checked against the blends printed in Conservation DistList 1989/0040.
    """
    if not parts:
        raise Refusal("varnish.no_parts")
    if len(parts) > MOST_PARTS:
        raise Refusal("varnish.many_parts", most=MOST_PARTS)
    for volume, fractions in parts:
        if not (math.isfinite(volume) and volume > 0):
            raise Refusal("varnish.part_volume", value=volume)
        checked(fractions)
    total = sum(volume for volume, _f in parts)
    return Fractions(
        sum(v * f.dispersion for v, f in parts) / total,
        sum(v * f.polar for v, f in parts) / total,
        sum(v * f.hydrogen for v, f in parts) / total,
    )


def mixture(parts: Mapping[str, float]) -> Fractions:
    """Fractions of a mixture of the table's solvents, by volume.

    Parameters
    ----------
    parts : key of a solvent -> volume.
    """
    known = solvents()
    for key in parts:
        if key not in known:
            raise Refusal("varnish.unknown_solvent", name=str(key)[:40])
    return blended([(volume, known[key].fractions) for key, volume in parts.items()])


def away(first: Fractions, second: Fractions) -> float:
    """Distance of two mixtures in the triangle whose side is 100.

    Equation
    --------
    sqrt(((dd)^2 + (dp)^2 + (dh)^2) / 2): 100 between two corners.
    """
    return math.sqrt(
        (
            (first.dispersion - second.dispersion) ** 2
            + (first.polar - second.polar) ** 2
            + (first.hydrogen - second.hydrogen) ** 2
        )
        / 2
    )


def spots_near(
    fractions: Fractions, points: Sequence[SpotPoint], reach: float = NEAR
) -> tuple[NearSpot, ...]:
    """The tests within ``reach`` of a mixture, harmful ones first, then the nearest first.

    An empty answer means that nothing near was tested; it is no permission.
    """
    found = [NearSpot(p, away(fractions, p.fractions)) for p in points]
    near = [t for t in found if t.away <= reach]
    return tuple(sorted(near, key=lambda t: (not t.harmful, t.away)))
