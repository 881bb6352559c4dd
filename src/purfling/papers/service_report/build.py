"""Service -> the data of the service report, and its PDF."""

from datetime import date, datetime, timedelta
from typing import Any

from purfling.drawing.drawings.bench_band import bench_band
from purfling.papers.common import frame, from_answer
from purfling.papers.typeset import typeset
from purfling.planning.one_bench import Laid
from purfling.reckonings.service.compute import Service
from purfling.reckonings.setup.compare import sentence
from purfling.words import decimal, say

WORDS = (
    "ready",
    "promise",
    "hand_over",
    "arrives",
    "start",
    "end",
    "minutes",
    "object",
    "work",
    "note",
    "waits",
    "cautions",
    "warnings",
    "setup",
    "class",
    "hands",
    "bench_day",
    "sources",
    "not_before",
    "sign_date",
    "sign_name",
)


def day_name(day: date, language: str) -> str:
    """Short weekday and date, e.g. "Tue 1 Dec"."""
    return f"{say(f'papers.day_{day.weekday()}', language)} {day.strftime('%d.%m.')}"


def moment_text(value: datetime | None, language: str) -> str:
    """Weekday, date and clock, or a dash."""
    return "-" if value is None else f"{day_name(value.date(), language)} {value.strftime('%H:%M')}"


def wait_text(laid: Laid, service: Service, language: str) -> str:
    """What the hands wait for before this operation: "4 h after nut-on"."""
    parts = []
    for lag in laid.operation.after:
        if lag.wait_min:
            hours = f"{lag.wait_min / 60:.3g}" + (f" - {lag.wait_max / 60:.3g}" if lag.wait_max else "")
            parts.append(say("papers.wait_line", language, hours=hours, name=lag.id))
    return ", ".join(parts)


def _rows(service: Service, language: str) -> list[dict[str, str]]:
    rows: list[dict[str, str]] = []
    for x in service.plan.laid if service.plan else ():
        rows.append(
            {
                "day": day_name(x.start.date(), language),
                "start": x.start.strftime("%H:%M"),
                "end": x.end.strftime("%H:%M")
                if x.end.date() == x.start.date()
                else moment_text(x.end, language),
                "minutes": str(x.operation.minutes),
                "object": x.operation.object,
                "name": x.operation.name,
                "note": x.operation.note,
                "wait": wait_text(x, service, language),
            }
        )
    return rows


def _verdict(service: Service, language: str) -> str:
    if service.plan is None:
        return say("service.no_work_listed", language)
    ready = moment_text(service.plan.ready, language)
    if service.promise is None:
        return say("papers.ready_only", language, ready=ready)
    promise = moment_text(service.promise, language)
    room = service.promise - service.plan.ready
    way = "ready_in_time" if room >= timedelta(0) else "ready_late"
    hours = decimal(abs(room.total_seconds()) / 3600, 1, language)
    return say(f"papers.{way}", language, ready=ready, promise=promise, hours=hours)


def service_report(service: Service, language: str = "en") -> bytes:
    """PDF of the service report (A4)."""
    subject = " · ".join(p for p in (service.tag, service.label) if p)
    data: dict[str, Any] = {
        **frame(say("papers.service_report", language), subject, language, WORDS),
        "subject": subject,
        "first_name": service.first_name or "",
        "kind": say(f"papers.class_{service.kind}", language) if service.kind else "",
        "verdict": _verdict(service, language),
        "late": bool(service.plan and service.promise and service.plan.ready > service.promise),
        "arrives_at": moment_text(service.arrives, language),
        "ready_at": moment_text(service.plan.ready if service.plan else None, language),
        "hand_over_at": moment_text(service.hand_over, language),
        "promise_at": moment_text(service.promise, language),
        "not_before_at": moment_text(service.plan.bound if service.plan else None, language),
        "hands_minutes": str(sum(x.operation.minutes for x in service.plan.laid)) if service.plan else "0",
        "rows": _rows(service, language),
        "setup_sentence": sentence(service.comparison, language),
        "cautions": [say(code, language) for code in (*service.cautions, "cautions.first")],
        **from_answer(service.answer, language),
    }
    drawings = {"band": bench_band(service.plan, language)} if service.plan else {}
    return typeset("service_report", data, drawings)
