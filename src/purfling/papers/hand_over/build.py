"""Plain records -> the hand-over note: what was done, found against left, contents, words, second look."""

from collections.abc import Mapping, Sequence
from typing import Any

from purfling.papers.common import frame
from purfling.papers.typeset import typeset
from purfling.words import say

WORDS = (
    "done_on_it",
    "from_case",
    "there",
    "missing",
    "parts",
    "found",
    "wished",
    "left",
    "change",
    "player_words",
    "question",
    "answer",
    "second_look",
    "collected",
    "given_by",
    "signature",
    "not_value",
)


def hand_over_note(
    note: Mapping[str, Any], objects: Sequence[Mapping[str, Any]], language: str = "en"
) -> bytes:
    """PDF of the hand-over note (A4); no value, no address.

    Parameters
    ----------
    note : {shop, number, when, first_name, contents [{thing, there, word}] (``there`` None: a box to tick),
    player_words, question, answer,
    second_look, collector, who}, all texts but ``contents``; objects : {title, tag, done [texts],
    lines [{words, unit, found, wished, left, change}], parts [texts]}.
    """
    title = say("work.note_title", language)
    subject = " · ".join(t for t in (note["shop"], note["number"]) if t)
    data: dict[str, Any] = {
        **frame(title, subject, language, ()),
        **note,
        "objects": [dict(o) for o in objects],
    }
    data["words"] = data["words"] | {w: say(f"work.note_{w}", language) for w in WORDS}
    return typeset("hand_over", data)
