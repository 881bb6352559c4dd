"""Small outlines of instruments and bows, drawn from their own dimensions."""

from functools import lru_cache

from django.utils.safestring import SafeString, mark_safe

# Body length, upper, middle, lower bout [mm] where an object's own are not known: common practice, no source.
USUAL = {
    "violin": (355.0, 167.0, 110.0, 207.0),
    "viola": (410.0, 190.0, 130.0, 243.0),
    "cello": (755.0, 343.0, 230.0, 438.0),
}
BOW_LENGTH = {"violin": 745.0, "viola": 742.0, "cello": 715.0}


def _half(length: float, upper: float, middle: float, lower: float) -> list[tuple[float, float]]:
    """Control points of the treble half, x across, y from the lower edge up [mm]."""
    u, m, w = upper / 2, middle / 2, lower / 2
    return [
        (0.0, 0.0), (w * 0.62, 0.0), (w, length * 0.08), (w, length * 0.21),
        (w, length * 0.31), (w * 0.9, length * 0.36), (w * 0.86, length * 0.385),
        (m * 1.02, length * 0.39), (m, length * 0.47), (m, length * 0.53),
        (m, length * 0.60), (m * 1.12, length * 0.655), (u * 0.92, length * 0.668),
        (u * 0.98, length * 0.69), (u, length * 0.75), (u, length * 0.82),
        (u, length * 0.93), (u * 0.6, length), (0.0, length),
    ]  # fmt: skip


def _curve(points: list[tuple[float, float]], sign: float, height: float) -> str:
    shown = [f"{sign * x:.1f} {height - y:.1f}" for x, y in points]
    steps = [f"C{shown[i]} {shown[i + 1]} {shown[i + 2]}" for i in range(1, len(shown) - 2, 3)]
    return f"M{shown[0]}" + "".join(steps)


@lru_cache(maxsize=512)
def _instrument(length: float, upper: float, middle: float, lower: float, size: int) -> str:
    neck, height = length * 0.62, length * 1.65
    wide = lower + 12
    points = _half(length, upper, middle, lower)
    body = "".join(
        f'<path d="{_curve(points, s, height)}" fill="none" stroke="currentColor" '
        f'stroke-width="{length / 60:.1f}"/>'
        for s in (1.0, -1.0)
    )
    stem = (
        f'<path d="M0 {height - length:.1f}V{height - length - neck * 0.8:.1f}" stroke="currentColor" '
        f'stroke-width="{length / 14:.1f}"/>'
        f'<circle cx="0" cy="{height - length - neck * 0.88:.1f}" r="{length / 22:.1f}" fill="currentColor"/>'
    )
    return (
        f'<svg class="silhouette" viewBox="{-wide / 2:.0f} 0 {wide:.0f} {height + 6:.0f}" '
        f'height="{size}" width="{size * wide / height:.0f}" aria-hidden="true">{body}{stem}</svg>'
    )


@lru_cache(maxsize=64)
def _bow(length: float, size: int) -> str:
    end = f"{length:.0f}"
    return (
        f'<svg class="silhouette" viewBox="-8 -70 84 {length + 80:.0f}" height="{size}" '
        f'width="{max(size * 84 / (length + 80), 10):.0f}" aria-hidden="true">'
        f'<path d="M10 {end}Q34 {length / 2:.0f} 12 0L34 -8L44 -46" fill="none" stroke="currentColor" '
        f'stroke-width="12"/><path d="M34 -4V{length - 60:.0f}" stroke="currentColor" stroke-width="5"/>'
        f'<path d="M12 {length - 80:.0f}H44V{length - 30:.0f}H12Z" fill="currentColor"/></svg>'
    )


def svg_of(thing, size: int = 56) -> SafeString:
    """The outline of an object, ``size`` pixels high, in the colour of the text around it."""
    if thing.is_bow:
        return mark_safe(_bow(thing.length_mm or BOW_LENGTH[thing.family], size))
    length, upper, middle, lower = USUAL[thing.family]
    own = thing.length_mm or length
    scale = own / length
    return mark_safe(
        _instrument(
            own, thing.upper_mm or upper * scale, middle * scale, thing.lower_mm or lower * scale, size
        )
    )
