"""Eight writers take numbers at once while some are killed: no gap, no double, nothing acknowledged lost."""

import os
import random
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

from tests.conftest import ROOT

WRITERS = 8


def _writer(*words: str) -> subprocess.Popen[str]:
    environment = {k: v for k, v in os.environ.items() if not k.startswith("PURFLING")}
    command = [sys.executable, "-m", "tests.shop.number_writer", *words]
    return subprocess.Popen(command, cwd=ROOT, env=environment, stdout=subprocess.PIPE, text=True)


def test_numbers_stay_gapless_under_eight_writers_and_kills(tmp_path: Path) -> None:
    folder = str(tmp_path / "book")
    said, _ = _writer("prepare", folder).communicate(timeout=120)
    visit = said.strip().splitlines()[-1]
    rng = random.Random(11)
    acknowledged: list[str] = []
    writers = [_writer("write", folder, visit, "9") for _ in range(WRITERS)]
    time.sleep(4.0)
    for victim in rng.sample(writers, 4):
        time.sleep(rng.uniform(0.05, 0.6))
        victim.kill()
    for writer in writers:
        out, _ = writer.communicate(timeout=120)
        acknowledged += out.split()
    files = list(Path(folder).glob("*.sqlite3"))
    assert len(files) == 1
    book = sqlite3.connect(files[0])
    kept = [row[0] for row in book.execute("select number from shop_issued order by year, run")]
    runs = [row[0] for row in book.execute("select run from shop_issued order by run")]
    (last,) = book.execute("select last from shop_numberrun").fetchone()
    histories = book.execute("select count(*) from shop_change where what = 'issued'").fetchone()[0]
    assert len(acknowledged) >= WRITERS
    assert runs == list(range(1, len(runs) + 1))
    assert last == len(runs) == histories
    assert len(set(acknowledged)) == len(acknowledged)
    assert set(acknowledged) <= set(kept)
