"""A survey as the plain records of the condition report."""

from django.utils import timezone

from purfling.papers.condition_report.build import ConditionReport, ReportMark, ReportPhotograph
from purfling.shop.domain.mark import shape_of
from purfling.shop.domain.photograph_store import copy_path
from purfling.shop.domain.survey_content import intact, numbers_before
from purfling.shop.models import Object, Photograph, Survey
from purfling.shop.queries.shop import shop_name
from purfling.shop.queries.survey import Row, survey_rows
from purfling.words import decimal, say


def _identity(thing: Object, survey: Survey, language: str) -> tuple[tuple[str, str], ...]:
    def mm(*values: float | None) -> str:
        return " · ".join(decimal(v, 1, language) for v in values if v is not None)

    row = survey.visit_object
    lengths = mm(thing.length_mm) if thing.is_bow else mm(thing.length_mm, thing.upper_mm, thing.lower_mm)
    found = {
        "family": say(f"condition.kind_{thing.kind}_{thing.family}", language),
        "size": thing.size,
        "tag": " · ".join(x for x in (row.tag, str(row.visit.number)) if x),
        "label": thing.label,
        "stated": f"{thing.school_stated} {thing.age_stated}".strip(),
        "ours": f"{thing.school_ours} {thing.age_ours}".strip(),
        "stick" if thing.is_bow else "dimensions": f"{lengths} mm" if lengths else "",
        "back": say(f"condition.back_{thing.back}", language) if thing.back else "",
        "materials": ", ".join(f"{m['part']}: {m['species']}" for m in thing.materials),
        "asset": thing.asset,
    }
    return tuple((say(f"condition.id_{k}", language), v) for k, v in found.items() if v)


def _mark(row: Row) -> ReportMark:
    s = row.sighting
    return ReportMark(
        drawn=row.on_chart(),
        kind=s.kind,
        standing=row.standing,
        severity=s.severity,
        state=s.state,
        whose=s.whose,
        age=s.age,
        decision=s.decision,
        length_mm=s.length_mm,
        area_mm2=s.area_mm2,
        words=s.words,
        cause=s.cause,
        cause_again=s.cause_again,
        checked=s.checked,
    )


def _photograph(p: Photograph) -> ReportPhotograph | None:
    path = copy_path(p.pk, "small")
    if not path.exists():
        return None
    return ReportPhotograph(
        jpeg=path.read_bytes(),
        width=p.width,
        height=p.height,
        marks=tuple(sorted(m.number for m in p.marks.all())),
        light=p.light,
        view=p.view,
        at=timezone.localtime(p.at),
        sha256=p.sha256,
        side=p.side,
        angle_deg=p.angle_deg,
    )


def condition_of(survey: Survey, language: str) -> ConditionReport:
    """The report's records; of a frozen survey as it was frozen, photographs up to that moment."""
    from purfling.shop.words import object_words

    photographs = survey.visit_object.photographs.prefetch_related("marks")
    if survey.frozen_at is not None:
        photographs = photographs.filter(at__lte=survey.frozen_at)
    shown = [_photograph(p) for p in photographs]
    return ConditionReport(
        subject=object_words(survey.object),
        shop=shop_name(),
        identity=_identity(survey.object, survey, language),
        shape=shape_of(survey.object),
        author=str(survey.frozen_by or survey.who or ""),
        at=timezone.localtime(survey.frozen_at or survey.at),
        visit=survey.visit_object.visit.number,
        edition=survey.edition,
        hash=survey.hash,
        intact=intact(survey) if survey.hash else True,
        marks=tuple(_mark(r) for r in survey_rows(survey)),
        purpose=survey.purpose,
        lights=tuple(survey.lights),
        not_examined=survey.not_examined,
        summary=survey.summary,
        opinion=survey.opinion,
        because=survey.because,
        first=numbers_before(survey) is None,
        photographs=tuple(p for p in shown if p is not None),
    )
