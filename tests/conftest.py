"""What all tests share: hypothesis without deadlines, the command line in process, the examples."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command line does, before numpy is imported

import pytest
from hypothesis import HealthCheck, settings

from purfling.cli.main import main

ROOT = Path(__file__).resolve().parent.parent
EXAMPLES = ROOT / "examples"


def pytest_configure() -> None:
    """Sentences are tested as they stand: compile what has changed."""
    subprocess.run([sys.executable, str(ROOT / "tools" / "catalogues.py"), "compile"], check=True)


settings.register_profile(
    "bench", deadline=None, suppress_health_check=[HealthCheck.too_slow], max_examples=60
)
settings.load_profile("bench")


@dataclass(frozen=True)
class Run:
    """What a command did: exit code, standard output, standard error."""

    code: int
    out: str
    err: str

    @property
    def answer(self) -> dict[str, Any]:
        """Standard output as the one JSON object."""
        assert self.code == 0, self.err
        found: dict[str, Any] = json.loads(self.out)
        return found


@pytest.fixture
def purfling(capsys: pytest.CaptureFixture[str]) -> Callable[..., Run]:
    """Run the command line in process: ``purfling("setup", path, "--json").answer``."""

    def run(*words: object) -> Run:
        capsys.readouterr()
        try:
            code = main([str(w) for w in words])
        except SystemExit as stop:
            code = int(stop.code or 0)
        said = capsys.readouterr()
        return Run(code, said.out, said.err)

    return run


@pytest.fixture
def write_slip(tmp_path: Path) -> Callable[[str], Path]:
    """Write a slip's text into a scratch folder and return its path."""

    def write(text: str, name: str = "slip.toml") -> Path:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return path

    return write
