"""Surveys: begin with what is known, look again, freeze with the arrival, go on in a further edition."""

from django.db import transaction

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.survey_content import content_of, hash_of
from purfling.shop.models import Maker, Sighting, Survey, Visit, VisitObject

TAKEN_OVER = (
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
)


def survey_before(row: VisitObject) -> Survey | None:
    """The last edition of the last survey of the same object in an earlier visit."""
    return (
        Survey.objects.filter(object_id=row.object_id, visit_object__visit__number__lt=row.visit.number)
        .order_by("-visit_object__visit__number", "-edition")
        .first()
    )


def survey_of(row: VisitObject) -> Survey | None:
    """The last edition of this visit's survey."""
    return row.surveys.order_by("-edition").first()


@transaction.atomic
def begin_survey(*, row: VisitObject, who: Maker | None, id=None) -> Survey:
    """The survey of an object in a visit; every mark of the last one comes along, not yet looked at."""
    row = VisitObject.objects.select_related("visit").select_for_update(of=("self",)).get(pk=row.pk)
    there = survey_of(row)
    if there is not None:
        return there
    if row.visit.arrived_at is None:
        raise Refusal("survey.not_here", number=row.visit.number)
    survey = Survey(visit_object=row, object_id=row.object_id, at=clock.now(), who=who)
    if id is not None:
        survey.id = id
    keeping.add(survey, who=who)
    before = survey_before(row)
    if before is not None:
        _take_over(before, survey, who, checked=False)
    return survey


def _take_over(before: Survey, survey: Survey, who: Maker | None, checked: bool) -> None:
    for old in before.sightings.filter(gone=False) if not checked else before.sightings.all():
        values = {name: getattr(old, name) for name in TAKEN_OVER}
        if not checked:
            values["age"] = Sighting.Age.OLD  # what was seen before is old by now
        state = {"checked": old.checked, "gone": old.gone} if checked else {"checked": False, "gone": False}
        keeping.add(Sighting(mark_id=old.mark_id, survey=survey, **values, **state), who=who)


def change_survey(*, survey: Survey, who: Maker, seen: int | None = None, **values: object) -> Survey:
    """Purpose, lights, what was not examined, summary, opinion."""
    return keeping.change(survey, who=who, seen=seen, **values)


@transaction.atomic
def freeze_survey(*, survey: Survey, who: Maker) -> Survey:
    """The survey stands from now on, with all it saw and the hash of it."""
    survey = Survey.objects.select_for_update().get(pk=survey.pk)
    if survey.is_frozen:
        return survey
    at = clock.now()
    content = content_of(survey, frozen_at=at, author=who)
    return keeping.change(
        survey, who=who, frozen_at=at, frozen_by=who, content=content, hash=hash_of(content)
    )


@transaction.atomic
def freeze_surveys_of_visit(*, visit: Visit, who: Maker) -> list[Survey]:
    """The arrival is closed: every open survey of the visit stands from now on."""
    open_ones = Survey.objects.filter(visit_object__visit=visit, frozen_at=None)
    return [freeze_survey(survey=s, who=who) for s in open_ones]


@transaction.atomic
def begin_edition(*, survey: Survey, because: str, who: Maker) -> Survey:
    """A further edition of a frozen survey, with a word of reason; the frozen one stays as it is."""
    last = survey_of(survey.visit_object)
    if last is None or not last.is_frozen:
        raise Refusal("survey.open_already")
    if not because.strip():
        raise Refusal("survey.why")
    fresh = Survey(
        visit_object_id=last.visit_object_id,
        object_id=last.object_id,
        edition=last.edition + 1,
        at=clock.now(),
        who=who,
        because=because.strip()[:300],
        purpose=last.purpose,
        lights=last.lights,
        not_examined=last.not_examined,
        summary=last.summary,
        opinion=last.opinion,
    )
    keeping.add(fresh, who=who, because=fresh.because)
    _take_over(last, fresh, who, checked=True)
    return fresh
