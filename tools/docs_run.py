"""Run what README.md and docs/ show: every line that begins with ``purfling`` in a ``sh`` block must exit 0.

Links to files of the project inside the pages must point at something. Commands run in a scratch folder
that holds a copy of examples/.
"""

import re
import shlex
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PROGRAM = Path(sys.executable).parent / "purfling"


def pages() -> list[Path]:
    """README, CONTRIBUTING and every page under docs/."""
    return [ROOT / "README.md", ROOT / "CONTRIBUTING.md", *sorted((ROOT / "docs").rglob("*.md"))]


def commands(page: Path) -> list[str]:
    """The purfling lines of the page's sh blocks."""
    text = page.read_text(encoding="utf-8")
    found: list[str] = []
    for block in re.findall(r"```sh\n(.*?)```", text, re.S):
        for line in re.sub(r"\\\n\s*", " ", block).splitlines():
            bare = line.removeprefix("$ ").removeprefix(".venv/bin/").strip()
            if bare.startswith("purfling "):
                found.append(bare)
    return found


def dead_links(page: Path) -> list[str]:
    """Relative links of a page that point at nothing."""
    text = page.read_text(encoding="utf-8")
    targets = re.findall(r"\]\((?!https?:|#|mailto:)([^)#\s]+)", text)
    return [t for t in targets if not (page.parent / t).exists()]


def main() -> int:
    """Run and report."""
    wrong: list[str] = []
    ran = 0
    with tempfile.TemporaryDirectory() as scratch:
        shutil.copytree(ROOT / "examples", Path(scratch) / "examples")
        for page in pages():
            name = page.relative_to(ROOT)
            wrong += [f"{name}: dead link {t}" for t in dead_links(page)]
            for command in commands(page):
                words = shlex.split(command, comments=True)
                done = subprocess.run(
                    [str(PROGRAM), *words[1:]], cwd=scratch, capture_output=True, text=True, check=False
                )
                ran += 1
                if done.returncode != 0:
                    wrong.append(f"{name}: `{command}` exits {done.returncode}: {done.stderr.strip()[-300:]}")
    print("\n".join(wrong) if wrong else f"docs: {ran} commands ran, no dead link")
    return 1 if wrong or ran == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
