"""Photographs as measures: a scale by touched points, areas of outlines, one picture laid over another."""

import math
from collections.abc import Sequence

import numpy as np
from django.db import transaction

from purfling.craft.overlay import lay_over, rest_of
from purfling.craft.plane import to_plane, touched_area
from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.photograph_store import copy_path
from purfling.shop.models import Alignment, Maker, Mark, Photograph, Sighting, TouchedArea

LEAST_LIKE = 0.55  # below it two pictures are not laid over each other without touched places
MOST_MM = 2000.0


def _shares(points: Sequence[Sequence[float]], most: int) -> list[list[float]]:
    """Touched places as shares of width and height, checked."""
    found = []
    for point in points[: most + 1]:
        if len(point) != 2 or not all(math.isfinite(c) and -0.01 <= c <= 1.01 for c in point):
            raise Refusal("survey.off_the_chart")
        found.append([round(float(c), 6) for c in point])
    return found


def _pixels(photograph: Photograph, points: Sequence[Sequence[float]]) -> list[list[float]]:
    return [[x * photograph.width, y * photograph.height] for x, y in points]


def set_scale(
    *, photograph: Photograph, points: Sequence[Sequence[float]], size_mm: Sequence[float], who: Maker
) -> Photograph:
    """The photograph's scale: two touched points and their distance, or a rectangle's corners and sides."""
    if any(not 0.1 <= v <= MOST_MM for v in size_mm):
        raise Refusal("photo.scale_mm", value=float(size_mm[0]) if size_mm else 0.0)
    places = _shares(points, 4)
    to_plane(_pixels(photograph, places), size_mm)
    return keeping.change(photograph, who=who, scale_points=places, scale_mm=list(size_mm))


@transaction.atomic
def touch_area(
    *, photograph: Photograph, points: Sequence[Sequence[float]], who: Maker, mark: Mark | None = None
) -> TouchedArea:
    """The area of a touched outline; an open survey's word on the mark gets it as well."""
    if not photograph.scale_points:
        raise Refusal("photo.no_scale")
    places = _shares(points, 200)
    matrix = to_plane(_pixels(photograph, photograph.scale_points), photograph.scale_mm)
    area = round(touched_area(_pixels(photograph, places), matrix), 2)
    if mark is not None and mark.object_id != photograph.object_id:
        raise Refusal("photo.other_object")
    made = TouchedArea(
        photograph=photograph, mark=mark, points=places, area_mm2=area, at=clock.now(), who=who
    )
    keeping.add(made, who=who)
    if mark is not None:
        seen = Sighting.objects.filter(
            mark=mark, survey__visit_object=photograph.visit_object_id, survey__frozen_at=None
        ).first()
        if seen is not None:
            keeping.change(seen, who=who, area_mm2=area)
    return made


def _grey(photograph: Photograph):
    from PIL import Image

    path = copy_path(photograph.pk, "large")
    if not path.exists():
        raise Refusal("photo.not_ready")
    with Image.open(path) as picture:
        picture.draft("L", (1200, 1200))
        grey = picture.convert("L")
        grey.thumbnail((1200, 1200))
        return np.asarray(grey, dtype=np.float64)


def lay_photograph_over(
    *,
    earlier: Photograph,
    later: Photograph,
    pairs: Sequence[Sequence[Sequence[float]]],
    who: Maker,
) -> Alignment:
    """Lay a later photograph over an earlier one of the same object.

    Parameters
    ----------
    pairs : [[place on the earlier, the same place on the later], ...], shares; four or more, or none to let
        the pictures be tried from the same frame.

    Raises
    ------
    Refusal
        Another object, copies not made yet, too few pairs, or two pictures that are not alike.
    """
    if earlier.pk == later.pk:
        raise Refusal("photo.same_one")
    if earlier.object_id != later.object_id:
        raise Refusal("photo.other_object")
    if 0 < len(pairs) < 4 or len(pairs) > 40:
        raise Refusal("photo.points_pairs", n=len(pairs))
    start = _shares([p[0] for p in pairs], 40)
    end = _shares([p[1] for p in pairs], 40)
    found = lay_over(_grey(earlier), _grey(later), start, end)
    refined = found.likeness >= LEAST_LIKE
    matrix = found.matrix
    if not refined:
        if not pairs:
            raise Refusal("photo.points_pairs", n=0)
        from purfling.craft.plane import homography

        matrix = homography(start, end)
    made = Alignment(
        earlier=earlier,
        later=later,
        points=[start, end],
        homography=[[float(v) for v in row] for row in matrix],
        rest_px=round(rest_of(matrix, start, end, later.width, later.height), 2),
        refined=refined,
        at=clock.now(),
        who=who,
    )
    return keeping.add(made, who=who)
