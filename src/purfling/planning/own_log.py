"""What a shop's own log says of minutes and waits: n, median, 80 % value, and when it is too few to say."""

from collections.abc import Sequence
from dataclasses import dataclass

ENOUGH = 5


@dataclass(frozen=True)
class LogFigures:
    """``median`` and ``most_80`` (the value that four of five stay under) [min]; None where too few."""

    n: int
    median: float | None
    most_80: float | None

    @property
    def too_few(self) -> bool:
        """Fewer than five."""
        return self.n < ENOUGH


def _quantile(ordered: Sequence[float], share: float) -> float:
    place = (len(ordered) - 1) * share
    below = int(place)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (ordered[above] - ordered[below]) * (place - below)


def log_figures(values: Sequence[float]) -> LogFigures:
    """Median and 80 % value of some minutes; linear between the ordered values.

    Parameters
    ----------
    values : actual minutes or waits [min].

    Returns
    -------
    LogFigures; its figures are None below five values.

    Reference: R. J. Hyndman, Y. Fan, Sample quantiles in statistical packages, Am. Stat. 50 (1996), type 7.
    """
    ordered = sorted(values)
    if len(ordered) < ENOUGH:
        return LogFigures(len(ordered), None, None)
    return LogFigures(len(ordered), _quantile(ordered, 0.5), _quantile(ordered, 0.8))


def stepped_back(default: float, own: float | None, n: int) -> float:
    """A default that steps back as the log grows: (5 default + n own) / (5 + n), the default alone below
    five.

    Parameters
    ----------
    default : the catalogue's figure [min]; own : the log's figure [min] or None; n : how many it stands on.
    """
    if own is None or n < ENOUGH:
        return default
    return (ENOUGH * default + n * own) / (ENOUGH + n)


def season(month: int) -> str:
    """The season of a month (1 to 12), for waits that depend on the air: winter from December on."""
    return ("winter", "spring", "summer", "autumn")[month % 12 // 3]
