"""No sentence of a page lacks its German, none is translated for nothing."""

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def test_every_sentence_of_the_pages_stands_in_a_german_catalogue(monkeypatch):
    monkeypatch.syspath_prepend(str(ROOT / "tools"))
    sys.modules.pop("shop_messages", None)
    import shop_messages

    assert len(shop_messages.asked()) > 100
    assert shop_messages.check() == []
