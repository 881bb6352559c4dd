"""Slip -> service: the answer of ``purfling service`` and what its papers are made from."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from purfling.craft.cautions import breaks_class, cautions_for
from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer, Default, Note, Status, gravest
from purfling.planning.calendar import BenchHours
from purfling.planning.one_bench import BenchPlan, Lag, Operation, lay_on_bench
from purfling.reckonings.setup.compare import Comparison, compare, sentence
from purfling.reckonings.setup.compute import results
from purfling.slips.hours import bench_hours
from purfling.slips.reader import Slip
from purfling.slips.view import View

LONGEST_WAIT = 100_000  # min
BEDDING = 0.3  # mm, from memory; the shop's own where [template] says so
USUAL_WEEK = {day: [["09:00", "12:30"], ["13:30", "18:00"]] for day in ("mon", "tue", "wed", "thu", "fri")}


@dataclass(frozen=True)
class Service:
    """Everything the papers of a service need."""

    comparison: Comparison
    bedding_mm: float
    plan: BenchPlan | None
    with_evenings: BenchPlan | None
    arrives: datetime | None
    promise: datetime | None
    hand_over: datetime | None
    cautions: tuple[str, ...]
    first_name: str | None
    label: str | None
    tag: str | None
    kind: str | None
    answer: Answer


def work_list(slip: Slip) -> list[Operation]:
    """The operations of [[work]].

    Raises
    ------
    Refusal
        No id, minutes not whole, a wait without anything to wait for.
    """
    found: list[Operation] = []
    for row in slip.rows("work"):
        minutes = row.need_number("minutes")
        if minutes != int(minutes):
            raise Refusal("service.not_whole_minutes", field=row.path("minutes"), value=f"{minutes:g}")
        found.append(
            Operation(
                id=row.need_text("id"),
                object=row.text("object") or slip.family or "",
                name=row.text("name") or row.need_text("id"),
                minutes=int(minutes),
                after=_lags(row),
                note=row.text("note") or "",
            )
        )
    return found


def _lags(row: View) -> tuple[Lag, ...]:
    given = row.data.get("after", [])
    if isinstance(given, str):
        given = [given]
    least, most = row.number("wait_min"), row.number("wait_max")
    if (least is not None or most is not None) and not given:
        raise Refusal("service.wait_without_after", field=row.path("wait_min"))
    for key, value in (("wait_min", least), ("wait_max", most)):
        if value is not None and value != int(value):
            raise Refusal("service.not_whole_minutes", field=row.path(key), value=f"{value:g}")
    if not isinstance(given, list):
        raise Refusal("slips.not_texts", field=row.path("after"), value=str(given)[:40])
    return tuple(_lag(one, row, int(least or 0), None if most is None else int(most)) for one in given)


def _is_wait(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= LONGEST_WAIT


def _lag(one: Any, row: View, least: int, most: int | None) -> Lag:
    if isinstance(one, str):
        return Lag(one, least, most)
    if (
        isinstance(one, Mapping)
        and isinstance(one.get("id"), str)
        and set(one) <= {"id", "wait_min", "wait_max"}
    ):
        own_least, own_most = one.get("wait_min", least), one.get("wait_max", most)
        if _is_wait(own_least) and (own_most is None or _is_wait(own_most)):
            return Lag(one["id"], own_least, own_most)
    raise Refusal("service.bad_after", field=row.path("after"), value=str(one)[:40])


def _hours(slip: Slip, defaults: list[Default]) -> tuple[BenchHours, BenchHours]:
    shop = slip.table("shop")
    week = shop.data.get("bench_hours")
    if week is None:
        week = USUAL_WEEK
        defaults.append(Default("shop.bench_hours", "mon-fri 09:00-12:30, 13:30-18:00", "", "practice"))
    closed = shop.texts("closed")
    bench = bench_hours(week, closed, shop.data.get("evenings"), "shop.bench_hours")
    doors = bench_hours(shop.data.get("shop_hours", week), closed, None, "shop.shop_hours")
    return bench, doors


def _arrival(
    slip: Slip, promise: datetime | None, bench: BenchHours, defaults: list[Default], notes: list[Note]
) -> datetime:
    given = slip.table("visit").moment("arrives")
    if given is not None:
        if promise is not None and promise <= given:
            notes.append(Note("service.promise_before_arrival"))
        return given
    if promise is None:
        raise Refusal("service.no_arrival")
    for back in range(1, 30):
        periods = bench.of_day(promise.date() - timedelta(days=back))
        if periods:
            start = periods[0][0]
            defaults.append(Default("visit.arrives", start.strftime("%Y-%m-%dT%H:%M"), "", "practice"))
            notes.append(Note("service.arrival_assumed", {"moment": start.strftime("%Y-%m-%d %H:%M")}))
            return start
    raise Refusal("service.no_bench_hours", value=30)


@dataclass(frozen=True)
class _Bench:
    """The bench's part of a service."""

    promise: datetime | None
    status: Status = "ok"
    plan: BenchPlan | None = None
    later: BenchPlan | None = None
    arrives: datetime | None = None
    hand_over: datetime | None = None


