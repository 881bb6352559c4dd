"""Nothing that the program says calls a material safe, in English or in German: it says what was seen."""

import re
from pathlib import Path

import pytest
from babel.messages.pofile import read_po

ROOT = Path(__file__).resolve().parents[2] / "src" / "purfling"
CATALOGUES = sorted(ROOT.rglob("*.po"))
PLACES = sorted([*ROOT.rglob("*.html"), *ROOT.rglob("*.typ"), *ROOT.rglob("*.js")])
# Whole words and their forms; "Sicherheitsblatt", "safety sheet" and "sichern" say nothing of a material.
WORDS = re.compile(
    r"\b(?:un)?safe(?:ly|r|st)?\b|\bharmless\b|\bsicher(?:e|er|es|en|em|ste|sten)?\b|\bunbedenklich\w*|"
    r"\b(?:un)?gefährlich\w*|\bharmlos\w*",
    re.IGNORECASE,
)
# Read one by one: these speak of a promise, not of a material.
OF_SOMETHING_ELSE = {"Fertig, und wie sicher"}


def test_the_words_are_found_where_they_stand():
    """Without it the tests below could not fail."""
    for text in (
        "This is safe.",
        "Ethanol ist hier unbedenklich",
        "ein sicheres Mittel",
        "ungefährlich",
        "Safely",
    ):
        assert WORDS.search(text), text
    for text in ("labels, safety sheets", "das Sicherheitsblatt", "die Rolle sichern", "Absicherung"):
        assert not WORDS.search(text), text


@pytest.mark.parametrize("path", CATALOGUES, ids=lambda p: str(p.relative_to(ROOT)))
def test_no_catalogue_calls_anything_safe(path):
    with path.open("rb") as stream:
        catalogue = read_po(stream)
    found = []
    for entry in catalogue:
        texts = [entry.id, entry.string] if entry.id else []
        for text in texts:
            parts = text if isinstance(text, list | tuple) else [text]
            found += [t for t in parts if WORDS.search(str(t)) and t not in OF_SOMETHING_ELSE]
    assert found == []


def test_there_are_catalogues_of_both_languages_to_read():
    assert len([p for p in CATALOGUES if "/de/" in str(p)]) >= 10
    assert len([p for p in CATALOGUES if "/en/" in str(p)]) >= 10
    assert any(p.name == "varnish.po" for p in CATALOGUES)


def test_no_page_no_paper_no_script_says_it():
    assert len(PLACES) > 40
    for path in PLACES:
        text = re.sub(r"\|safe\b|mark_safe", "", path.read_text(encoding="utf-8"))
        assert not WORDS.search(text), path
