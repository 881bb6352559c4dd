"""The reckoning of a bow: weight, balance, change, stick, hair, camber, wish."""

from dataclasses import dataclass, field
from datetime import date
from typing import Any

from purfling.craft.bow.balance import Body, WholeBow, changed_errors, together
from purfling.craft.bow.survey import frog_materials
from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer, Default, Note, Status, gravest
from purfling.reckonings.bow.bends import Bends, bends_of
from purfling.reckonings.bow.changes import Changes, changes
from purfling.reckonings.bow.hairs import Hairs, hairs_of
from purfling.reckonings.bow.inertia import stick_body, turning
from purfling.reckonings.bow.weighed import Weighed, datums_of, parts_of, unusual, whole_bow
from purfling.reckonings.bow.wishes import Wished, wished_for, wished_of
from purfling.reckonings.bow.wood import Wood, pull, wood_of
from purfling.slips.reader import Slip

OURS = ("bow", "part", "stick", "stick_wood", "deflection", "camber", "hair", "two_scales")
TAKEN = (*OURS, "change", "lapping", "pendulum", "wish")
CAUTIONS = {
    "change": ("bow.caution_dust", "bow.caution_solder", "bow.caution_roll"),
    "hair": ("bow.caution_wet_hair", "bow.caution_flame", "bow.caution_wedge", "bow.caution_warm_frog"),
    "camber": ("bow.caution_heat_stick",),
    "stick": ("bow.caution_dust",),
}


@dataclass
class BowCase:
    """A reckoned bow with what its drawings and papers need."""

    slip: Slip
    answer: Answer
    weighed: Weighed | None
    after: WholeBow | None
    wood: Wood | None
    hair: Hairs | None
    camber: Bends | None
    wished: Wished | None


@dataclass
class _Gathered:
    notes: list[Note] = field(default_factory=list)
    defaults: list[Default] = field(default_factory=list)
    sources: list[str] = field(default_factory=list)
    status: Status = "ok"

    def take(self, one: Wood | Hairs | Wished | Changes | None) -> None:
        """Take up what a part of the reckoning said on its way."""
        if one is None:
            return
        self.notes += one.notes
        self.defaults += [d for d in one.defaults if d not in self.defaults]
        self.sources += list(getattr(one, "sources", ()))
        self.status = gravest(self.status, one.status)


def _pieces(slip: Slip, wood: Wood | None, hair: Hairs | None) -> list[Body]:
    """The parts of the slip, and stick and hair where they are known and not among the parts."""
    pieces = parts_of(slip)
    names = {p.name.strip().lower() for p in pieces}
    if wood is not None and wood.mass_g is not None and "stick" not in names:
        pieces.append(stick_body(wood.shape, wood.mass_g))
    front = slip.table("bow").number("frog_length_mm")
    if hair is not None and front is not None and "hair" not in names:
        pieces.append(Body("hair", hair.mass_g, front + hair.length_mm / 2.0, hair.length_mm))
    return pieces


def _whole(slip: Slip, pieces: list[Body], said: _Gathered) -> Weighed | None:
    """The bow weighed whole, or summed from its parts where [[part]] rows are all there is."""
    weighed = whole_bow(slip, said.defaults)
    if weighed is not None:
        said.notes += weighed.notes
        heavy = sum(p.mass_g for p in parts_of(slip))
        if heavy > weighed.bow.mass_g + 0.1:
            raise Refusal("bow.parts_over", value=f"{heavy:.4g}", limit=f"{weighed.bow.mass_g:.4g}")
        return weighed
    view = slip.table("bow")
    if not slip.has("part"):
        return None
    view.need_choice("hair")
    summed = together(pieces)
    mass = view.number("mass_g")
    if mass is not None and abs(mass - summed.mass_g) > 0.5:
        said.notes.append(Note("bow.parts_differ", {"mass": summed.mass_g, "weighed": mass}))
    said.notes.append(Note("bow.summed"))
    return Weighed(summed, datums_of(view, said.defaults), "parts", ())


def _hand(slip: Slip, said: _Gathered) -> float | None:
    view = slip.table("bow")
    given = view.number("hand_mm")
    if given is not None:
        return given
    front = view.number("frog_length_mm")
    if front is not None:
        said.defaults.append(Default("bow.hand_mm", front, "mm", "practice"))
    return front


def _turn(
    slip: Slip, bow: WholeBow, pieces: list[Body], said: _Gathered
) -> tuple[float | None, float | None]:
    """Inertia about the hand [kg m2], and the hand's place."""
    hand = _hand(slip, said)
    found = turning(slip, bow, pieces, hand)
    said.notes += found.notes
    if found.how == "estimate":
        said.status = gravest(said.status, "estimate")
    return found.inertia_kg_m2, hand


