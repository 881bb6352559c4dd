"""The book as it is served: http here, https with its own certificate on the network, the worker beside."""

import contextlib
import http.client
import os
import signal
import socket
import ssl
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import pytest

pytestmark = pytest.mark.full
PROGRAM = Path(sys.executable).parent / "purfling"


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@contextlib.contextmanager
def opened(tmp_path, *words):
    """The book served from a scratch folder; yields (port, what the terminal says)."""
    port = free_port()
    environment = {k: v for k, v in os.environ.items() if not k.startswith(("PURFLING", "DJANGO"))}
    with (tmp_path / "said.txt").open("w+") as said:
        process = subprocess.Popen(
            [str(PROGRAM), "open", "--book", str(tmp_path / "book"), "--port", str(port), *words],
            stdout=said,
            stderr=said,
            env=environment,
        )
        try:
            for _ in range(300):
                time.sleep(0.2)
                with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port), 1):
                    break
            time.sleep(1.0)
            yield port, (tmp_path / "said.txt").read_text(), process
        finally:
            process.send_signal(signal.SIGTERM)
            process.wait(30)


def get(url, context=None):
    try:
        with urllib.request.urlopen(url, timeout=20, context=context) as answer:
            return answer.status, answer.read().decode(), answer.headers
    except urllib.error.HTTPError as refused:
        return refused.code, refused.read().decode(), refused.headers


def children_of(pid: int) -> list[int]:
    lists = Path(f"/proc/{pid}/task").glob("*/children")
    return [int(p) for one in lists for p in one.read_text().split()]


def workers_of(pid: int) -> list[int]:
    """The worker processes among the children."""
    return [p for p in children_of(pid) if b"commands.worker" in Path(f"/proc/{p}/cmdline").read_bytes()]


def test_an_empty_book_shows_its_code_in_the_terminal_and_serves_this_machine(tmp_path):
    with opened(tmp_path) as (port, said, process):
        assert f"http://127.0.0.1:{port}" in said
        assert "One-time code" in said
        status, text, headers = get(f"http://127.0.0.1:{port}/")
        assert status == 200
        assert "First start" in text
        assert "default-src 'self'" in headers["Content-Security-Policy"]
        code = said.split("first start:")[1].split()[0]
        assert code not in text
        status, css, _ = get(f"http://127.0.0.1:{port}/static/shop/look.css")
        assert status == 200
        assert "--varnish" in css
        # the worker runs beside the server, and is started again when it was killed
        worker = workers_of(process.pid)
        assert len(worker) == 1
        os.kill(worker[0], signal.SIGKILL)
        time.sleep(4)
        again = workers_of(process.pid)
        assert len(again) == 1
        assert again != worker
    for place in ("secret.key", "book.sqlite3"):
        assert (tmp_path / "book" / place).exists()
    assert (tmp_path / "book" / "secret.key").stat().st_mode & 0o077 == 0


def test_on_the_network_it_speaks_https_with_its_own_certificate_and_no_http(tmp_path):
    with opened(tmp_path, "--lan") as (port, said, _process):
        assert "https://" in said
        assert "http://" not in said.replace("https://", "")
        trusted = ssl.create_default_context(cafile=tmp_path / "book" / "certificate.pem")
        status, text, headers = get(f"https://127.0.0.1:{port}/enter", trusted)
        assert status == 200
        assert "First start" in text
        cookies = headers.get_all("Set-Cookie") or []
        assert all("Secure" in c for c in cookies)
        with pytest.raises(urllib.error.URLError, match="certificate verify failed"):
            get(f"https://127.0.0.1:{port}/enter", ssl.create_default_context())
        with pytest.raises((OSError, http.client.HTTPException)):
            get(f"http://127.0.0.1:{port}/enter")
        print_of = said.split("SHA-256:")[1].split()[0]
        pem = (tmp_path / "book" / "certificate.pem").read_text()
        der = ssl.PEM_cert_to_DER_cert(pem)
        import hashlib

        assert hashlib.sha256(der).hexdigest().upper() == print_of.replace(":", "")
    assert (tmp_path / "book" / "certificate.key").stat().st_mode & 0o077 == 0


def test_a_foreign_host_name_is_refused(tmp_path):
    with opened(tmp_path) as (port, _said, _process):
        request = urllib.request.Request(f"http://127.0.0.1:{port}/enter", headers={"Host": "evil.example"})
        with pytest.raises(urllib.error.HTTPError, match="400"):
            urllib.request.urlopen(request, timeout=20)
