"""The bow's survey: parts and species, wedges, the old lapping, warmth only after a yes, order of work."""

import pytest
from django.urls import reverse

from purfling.craft.bow.survey import frog_materials, operations, species, wedge_places
from purfling.craft.operations import catalogue
from purfling.craft.refusals import Refusal
from purfling.shop.bow_words import BOW_MATERIAL, WEDGE_PLACE
from purfling.shop.domain.bow import ON_THE_LIST, set_lapping_failure, set_part, set_wedge, tick_step
from purfling.shop.domain.bow_warmth import allow_warmth, warm_part
from purfling.shop.domain.keeping import Stale
from purfling.shop.domain.visit import close_visit
from purfling.shop.domain.work import add_work
from purfling.shop.models import BowPart, BowSurvey, BowWedge, Change, VisitObject, Warmth, Work
from purfling.shop.queries.bow import survey_page


@pytest.fixture
def bow(book):
    """The bow's row of the visit."""
    rows = VisitObject.objects.select_related("visit", "object")
    return rows.get(visit=book.visit, object__kind="bow")


def said(bow, who, part="slide", yes=True, **also):
    values = {"by": "Merle", "how": "phone", "price": "30", "words": "go on"} | also
    return allow_warmth(row=bow, part=part, yes=yes, who=who, **values)


def test_words_and_tables_name_the_same_things():
    assert list(BOW_MATERIAL)[: len(frog_materials())] == list(frog_materials())
    assert tuple(WEDGE_PLACE) == wedge_places()
    assert list(ON_THE_LIST) == [o.key for o in operations()]
    for code in filter(None, ON_THE_LIST.values()):
        assert catalogue()[code].of == "bow"


def test_the_order_of_the_table_is_the_order_of_the_work_list():
    """The bow's own order and the catalogue's: two tables that must not part."""
    places = [catalogue()[c].place for c in ON_THE_LIST.values() if c]
    assert places == sorted(places)


def test_a_part_is_kept_once_with_its_history(bow, book):
    first = set_part(row=bow, part="frog", material="ebony", species_key="ebony", who=book.owner)
    again = set_part(
        row=bow, part="frog", material="ebony", state="cracked", words=" at the\nslide ", who=book.owner
    )
    assert first.pk == again.pk and BowPart.objects.count() == 1
    assert (again.state, again.words, again.species) == ("cracked", "at the slide", "")
    assert Change.objects.filter(record=first.pk).count() == 2


def test_two_who_write_the_same_part_first_are_told(bow, book):
    set_part(row=bow, part="frog", material="ebony", seen=0, who=book.owner)
    with pytest.raises(Stale):
        set_part(row=bow, part="frog", material="horn", seen=0, who=book.assistant)


@pytest.mark.parametrize(
    ("field", "values"),
    [
        ("part", {"part": "scroll"}),
        ("material", {"part": "frog", "material": "cheese"}),
        ("species", {"part": "frog", "species_key": "oak"}),
        ("state", {"part": "frog", "state": "fine"}),
    ],
)
def test_what_is_not_in_the_tables_is_refused_by_name(bow, book, field, values):
    with pytest.raises(Refusal) as refused:
        set_part(row=bow, who=book.owner, **values)
    assert refused.value.code == "bowsurvey.choice" and refused.value.params["field"] == field
    assert not BowPart.objects.exists()


def test_an_instrument_and_a_visit_that_is_over_are_refused(bow, book):
    violin = next(r for r in book.rows if not r.object.is_bow)
    with pytest.raises(Refusal, match="no_bow"):
        set_part(row=violin, part="frog", who=book.owner)
    close_visit(visit=book.visit, who=book.owner)
    bow.visit.refresh_from_db()
    with pytest.raises(Refusal, match="visit_closed"):
        set_wedge(row=bow, place="head", who=book.owner)
    assert not BowWedge.objects.exists()


