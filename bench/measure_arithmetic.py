"""Speed of the bench arithmetic: four strings at 20 stops on a measured profile of 60 stations."""

from pathlib import Path

import numpy as np

from bench.report import Report, best_of
from purfling.craft.setup import setup
from purfling.craft.swing import Scoop, Swing, courses, margins, stop_place_mm
from purfling.reckonings.setup.compute import card_of
from purfling.slips.reader import read_slip

SLIP = Path(__file__).resolve().parent.parent / "examples" / "violin.toml"


def measure(report: Report) -> None:
    """The margins of a whole board must follow a slider."""
    card = card_of(read_slip(SLIP))
    end = card.board_length_mm
    x = np.linspace(0.0, end, 60)
    depth = 4 * 0.7 * (x / end) * (1 - x / end)
    scoop = Scoop(end, 0.0, tuple(float(v) for v in x), tuple(float(v) for v in depth))
    board = courses(card, setup(card), (196.0, 293.66, 440.0, 659.26), [scoop] * 4)
    stops = stop_place_mm(card.string_length_mm, np.arange(20))

    def work() -> None:
        for one in board:
            margins(one, Swing(), stops)

    work()
    report.add("margins, 4 strings, 20 stops, 60 stations", best_of(30, work) * 1e3, 5.0, "ms")
