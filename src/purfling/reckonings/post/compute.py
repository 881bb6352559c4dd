"""Slip -> what a move does to the sound post, and the map of its tries with the way back."""

import math
from dataclasses import dataclass
from typing import Any

from purfling.craft.post import (
    Fit,
    PostMove,
    Slopes,
    edge_difference_mm,
    move_by_fits,
    move_by_slopes,
    season_slope,
    slopes_of_fits,
)
from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer, Note, Status, gravest
from purfling.reckonings.setup.card import Filler, family_of
from purfling.slips.reader import Slip
from purfling.slips.view import View

FITS = 0.05  # mm; a smaller change is felt by nobody: shop's own
FEW = 3
SLOPES = ("top_across_deg", "back_across_deg", "top_along_deg", "back_along_deg")


@dataclass(frozen=True)
class Place:
    """Place of a post: behind the foot and inside its outer edge [mm]; None where it was not read."""

    behind_mm: float | None
    inside_mm: float | None


@dataclass(frozen=True)
class Try:
    """One try: place, tightness 1 to 5, the maker's and the player's words, verdict."""

    place: Place
    tightness: float | None
    maker: str | None
    player: str | None
    verdict: str | None


@dataclass(frozen=True)
class PostCase:
    """A move of the post with its map."""

    outward_mm: float
    back_mm: float
    move: PostMove | None
    place: Place
    diameter_mm: float | None
    tries: tuple[Try, ...]
    answer: Answer


def _place(view: View) -> Place:
    return Place(view.number("behind_mm"), view.number("inside_mm"))


def _slopes(view: View) -> Slopes | None:
    given = {key: view.number(key) for key in SLOPES}
    if all(v is None for v in given.values()):
        return None
    return Slopes(**{k: v or 0.0 for k, v in given.items()})


def _asked(slip: Slip, outward: float | None, back: float | None) -> tuple[float, float]:
    """The move: options, else [wish.post] against [post] (inside less is outward, behind more is back)."""
    wish = slip.tables.get("wish", {}).get("post", {})
    here, there = _place(slip.table("post")), _place(slip.wished().table("post"))
    if outward is None and "inside_mm" in wish:
        if here.inside_mm is None or there.inside_mm is None:
            raise slip.table("post").missing("inside_mm")
        outward = here.inside_mm - there.inside_mm
    if back is None and "behind_mm" in wish:
        if here.behind_mm is None or there.behind_mm is None:
            raise slip.table("post").missing("behind_mm")
        back = there.behind_mm - here.behind_mm
    return outward or 0.0, back or 0.0


def _check_directions(slip: Slip, outward: float, back: float) -> None:
    """A move in a direction whose slopes nobody read is refused, naming them."""
    view = slip.table("post")
    for way, moved in (("across", outward), ("along", back)):
        if moved and not (view.has(f"top_{way}_deg") and view.has(f"back_{way}_deg")):
            raise Refusal("arithmetic.post_slopes", top=f"post.top_{way}_deg", back=f"post.back_{way}_deg")


def _move(slip: Slip, outward: float, back: float) -> tuple[PostMove | None, dict[str, Any], list[Note]]:
    if not outward and not back:
        return None, {}, []
    fits = [
        Fit(row.need_number("outward_mm"), row.need_number("back_mm"), row.need_number("length_mm"))
        for row in slip.rows("fit")
    ]
    if fits:
        move = move_by_fits(outward, back, fits)
        out, behind, residual, _ = slopes_of_fits(fits)
        shown = {"outward_mm_per_mm": out, "back_mm_per_mm": behind, "residual_mm": residual, "n": len(fits)}
        notes = [Note("arithmetic.too_few", {"n": len(fits), "what": "fit"})] if len(fits) < FEW else []
        return move, {"fit": shown}, notes
    _check_directions(slip, outward, back)
    here = _slopes(slip.table("post"))
    assert here is not None
    wish = slip.tables.get("wish", {}).get("post", {})
    there = _slopes(slip.wished().table("post")) if any(k in wish for k in SLOPES) else None
    return move_by_slopes(outward, back, here, there), {}, []


def becomes(change: float) -> str:
    """``TOO LONG``, ``TOO SHORT`` or ``FITS``: what the same post is at the new place."""
    if abs(change) < FITS:
        return "FITS"
    return "TOO LONG" if change < 0 else "TOO SHORT"


