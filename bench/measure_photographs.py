"""Photographs: 5,000 in the book against the visit's page; a 12-megapixel picture with its copies.

Runs in a process of its own, because a process holds one book only.
"""

import hashlib
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from bench.report import Report

ROOT = Path(__file__).resolve().parent.parent
MANY, HERE, ROUNDS = 5_000, 40, 40
RATIO, SECONDS = 1.2, 1.5


def measure(report: Report) -> None:
    """Three rows."""
    child = [sys.executable, "-m", "bench.measure_photographs"]
    said = subprocess.run(child, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    found = json.loads(said.splitlines()[-1])
    report.add(f"visit page, {MANY} photographs in the book over {HERE}", found["visit"], RATIO, "times")
    report.add(f"chart page, {MANY} photographs in the book over {HERE}", found["chart"], RATIO, "times")
    report.add("12-megapixel picture: examined", found["examined"], None, "s")
    report.add("12-megapixel picture: both copies, in the background", found["copies"], SECONDS, "s")


def _wake(folder: Path) -> None:
    os.environ["PURFLING_BOOK"] = str(folder)
    os.environ["DJANGO_SETTINGS_MODULE"] = "purfling.shop.settings"
    import django

    django.setup()
    from django.conf import settings
    from django.core.management import call_command

    settings.ALLOWED_HOSTS = ["testserver", *settings.ALLOWED_HOSTS]
    call_command("migrate", verbosity=0, interactive=False)


def _photographs(row: object, n: int, seed: str, who: object) -> list:
    from purfling.shop.domain import clock
    from purfling.shop.models import Photograph

    return [
        Photograph(
            version=1,
            object_id=row.object_id,
            visit_object=row,
            view="front",
            sha256=hashlib.sha256(f"{seed} {i}".encode()).hexdigest(),
            kind="jpeg",
            size=1,
            width=4000,
            height=3000,
            look=f"{i:016x}",
            at=clock.now(),
            who=who,
            ready=True,
        )
        for i in range(n)
    ]


def _times(client: object, addresses: list[str]) -> list[float]:
    """The shortest time of each page [s], the pages taken in turn: other work of the machine stays out."""
    found: list[list[float]] = [[] for _ in addresses]
    for turn in range(ROUNDS + 5):
        for i, address in enumerate(addresses):
            begin = time.perf_counter()
            answer = client.get(address)
            if answer.status_code != 200:
                raise SystemExit(f"{address}: {answer.status_code}")
            if turn >= 5:
                found[i].append(time.perf_counter() - begin)
    return [min(f) for f in found]


def _pages() -> tuple[float, float]:
    from django.test import Client

    from purfling.shop.domain.mark import record_mark
    from purfling.shop.domain.object import add_object
    from purfling.shop.domain.player import add_player
    from purfling.shop.domain.shop import add_owner
    from purfling.shop.domain.survey import begin_survey
    from purfling.shop.domain.visit import book_visit, receive_visit
    from purfling.shop.models import Photograph

    who = add_owner(name="Ilse", phrase="a phrase of willow")
    player = add_player(who=who, name="Aschenbrand", town="Hollerau")
    rows = []
    for _ in range(50):
        thing = add_object(who=who, owner=player, family="violin", length_mm=355.0)
        visit = receive_visit(visit=book_visit(player=player, objects=[thing], who=who), who=who)
        rows.append(visit.rows.get())
    row = rows[0]
    survey = begin_survey(row=row, who=who)
    for i in range(25):
        record_mark(survey=survey, view="front", points=[[0.2, 0.03 * i]], kind="bump", who=who)
    Photograph.objects.bulk_create(_photographs(row, HERE, "here", who))
    client = Client()
    client.force_login(who, backend="django.contrib.auth.backends.ModelBackend")
    addresses = [f"/visit/{row.visit_id}", f"/survey/{survey.pk}"]
    before = _times(client, addresses)
    others = [r for r in rows if r.pk != row.pk]
    each = (MANY - HERE) // len(others) + 1
    for i, other in enumerate(others):
        Photograph.objects.bulk_create(_photographs(other, each, f"other {i}", who))
    after = _times(client, addresses)
    return after[0] / before[0], after[1] / before[1]


def _picture(folder: Path) -> Path:
    """4000 x 3000 px with the detail of a real picture: several megabytes of JPEG."""
    import numpy as np
    from PIL import Image

    dice = np.random.default_rng(1)
    grain = dice.normal(0, 9, (3000, 4000, 3))
    slow = np.asarray(
        Image.fromarray(dice.integers(60, 200, (40, 50, 3), dtype="uint8")).resize((4000, 3000)), float
    )
    path = folder / "picture.jpg"
    Image.fromarray(np.clip(slow + grain, 0, 255).astype("uint8")).save(path, quality=90)
    return path


def _copies(folder: Path) -> tuple[float, float]:
    from purfling.shop.copies import copies_of
    from purfling.shop.domain.photograph_file import examine

    path = _picture(folder)
    found: list[tuple[float, float]] = []
    for _ in range(3):
        begin = time.perf_counter()
        examine(path, path.name)
        middle = time.perf_counter()
        copies_of(path)
        found.append((middle - begin, time.perf_counter() - middle))
    return min(f[0] for f in found), min(f[1] for f in found)


def main() -> None:
    """The child's part: prints one JSON object."""
    folder = Path(tempfile.mkdtemp(prefix="purfling-bench-"))
    try:
        _wake(folder)
        examined, copies = _copies(folder)
        visit, chart = _pages()
        print(json.dumps({"visit": visit, "chart": chart, "examined": examined, "copies": copies}))
    finally:
        shutil.rmtree(folder, ignore_errors=True)


if __name__ == "__main__":
    main()
