"""Compile and check the gettext catalogues.

``compile`` writes each .mo that is older than its .po; ``check`` compares every English catalogue of
``purfling/words`` with its German twin (same codes, same placeholders) and the shop's German catalogue
for empty or fuzzy entries.
"""

import string
import sys
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

ROOT = Path(__file__).resolve().parent.parent / "src" / "purfling"


def read(path: Path) -> Catalog:
    """Read one .po file, refusing one that does not parse."""
    with path.open("rb") as stream:
        return read_po(stream, abort_invalid=True)


def compile_all() -> int:
    """Write every stale .mo; returns how many were written."""
    written = 0
    for po in sorted(ROOT.rglob("*.po")):
        mo = po.with_suffix(".mo")
        if mo.exists() and mo.stat().st_mtime >= po.stat().st_mtime:
            continue
        with mo.open("wb") as stream:
            write_mo(stream, read(po))
        written += 1
    return written


def entries(path: Path) -> dict[str, str]:
    """Code -> sentence of a catalogue of words."""
    found: dict[str, str] = {}
    for message in read(path):
        if message.id:
            found[str(message.id)] = "" if message.fuzzy else str(message.string)
    return found


def placeholders(sentence: str) -> set[str]:
    """Names of the {placeholders} of a sentence."""
    return {name for _, name, _, _ in string.Formatter().parse(sentence) if name}


def check() -> list[str]:
    """Every complaint about missing, empty or disagreeing sentences."""
    complaints: list[str] = []
    english = ROOT / "words" / "locale" / "en" / "LC_MESSAGES"
    german = ROOT / "words" / "locale" / "de" / "LC_MESSAGES"
    domains = {p.name for p in english.glob("*.po")} | {p.name for p in german.glob("*.po")}
    for domain in sorted(domains):
        if not (english / domain).exists() or not (german / domain).exists():
            complaints.append(f"{domain}: stands in one language only")
            continue
        en, de = entries(english / domain), entries(german / domain)
        for code in sorted(en.keys() | de.keys()):
            if not en.get(code) or not de.get(code):
                complaints.append(f"{domain}: {code} has no sentence in one language")
            elif placeholders(en[code]) != placeholders(de[code]):
                complaints.append(f"{domain}: {code} has other placeholders in German")
    for po in sorted((ROOT / "shop").rglob("*.po")):
        for code, sentence in entries(po).items():
            if not sentence:
                complaints.append(f"{po.relative_to(ROOT)}: '{code}' is not translated")
    return complaints


def main() -> int:
    """Entry point: compile or check."""
    if sys.argv[1:] == ["compile"]:
        compile_all()
        return 0
    if sys.argv[1:] == ["check"]:
        found = check()
        print("\n".join(found) if found else "catalogues: complete")
        return 1 if found else 0
    print("usage: catalogues.py compile|check", file=sys.stderr)
    return 2


if __name__ == "__main__":
    sys.exit(main())
