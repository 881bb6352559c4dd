"""The page of a bow's survey: parts with species, wedges, lapping, warmth, the order, weight and balance."""

from dataclasses import dataclass, field
from typing import Any

from purfling.craft.bow.survey import (
    BowOperation,
    Species,
    frog_materials,
    lapping_failures,
    operations,
    species,
    wedge_fits,
    wedge_places,
)
from purfling.shop.bow_words import BOW_MATERIAL, BOW_PART, BOW_STATE, WEDGE_WENT
from purfling.shop.domain.bow import ON_THE_LIST
from purfling.shop.domain.bow_warmth import HOW, WARMED, frog_of, material_refusal, yes_refusal
from purfling.shop.domain.work_rules import wait_words
from purfling.shop.models import BowPart, BowSurvey, BowWedge, Card, Photograph, VisitObject, Warmth, Work
from purfling.shop.queries.catalogue import language
from purfling.words import decimal, refusal_text, say

S = Work.State


@dataclass(frozen=True)
class PartLine:
    """A part as the page shows it; ``rule`` is the text on its species, ``by_material`` where only its
    material names the species."""

    part: str
    row: BowPart | None
    species: Species | None
    rule: str
    rule_date: str
    by_material: bool
    never: bool


@dataclass(frozen=True)
class Step:
    """A step of the bow's order. ``state``: the work list's word, "ticked", "tick", or "" (not listed)."""

    operation: BowOperation
    name: str
    state: str
    work: Work | None
    minutes: str
    wait: str
    cautions: list[str]
    told: dict[str, Any] | None = None
    next: bool = False


@dataclass(frozen=True)
class WarmLine:
    """A part that may sit stuck: the last word on it, and the sentence that stops it, empty when allowed."""

    part: str
    last: Warmth | None
    stop: str


@dataclass(frozen=True)
class Weighed:
    """Weight and balance of one moment, with datum and hair state."""

    moment: str
    figures: list[tuple[str, str, str]]
    datum: str
    hair: str


@dataclass
class SurveyPage:
    """All that the page shows."""

    parts: list[PartLine]
    wedges: list[tuple[str, BowWedge | None]]
    survey: BowSurvey | None
    warm: list[WarmLine]
    steps: list[Step]
    weighed: list[Weighed] = field(default_factory=list)
    frog: str = "unknown"
    frog_written: bool = False
    heat: str = ""
    heat_word: str = ""
    photographs: list[Photograph] = field(default_factory=list)


def species_of(row: BowPart | None) -> tuple[Species | None, bool]:
    """The species of a part, and whether only its material says so."""
    if row is None:
        return None, False
    known = species()
    if row.species:
        return known[row.species], False
    return known.get(row.material), row.material in known


def part_lines(rows: dict[str, BowPart]) -> list[PartLine]:
    """Every part in its order, written or not."""
    lines, lang = [], language()
    for part in BOW_PART:
        row = rows.get(part)
        found, by_material = species_of(row)
        rule = say(f"bow.rule_{found.key}", lang) if found else ""
        dated = say("bow.rule_date", lang, date=found.rule_date) if found else ""
        heat = frog_materials().get(row.material) if row else None
        never = heat is not None and heat.heat == "never"
        lines.append(PartLine(part, row, found, rule, dated, by_material, never))
    return lines


def _wanted(key: str, works: dict[str, Work]) -> bool:
    """Whether a step belongs to this bow's work at all."""
    code = ON_THE_LIST[key]
    if code is not None:
        return code in works
    return key == "photographs" or (key == "stick_cleaned" and "bow_lapping_off" in works)


def steps_of(works: dict[str, Work], survey: BowSurvey | None) -> list[Step]:
    """The bow's order with what the work list and the survey say, and what is next."""
    told = survey.steps if survey else {}
    lang, lines, open_before = language(), [], False
    for o in operations():
        code = ON_THE_LIST[o.key]
        work = works.get(code) if code else None
        state = (work.state if work else "") if code else ("ticked" if o.key in told else "tick")
        done = state in (S.DONE, "ticked")
        is_next = not done and not open_before and _wanted(o.key, works)
        open_before = open_before or is_next
        lines.append(
            Step(
                o,
                say(f"bow.op_{o.key}", lang),
                state,
                work,
                f"{o.minutes[0]}–{o.minutes[1]} min",
                wait_words(o.wait_min) if o.wait_min else "",
                [say(c, lang) for c in o.cautions],
                told.get(o.key),
                is_next,
            )
        )
    return lines


FIGURES = (("bow.mass_g", "g", 1), ("bow.balance_mm", "mm", 0))


def weighed_of(cards: list[Card]) -> list[Weighed]:
    """Weight and balance of each card that has one, with its datum and the hair's state."""
    found = []
    for card in cards:
        values = {r.key: r.value for r in card.readings.all()}
        figures = [
            (say(f"readings.{key.replace('.', '_')}", language()), decimal(values[key], n, language()), unit)
            for key, unit, n in FIGURES
            if key in values
        ]
        if figures:
            datum, hair = card.datums.get("bow.datum", ""), card.datums.get("bow.hair", "")
            found.append(Weighed(card.moment, figures, datum, hair))
    return found


def survey_page(row: VisitObject) -> SurveyPage:
    """The survey of a bow: eight queries, however much is written."""
    parts = {p.part: p for p in BowPart.objects.filter(visit_object=row)}
    wedges = {w.place: w for w in BowWedge.objects.filter(visit_object=row).select_related("photograph")}
    survey = BowSurvey.objects.filter(visit_object=row).first()
    words: dict[str, Warmth] = {}
    for one in Warmth.objects.filter(visit_object=row).select_related("who", "warmed_by", "overruled_by"):
        words[one.part] = one
    works: dict[str, Work] = {}
    for work in Work.objects.filter(visit_object=row).exclude(state=S.STRUCK).order_by("place", "id"):
        if work.code not in works or works[work.code].state == S.DONE:
            works[work.code] = work
    frog, stop = frog_of(parts), material_refusal(parts)
    warm = []
    for part in WARMED:
        refusal = stop or yes_refusal(part, words.get(part), frog)
        warm.append(WarmLine(part, words.get(part), refusal_text(refusal, language()) if refusal else ""))
    cards = list(Card.objects.filter(visit_object=row).order_by("at").prefetch_related("readings"))
    table = frog_materials()
    heat = "never" if stop else table.get(frog, table["unknown"]).heat
    return SurveyPage(
        part_lines(parts),
        [(place, wedges.get(place)) for place in wedge_places()],
        survey,
        warm,
        steps_of(works, survey),
        weighed_of(cards),
        frog,
        "frog" in parts and bool(parts["frog"].material),
        heat,
        say(f"bow.heat_{heat}", language()),
        list(Photograph.objects.filter(visit_object=row)),
    )


def choices() -> dict[str, list[tuple[str, str]]]:
    """What the page's selects offer, in the maker's language."""
    lang = language()
    return {
        "materials": [(k, str(v)) for k, v in BOW_MATERIAL.items()],
        "frog_materials": [(k, str(BOW_MATERIAL[k])) for k in frog_materials()],
        "species": [(k, s.latin) for k, s in species().items()],
        "states": [(k, str(v)) for k, v in BOW_STATE.items()],
        "fits": [(k, say(f"bow.fit_{k}", lang)) for k in wedge_fits()],
        "went": [(k, str(v)) for k, v in WEDGE_WENT.items()],
        "failures": [(k, say(f"bow.failure_{k}", lang)) for k in lapping_failures()],
        "hows": [(h.value, h.value) for h in HOW],
    }
