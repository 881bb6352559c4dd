"""The nut: where its grooves go and how deep they are filed."""

from collections.abc import Sequence
from dataclasses import dataclass

from purfling.craft.strings import centres_even, gaps_even

GROOVE_SHARE = 1.0 / 3.0  # of the string's diameter


@dataclass(frozen=True)
class Groove:
    """One groove of the nut. Places are lateral, bass negative; heights over the board, upright [mm].

    ``shift_mm``: equal gaps less equal centres. ``clearance_mm``: underside now. ``file_to_mm``: where the
    file stops (the wished clearance and what a soft nut beds in). ``cut_mm``: what comes off, negative when
    the nut is too low. ``crown_mm``: the nut over the board before grooving. Edge margins None without the
    board's width.
    """

    diameter_mm: float
    centres_mm: float
    gaps_mm: float
    shift_mm: float
    clearance_mm: float
    wished_mm: float | None
    file_to_mm: float | None
    cut_mm: float | None
    groove_depth_mm: float
    crown_mm: float
    edge_margin_centres_mm: float | None
    edge_margin_gaps_mm: float | None


def gap_mm(spacing_mm: float, diameter_mm: Sequence[float]) -> float:
    """The free gap between neighbours when all are equal: (span - inner - half the outer)/(n - 1) [mm]."""
    inner = sum(diameter_mm[1:-1]) + (diameter_mm[0] + diameter_mm[-1]) / 2.0
    return (spacing_mm - inner) / (len(diameter_mm) - 1)


def grooves(
    spacing_mm: float,
    diameter_mm: Sequence[float],
    clearance_mm: Sequence[float],
    wished_mm: Sequence[float] | None,
    bedding_mm: float,
    groove_share: float = GROOVE_SHARE,
    width_nut_mm: float | None = None,
) -> tuple[Groove, ...]:
    """Every groove of a nut, lowest string first.

    Parameters
    ----------
    spacing_mm : between the centres of the outer strings; diameter_mm, clearance_mm, wished_mm : for each
    string, clearances of the underside, wished None where nothing is wished; bedding_mm : what the strings
    sink into a soft nut; groove_share : depth of a groove over the diameter; width_nut_mm : board's width at
    the nut, or None.

    Raises
    ------
    Refusal
        The strings leave no gap.
    """
    centres = centres_even(spacing_mm, len(diameter_mm))
    gaps = gaps_even(spacing_mm, diameter_mm)
    found = []
    for i, d in enumerate(diameter_mm):
        wished = None if wished_mm is None else wished_mm[i]
        file_to = None if wished is None else wished + bedding_mm
        found.append(
            Groove(
                diameter_mm=d,
                centres_mm=centres[i],
                gaps_mm=gaps[i],
                shift_mm=gaps[i] - centres[i],
                clearance_mm=clearance_mm[i],
                wished_mm=wished,
                file_to_mm=file_to,
                cut_mm=None if file_to is None else clearance_mm[i] - file_to,
                groove_depth_mm=groove_share * d,
                crown_mm=(clearance_mm[i] if wished is None else wished) + groove_share * d,
                edge_margin_centres_mm=_margin(width_nut_mm, centres[i], d),
                edge_margin_gaps_mm=_margin(width_nut_mm, gaps[i], d),
            )
        )
    return tuple(found)


def _margin(width: float | None, lateral: float, diameter: float) -> float | None:
    return None if width is None else width / 2.0 - abs(lateral) - diameter / 2.0
