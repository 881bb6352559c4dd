"""Records of an estimate -> its PDF. Minutes and what is earned are the owner's and stand on no paper."""

from collections.abc import Mapping, Sequence
from typing import Any

from purfling.papers.common import frame
from purfling.papers.typeset import typeset
from purfling.words import say

WORDS = (
    "words",
    "sum",
    "net",
    "tax",
    "total",
    "option",
    "risks",
    "not_included",
    "not_above",
    "valid",
    "promise",
)


def estimate_pdf(told: Mapping[str, Any], lines: Sequence[Mapping[str, str]], language: str = "en") -> bytes:
    """PDF of an estimate.

    Parameters
    ----------
    told : shop, number, subject, risks, not_included, not_above, valid_until, promise, totals (label,
    amount); lines : words, group, amount, all as text; language : of the words.
    """
    data: dict[str, Any] = {
        **frame(say("money.title_estimate", language), str(told["number"]), language, ()),
        "words": {w: say(f"money.w_{w}", language) for w in WORDS}
        | {"page": say("papers.page", language), "of": say("papers.of", language)},
        "rows": [dict(r) for r in lines],
        **{k: told.get(k, "") for k in ("shop", "number", "subject", "risks", "not_included", "not_above")},
        **{k: told.get(k, "") for k in ("valid_until", "promise")},
        "totals": list(told.get("totals", ())),
        "rule": say("money.estimate_rule", language),
    }
    return typeset("estimate", data)