def _changed(
    slip: Slip,
    weighed: Weighed,
    wood: Wood | None,
    inertia: tuple[float | None, float | None],
    said: _Gathered,
) -> tuple[dict[str, Any] | None, WholeBow | None]:
    """The ``change`` of the answer and the bow after it."""
    if not slip.has("change"):
        return None, None
    done = changes(slip, None if wood is None else wood.stick)
    said.take(done)
    bodies = [body for body, _ in done.added]
    after = together([weighed.bow, *bodies])
    rows = [(body.mass_g, body.at_mm, error) for body, error in done.added]
    errors = changed_errors(
        weighed.bow, rows, readings()["bow.mass_g"].error, readings()["bow.balance_mm"].error
    )
    turn, hand = inertia
    after_turn = None
    if turn is not None and hand is not None:
        after_turn = turn + sum(body.inertia(hand) for body in bodies)
    steps = [{"part": b.name, "mass_g": b.mass_g, "at_mm": b.at_mm} for b in bodies]
    return {
        "mass_g": after.mass_g,
        "balance_mm": weighed.datums.read_from(after.at_mm),
        "mass_difference_g": after.mass_g - weighed.bow.mass_g,
        "balance_difference_mm": after.at_mm - weighed.bow.at_mm,
        "mass_error_g": errors[0],
        "balance_error_mm": errors[1],
        "inertia_hand_kg_m2": after_turn,
        "steps": steps,
    }, after


def _cautions(slip: Slip) -> list[str]:
    found: list[str] = []
    for table, codes in CAUTIONS.items():
        if slip.has(table):
            found += [c for c in codes if c not in found]
    if slip.tables.get("wish", {}).get("bow"):
        found += [c for c in CAUTIONS["change"] if c not in found]
    frog = slip.table("bow").text("frog_material")
    if frog is not None:
        known = frog_materials().get(frog.strip().lower().replace(" ", "_"), frog_materials()["unknown"])
        found.append(f"bow.heat_{known.heat}")
    return [*found, "bow.caution_labels"]


def compute(slip: Slip) -> BowCase:
    """Reckon all that a slip tells of a bow.

    Raises
    ------
    Refusal
        Nothing of a bow in the slip; a balance without datum or hair state; hair without wet or dry; parts
        heavier than the whole; a gauge number for a wire.
    """
    if not any(slip.has(name) for name in OURS):
        raise Refusal("bow.nothing", tables=", ".join(f"[{n}]" for n in OURS[:1]))
    said = _Gathered()
    wood, hair, camber = wood_of(slip), hairs_of(slip), bends_of(slip)
    results: dict[str, Any] = {"mass_g": None, "balance_mm": None, "inertia_hand_kg_m2": None}
    if wood is not None:
        pulled = pull(slip, wood, None if camber is None else camber.before)
        if pulled is not None:
            wood.results["hair_pull"] = pulled
    pieces = _pieces(slip, wood, hair)
    weighed = _whole(slip, pieces, said)
    after: WholeBow | None = None
    wished: Wished | None = None
    if weighed is None:
        results["mass_g"] = slip.table("bow").number("mass_g")
        for name in ("change", "pendulum"):
            if slip.has(name):
                raise slip.table("bow").missing("balance_mm")
    else:
        bow = weighed.bow
        results["mass_g"], results["balance_mm"] = bow.mass_g, weighed.datums.read_from(bow.at_mm)
        said.notes += unusual(slip, bow, weighed.datums)
        turn = _turn(slip, bow, pieces, said)
        results["inertia_hand_kg_m2"] = turn[0]
        results["hair_state"] = slip.table("bow").need_choice("hair")
        change, after = _changed(slip, weighed, wood, turn, said)
        if change is not None:
            results["change"] = change
        if wished_for(slip):
            wished = wished_of(slip, weighed, None if wood is None else wood.stick)
            results["wish"] = wished.results
    for name, part in (("stick", wood), ("hair", hair), ("camber", camber)):
        if part is not None:
            results[name] = part.results
    said.take(wood)
    said.take(hair)
    said.take(wished)
    if camber is not None:
        said.notes += camber.notes
    results["cautions"] = _cautions(slip)
    answer = Answer(
        results,
        said.status,
        tuple(said.notes),
        {k: _plain(v) for k, v in slip.tables.items() if k in TAKEN},
        tuple(said.defaults),
        _sources(results, said),
    )
    return BowCase(slip, answer, weighed, after, wood, hair, camber, wished)


def _plain(value: Any) -> Any:
    """A value of a slip as the answer shows it: days as text."""
    if isinstance(value, dict):
        return {k: _plain(v) for k, v in value.items()}
    if isinstance(value, list):
        return [_plain(v) for v in value]
    return value.isoformat() if isinstance(value, date) else value


def _sources(results: dict[str, Any], said: _Gathered) -> tuple[str, ...]:
    keys = ["lever", *said.sources]
    if "stick" in results:
        keys += ["fetis1856", "euler_bernoulli"]
        if "hair_pull" in results["stick"]:
            keys.append("gough2011")
    if results["balance_mm"] is not None:
        keys.append("britannica1910")
    return tuple(dict.fromkeys(keys))
