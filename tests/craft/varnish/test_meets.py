"""What meets what: class, tasks, materials; water and its cautions."""

import pytest

from purfling.craft.refusals import Refusal
from purfling.craft.varnish.meets import breaks_class, brought_by, kinds, spread_kinds, task_of, tasks
from purfling.craft.varnish.water import acidity, water_cautions


@pytest.mark.parametrize(
    ("code", "name", "task"),
    [
        ("cleaning", "", "clean"),
        ("polish", "", "polish"),
        ("wax", "", "wax"),
        ("own_7", "Reinigung mit Tuch", "clean"),
        ("nut_off", "nut off", ""),
        ("retouch", "", "retouch"),
    ],
)
def test_task_of_an_operation(code, name, task):
    assert task_of(code, name) == task


def test_a_polish_is_spirit_and_oil_as_well():
    assert spread_kinds(["polish"]) == {"polish", "spirit", "oil"}
    assert "water" in spread_kinds(["wetting"])
    with pytest.raises(Refusal):
        spread_kinds(["moonshine"])
    for task in tasks():
        assert brought_by(task) <= set(kinds())
    assert brought_by("") == frozenset()


@pytest.mark.parametrize(
    ("task", "brought", "breaks"),
    [
        ("polish", None, True),
        ("rub", None, True),
        ("clean", None, False),
        ("clean", ["water"], False),
        ("clean", ["spirit"], True),
        ("clean", ["abrasive"], True),
        ("retouch", ["spirit"], False),
        ("wax", ["wax"], False),
        ("", ["polish"], True),
        ("", ["spirit"], True),
    ],
)
def test_conserve_bears_no_polish_no_abrasive_no_spirit_cloth(task, brought, breaks):
    assert breaks_class("conserve", task, brought) is breaks
    assert breaks_class("working", task, brought) is False


def test_between_asks_for_polish_and_rubbing_only():
    assert breaks_class("between", "polish") and breaks_class("between", "rub")
    assert not breaks_class("between", "clean", ["spirit"])


def test_acidity_of_a_printed_buffer():
    """Acetic acid pKa 4.76: equal parts 4.76, ten to one 5.76 (any chemistry handbook's worked example)."""
    assert acidity(4.76, 1, 1) == pytest.approx(4.76)
    assert acidity(4.76, 10, 1) == pytest.approx(5.76)
    with pytest.raises(Refusal):
        acidity(4.76, 0, 1)


def test_water_is_cautions_and_what_is_not_known_is_said():
    codes = [n.code for n in water_cautions()]
    assert codes == ["varnish.water_edges", "varnish.water_ph_unknown"]
    codes = [n.code for n in water_cautions(9.0, 2500, True, 45)]
    assert codes[1:] == [
        "varnish.water_alkaline",
        "varnish.water_salts",
        "varnish.water_wetting",
        "varnish.water_warm",
    ]
    assert [n.code for n in water_cautions(7.0)] == ["varnish.water_edges"]
    assert "varnish.water_acid" in [n.code for n in water_cautions(4.0)]
    with pytest.raises(Refusal):
        water_cautions(15.0)
