"""The checker against hand-written plans: for each rule one that keeps it and one that breaks it."""

from dataclasses import replace

import pytest

from purfling.planning.load import Load, Person, Piece, Plan, Preparation
from purfling.planning.proof import faults, hands_on
from tests.planning.bench import after, at, did, load, op, visit

Case = tuple[str, Load, Plan, Plan]


def plan(*pieces: Piece, made: tuple[Preparation, ...] = ()) -> Plan:
    return Plan(pieces, made)


def cases() -> list[Case]:
    one = load(visit("v", op("a")))
    two = load(visit("v", op("a"), op("b", after=after("a", 60, 120))))
    pair = load(visit("v", op("a")), visit("w", op("a")))
    long = load(visit("v", op("a", 60)))
    cut = load(visit("v", op("a", 60, interruptible=True)))
    laid = load(visit("v", op("a", 70, piece_minutes=35)))
    skilled = load(visit("v", op("a", skill="sound")))
    away = replace(one, people=(Person("anna", frozenset(), ((at("10:00"), at("11:00")),)),))
    later = load(visit("v", op("a"), arrives=at("11:00")))
    booked = load(visit("v", op("a", fixed_person="bert", fixed_start=at("10:00"))))
    begun = replace(load(visit("v", op("a", state="started", started_at=at("09:15")))), now=at("09:30"))
    objects = load(visit("v", op("a"), op("b")))
    split = load(visit("v", op("a", object="violin"), op("b", object="bow")))
    hook = load(
        visit("v", op("a", place="hook", until="b"), op("b", after=after("a", 60))),
        visit("w", op("a", place="hook", until="b"), op("b", after=after("a", 60))),
    )
    own = load(visit("v", op("a", place="hook")), visit("w", op("a", place="hook")))
    never = load(
        visit(
            "v",
            op("y", until="u", object="back"),
            op("u", after=after("y", 60), object="back"),
            op("x", object="pegs"),
            never_during=(("x", "y"),),
        )
    )
    glue = load(visit("v", op("a", family="glue")))
    pot = load(visit("v", op("a", family="pot")))
    night = replace(one, evenings=((at("19:00"), at("21:00")),))
    done = load(visit("v", op("a", state="done", ended_at=at("08:00")), op("b", after=after("a", 90))))
    nine, ten = at("09:00"), at("10:00")
    hot = (Preparation("glue", "bert", nine),)
    return [
        ("bench hours", one, plan(did("a", nine)), plan(did("a", at("08:45")))),
        ("lunch", one, plan(did("a", at("14:00"))), plan(did("a", at("13:00")))),
        ("weekday", one, plan(did("a", at("09:00", 3))), plan(did("a", at("09:00", 4)))),
        (
            "closed day",
            replace(one, closed=frozenset({at("00:00", 1) // 1440})),
            plan(did("a", at("09:00", 2))),
            plan(did("a", at("09:00", 1))),
        ),
        (
            "one bench period",
            long,
            plan(did("a", at("12:00"), 60)),
            plan(did("a", at("12:30"), end=at("14:30"))),
        ),
        (
            "cut by closing",
            cut,
            plan(did("a", at("12:30"), end=at("14:30"))),
            plan(did("a", at("12:30"), 60)),
        ),
        ("not cut by work", cut, plan(did("a", nine, 60)), plan(did("a", nine, end=at("10:30")))),
        ("pieces", laid, plan(did("a", nine, 35), did("a", ten, 35, piece=2)), plan(did("a", nine, 70))),
        (
            "order of pieces",
            laid,
            plan(did("a", nine, 35), did("a", at("09:35"), 35, piece=2)),
            plan(did("a", ten, 35), did("a", nine, 35, piece=2)),
        ),
        (
            "one person",
            laid,
            plan(did("a", nine, 35, "bert"), did("a", ten, 35, "bert", piece=2)),
            plan(did("a", nine, 35), did("a", ten, 35, "bert", piece=2)),
        ),
        ("skill", skilled, plan(did("a", nine)), plan(did("a", nine, person="bert"))),
        ("known person", one, plan(did("a", nine)), plan(did("a", nine, person="carl"))),
        ("away", away, plan(did("a", at("09:30"))), plan(did("a", at("09:45")))),
        ("arrival", later, plan(did("a", at("11:00"))), plan(did("a", at("10:45")))),
        ("now", replace(one, now=ten), plan(did("a", ten)), plan(did("a", at("09:45")))),
        (
            "fixed start",
            booked,
            plan(did("a", ten, person="bert")),
            plan(did("a", at("10:05"), person="bert")),
        ),
        ("fixed person", booked, plan(did("a", ten, person="bert")), plan(did("a", ten))),
        ("started stays", begun, plan(did("a", at("09:15"))), plan(did("a", at("09:30")))),
        (
            "least wait",
            two,
            plan(did("a", nine), did("b", at("10:30"))),
            plan(did("a", nine), did("b", at("10:25"))),
        ),
        (
            "longest wait",
            two,
            plan(did("a", nine), did("b", at("11:30"))),
            plan(did("a", nine), did("b", at("11:35"))),
        ),
        ("wait after done work", done, plan(did("b", at("09:30"))), plan(did("b", at("09:25")))),
        (
            "hands",
            pair,
            plan(did("a", nine), did("a", at("09:30"), visit="w")),
            plan(did("a", nine), did("a", at("09:25"), visit="w")),
        ),
        (
            "object",
            objects,
            plan(did("a", nine), did("b", at("09:30"), person="bert")),
            plan(did("a", nine), did("b", at("09:25"), person="bert")),
        ),
        (
            "two objects",
            split,
            plan(did("a", nine), did("b", nine, person="bert")),
            plan(did("a", nine), did("b", nine)),
        ),
        (
            "place until",
            hook,
            plan(
                did("a", nine),
                did("b", at("10:30")),
                did("a", at("10:30"), person="bert", visit="w"),
                did("b", at("12:00"), visit="w"),
            ),
            plan(
                did("a", nine),
                did("b", at("10:30")),
                did("a", at("10:25"), person="bert", visit="w"),
                did("b", at("12:00"), visit="w"),
            ),
        ),
        (
            "place to own end",
            own,
            plan(did("a", nine), did("a", at("09:30"), person="bert", visit="w")),
            plan(did("a", nine), did("a", at("09:25"), person="bert", visit="w")),
        ),
        (
            "never during",
            never,
            plan(did("y", nine), did("u", at("10:30")), did("x", at("10:30"), person="bert")),
            plan(did("y", nine), did("u", at("10:30")), did("x", at("10:00"), person="bert")),
        ),
        ("set-up warm", glue, plan(did("a", at("09:30")), made=hot), plan(did("a", at("09:25")), made=hot)),
        ("set-up needed", glue, plan(did("a", at("09:30")), made=hot), plan(did("a", at("09:30")))),
        (
            "set-up of the period",
            glue,
            plan(did("a", at("12:00")), made=hot),
            plan(did("a", at("14:00")), made=hot),
        ),
        (
            "set-up of the day",
            pot,
            plan(did("a", at("14:00")), made=(Preparation("pot", "bert", nine),)),
            plan(did("a", at("09:00", 1)), made=(Preparation("pot", "bert", nine),)),
        ),
        (
            "set-up takes hands",
            glue,
            plan(did("a", at("09:30")), made=hot),
            plan(did("a", at("09:30")), made=(Preparation("glue", "anna", at("09:25")),)),
        ),
        (
            "set-up in one period",
            glue,
            plan(did("a", at("12:30")), made=hot),
            plan(did("a", at("14:30")), made=(Preparation("glue", "bert", at("12:55")),)),
        ),
        ("everything planned", two, plan(did("a", nine), did("b", at("10:30"))), plan(did("a", nine))),
        ("nothing twice", one, plan(did("a", nine)), plan(did("a", nine), did("a", ten))),
        ("nothing unknown", one, plan(did("a", nine)), plan(did("a", nine), did("z", ten))),
        ("evening only when told", night, plan(did("a", at("09:00"))), plan(did("a", at("19:00")))),
    ]


@pytest.mark.parametrize("name, case, good, bad", cases(), ids=[c[0] for c in cases()])
def test_each_rule_has_a_plan_that_keeps_it_and_one_that_breaks_it(
    name: str, case: Load, good: Plan, bad: Plan
) -> None:
    assert faults(case, good) == []
    assert faults(case, bad) != [], name


def test_an_evening_is_bench_time_when_told() -> None:
    night = load(visit("v", op("a")), evenings=((at("19:00"), at("21:00")),))
    assert faults(night, plan(did("a", at("19:00"))), use_evenings=True) == []


def test_hands_on_counts_open_minutes_only() -> None:
    periods = [(at("09:00"), at("13:00")), (at("14:00"), at("18:00"))]
    assert hands_on(periods, at("12:30"), at("14:30")) == 60
