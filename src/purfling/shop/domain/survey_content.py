"""What a frozen survey holds, as plain data with one canonical text, and the hash of it."""

import hashlib
import json
from datetime import datetime
from typing import Any

from purfling.craft.marks import standing
from purfling.shop.models import Maker, Photograph, Survey

SIGHTING = (
    "view",
    "points",
    "along_edge",
    "kind",
    "length_mm",
    "area_mm2",
    "state",
    "whose",
    "age",
    "severity",
    "decision",
    "words",
    "cause",
    "cause_again",
    "checked",
    "gone",
)


def numbers_before(survey: Survey) -> frozenset[int] | None:
    """The numbers on the chart of the visit before; None where there was none."""
    from purfling.shop.domain.survey import survey_before

    before = survey_before(survey.visit_object)
    if before is None:
        return None
    return frozenset(before.sightings.values_list("mark__number", flat=True))


def content_of(survey: Survey, *, frozen_at: datetime, author: Maker | None) -> dict[str, Any]:
    """The survey as plain data: object, author, date, lights, marks, photographs with their SHA-256."""
    thing, row = survey.object, survey.visit_object
    before = numbers_before(survey)
    photographs = list(row.photographs.prefetch_related("marks"))
    marks = []
    for s in survey.sightings.select_related("mark").order_by("mark__number"):
        number = s.mark.number
        marks.append(
            {"number": number}
            | {name: getattr(s, name) for name in SIGHTING}
            | {
                "standing": standing(number, s.age, s.gone, before),
                "photographs": [p.sha256 for p in photographs if s.mark_id in {m.pk for m in p.marks.all()}],
            }
        )
    return {
        "object": {
            "id": str(thing.pk),
            "kind": thing.kind,
            "family": thing.family,
            "size": thing.size,
            "label": thing.label,
            "length_mm": thing.length_mm,
            "upper_mm": thing.upper_mm,
            "lower_mm": thing.lower_mm,
        },
        "visit": row.visit.number,
        "tag": row.tag,
        "edition": survey.edition,
        "because": survey.because,
        "at": survey.at.isoformat(),
        "frozen_at": frozen_at.isoformat(),
        "author": str(author) if author else "",
        "purpose": survey.purpose,
        "lights": survey.lights,
        "not_examined": survey.not_examined,
        "summary": survey.summary,
        "opinion": survey.opinion,
        "marks": marks,
        "photographs": [_photograph(p) for p in photographs],
    }


def _photograph(p: Photograph) -> dict[str, Any]:
    return {
        "sha256": p.sha256,
        "view": p.view,
        "light": p.light,
        "side": p.side,
        "angle_deg": p.angle_deg,
        "at": p.at.isoformat(),
        "marks": sorted(m.number for m in p.marks.all()),
    }


def hash_of(content: dict[str, Any]) -> str:
    """SHA-256 of the content's canonical JSON: keys in order, no spaces, UTF-8."""
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def intact(survey: Survey) -> bool:
    """A frozen survey's content still has the hash it was frozen with."""
    return bool(survey.hash) and hash_of(survey.content) == survey.hash
