"""The compressed axis: open slots of five minutes, numbered without the closed time between them.

A wait over nights is then one look into a table: wall clock -> first open slot at or after it.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from purfling.planning.hours import bench_periods
from purfling.planning.load import DAY, STEP, Load

Ints = NDArray[np.int32]


@dataclass(frozen=True)
class Axis:
    """Open slots and their tables; a tick is five minutes of wall clock since ``origin``.

    ``wall`` [slots]: tick at which a slot begins; ``period_end`` [slots]: first slot after the bench period;
    ``period`` and ``day`` [slots]: running numbers; ``day_number`` [days]: date ordinals;
    ``next_slot`` [ticks + 1]: first slot that begins at or after a tick (``slots`` where there is none).
    """

    origin: int
    wall: Ints
    period_end: Ints
    period: Ints
    day: Ints
    day_number: Ints
    next_slot: Ints

    @property
    def slots(self) -> int:
        """How many open slots there are."""
        return len(self.wall)

    def tick(self, moment: int) -> int:
        """Tick of a moment, rounded up."""
        return -((self.origin - moment) // STEP)

    def moment(self, tick: int) -> int:
        """Moment of a tick [min]."""
        return self.origin + int(tick) * STEP

    def start_moment(self, slot: int) -> int:
        """Moment at which a slot begins [min]."""
        return self.moment(int(self.wall[slot]))

    def end_moment(self, slot: int) -> int:
        """Moment at which the slot before ``slot`` ends [min]: the end of work that fills up to ``slot``."""
        return self.moment(int(self.wall[slot - 1]) + 1)

    def slot_at(self, moment: int) -> int:
        """First open slot that begins at or after a moment."""
        tick = min(max(self.tick(moment), 0), len(self.next_slot) - 1)
        return int(self.next_slot[tick])

    def is_open(self, moment: int) -> bool:
        """Whether a slot begins exactly at a moment."""
        slot = self.slot_at(moment)
        return slot < self.slots and self.start_moment(slot) == moment


def build_axis(load: Load, first_day: int, days: int, use_evenings: bool = False) -> Axis:
    """The axis of some days.

    Parameters
    ----------
    load : Load
    first_day : int
        Day number at whose midnight the axis begins.
    days : int
        How many days it spans.
    use_evenings : bool
        Whether evenings count as open.
    """
    origin = first_day * DAY
    periods = bench_periods(load, first_day, days, use_evenings)
    begins = np.array([(a - origin) // STEP for a, _ in periods], dtype=np.int32)
    lengths = np.array([(b - a) // STEP for a, b in periods], dtype=np.int32)
    total = int(lengths.sum())
    first = np.concatenate(([0], np.cumsum(lengths)))[:-1].astype(np.int32) if periods else begins
    period = np.repeat(np.arange(len(periods), dtype=np.int32), lengths)
    wall = (np.arange(total, dtype=np.int32) - first[period] + begins[period]).astype(np.int32)
    period_end = (first + lengths)[period].astype(np.int32)
    ticks_a_day = DAY // STEP
    day_number, day = np.unique(begins[period] // ticks_a_day, return_inverse=True)
    ticks = np.arange(days * ticks_a_day + 1, dtype=np.int32)
    next_slot = np.searchsorted(wall, ticks, side="left").astype(np.int32)
    return Axis(
        origin,
        wall,
        period_end,
        period,
        day.astype(np.int32),
        (day_number + first_day).astype(np.int32),
        next_slot,
    )