@pytest.mark.parametrize("key", sorted(species()))
def test_every_species_shows_its_name_its_rule_and_the_rules_date(key, bow, book, as_assistant):
    set_part(row=bow, part="stick", species_key=key, who=book.owner)
    page = as_assistant.get(reverse("bow", args=[bow.pk])).content.decode()
    told = page.split('class="rule"')[1].split("</p>")[0]
    assert species()[key].latin in page and species()[key].rule_date in told
    assert "check the current text" in told and "Not a permit" in told


def test_a_material_that_names_a_species_says_that_it_was_taken_from_it(bow, book, as_owner):
    set_part(row=bow, part="stick", material="pernambuco", who=book.owner)
    page = as_owner.get(reverse("bow", args=[bow.pk])).content.decode()
    assert "Species by its material" in page and "Appendix II" in page
    assert BowPart.objects.get().species == ""


def test_wedges_by_place_and_why_the_old_lapping_failed(bow, book, as_owner):
    set_wedge(row=bow, place="ferrule", fit="forced", wood="lime", went="new", who=book.owner)
    set_lapping_failure(row=bow, failure="worn_by_finger", words="at the thumb", who=book.owner)
    page = as_owner.get(reverse("bow", args=[bow.pk])).content.decode()
    assert "forced · lime · made new" in " ".join(page.split())
    assert "<strong>worn through by the finger</strong> · at the thumb" in page
    with pytest.raises(Refusal):
        set_lapping_failure(row=bow, failure="bad luck", who=book.owner)


def test_a_wedge_names_the_photograph_of_its_mortise(bow, book, as_owner):
    from tests.shop.mark_help import keep

    mine = keep(bow, who=book.owner, seed=3)
    other = keep(next(r for r in book.rows if not r.object.is_bow), who=book.owner, seed=4)
    as_owner.post(reverse("bow_wedge", args=[bow.pk]), {"place": "head", "photograph": str(mine.pk)})
    assert BowWedge.objects.get().photograph == mine
    page = as_owner.get(reverse("bow", args=[bow.pk])).content.decode()
    assert page.count(reverse("photograph", args=[mine.pk]) + '"') == 2 and str(other.pk) not in page
    assert reverse("photograph_small", args=[mine.pk]) not in page  # its copies are not made yet
    type(mine).objects.filter(pk=mine.pk).update(ready=True)
    page = as_owner.get(reverse("bow", args=[bow.pk])).content.decode()
    assert page.count(reverse("photograph_small", args=[mine.pk])) == 2
    with pytest.raises(Refusal, match="photograph"):
        set_wedge(row=bow, place="head", photograph=str(other.pk), who=book.owner)


def test_no_warmth_without_a_yes(bow, book):
    set_part(row=bow, part="frog", material="ebony", who=book.owner)
    with pytest.raises(Refusal) as refused:
        warm_part(row=bow, part="slide", who=book.owner)
    assert refused.value.code == "bowsurvey.no_yes" and refused.value.params["material"] == "ebony"
    with pytest.raises(Refusal, match="no_yes"):  # a word lifts a material, never a missing yes
        warm_part(row=bow, part="slide", who=book.owner, word="I know her")


def test_a_yes_says_who_how_when_in_what_words_and_the_price(bow, book):
    set_part(row=bow, part="frog", material="ebony", who=book.owner)
    yes = said(bow, book.owner, price="32,5")
    assert (yes.by, yes.how, yes.words, str(yes.price)) == ("Merle", "phone", "go on", "32.50")
    assert yes.at is not None and yes.material == "ebony" and yes.who == book.owner
    warmed = warm_part(row=bow, part="slide", who=book.assistant)
    assert warmed.warmed_by == book.assistant and warmed.warmed_at is not None and not warmed.overruled
    with pytest.raises(Refusal, match="no_yes"):  # the yes was for the slide, not for the ring
        warm_part(row=bow, part="ferrule", who=book.owner)


