"""A bow in words: the plain table for the terminal."""

from collections.abc import Callable
from typing import Any

from purfling.reckonings.bow.compute import BowCase
from purfling.words import decimal, say
from purfling.words.columns import columns, tail

Row = list[str]


def _row(language: str, code: str, value: float | None, decimals: int, unit: str) -> Row:
    shown = say("common.not_used", language) if value is None else decimal(value, decimals, language)
    return [say(f"bow.{code}", language), shown, unit]


def _weight(r: dict[str, Any], language: str) -> list[Row]:
    rows = [_row(language, "row_mass", r["mass_g"], 1, "g")]
    for datum, value in (r["balance_mm"] or {}).items():
        label = say("bow.row_balance", language, datum=say(f"bow.datum_{datum}", language))
        rows.append([label, _row(language, "row_mass", value, 1, "mm")[1], "mm"])
    turn = r["inertia_hand_kg_m2"]
    if turn is not None:
        rows.append(_row(language, "row_inertia", 1e3 * turn, 3, "g m2"))
    return rows


def _change(r: dict[str, Any], language: str) -> list[Row]:
    c = r["change"]
    return [*_weight(c, language), _row(language, "row_mass_by", c["mass_difference_g"], 2, "g"),
            _row(language, "row_balance_by", c["balance_difference_mm"], 1, "mm"),
            _row(language, "row_mass_error", c["mass_error_g"], 2, "g"),
            _row(language, "row_balance_error", c["balance_error_mm"], 1, "mm")]  # fmt: skip


def _stick(r: dict[str, Any], language: str) -> list[Row]:
    s = r["stick"]
    rows = [
        _row(language, "row_stick_mass", s["mass_g"], 2, "g"),
        _row(language, "row_stick_centre", s["centre_mm"], 1, "mm"),
        _row(language, "row_stiffness", s["stiffness_n_per_mm"], 3, "N/mm"),
        _row(language, "row_modulus", s["modulus_gpa"], 1, "GPa"),
    ]
    apart = [d for d in s["taper_deviation_mm"] if d is not None]
    if apart:
        rows.append(_row(language, "row_taper", max(apart, key=abs), 2, "mm"))
    pulled = s.get("hair_pull")
    if pulled is not None:
        rows.append(_row(language, "row_buckling", pulled["buckling_n"], 0, "N"))
        rows.append(_row(language, "row_straightened", pulled["straightened_mm"], 0, "mm"))
    return rows


def _hair(r: dict[str, Any], language: str) -> list[Row]:
    h = r["hair"]
    rows = [
        _row(language, "row_count", h["count"], 0, ""),
        _row(language, "row_hair_mass", h["mass_g"], 2, "g"),
        _row(language, "row_tie", h["tie_length_mm"], 1, "mm"),
        _row(language, "row_shrink", h["shrink_mm"], 1, "mm"),
        _row(language, "row_travel", h["frog_travel_needed_mm"], 1, "mm"),
        _row(language, "row_forward", h["forward_needed_mm"], 1, "mm"),
        _row(language, "row_back", h["back_needed_mm"], 1, "mm"),
    ]
    if "eye_place_wished_mm" in h:
        rows.append(_row(language, "row_eye", h["eye_place_wished_mm"], 1, "mm"))
    age = h.get("age", {})
    if "days" in age:
        rows.append(_row(language, "row_days", age["days"], 0, ""))
    if "played_hours" in age:
        rows.append(_row(language, "row_played", age["played_hours"], 0, "h"))
    return rows


def _camber(r: dict[str, Any], language: str) -> list[Row]:
    rows = []
    for figures, suffix in ((r["camber"], "found"), (r["camber"].get("after"), "after")):
        if figures is not None:
            rows.append(_row(language, f"row_deepest_{suffix}", figures["deepest_mm"], 1, "mm"))
            rows.append(_row(language, f"row_deepest_at_{suffix}", figures["deepest_at_mm"], 0, "mm"))
    return rows


def _wish(r: dict[str, Any], language: str) -> list[Row]:
    near = r["wish"]["found"]
    name = say(f"lapping.material_{near['material']}", language)
    return [
        [say("bow.row_material", language), name, ""],
        _row(language, "row_wire", near["wire_mm"], 3, "mm"),
        _row(language, "row_length", near["length_mm"], 1, "mm"),
        _row(language, "row_mass", near["mass_g"], 1, "g"),
        [say("bow.row_balance", language, datum=say(f"bow.datum_{r['wish']['datum']}", language)),
         decimal(near["balance_mm"], 1, language), "mm"],
        _row(language, "row_miss_mass", near["miss_mass_g"], 2, "g"),
        _row(language, "row_miss_balance", near["miss_balance_mm"], 1, "mm"),
    ]  # fmt: skip


SECTIONS: tuple[tuple[str, Callable[[dict[str, Any], str], list[Row]]], ...] = (
    ("change", _change),
    ("stick", _stick),
    ("hair", _hair),
    ("camber", _camber),
    ("wish", _wish),
)


def rows_of(case: BowCase, language: str) -> list[tuple[str, list[Row]]]:
    """(heading, rows of label, figure, unit) of every part of the answer; papers set them as well."""
    r = case.answer.results
    found = []
    if r["mass_g"] is not None:
        found.append((say("bow.head_bow", language), _weight(r, language)))
    found += [(say(f"bow.head_{name}", language), make(r, language)) for name, make in SECTIONS if name in r]
    return found


def change_sentence(case: BowCase, language: str) -> str | None:
    """What the change does, with its direction, or None."""
    change = case.answer.results.get("change")
    if change is None:
        return None
    by, mass = change["balance_difference_mm"], change["mass_difference_g"]
    return say(
        "bow.change_says",
        language,
        weight=say(
            "bow.heavier" if mass >= 0 else "bow.lighter", language, value=decimal(abs(mass), 1, language)
        ),
        balance=say(
            "bow.to_frog" if by < 0 else "bow.to_head", language, value=decimal(abs(by), 1, language)
        ),
    )


def plain(case: BowCase, language: str = "en") -> str:
    """What ``purfling bow`` prints without --json."""
    lines: list[str] = []
    for heading, rows in rows_of(case, language):
        lines += [heading, *(f"  {line}" for line in columns(["", "", ""], rows)[1:]), ""]
    sentence = change_sentence(case, language)
    if sentence is not None:
        lines += [sentence, ""]
    lines.append(say("bow.cautions", language) + ":")
    lines += [f"  - {say(code, language)}" for code in case.answer.results["cautions"]]
    return "\n".join([*lines, "", *tail(case.answer, language)])
