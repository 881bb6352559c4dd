"""Dressing in words: the plain table of the command line and the sentences of its paper."""

from purfling.reckonings.dressing.compute import DressingCase
from purfling.words import decimal, say
from purfling.words.columns import columns, tail

SAME = 0.005  # mm; a smaller change is none


def _changes(case: DressingCase, language: str) -> str:
    parts: list[str] = []
    for name, change in zip(case.strings.names, case.answer.results["bridge_change_mm"], strict=True):
        code = "bridge_same" if abs(change) < SAME else "bridge_down" if change < 0 else "bridge_up"
        parts.append(say(f"dressing.{code}", language, name=name, value=decimal(abs(change), 2, language)))
    return ", ".join(parts)


def follows(case: DressingCase, language: str = "en") -> list[str]:
    """What comes off and what follows, one sentence each."""
    r, wish = case.answer.results, case.wish

    def d(value: float | None, n: int = 2) -> str:
        return "-" if value is None else decimal(value, n, language)

    def s(code: str, **params: str) -> str:
        return say(f"dressing.{code}", language, **params)

    lines = [s("line_nothing")]
    if r["max_removal_mm"] > SAME:
        most, mean, error = (d(r[f"{k}_mm"]) for k in ("max_removal", "mean_removal", "removal_error"))
        lines = [s("line_off", most=most, mean=mean, error=error)]
    surface = r["surface"]
    lines.append(s("line_radius", nut=d(surface["radius_nut_mm"], 1), end=d(surface["radius_end_mm"], 1)))
    nut, projection = r["nut_change_mm"], r["projection_change_mm"]
    lines.append(s("line_nut", value=d(-nut)) if nut < -SAME else s("line_nut_same"))
    way = "same" if abs(projection) < SAME else "down" if projection < 0 else "up"
    lines.append(s(f"line_projection_{way}", value=d(abs(projection))))
    lines.append(s("line_bridge", changes=_changes(case, language)))
    left = r["edge_left_mm"]
    if left["bass"] is not None or left["treble"] is not None:
        lines.append(s("line_edges", bass=d(left["bass"]), treble=d(left["treble"]), least=d(wish.least_mm)))
    if r["dressings_left"] is not None:
        lines.append(s("line_left", n=str(r["dressings_left"])))
    for row in r["after"] or []:
        high = max(row["still_high_mm"])
        station = row["station_mm"][row["still_high_mm"].index(high)]
        lines.append(s("line_after", line=row["string"], high=d(max(high, 0.0)), station=d(station, 0)))
    return lines


def blocked_rows(case: DressingCase, language: str = "en") -> list[list[str]]:
    """Per limit that must give: its name, what it is, what it must become [mm]."""
    rows: list[list[str]] = []
    for block in case.answer.results["blocked_by"]:
        name = block["constraint"]
        code = f"{name}_{block['bound']}" if name.startswith("scoop") else name
        values = [decimal(block[k], 3, language) for k in ("limit_mm", "needed_mm")]
        rows.append([say(f"dressing.block_{code}", language), *values])
    return rows


def plain(case: DressingCase, language: str = "en") -> str:
    """What ``purfling dressing`` prints without --json."""

    def s(code: str) -> str:
        return say(f"dressing.{code}", language)

    r = case.answer.results
    if case.plan is None:
        lines = [s("line_refer")]
    elif not case.drawn:
        head = [s("head_blocked"), s("head_now"), s("head_needed")]
        lines = [s("line_blocked"), "", *columns(head, blocked_rows(case, language))]
    else:
        shown = (("scoop_mm", 2), ("bridge_change_mm", 2), ("margin_ratio_after", 1))
        rows = [
            [name, *(decimal(r[key][i], n, language) for key, n in shown)]
            for i, name in enumerate(case.strings.names)
        ]
        head = [s("head_string"), s("head_scoop"), s("head_bridge"), s("head_margin")]
        lines = [*follows(case, language), "", *columns(head, rows)]
    return "\n".join([*lines, "", s("caution"), "", *tail(case.answer, language)]) + "\n"