@pytest.mark.parametrize(
    ("code", "values"),
    [
        ("bowsurvey.yes_by", {"by": " "}),
        ("bowsurvey.choice", {"how": "dream"}),
        ("bowsurvey.choice", {"how": "link"}),
        ("bowsurvey.yes_price", {"price": ""}),
        ("money.bad_number", {"price": "cheap"}),
        ("bowsurvey.price_range", {"price": "-1"}),
        ("bowsurvey.choice", {"part": "head"}),
    ],
)
def test_a_yes_that_says_too_little_is_refused(bow, book, code, values):
    with pytest.raises(Refusal) as refused:
        said(bow, book.owner, **values)
    assert refused.value.code == code and not Warmth.objects.exists()


def test_a_later_no_and_another_frog_take_the_yes_back(bow, book):
    set_part(row=bow, part="frog", material="ebony", who=book.owner)
    said(bow, book.owner)
    said(bow, book.owner, yes=False)
    with pytest.raises(Refusal, match="said_no"):
        warm_part(row=bow, part="slide", who=book.owner)
    said(bow, book.owner)
    set_part(row=bow, part="frog", material="boxwood", who=book.owner)
    with pytest.raises(Refusal, match="other_frog"):
        warm_part(row=bow, part="slide", who=book.owner)


@pytest.mark.parametrize("material", sorted(k for k, m in frog_materials().items() if m.heat == "never"))
def test_what_must_not_be_warmed_is_refused_by_its_name(material, bow, book):
    set_part(row=bow, part="frog", material=material, who=book.owner)
    said(bow, book.owner)
    with pytest.raises(Refusal) as refused:
        warm_part(row=bow, part="slide", who=book.owner)
    assert refused.value.code == "bowsurvey.never"
    assert refused.value.params["material"] == str(BOW_MATERIAL[material])
    with pytest.raises(Refusal, match="owners_word"):
        warm_part(row=bow, part="slide", who=book.assistant, word="it must come off")
    assert Warmth.objects.get().warmed_at is None
    lifted = warm_part(row=bow, part="slide", who=book.owner, word="heartwood, tried on a shaving")
    assert (lifted.overruled, lifted.overruled_by) == ("heartwood, tried on a shaving", book.owner)
    assert Change.objects.filter(record=lifted.pk).last().because == "heartwood, tried on a shaving"


def test_a_frog_that_nobody_has_written_counts_as_unknown(bow, book, as_owner):
    said(bow, book.owner)
    with pytest.raises(Refusal) as refused:
        warm_part(row=bow, part="slide", who=book.owner)
    assert refused.value.params["material"] == "material unknown"
    assert "counts as unknown" in as_owner.get(reverse("bow", args=[bow.pk])).content.decode()


def test_a_celluloid_pearl_on_an_ebony_frog_stops_the_warmth_too(bow, book):
    set_part(row=bow, part="frog", material="ebony", who=book.owner)
    set_part(row=bow, part="pearl", material="celluloid", who=book.owner)
    said(bow, book.owner)
    with pytest.raises(Refusal) as refused:
        warm_part(row=bow, part="slide", who=book.owner)
    assert refused.value.params == {"part": "pearl", "material": "celluloid"}


def test_through_the_pages_the_owner_may_lift_the_stop_and_an_assistant_is_told_whom_to_ask(
    bow, book, as_owner, as_assistant
):
    set_part(row=bow, part="frog", material="horn", who=book.owner)
    yes = {
        "part": "slide",
        "yes": "1",
        "by": "Merle",
        "how": "mouth",
        "price": "41.25",
        "words": "if need be",
    }
    assert as_assistant.post(reverse("bow_allow_warmth", args=[bow.pk]), yes).status_code == 403
    as_owner.post(reverse("bow_allow_warmth", args=[bow.pk]), yes)
    page = as_assistant.get(reverse("bow", args=[bow.pk])).content.decode()
    assert "if need be" in page and "41.25" not in page and 'name="price"' not in page
    assert "41.25" in as_owner.get(reverse("bow", args=[bow.pk])).content.decode()
    address = reverse("bow_warm", args=[bow.pk])
    told = as_assistant.post(address, {"part": "slide"})
    assert told.status_code == 422 and "horn" in told.content.decode() and "Ilse" in told.content.decode()
    asked = as_owner.post(address, {"part": "slide"}).content.decode()
    assert "horn" in asked and 'name="word"' in asked
    assert as_owner.post(address, {"part": "slide", "word": "cool air only"}).status_code == 302
    assert Warmth.objects.get().overruled == "cool air only"