def _on_the_bench(
    slip: Slip, work: list[Operation], evenings: bool, defaults: list[Default], notes: list[Note]
) -> _Bench:
    promise = slip.table("promise").moment("at")
    if not work:
        notes.append(Note("service.no_work_listed"))
        return _Bench(promise)
    bench, doors = _hours(slip, defaults)
    arrives = _arrival(slip, promise, bench, defaults, notes)
    plan = lay_on_bench(work, arrives, bench, evenings)
    later = lay_on_bench(work, arrives, bench, True) if bench.evenings and not evenings else None
    hand_over = doors.first_open(plan.ready)
    status = _promise_notes(plan, hand_over, promise, later, notes)
    return _Bench(promise, status, plan, later, arrives, hand_over)


def _bedding(slip: Slip, defaults: list[Default]) -> float:
    given = slip.table("template").number("bedding_mm")
    if given is not None:
        return given
    defaults.append(Default("template.bedding_mm", BEDDING, "mm", "memory"))
    return BEDDING


def reckon_service(slip: Slip, evenings: bool = False, language: str = "en") -> Service:
    """The service of a slip.

    Parameters
    ----------
    slip : the slip; evenings : whether the evenings of [shop] may be worked; language : of the one
    sentence in the results.

    Raises
    ------
    Refusal
        As the set-up and the work list.
    """
    comparison = compare(slip)
    defaults = list(comparison.found.answer.defaults)
    notes = _both(comparison)
    bedding = _bedding(slip, defaults)
    kind = slip.table("instrument").choice("class")
    work = work_list(slip)
    status: Status = gravest(comparison.found.answer.status, comparison.wished.answer.status)
    bench = _on_the_bench(slip, work, evenings, defaults, notes)
    status = gravest(status, bench.status)
    notes += [Note("service.breaks_class", {"name": o.name}) for o in work if breaks_class(o.name, kind)]
    sources = [*comparison.found.answer.sources, *comparison.wished.answer.sources, "practice"]
    answer = Answer(
        results={
            "found": results(comparison.found.setup),
            "wished": results(comparison.wished.setup),
            "change": {
                "notch_mm": list(comparison.notch_change_mm),
                "crown_mm": list(comparison.crown_change_mm),
                "centre_mm": comparison.centre_change_mm,
                "sentence": sentence(comparison, language),
            },
            "template": {"bedding_mm": bedding},
            "service": _service_results(bench),
        },
        status=status,
        warnings=tuple(notes),
        inputs=_inputs(slip, comparison),
        defaults=tuple(defaults),
        sources=tuple(dict.fromkeys(sources)),
    )
    names = [o.name for o in work]
    player, instrument = slip.table("player"), slip.table("instrument")
    return Service(
        comparison=comparison,
        bedding_mm=bedding,
        plan=bench.plan,
        with_evenings=bench.later,
        arrives=bench.arrives,
        promise=bench.promise,
        hand_over=bench.hand_over,
        cautions=cautions_for(names),
        first_name=player.text("first_name"),
        label=instrument.text("label"),
        tag=instrument.text("tag"),
        kind=kind,
        answer=answer,
    )


def _both(comparison: Comparison) -> list[Note]:
    """The warnings of the card as found, then those that only the wished card has."""
    found = list(comparison.found.answer.warnings)
    return found + [n for n in comparison.wished.answer.warnings if n not in found]


def _promise_notes(
    plan: BenchPlan,
    hand_over: datetime | None,
    promise: datetime | None,
    later: BenchPlan | None,
    notes: list[Note],
) -> Status:
    for first, second in plan.broken:
        notes.append(Note("service.wait_too_long", {"first": first, "second": second}))
    if promise is not None and plan.ready > promise:
        late = int((plan.ready - promise).total_seconds() // 60)
        notes.append(Note("service.late", {"hours": round(late / 60, 1)}))
        if later is not None and later.ready <= promise:
            notes.append(Note("service.evenings_would_do", {"ready": later.ready.strftime("%Y-%m-%d %H:%M")}))
    if hand_over is None:
        notes.append(Note("service.no_shop_hours"))
    return "infeasible" if plan.broken else "ok"


def _moment(value: datetime | None) -> str | None:
    return None if value is None else value.strftime("%Y-%m-%dT%H:%M")


def _service_results(bench: _Bench) -> dict[str, Any]:
    plan, later, promise = bench.plan, bench.later, bench.promise
    if plan is None:
        return {"operations": [], "ready": None, "promise": _moment(promise)}
    late = 0 if promise is None else max(0, int((plan.ready - promise).total_seconds() // 60))
    return {
        "operations": [
            {
                "id": x.operation.id,
                "object": x.operation.object,
                "name": x.operation.name,
                "minutes": x.operation.minutes,
                "start": _moment(x.start),
                "end": _moment(x.end),
                "pieces": [[_moment(a), _moment(b)] for a, b in x.pieces],
            }
            for x in plan.laid
        ],
        "arrives": _moment(bench.arrives),
        "ready": _moment(plan.ready),
        "ready_not_before": _moment(plan.bound),
        "hand_over": _moment(bench.hand_over),
        "promise": _moment(promise),
        "late_minutes": late,
        "hands_minutes": sum(x.operation.minutes for x in plan.laid),
        "ready_with_evenings": _moment(later.ready) if later else None,
    }


def _inputs(slip: Slip, comparison: Comparison) -> dict[str, Any]:
    given = dict(comparison.found.answer.inputs)
    given["wish"] = slip.tables.get("wish", {})
    for name in ("shop", "visit", "promise", "instrument", "template", "work"):
        if name in slip.tables:
            given[name] = slip.tables[name]
    return given
