"""Plain tables for the terminal: columns that line up, numbers at the right."""

from collections.abc import Sequence

from purfling.craft.result import Answer
from purfling.words import note_text, say
from purfling.words.envelope import default_dict


def columns(head: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """Lines of a table; the first column at the left, the others at the right."""
    cells = [list(head), *[list(r) for r in rows]]
    widths = [max(len(r[i]) for r in cells) for i in range(len(head))]
    lines = []
    for row in cells:
        parts = [row[0].ljust(widths[0])] + [c.rjust(w) for c, w in zip(row[1:], widths[1:], strict=True)]
        lines.append("  ".join(parts).rstrip())
    return lines


def tail(answer: Answer, language: str = "en") -> list[str]:
    """What stands under every plain table: status, warnings, defaults."""
    lines = [f"{say('common.status', language)}: {say('common.status_' + answer.status, language)}"]
    lines += [f"  ! {note_text(n, language)}" for n in answer.warnings]
    if answer.defaults:
        lines.append(say("common.defaults", language) + ":")
        for one in answer.defaults:
            row = default_dict(one, language)
            value = row["value"]
            shown = ", ".join(f"{v:g}" for v in value) if isinstance(value, list) else f"{value}"
            lines.append(f"  {row['field']} = {shown} {row['unit']}".rstrip() + f"  ({row['source']})")
    return lines
