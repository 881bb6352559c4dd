"""Dispatch rules: keys from promise, work and weight that make a whole plan at once."""

import numpy as np

from purfling.planning.state import Floats, Tables

# How many ticks a visit's urgency grows for each e-fold of weight over work: 0 is "latest start first", the
# others let heavy and short visits go before (half a day to a week of bench time; found by trial).
LEANINGS = (0.0, 50.0, 100.0, 200.0, 400.0, 800.0)


def due_keys(tables: Tables) -> Floats:
    """Earliest promise first."""
    found: Floats = tables.due[tables.item_visit].astype(np.float64)
    return found


def latest_start_keys(tables: Tables, leaning: float) -> Floats:
    """Tick at which each item should begin for the promise to be met, less the lean to heavy, short visits.

    Parameters
    ----------
    tables : Tables
    leaning : float
        Ticks for each e-fold of weight over work.

    Returns
    -------
    array [items]
    """
    items = len(tables.item_visit)
    rest = np.zeros(items)
    first = tables.item_from[:-1]
    if len(tables.item_task):
        whole = (tables.tail + tables.length)[tables.item_task]
        rest = np.maximum.reduceat(whole, first).astype(np.float64)
    work = np.bincount(tables.visit, weights=tables.length, minlength=len(tables.due))
    lean = np.log(np.maximum(tables.weight, 1e-9) / np.maximum(work, 1.0))
    lean -= lean.mean() if len(lean) else 0.0
    visit = tables.item_visit
    found: Floats = tables.due[visit] - rest - leaning * lean[visit]
    return found
