"""One visit on one bench: hands in bench hours, waits around the clock."""

from datetime import date, datetime, time, timedelta
from itertools import pairwise, permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from purfling.craft.refusals import Refusal
from purfling.planning.calendar import BenchHours
from purfling.planning.one_bench import Lag, Operation, _dispatch, lay_on_bench

WEEK = {d: [(time(9), time(12)), (time(13), time(17))] for d in ("mon", "tue", "wed", "thu", "fri")}
HOURS = BenchHours(WEEK)
MONDAY = datetime(2026, 12, 7, 9)


def op(name: str, minutes: int, *after: Lag) -> Operation:
    return Operation(name, "violin", name, minutes, after)


def test_a_wait_over_the_night_costs_no_bench_time() -> None:
    # 30 min from 16:00, 16 h of wait end at 08:30; the bench opens at 09:00.
    work = [op("coat", 30), op("polish", 20, Lag("coat", 960))]
    plan = lay_on_bench(work, datetime(2026, 12, 7, 16), HOURS)
    assert plan.ready == datetime(2026, 12, 8, 9, 20)
    assert plan.bound == plan.ready


def test_hands_do_not_work_over_noon_or_on_closed_days() -> None:
    work = [op("a", 150), op("b", 60, Lag("a"))]
    plan = lay_on_bench(work, MONDAY, BenchHours(WEEK, frozenset({date(2026, 12, 8)})))
    assert [x.start for x in plan.laid] == [datetime(2026, 12, 7, 9), datetime(2026, 12, 7, 13)]
    late = lay_on_bench(
        [op("a", 200), op("b", 200, Lag("a"))], MONDAY, BenchHours(WEEK, frozenset({date(2026, 12, 8)}))
    )
    assert late.laid[0].start == datetime(2026, 12, 7, 13)
    assert late.laid[1].start == datetime(2026, 12, 9, 13)


def test_an_operation_longer_than_any_period_is_cut_by_closing_times() -> None:
    plan = lay_on_bench([op("board", 300)], MONDAY, HOURS)
    assert plan.laid[0].pieces == (
        (datetime(2026, 12, 7, 9), datetime(2026, 12, 7, 12)),
        (datetime(2026, 12, 7, 13), datetime(2026, 12, 7, 15)),
    )


def test_evenings_count_only_where_asked_for() -> None:
    evening = (datetime(2026, 12, 7, 18), datetime(2026, 12, 7, 20))
    hours = BenchHours(WEEK, evenings=(evening,))
    work = [op("a", 240), op("b", 100, Lag("a", 60))]
    start = datetime(2026, 12, 7, 13)
    assert lay_on_bench(work, start, hours).ready == datetime(2026, 12, 8, 10, 40)
    assert lay_on_bench(work, start, hours, True).ready == datetime(2026, 12, 7, 19, 40)


def test_a_longest_wait_that_cannot_be_kept_is_named() -> None:
    work = [op("glue", 30), op("off", 10, Lag("glue", 60, 90))]
    plan = lay_on_bench(work, datetime(2026, 12, 7, 16, 30), HOURS)
    assert plan.broken == (("glue", "off"),)


@pytest.mark.parametrize(
    ("work", "code"),
    [
        ([op("a", 5), op("a", 5)], "id_twice"),
        ([op("a", 5, Lag("z"))], "unknown_after"),
        ([op("a", 5, Lag("b")), op("b", 5, Lag("a"))], "circle"),
        ([op("a", 5), op("b", 5, Lag("a", 60, 30))], "wait_upside_down"),
        ([], "no_work"),
    ],
)
def test_a_work_list_that_cannot_be_worked_is_refused(work: list[Operation], code: str) -> None:
    with pytest.raises(Refusal, match=code):
        lay_on_bench(work, MONDAY, HOURS)


def test_no_bench_hours_at_all_is_refused() -> None:
    with pytest.raises(Refusal, match="no_bench_hours"):
        lay_on_bench([op("a", 5)], MONDAY, BenchHours({}))


@st.composite
def small_lists(draw: st.DrawFn) -> list[Operation]:
    n = draw(st.integers(1, 5))
    out: list[Operation] = []
    for i in range(n):
        before = draw(st.lists(st.integers(0, i - 1), max_size=2, unique=True)) if i else []
        lags = tuple(Lag(str(b), draw(st.sampled_from([0, 30, 240, 960]))) for b in before)
        out.append(op(str(i), draw(st.sampled_from([5, 30, 90, 170])), *lags))
    return out


@given(small_lists())
def test_plans_keep_every_rule_and_no_order_beats_the_bound(work: list[Operation]) -> None:
    plan = lay_on_bench(work, MONDAY, HOURS)
    ends = {x.operation.id: x.end for x in plan.laid}
    assert len(plan.laid) == len(work)
    spans = sorted(p for x in plan.laid for p in x.pieces)
    assert all(a[1] <= b[0] for a, b in pairwise(spans))
    for x in plan.laid:
        worked = sum(((b - a) for a, b in x.pieces), timedelta())
        assert worked == timedelta(minutes=x.operation.minutes)
        for a, b in x.pieces:
            assert any(p <= a and b <= q for p, q in HOURS.of_day(a.date()))
        for lag in x.operation.after:
            assert x.start >= ends[lag.id] + timedelta(minutes=lag.wait_min)
    assert plan.bound <= plan.ready


@given(small_lists())
def test_dispatch_is_not_later_than_any_fixed_order_by_more_than_one_bench_day(work: list[Operation]) -> None:
    # Exhaustive over priority orders of the same dispatch: the rules must find a plan as early, or be
    # within one bench day of it (they are rules, the bound tells what is proven).
    plan = lay_on_bench(work, MONDAY, HOURS)
    best = min(
        max(x.end for x in _dispatch(work, MONDAY, HOURS, False, lambda o, rank=rank: (rank.index(o.id),)))
        for rank in permutations([o.id for o in work])
    )
    assert best <= plan.ready <= best + timedelta(days=1)
