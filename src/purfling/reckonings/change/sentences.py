"""A change in words: the plain table, and one sentence for each thing that moves."""

from purfling.reckonings.change.compute import SAME, ChangeCase, goes
from purfling.words import decimal, say
from purfling.words.columns import columns, tail


def signed(value: float, decimals: int, language: str) -> str:
    """A number with its sign; zero has none."""
    text = decimal(value, decimals, language)
    return text if text.startswith("-") or float(f"{value:.{decimals}f}") == 0 else "+" + text


def sentences(case: ChangeCase, language: str = "en") -> list[str]:
    """What goes up, what goes down, what stays."""

    def d(value: float, n: int = 2) -> str:
        return decimal(abs(value), n, language)

    found = case.change
    low, high = found.bridge_mm[0], found.bridge_mm[-1]
    code = {"DOWN": "bridge_down", "UP": "bridge_up", "STAYS": "bridge_stays"}[goes(found.centre_mm)]
    if goes(low) != goes(high):
        code = "bridge_tilts"
    lines = [
        say(
            f"arithmetic.{code}",
            language,
            low=signed(low, 2, language) if code == "bridge_tilts" else d(low),
            high=signed(high, 2, language) if code == "bridge_tilts" else d(high),
            error=d(found.bridge_error_mm),
        )
    ]
    for name, value in (("nut", found.nut_mm), ("projection", found.projection_mm)):
        word = goes(value)
        code = {"DOWN": "down", "UP": "up", "STAYS": "stays"}[word]
        lines.append(say(f"arithmetic.{name}_{code}", language, by=d(value)))
    kept = found.action_if_bridge_kept_mm[0]
    if abs(kept) >= SAME:
        code = "kept_higher" if kept > 0 else "kept_lower"
        lines.append(say(f"arithmetic.{code}", language, by=d(kept)))
    force = found.down_force_change_n
    if abs(force) >= 0.05:
        lines.append(
            say(f"arithmetic.{'force_more' if force > 0 else 'force_less'}", language, by=d(force, 1))
        )
    return lines


def plain(case: ChangeCase, language: str = "en") -> str:
    """What ``purfling change`` prints without --json."""
    found = case.change
    names = [s.name for s in found.before.strings]
    rows = [
        [
            name,
            decimal(old.notch_height_mm, 2, language),
            signed(by, 2, language),
            decimal(new.notch_height_mm, 2, language),
            signed(kept, 2, language),
        ]
        for name, old, by, new, kept in zip(
            names,
            found.before.strings,
            found.bridge_mm,
            found.after.strings,
            found.action_if_bridge_kept_mm,
            strict=True,
        )
    ]
    head = [say(f"arithmetic.{c}", language) for c in ("h_string", "h_notch", "h_change", "h_new", "h_kept")]
    lines = [*columns(head, rows), "", *sentences(case, language), "", *tail(case.answer, language)]
    return "\n".join(lines)
