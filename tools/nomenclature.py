"""Compare docs/nomenclature.md with the signatures of craft/ and planning/.

Every parameter of a public function and every field of a public dataclass there must stand in a table of
the page, in a column of names in code (written in backticks). Names of one letter are formula letters and
must stand there as well.
"""

import ast
import re
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PAGE = ROOT / "docs" / "nomenclature.md"
ROOMS = ("craft", "planning")
# Names with one plain meaning everywhere, of the language and not of the trade.
PLAIN = {"self", "cls"}


def names_on_page() -> set[str]:
    """Every name in backticks in a table row of the page."""
    found: set[str] = set()
    for line in PAGE.read_text(encoding="utf-8").splitlines():
        if line.startswith("|"):
            found.update(re.findall(r"`([A-Za-z_][A-Za-z0-9_]*)`", line))
    return found


def public_names(path: Path) -> list[tuple[str, str]]:
    """(where, name) of each public parameter and dataclass field of a module."""
    found: list[tuple[str, str]] = []
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            arguments = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
            found += [(node.name, a.arg) for a in arguments]
        elif isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            for item in node.body:
                if isinstance(item, ast.AnnAssign) and isinstance(item.target, ast.Name):
                    found.append((node.name, item.target.id))
    return found


def main() -> int:
    """Print every name that the page lacks."""
    known = names_on_page() | PLAIN
    missing: list[str] = []
    for room in ROOMS:
        for path in sorted((ROOT / "src" / "purfling" / room).rglob("*.py")):
            for where, name in public_names(path):
                if name not in known and not name.startswith("_"):
                    missing.append(
                        f"{path.relative_to(ROOT)}: {where}: {name} is not in docs/nomenclature.md"
                    )
    print("\n".join(missing) if missing else "nomenclature: complete")
    return 1 if missing else 0


if __name__ == "__main__":
    sys.exit(main())