def _season(slip: Slip) -> tuple[dict[str, Any] | None, list[Note]]:
    rows = [
        (row.need_number("humidity_percent"), fit)
        for row in slip.rows("history")
        if (fit := row.number("post_fit_mm")) is not None
    ]
    if not rows:
        return None, []
    slope, error = season_slope([h for h, _ in rows], [f for _, f in rows])
    shown: dict[str, Any] = {
        "mm_per_percent": slope,
        "mm_per_percent_error": error if math.isfinite(error) else None,
        "n": len(rows),
        "driest_percent": min(h for h, _ in rows),
        "dampest_percent": max(h for h, _ in rows),
    }
    now = slip.table("state").number("humidity_percent")
    shown["now_percent"] = now
    shown["to_driest_mm"] = None if now is None else slope * (shown["driest_percent"] - now)
    shown["to_dampest_mm"] = None if now is None else slope * (shown["dampest_percent"] - now)
    notes = [Note("arithmetic.too_few", {"n": len(rows), "what": "history"})] if len(rows) < FEW else []
    return shown, notes


def _tries(slip: Slip) -> tuple[Try, ...]:
    return tuple(
        Try(
            _place(row), row.number("tightness"), row.text("maker"), row.text("player"), row.choice("verdict")
        )
        for row in slip.rows("try")
    )


def _way(here: Place, there: Place) -> dict[str, float | None]:
    """The way from where the post stands to an earlier try."""
    outward = back = None
    if here.inside_mm is not None and there.inside_mm is not None:
        outward = here.inside_mm - there.inside_mm
    if here.behind_mm is not None and there.behind_mm is not None:
        back = there.behind_mm - here.behind_mm
    return {"outward_mm": outward, "back_mm": back}


def _ends(slip: Slip, move: PostMove, diameter: float | None) -> dict[str, Any]:
    here = _slopes(slip.table("post"))
    shown: dict[str, Any] = {
        "top_turn_deg": {"across": move.top_turn_deg[0], "along": move.top_turn_deg[1]},
        "back_turn_deg": {"across": move.back_turn_deg[0], "along": move.back_turn_deg[1]},
    }
    if here is None:
        return shown
    for end, across, along in (
        ("top", here.top_across_deg + move.top_turn_deg[0], here.top_along_deg + move.top_turn_deg[1]),
        ("back", here.back_across_deg + move.back_turn_deg[0], here.back_along_deg + move.back_turn_deg[1]),
    ):
        shown[f"{end}_end_deg"] = {"across": across, "along": along}
        if diameter is not None:
            shown[f"{end}_edge_difference_mm"] = {
                "across": edge_difference_mm(diameter, across),
                "along": edge_difference_mm(diameter, along),
            }
    return shown


def compute(slip: Slip, outward_mm: float | None = None, back_mm: float | None = None) -> PostCase:
    """Reckon a move of the post and lay out its tries.

    Raises
    ------
    Refusal
        Neither a move nor a try; a move in a direction whose slopes or fits are not there; place not read.
    """
    fill = Filler(slip, family_of(slip))
    post = slip.table("post")
    length, diameter = fill.optional("post", "length_mm"), fill.optional("post", "diameter_mm")
    outward, back = _asked(slip, outward_mm, back_mm)
    tries = _tries(slip)
    move, extra, notes = _move(slip, outward, back)
    if move is None and not tries:
        raise Refusal("arithmetic.no_post_move")
    here = _place(post)
    results: dict[str, Any] = {"outward_mm": outward, "back_mm": back}
    if move is not None:
        by = move.length_change_mm
        results |= {
            "length_change_mm": by,
            "length_change_error_mm": move.length_change_error_mm,
            "post_becomes": becomes(by),
            "length_mm": None if length is None else length + by,
            **_ends(slip, move, diameter),
            **extra,
        }
    season, more = _season(slip)
    if season is not None:
        results["season"] = season
    results["tries"] = [
        {
            "n": i,
            "behind_mm": t.place.behind_mm,
            "inside_mm": t.place.inside_mm,
            "tightness": t.tightness,
            "maker": t.maker,
            "player": t.player,
            "verdict": t.verdict,
            "way_back": _way(here, t.place),
        }
        for i, t in enumerate(tries, 1)
    ]
    few: Status = "estimate" if notes or more else "ok"
    answer = Answer(
        results=results,
        status=gravest(few),
        warnings=(*fill.notes, *notes, *more),
        inputs={
            **{f"post.{k}": v for k, v in slip.tables.get("post", {}).items()},
            "--outward": outward,
            "--back": back,
        },
        sources=("post_geometry",),
    )
    return PostCase(outward, back, move, here, diameter, tries, answer)
