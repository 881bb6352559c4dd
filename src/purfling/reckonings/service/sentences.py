"""The service in words: the plain text of the command line."""

from datetime import datetime

from purfling.reckonings.service.compute import Service
from purfling.reckonings.setup.compare import sentence
from purfling.words import say
from purfling.words.columns import columns, tail


def _moment(value: datetime | None, language: str) -> str:
    return say("service.none", language) if value is None else value.strftime("%Y-%m-%d %H:%M")


def _day(value: datetime, language: str) -> str:
    return f"{say(f'papers.day_{value.weekday()}', language)} {value.strftime('%d.%m. %H:%M')}"


def table(service: Service, pages: tuple[str, ...], language: str = "en") -> str:
    """The set-up's sentence, the work on the bench hours, the ready hour, the pages written."""
    lines = [sentence(service.comparison, language), ""]
    if service.plan is not None:
        head = [say(f"service.head_{k}", language) for k in ("start", "end", "minutes")]
        rows = [
            [_day(x.start, language), x.end.strftime("%H:%M"), str(x.operation.minutes)]
            for x in service.plan.laid
        ]
        timed = columns(head, rows)
        timed[0] += f"  {say('service.head_work', language)}"
        for i, x in enumerate(service.plan.laid, 1):
            timed[i] += f"  {x.operation.name}"
        lines += timed
        lines += [
            "",
            say(
                "service.line_ready",
                language,
                ready=_moment(service.plan.ready, language),
                hand_over=_moment(service.hand_over, language),
                promise=_moment(service.promise, language),
            ),
            say(
                "service.line_hands",
                language,
                minutes=sum(x.operation.minutes for x in service.plan.laid),
                bound=_moment(service.plan.bound, language),
            ),
        ]
    if pages:
        lines.append(say("service.line_pages", language, names=", ".join(pages)))
    return "\n".join([*lines, "", *tail(service.answer, language)]) + "\n"
