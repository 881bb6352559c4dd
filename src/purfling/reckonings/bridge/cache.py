"""Answers kept by content: the same question is computed once for as long as the program runs."""

from collections import OrderedDict
from threading import Lock

from purfling.craft.bridge.cuts import Progress
from purfling.craft.bridge.question import BridgeAnswer, BridgeQuestion, answered

KEPT = 6
_answers: "OrderedDict[str, BridgeAnswer]" = OrderedDict()
_lock = Lock()


def answer_of(question: BridgeQuestion, progress: Progress | None = None) -> BridgeAnswer:
    """The answer to a question, from the kept ones where its content is among them."""
    key = question.content
    with _lock:
        if key in _answers:
            _answers.move_to_end(key)
            return _answers[key]
    found = answered(question, progress)
    with _lock:
        _answers[key] = found
        while len(_answers) > KEPT:
            _answers.popitem(last=False)
    return found


def forget() -> None:
    """Drop every kept answer (for measurements)."""
    with _lock:
        _answers.clear()
