"""The size budget: no module over 400 lines, no function over 60 lines, of src/ and tools/.

250 lines is the aim; the check ends at 400. Migrations and data files do not count.
"""

import ast
import sys
from pathlib import Path

MODULE_END = 400
FUNCTION_END = 60
ROOT = Path(__file__).resolve().parent.parent


def offenders(root: Path) -> list[str]:
    """One line for each module or function that is too long."""
    found: list[str] = []
    for path in sorted([*(root / "src").rglob("*.py"), *(root / "tools").rglob("*.py")]):
        if "migrations" in path.parts:
            continue
        text = path.read_text(encoding="utf-8")
        lines = text.count("\n")
        name = path.relative_to(root)
        if lines > MODULE_END:
            found.append(f"{name}: {lines} lines, the end is {MODULE_END}")
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
                length = (node.end_lineno or node.lineno) - node.lineno + 1
                if length > FUNCTION_END:
                    found.append(f"{name}: {node.name} has {length} lines, the end is {FUNCTION_END}")
    return found


if __name__ == "__main__":
    complaints = offenders(ROOT)
    print("\n".join(complaints) if complaints else "size budget: kept")
    sys.exit(1 if complaints else 0)
