"""The README's picture is made by the program and fresh; its Python version is the project's."""

import tomllib
from collections.abc import Callable
from pathlib import Path

from tests.conftest import EXAMPLES, ROOT, Run


def test_pictures_are_fresh(purfling: Callable[..., Run], tmp_path: Path) -> None:
    assert purfling("setup", EXAMPLES / "violin.toml", "--wished", "-o", tmp_path).code == 0
    for name in ("bridge-view.svg", "side-view.svg"):
        assert (tmp_path / name).read_text() == (ROOT / "docs" / "pictures" / name).read_text(), name


def test_python_version_of_the_readme() -> None:
    needed = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["requires-python"]
    assert needed == ">=3.11"
    assert "Python 3.11" in (ROOT / "README.md").read_text()
