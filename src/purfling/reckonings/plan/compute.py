"""A load -> the answer of ``purfling plan``."""

import math
from dataclasses import dataclass

from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer, Default, Note
from purfling.planning.hours import within_shop_hours
from purfling.planning.load import Load, outcomes
from purfling.planning.solve import Asked, Report, Solution, solve
from purfling.slips.load import write_moment


@dataclass(frozen=True)
class PlanCase:
    """A load, how it was asked for, and what came of it."""

    load: Load
    asked: Asked
    solution: Solution | None
    answer: Answer


def _warnings(load: Load) -> tuple[Note, ...]:
    found = []
    for visit in load.visits:
        params = {"visit": visit.id, "promise": write_moment(visit.promise)}
        if visit.promise < visit.arrives:
            found.append(
                Note("plan.promise_before_arrival", params | {"arrives": write_moment(visit.arrives)})
            )
        elif visit.promise < load.now:
            found.append(Note("plan.promise_past", params))
        elif not within_shop_hours(load, visit.promise):
            found.append(Note("plan.promise_closed", params))
    for begin, _ in load.evenings:
        if begin // 1440 in load.closed:
            found.append(Note("plan.evening_closed", {"evening": write_moment(begin)}))
    return tuple(found)


def _number(value: float) -> float | int:
    return int(value) if value == int(value) else value


def _inputs(load: Load, asked: Asked) -> dict[str, object]:
    return {
        "now": write_moment(load.now),
        "visits": len(load.visits),
        "operations": sum(1 for v in load.visits for o in v.operations if o.state != "done"),
        "people": len(load.people),
        "evenings": asked.use_evenings,
        "seconds": asked.seconds,
        "evaluations": asked.evaluations,
        "replanned": asked.old is not None,
        "move_price_hours": asked.move_price / 60,
    }


def results_of(load: Load, solution: Solution, timed: bool) -> dict[str, object]:
    """The results of a plan, in the order of the clock."""
    pieces = sorted(solution.plan.pieces, key=lambda p: (p.start, p.person, p.visit, p.id, p.piece))
    found: dict[str, object] = {
        "operations": [
            {
                "visit": p.visit,
                "id": p.id,
                "piece": p.piece,
                "person": p.person,
                "start": write_moment(p.start),
                "end": write_moment(p.end),
            }
            for p in pieces
        ],
        "setups": [
            {"family": p.family, "person": p.person, "start": write_moment(p.start)}
            for p in solution.plan.preparations
        ],
        "visits": [
            {
                "id": o.visit,
                "ready": None if o.ready is None else write_moment(o.ready),
                "late_minutes": o.late,
            }
            for o in outcomes(load, solution.plan)
        ],
        "weighted_late_minutes": _number(solution.late),
        "bound_minutes": _number(math.floor(solution.bound * 1000) / 1000),
        "method": solution.method,
    }
    if timed:
        found["seconds"] = round(solution.seconds, 2)
    return found


def compute(load: Load, asked: Asked, report: Report | None = None) -> PlanCase:
    """Plan a load and make the answer.

    Parameters
    ----------
    load : Load
    asked : Asked
    report : callable or None
        Told how the search goes on.

    Raises
    ------
    Refusal
        No rule of dispatch found a plan. That proves nothing, so it is not called infeasible.
    """
    solution = solve(load, asked, report)
    defaults = tuple(
        Default("move_price_hours", asked.move_price / 60, "h", "practice")
        for _ in range(int(asked.old is not None and asked.move_price == 480.0))
    )
    inputs = _inputs(load, asked)
    if solution is None:
        raise Refusal("plan.none_found")
    results = results_of(load, solution, asked.evaluations is None)
    notes = _warnings(load)
    if solution.bound == 0 and solution.late > 0:
        notes += (Note("plan.bound_trivial"),)
    return PlanCase(load, asked, solution, Answer(results, "ok", notes, inputs, defaults, ("planning",)))
