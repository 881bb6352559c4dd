"""The sentences of the book's pages: what templates and Python ask for, against the German catalogues.

``check`` names every sentence that no catalogue under shop/locale has, and every one that nothing asks for.
``update [SUBJECT]`` writes the missing ones, empty, into shop/locale/[SUBJECT/]de/LC_MESSAGES/django.po.
"""

import ast
import io
import re
import sys
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

SHOP = Path(__file__).resolve().parent.parent / "src" / "purfling" / "shop"
CALLS = {"_", "gettext", "gettext_lazy"}
CALLS_IN_CONTEXT = {"pgettext", "pgettext_lazy"}
Message = tuple[str, str | None]  # sentence, context

TAG = re.compile(r"""\{%\s*translate\s+(?:"([^"]+)"|'([^']+)')(?:\s+context\s+["']([^"']+)["'])?""")
BLOCK = re.compile(r"\{%\s*blocktranslate(.*?)%\}(.*?)\{%\s*endblocktranslate\s*%\}", re.S)
VARIABLE = re.compile(r"\{\{\s*([\w.]+).*?\}\}")


def _of_template(text: str) -> set[Message]:
    found: set[Message] = {(a or b, c or None) for a, b, c in TAG.findall(text)}
    for head, body in BLOCK.findall(text):
        sentence = VARIABLE.sub(lambda m: f"%({m.group(1)})s", body.replace("%", "%%"))
        if "trimmed" in head:
            sentence = " ".join(line.strip() for line in sentence.splitlines() if line.strip())
        found.add((sentence, None))
    return found


def _of_python(text: str) -> set[Message]:
    found: set[Message] = set()
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
            continue
        words = [a.value for a in node.args if isinstance(a, ast.Constant) and isinstance(a.value, str)]
        if node.func.id in CALLS and words:
            found.add((words[0], None))
        elif node.func.id in CALLS_IN_CONTEXT and len(words) > 1:
            found.add((words[1], words[0]))
    return found


def asked() -> set[Message]:
    """Every sentence that a page of the book asks for."""
    found: set[Message] = set()
    for path in sorted((SHOP / "templates").rglob("*.*")):
        found |= _of_template(path.read_text(encoding="utf-8"))
    for path in sorted(SHOP.rglob("*.py")):
        if "migrations" not in path.parts:
            found |= _of_python(path.read_text(encoding="utf-8"))
    return found


def _read(path: Path) -> Catalog:
    with path.open("rb") as stream:
        return read_po(stream, abort_invalid=True)


def translated() -> set[Message]:
    """Every sentence that stands in a German catalogue."""
    found: set[Message] = set()
    for path in sorted((SHOP / "locale").rglob("de/LC_MESSAGES/django.po")):
        found |= {(str(m.id), m.context) for m in _read(path) if m.id}
    return found


def update(subject: str) -> int:
    """Add the missing sentences, empty; returns how many."""
    path = SHOP / "locale" / subject / "de" / "LC_MESSAGES" / "django.po"
    path.parent.mkdir(parents=True, exist_ok=True)
    if not path.exists():
        path.write_text('msgid ""\nmsgstr "Content-Type: text/plain; charset=UTF-8\\n"\n', encoding="utf-8")
    missing = sorted(asked() - translated(), key=lambda m: (m[0], m[1] or ""))
    lines = path.read_text(encoding="utf-8").rstrip("\n") + "\n"
    for sentence, context in missing:
        fresh = Catalog(charset="utf-8")
        flags = ("python-format",) if "%(" in sentence else ()
        fresh.add(sentence, "", context=context, flags=flags)
        out = io.BytesIO()
        write_po(out, fresh, omit_header=True, width=110)
        lines += "\n" + out.getvalue().decode("utf-8").strip("\n") + "\n"
    path.write_text(lines, encoding="utf-8")
    return len(missing)


def check() -> list[str]:
    """Complaints: missing in German, or asked for by nothing."""
    wanted, have = asked(), translated()
    found = [
        f"shop: '{sentence}' stands in no German catalogue" for sentence, _ in sorted(wanted - have, key=str)
    ]
    found += [
        f"shop: '{sentence}' is translated but nothing asks for it"
        for sentence, _ in sorted(have - wanted, key=str)
    ]
    return found


def main() -> int:
    """Entry point: check or update."""
    if sys.argv[1:] == ["check"]:
        complaints = check()
        print("\n".join(complaints) if complaints else f"shop messages: {len(asked())}, all in German")
        return 1 if complaints else 0
    if sys.argv[1:2] == ["update"]:
        print(f"{update(sys.argv[2] if len(sys.argv) > 2 else '')} added, empty; write their German")
        return 0
    print("usage: shop_messages.py check|update [SUBJECT]", file=sys.stderr)
    return 2


if __name__ == "__main__":
    sys.exit(main())