def test_under_the_cloth_neither_name_nor_price_is_seen(bow, book, as_owner):
    set_part(row=bow, part="frog", material="ebony", who=book.owner)
    said(bow, book.owner, by="Ottilie Farn", price="41.25", words="Ottilie says so")
    as_owner.post(reverse("cloth"), {"next": "/"})
    page = as_owner.get(reverse("bow", args=[bow.pk])).content.decode()
    assert "Ottilie" not in page and "41.25" not in page


def test_who_is_forgotten_is_forgotten_in_the_yes_and_in_its_history(bow, book):
    from purfling.shop.domain.player import forget_player

    set_part(row=bow, part="frog", material="ebony", who=book.owner)
    told = said(bow, book.owner, by="Ottilie Farn", words="Ottilie says so")
    close_visit(visit=book.visit, who=book.owner)
    forget_player(player=book.player, who=book.owner)
    told.refresh_from_db()
    assert (told.by, told.words, told.yes) == ("", "", True)
    lines = Change.objects.filter(record=told.pk)
    assert lines.count() == 2 and "Ottilie" not in str([(c.before, c.after) for c in lines])


def next_of(bow):
    return [s.operation.key for s in survey_page(bow).steps if s.next]


def test_the_order_shows_what_is_next(bow, book):
    assert next_of(bow) == ["photographs"]
    tick_step(row=bow, key="photographs", who=book.owner)
    assert next_of(bow) == []  # nothing is on the work list
    for code in ("bow_hair_out", "bow_lapping_off", "bow_lapping"):
        add_work(row=bow, code=code, who=book.owner)
    assert next_of(bow) == ["hair_out"]
    Work.objects.filter(code="bow_hair_out").update(state="done")
    assert next_of(bow) == ["old_lapping_off"]
    with pytest.raises(Refusal) as refused:
        tick_step(row=bow, key="stick_cleaned", who=book.owner)
    assert refused.value.code == "bowsurvey.order"
    Work.objects.filter(code="bow_lapping_off").update(state="done")
    assert next_of(bow) == ["stick_cleaned"]
    tick_step(row=bow, key="stick_cleaned", who=book.owner)
    assert next_of(bow) == ["lapping"]
    tick_step(row=bow, key="stick_cleaned", who=book.owner)  # not yet after all
    assert next_of(bow) == ["stick_cleaned"]
    assert set(BowSurvey.objects.get().steps) == {"photographs"}
    with pytest.raises(Refusal):
        tick_step(row=bow, key="lapping", who=book.owner)  # the work list holds it


def test_the_page_asks_the_same_few_queries_however_much_is_written(
    bow, book, as_owner, django_assert_max_num_queries
):
    for part in ("stick", "frog", "slide", "pearl", "leather", "lapping"):
        set_part(row=bow, part=part, material="ebony" if part == "frog" else "", who=book.owner)
    for place in wedge_places():
        set_wedge(row=bow, place=place, wood="lime", who=book.owner)
    for _ in range(4):
        said(bow, book.owner)
    for code in ("bow_hair_out", "bow_lapping_off", "bow_hair"):
        add_work(row=bow, code=code, who=book.owner)
    with django_assert_max_num_queries(18):
        as_owner.get(reverse("bow", args=[bow.pk]))


def test_the_visit_leads_to_the_survey(bow, book, as_owner):
    page = as_owner.get(reverse("visit", args=[book.visit.pk])).content.decode()
    assert page.count(reverse("bow", args=[bow.pk])) == 1


def test_the_page_speaks_german(bow, book, as_owner):
    set_part(row=bow, part="frog", material="horn", species_key="tortoiseshell", who=book.owner)
    page = as_owner.get(reverse("bow", args=[bow.pk]), headers={"accept-language": "de"}).content.decode()
    assert "Bogenaufnahme" in page and "darf nicht erwärmt werden" in page and "Zwinge" in page
