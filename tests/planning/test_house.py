"""The whole house on one bench: against the plan of one visit, and the laws that any plan keeps."""

import itertools
from datetime import datetime, time, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from purfling.planning.calendar import WEEKDAYS, BenchHours
from purfling.planning.house import HouseWork, hit_by, lay_house
from purfling.planning.one_bench import Lag, Operation, lay_on_bench

HOURS = BenchHours(week={d: ((time(9), time(12, 30)), (time(13, 30), time(18))) for d in WEEKDAYS[:5]})
MONDAY = datetime(2026, 11, 23, 9, 0)


def test_a_chain_is_ready_when_the_plan_of_one_visit_says_so():
    """A chain leaves no choice, so two independent planners must agree to the minute."""
    steps = [("a", 60, 0), ("b", 30, 240), ("c", 120, 0), ("d", 20, 1200), ("e", 45, 0)]
    chain = [
        HouseWork(i, "v", m, w, after=(steps[k - 1][0],) if k else ()) for k, (i, m, w) in enumerate(steps)
    ]
    one = [
        Operation(i, "violin", i, m, (Lag(steps[k - 1][0], steps[k - 1][2]),) if k else ())
        for k, (i, m, _w) in enumerate(steps)
    ]
    assert lay_house(chain, MONDAY, HOURS).ready["v"] == lay_on_bench(one, MONDAY, HOURS).ready


def test_a_wait_runs_over_night_and_hands_do_not():
    plan = lay_house(
        [HouseWork("glue", "v", 60, 960), HouseWork("cut", "v", 30, after=("glue",))],
        MONDAY.replace(hour=17),
        HOURS,
    )
    assert plan.free_at["glue"] == datetime(2026, 11, 24, 10, 0)
    assert plan.pieces["cut"] == ((datetime(2026, 11, 24, 10, 0), datetime(2026, 11, 24, 10, 30)),)


def test_only_what_is_laid_down_and_taken_up_again_is_cut_by_a_closing_time():
    noon = MONDAY.replace(hour=11, minute=45)
    whole = lay_house([HouseWork("polish", "v", 60)], noon, HOURS).pieces["polish"]
    assert whole == ((MONDAY.replace(hour=13, minute=30), MONDAY.replace(hour=14, minute=30)),)
    board = lay_house([HouseWork("board", "v", 60, laid_down=True)], noon, HOURS).pieces["board"]
    assert board == (
        (noon, MONDAY.replace(hour=12, minute=30)),
        (MONDAY.replace(hour=13, minute=30), MONDAY.replace(hour=13, minute=45)),
    )


def test_the_pressing_promise_goes_first():
    work = [
        HouseWork("calm", "a", 60, due=MONDAY + timedelta(days=4)),
        HouseWork("pressing", "b", 60, due=MONDAY + timedelta(hours=3)),
    ]
    plan = lay_house(work, MONDAY, HOURS)
    assert plan.pieces["pressing"][0][0] == MONDAY < plan.pieces["calm"][0][0]


def test_a_look_that_comes_later_hits_the_visit_that_waits_for_it_and_no_other():
    def work(look: datetime) -> list[HouseWork]:
        return [
            HouseWork("coat", "a", 0, not_before=look),
            HouseWork("polish", "a", 30, after=("coat",)),
            HouseWork("bow", "b", 40),
        ]

    before = lay_house(work(MONDAY + timedelta(hours=2)), MONDAY, HOURS)
    after = lay_house(work(MONDAY + timedelta(hours=5)), MONDAY, HOURS)
    hits = hit_by(before, after)
    assert list(hits) == ["a"]
    assert hits["a"][1] - hits["a"][0] == timedelta(hours=3)
    assert hit_by(before, before) == {}


@st.composite
def houses(draw):
    work = []
    for k in range(draw(st.integers(1, 9))):
        earlier = [w.id for w in work]
        after = draw(st.lists(st.sampled_from(earlier), unique=True, max_size=2)) if earlier else []
        work.append(
            HouseWork(
                f"o{k}",
                draw(st.sampled_from("abc")),
                draw(st.integers(1, 300)),
                draw(st.sampled_from([0, 0, 60, 600])),
                tuple(after),
                laid_down=draw(st.booleans()),
            )
        )
    return work


@settings(max_examples=60, deadline=None)
@given(houses())
def test_no_plan_breaks_a_precedence_or_has_three_hands(work):
    plan = lay_house(work, MONDAY, HOURS)
    by = {w.id: w for w in work}
    for one in work:
        for earlier in one.after:
            wait = timedelta(minutes=by[earlier].wait_min)
            assert plan.pieces[one.id][0][0] >= plan.pieces[earlier][-1][1] + wait
        spent = sum((b - a for a, b in plan.pieces[one.id]), timedelta())
        assert spent == timedelta(minutes=one.minutes)
    spans = sorted(p for pieces in plan.pieces.values() for p in pieces)
    assert all(a[1] <= b[0] for a, b in itertools.pairwise(spans))
    for begin, end in spans:
        assert any(a <= begin and end <= b for a, b in HOURS.of_day(begin.date()))
