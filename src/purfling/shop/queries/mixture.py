"""Mixtures in the Teas triangle with one instrument's own tests: what was seen, or "untested here"."""

from dataclasses import dataclass
from typing import Any

from django.utils import timezone

from purfling.craft.varnish.solvents import Fractions, NearSpot, SpotPoint, mixture, solvents, spots_near
from purfling.craft.varnish.water import water_cautions
from purfling.drawing.drawings.teas_triangle import Dot, teas_triangle
from purfling.drawing.shapes import Drawing
from purfling.shop.domain.material import fractions_of
from purfling.shop.models import Object, SpotTest
from purfling.shop.queries.varnish import language
from purfling.words import note_text, say

# Enough to find one's way; more names would lie on each other.
DRAWN = (
    "heptane", "white_spirit", "turpentine", "ethyl_acetate", "butanone", "acetone", "butanol",
    "ethanol", "water",
)  # fmt: skip


@dataclass(frozen=True)
class Said:
    """One line about a mixture: ``kind`` tested, near or untested; ``spot`` the test it stands on."""

    kind: str
    text: str
    spot: SpotTest | None = None


def fractions_of_spot(spot: SpotTest) -> Fractions | None:
    """Where a test lies in the triangle; None where what was on the swab is not in the table."""
    if spot.mixture:
        return mixture(dict(spot.mixture))
    return fractions_of(spot.material) if spot.material is not None else None


def _placed(thing: Object) -> tuple[list[tuple[SpotTest, Fractions]], list[SpotTest]]:
    with_place, without = [], []
    for spot in thing.spot_tests.select_related("material", "who"):
        fractions = fractions_of_spot(spot)
        if fractions is None:
            without.append(spot)
        else:
            with_place.append((spot, fractions))
    return with_place, without


def _line(near: NearSpot, spot: SpotTest) -> Said:
    params = {
        "date": timezone.localtime(spot.at).strftime("%Y-%m-%d"),
        "what": spot.what,
        "place": spot.place or say(f"varnish.view_{spot.view}", language()),
        "result": say(f"varnish.result_{spot.result}", language()),
    }
    if near.same:
        return Said("tested", say("varnish.tested", language(), **params), spot)
    return Said("near", say("varnish.near_harm", language(), **params), spot)


def said_of(fractions: Fractions, tests: list[tuple[SpotTest, Fractions]]) -> list[Said]:
    """What this instrument's tests say: the same mixture, and every test near by that did harm."""
    by_id = {str(spot.pk): spot for spot, _f in tests}
    points = [SpotPoint(f, spot.result, str(spot.pk)) for spot, f in tests]
    near = spots_near(fractions, points)
    lines = [_line(n, by_id[n.point.record]) for n in near if n.same or n.harmful]
    if not any(n.same for n in near):
        lines.append(Said("untested", say("varnish.untested", language())))
    return lines


def _drawing(tests: list[tuple[SpotTest, Fractions]], asked: Fractions | None, name: str) -> Drawing:
    table = solvents()
    dots = [Dot(table[k].fractions, "solvent", say(f"varnish.solvent_{k}", language())) for k in DRAWN]
    dots += [Dot(f, spot.result) for spot, f in reversed(tests)]
    if asked is not None:
        dots.append(Dot(asked, "mixture", name))
    words = {k: say(f"varnish.corner_{k}", language()) for k in ("dispersion", "polar", "hydrogen")}
    return teas_triangle(dots, words | {"title": say("varnish.triangle", language())})


def mixture_page(thing: Object, parts: list[tuple[str, float]], name: str = "") -> dict[str, Any]:
    """The triangle, the mixture asked about, and what the tests say of it."""
    tests, without = _placed(thing)
    summed: dict[str, float] = {}
    for key, volume in parts:
        summed[key] = summed.get(key, 0.0) + volume
    asked = mixture(summed) if summed else None
    water = [note_text(n, language()) for n in water_cautions()] if "water" in summed else []
    return {
        "object": thing,
        "asked": asked,
        "parts": list(summed.items()),
        "said": said_of(asked, tests) if asked is not None else [],
        "tests": tests,
        "without": without,
        "water": water,
        "drawing": _drawing(tests, asked, name),
    }
