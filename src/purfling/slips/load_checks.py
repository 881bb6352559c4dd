"""What must hold between the parts of a load before anything is planned."""

from collections.abc import Iterable

from purfling.craft.refusals import Refusal
from purfling.planning.graph import closure
from purfling.planning.hours import bench_periods
from purfling.planning.load import DAY, Load, Operation, Visit
from purfling.slips.reader import nearest


def _unknown(visit: str, id: str, field: str, value: str, known: Iterable[str]) -> Refusal:
    like = nearest(value, known)
    params = {"visit": visit, "id": id, "field": field, "value": value[:60]}
    if like is None:
        return Refusal("plan.unknown_id", **params)
    return Refusal("plan.unknown_id_near", like=like, **params)


def _unique(names: list[str], code: str, **params: str) -> None:
    seen: set[str] = set()
    for name in names:
        if name in seen:
            raise Refusal(code, value=name[:60], **params)
        seen.add(name)


def longest_period(load: Load, use_evenings: bool) -> int:
    """Minutes of the longest bench period of the week (or of an evening, where those are used)."""
    spans = [b - a for hours in load.bench_hours.values() for a, b in hours]
    if use_evenings:
        for begin, _ in load.evenings:
            spans += [b - a for a, b in bench_periods(load, begin // DAY, 1, True)]
    return max(spans, default=0)


def _check_names(load: Load, visit: Visit, one: Operation, ids: list[str]) -> None:
    where = {"visit": visit.id, "id": one.id}
    for wait in one.after:
        if wait.id not in ids:
            raise _unknown(visit.id, one.id, "after", wait.id, ids)
        if wait.wait_max is not None and wait.wait_min > wait.wait_max:
            raise Refusal(
                "plan.wait_upside_down", low=wait.wait_min, high=wait.wait_max, other=wait.id, **where
            )
    if one.until is not None and one.until not in ids:
        raise _unknown(visit.id, one.id, "until", one.until, ids)
    if one.place is not None and one.place not in load.places:
        raise _unknown(visit.id, one.id, "place", one.place, load.places)
    if one.family is not None and one.family not in load.setups:
        raise _unknown(visit.id, one.id, "family", one.family, load.setups)
    people = [p.name for p in load.people]
    if one.fixed_person is not None and one.fixed_person not in people:
        raise _unknown(visit.id, one.id, "fixed", one.fixed_person, people)


def _check_operation(load: Load, visit: Visit, one: Operation, ids: list[str], longest: int) -> None:
    where = {"visit": visit.id, "id": one.id}
    _check_names(load, visit, one, ids)
    if one.state == "done":
        if one.ended_at is None:
            raise Refusal("plan.done_without_end", **where)
        if one.ended_at > load.now:
            raise Refusal("plan.past_in_future", field="ended_at", **where)
        return
    if one.state == "started":
        if one.started_at is None:
            raise Refusal("plan.started_without_start", **where)
        if one.started_at > load.now:
            raise Refusal("plan.past_in_future", field="started_at", **where)
    if not any(one.skill is None or one.skill in p.skills for p in load.people):
        raise Refusal("plan.no_skill", skill=(one.skill or "")[:60], **where)
    if not one.interruptible and max(one.pieces) > longest:
        raise Refusal("plan.too_long", value=max(one.pieces), limit=longest, **where)


def _check_cycle(visit: Visit, ids: list[str]) -> None:
    number = {id: k for k, id in enumerate(ids)}
    arcs = [(number[w.id], number[o.id]) for o in visit.operations for w in o.after]
    reach = closure(len(ids), arcs)
    ring = [ids[k] for k in range(len(ids)) if reach[k] >> k & 1]
    if ring:
        first = number[ring[0]]
        ring = [id for id in ring if reach[first] >> number[id] & 1 and reach[number[id]] >> first & 1]
        raise Refusal("plan.cycle", visit=visit.id, ids=", ".join(ring)[:120])


def check_load(load: Load, use_evenings: bool) -> None:
    """Refuse a load whose parts do not fit each other.

    Raises
    ------
    Refusal
        No hours or nobody; ids twice or unknown; cycles; waits upside down; a skill nobody has; work that
        fits no bench period; done work without its end.
    """
    longest = longest_period(load, use_evenings)
    if not any(load.bench_hours.values()):
        raise Refusal("plan.no_hours")
    if not load.people:
        raise Refusal("plan.nobody")
    _unique([p.name for p in load.people], "plan.person_twice")
    _unique([v.id for v in load.visits], "plan.visit_twice")
    for name, setup in load.setups.items():
        if setup.minutes > longest:
            raise Refusal("plan.setup_too_long", family=name[:60], value=setup.minutes, limit=longest)
    for visit in load.visits:
        ids = [o.id for o in visit.operations]
        _unique(ids, "plan.operation_twice", visit=visit.id)
        for one in visit.operations:
            _check_operation(load, visit, one, ids, longest)
        for pair in visit.never_during:
            for id in pair:
                if id not in ids:
                    raise _unknown(visit.id, id, "never_during", id, ids)
        _check_cycle(visit, ids)
