"""The craft data of the bow bench: whole, ordered, spoken in both languages."""

from datetime import date

import pytest

from purfling.craft.bow.survey import (
    frog_materials,
    lapping_failures,
    operations,
    ordered,
    species,
    wedge_fits,
    wedge_places,
)
from purfling.craft.sources import all_sources
from purfling.words import say


def test_no_operation_stands_before_what_it_comes_after() -> None:
    done: set[str] = set()
    for step in operations():
        assert set(step.after) <= done, step.key
        assert 0 < step.minutes[0] <= step.minutes[1]
        done.add(step.key)


def test_rosin_only_on_dry_hair_and_leather_before_hair() -> None:
    # The order of a bow's work: leather, then hair, then (dry) rosin.
    order = ordered({"rosin_played", "leather", "hair_in", "lapping", "photographs"})
    assert order == ["photographs", "lapping", "leather", "hair_in", "rosin_played"]
    assert next(o for o in operations() if o.key == "hair_in").wait_min >= 60
    with pytest.raises(KeyError):
        ordered({"polish"})


def test_what_burns_or_softens_is_never_warmed() -> None:
    for key in ("tortoiseshell", "horn", "casein", "old_plastic", "celluloid", "unknown"):
        assert frog_materials()[key].heat == "never"


def test_species_carry_a_date_and_a_source() -> None:
    assert {"pernambuco", "ivory", "tortoiseshell", "whalebone", "lizard", "rosewood"} <= set(species())
    for one in species().values():
        assert date.fromisoformat(one.rule_date) <= date(2026, 12, 31)
        assert one.source in all_sources()


@pytest.mark.parametrize("language", ["en", "de"])
def test_every_word_of_the_tables_is_spoken(language: str) -> None:
    codes = [f"bow.op_{o.key}" for o in operations()]
    codes += [c for o in operations() for c in o.cautions]
    codes += [f"bow.rule_{key}" for key in species()]
    codes += [f"bow.failure_{key}" for key in lapping_failures()]
    codes += [f"bow.wedge_{key}" for key in wedge_places()]
    codes += [f"bow.fit_{key}" for key in wedge_fits()]
    codes += [f"bow.heat_{m.heat}" for m in frog_materials().values()]
    assert all(say(code, language) for code in codes)
    assert "2026-03-05" in say("bow.rule_date", language, date="2026-03-05")
