"""The same tests of the book on PostgreSQL: a server of Debian's packages, started for this test alone."""

import os
import pwd
import re
import shutil
import socket
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

pytestmark = pytest.mark.full
HERE = Path(__file__).resolve().parent
SERVERS = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))


def as_postgres(command: list[str]) -> list[str]:
    """PostgreSQL refuses to run as root."""
    return ["runuser", "-u", "postgres", "--", *command] if os.getuid() == 0 else command


@pytest.fixture
def server():
    """A fresh cluster in a scratch folder; yields its address."""
    if not SERVERS:
        pytest.skip("no PostgreSQL server on this machine (Debian: apt-get install postgresql)")
    tools = SERVERS[-1].parent
    folder = Path(tempfile.mkdtemp(prefix="purfling-pg-", dir="/tmp"))
    if os.getuid() == 0:
        shutil.chown(folder, "postgres")
    name = "postgres" if os.getuid() == 0 else pwd.getpwuid(os.getuid()).pw_name
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    data = folder / "data"

    def run(*words: str) -> None:
        subprocess.run(as_postgres([str(w) for w in words]), check=True, capture_output=True, cwd="/tmp")

    run(tools / "initdb", "-D", data, "-A", "trust", "-E", "UTF8", "--no-locale")
    run(
        tools / "pg_ctl", "-D", data, "-w", "-l", folder / "log",
        "-o", f"-p {port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={folder}", "start",
    )  # fmt: skip
    try:
        yield f"postgresql://{name}@127.0.0.1:{port}/postgres"
    finally:
        run(tools / "pg_ctl", "-D", data, "-m", "immediate", "stop")
        shutil.rmtree(folder, ignore_errors=True)


def test_the_book_stands_on_postgresql(server):
    done = subprocess.run(
        [
            sys.executable,
            "-m",
            "pytest",
            str(HERE),
            "-m",
            "not full and not browser",
            "-x",
            "-p",
            "no:xdist",
        ],
        capture_output=True,
        text=True,
        check=False,
        cwd=HERE.parents[1],
        env={**os.environ, "PURFLING_DATABASE_URL": server},
    )
    assert done.returncode == 0, done.stdout[-3000:]
    # the one that looks at SQLite's own settings
    assert re.search(r"\d+ passed, 1 skipped", done.stdout), done.stdout[-500:]
