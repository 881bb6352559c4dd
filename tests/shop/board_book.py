"""The small book with a measured board in it: the figures of the command line's own example."""

import tomllib
from pathlib import Path

from purfling.shop.domain.board import set_board, take_gap
from purfling.shop.models import Board

EXAMPLE = tomllib.loads((Path(__file__).resolve().parents[2] / "examples" / "dressing.toml").read_text())
BANDS = ("scoop_low_mm", "scoop_high_mm", "radius_nut_mm", "radius_end_mm")


def figures_of_example():
    """Lengths, edges and wishes as they are typed."""
    own = {
        "board.length_mm": EXAMPLE["board"]["length_mm"],
        "neck.string_length_mm": EXAMPLE["neck"]["string_length_mm"],
        **{f"edge.{k}": v for k, v in EXAMPLE["edge"].items()},
        **{f"wish.{k}-{i}": EXAMPLE["wish"][k][i] for k in BANDS for i in (0, 1)},
        "wish.projection_loss_max_mm": EXAMPLE["wish"]["projection_loss_max_mm"],
    }
    return {k: f"{v}" for k, v in own.items()}


def gap(book, kind, station, text, line="", moment="found"):
    """One figure at one place."""
    return take_gap(
        row=book.rows[0],
        kind=kind,
        line=line,
        station_mm=float(station),
        text=f"{text}",
        moment=moment,
        who=book.owner,
    )


def with_small_board(book):
    """A board that has just begun: one gap."""
    gap(book, "gap", 33, "0.45", "low")
    book.board = Board.objects.get()
    return book


def with_board(book):
    """The example's board, typed figure by figure."""
    book.board = set_board(
        row=book.rows[0],
        who=book.owner,
        figures=figures_of_example(),
        asked={k: "yes" if v else "no" for k, v in EXAMPLE["asked"].items()},
    )
    for edge in EXAMPLE["line"]:
        for station, value in zip(edge["station_mm"], edge["gap_mm"], strict=True):
            gap(book, "gap", station, value, edge["string"])
    for one in EXAMPLE["across"]:
        gap(book, "across", one["station_mm"], one["radius_mm"])
    for one in EXAMPLE["pit"]:
        gap(book, "pit", one["station_mm"], one["depth_mm"], one["line"])
    return book
