"""Refusals: the one way a computation or a slip says no."""

from typing import Any


class Refusal(ValueError):
    """A question that cannot be answered; carries a code and parameters, never a sentence.

    Parameters
    ----------
    code : str
        ``subject.reason``; the sentence stands in the catalogue ``subject`` under ``reason``.
    **params
        What the sentence names: field, value, unit, limit.
    """

    def __init__(self, code: str, **params: Any) -> None:
        self.code = code
        self.params = params
        super().__init__(f"{code} {params}")
