"""Photographs: kept as they came, shown as copies without place and owner, scaled, recognised again."""

from pathlib import Path
from typing import Any

from django.db import transaction

from purfling.craft.look import ALIKE, look_distance
from purfling.craft.refusals import Refusal
from purfling.drawing.drawings.object_outlines import view_names
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.photograph_file import Examined, examine, sha256_of
from purfling.shop.domain.photograph_store import original_path, settle
from purfling.shop.models import Maker, Mark, Photograph, Shown, VisitObject


def _light(values: dict[str, Any]) -> dict[str, Any]:
    light = values.get("light") or Photograph.Light.NORMAL
    if light not in Photograph.Light.values:
        raise Refusal("photo.no_light", light=str(light)[:20])
    angle = values.get("angle_deg")
    if angle is not None and not 0.0 <= angle <= 90.0:
        raise Refusal("photo.angle", value=float(angle))
    raking = light == Photograph.Light.RAKING
    return {
        "light": light,
        "side": str(values.get("side", ""))[:20] if raking else "",
        "angle_deg": angle if raking else None,
    }


def keep_photograph(
    *,
    path: Path,
    name: str,
    row: VisitObject,
    who: Maker | None,
    mark: Mark | None = None,
    view: str = "",
    words: str = "",
    **light: Any,
) -> Photograph:
    """Keep a file that has arrived: examine it, original on the disc, then the row, then ask for copies.

    The file at ``path`` is gone afterwards: it became the original, or was refused and taken away.

    Raises
    ------
    Refusal
        It is not one whole picture; the mark belongs to another object.
    """
    try:
        found = examine(path, name)
        values = _light(light) | {"words": words[:300]}
        if mark is not None and mark.object_id != row.object_id:
            raise Refusal("photo.other_object")
        if view and view not in view_names(row.object.is_bow):
            raise Refusal("survey.no_view", view=view[:20])
    except Refusal:
        path.unlink(missing_ok=True)
        raise
    target, fresh = settle(path, found.sha256, found.kind)
    try:
        return _write(found, row, who, mark, view, values)
    except BaseException:
        if fresh and not Photograph.objects.filter(sha256=found.sha256).exists():
            target.unlink(missing_ok=True)
        raise


@transaction.atomic
def _write(
    found: Examined,
    row: VisitObject,
    who: Maker | None,
    mark: Mark | None,
    view: str,
    values: dict[str, Any],
) -> Photograph:
    from purfling.shop.copies import make_copies

    there = Photograph.objects.filter(visit_object=row, sha256=found.sha256).first()
    if there is None:
        there = Photograph(
            object_id=row.object_id,
            visit_object=row,
            view=view,
            sha256=found.sha256,
            kind=found.kind,
            size=found.size,
            width=found.width,
            height=found.height,
            look=found.look,
            at=clock.now(),
            who=who,
            **values,
        )
        keeping.add(there, who=who)
        make_copies.enqueue(str(there.pk))
    if mark is not None:
        show_mark(photograph=there, mark=mark, who=who)
    return there


def show_mark(*, photograph: Photograph, mark: Mark, who: Maker | None) -> None:
    """The photograph shows this mark."""
    if mark.object_id != photograph.object_id:
        raise Refusal("photo.other_object")
    if not Shown.objects.filter(photograph=photograph, mark=mark).exists():
        keeping.add(Shown(photograph=photograph, mark=mark), who=who)


def change_photograph(
    *,
    photograph: Photograph,
    who: Maker,
    seen: int | None = None,
    view: str = "",
    words: str = "",
    **light: Any,
) -> Photograph:
    """View, light and words; the picture itself is never changed."""
    if view and view not in view_names(photograph.object.is_bow):
        raise Refusal("survey.no_view", view=view[:20])
    return keeping.change(photograph, who=who, seen=seen, view=view, words=words[:300], **_light(light))


def original_stands(photograph: Photograph) -> bool:
    """The original is on the disc and is, bit for bit, the file that came."""
    path = original_path(photograph.sha256, photograph.kind)
    return path.exists() and sha256_of(path) == photograph.sha256


def recognise(*, path: Path, name: str) -> dict[str, Any]:
    """What a file brought from outside is to the book.

    Returns
    -------
    dict with ``verdict``: "original" (bit for bit), "copy" (a copy the book made itself), "altered" (shows
    what a photograph of the book shows, but its bytes are others), "unknown"; and ``photograph``.
    """
    sha256 = sha256_of(path)
    there = Photograph.objects.filter(sha256=sha256).select_related("object").first()
    if there is not None:
        return {"verdict": "original", "photograph": there, "sha256": sha256}
    for key in ("large", "small"):
        there = Photograph.objects.filter(**{f"copy_hashes__{key}": sha256}).select_related("object").first()
        if there is not None:
            return {"verdict": "copy", "photograph": there, "sha256": sha256}
    found = examine(path, name)
    nearest, best = None, ALIKE
    for id, look in Photograph.objects.exclude(look="").values_list("pk", "look").iterator():
        away = look_distance(found.look, look)
        if away < best:
            nearest, best = id, away
    if nearest is None:
        return {"verdict": "unknown", "photograph": None, "sha256": sha256}
    there = Photograph.objects.select_related("object").get(pk=nearest)
    return {"verdict": "altered", "photograph": there, "sha256": sha256, "bits": best}
