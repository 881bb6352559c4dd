"""``purfling open``: bring the book up to date, start the worker and the server, and stay until stopped."""

import os
import signal
import subprocess
import sys
import threading
from argparse import ArgumentParser, Namespace
from pathlib import Path

from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer
from purfling.shop.commands import wake_book
from purfling.shop.commands.outcome import Said

BACK_AFTER = 1.0  # seconds until a worker that fell over is started again


def options(parser: ArgumentParser) -> None:
    """Which book, for whom, where."""
    parser.add_argument(
        "--book", metavar="DIR", help="folder of the book (default: book/shop, demo: book/demo)"
    )
    parser.add_argument("--demo", action="store_true", help="fill an empty book with an invented shop")
    parser.add_argument("--seed", default="purfling", help="seed of the invented shop")
    parser.add_argument("--lan", action="store_true", help="serve https on the local network")
    parser.add_argument("--host", default=None, help="address to serve on")
    parser.add_argument("--port", default="8000", help="port to serve on")


def _port(text: str) -> int:
    if not text.isdecimal() or not 1 <= int(text) <= 65535:
        raise Refusal("book.bad_port", value=text[:20])
    return int(text)


def prepare(args: Namespace) -> list[str]:
    """Migrate, fill or make the first code; returns what the terminal should say."""
    from django.core.management import call_command

    from purfling.shop.domain.shop import is_claimed, make_first_code

    call_command("migrate", verbosity=0, interactive=False)
    lines: list[str] = []
    if args.demo:
        from purfling.shop.demo.build import PHRASES, build_demo

        if not is_claimed():
            print("Filling the book with an invented shop ...", file=sys.stderr, flush=True)
            build_demo(seed=args.seed)
        lines += ["This is an invented shop. Come in as"]
        lines += [f"  {role}: {name}   pass phrase: {phrase}" for role, name, phrase in PHRASES]
    elif not is_claimed():
        code = make_first_code()
        lines += ["The shop has no owner yet. One-time code of the first start:", f"  {code}"]
    return lines


class Keeper:
    """Starts the worker again whenever it fell over, after its killed tasks were laid back."""

    def __init__(self, environment: dict[str, str]) -> None:
        self.environment = environment
        self.process: subprocess.Popen | None = None
        self.done = threading.Event()
        self.thread = threading.Thread(target=self._run, daemon=True)

    def start(self) -> None:
        """Start and watch."""
        self.thread.start()

    def _run(self) -> None:
        while not self.done.is_set():
            self.process = subprocess.Popen(
                [sys.executable, "-m", "purfling.shop.commands.worker"], env=self.environment
            )
            self.process.wait()
            self.done.wait(BACK_AFTER)

    def stop(self) -> None:
        """Stop for good."""
        self.done.set()
        if self.process is not None and self.process.poll() is None:
            self.process.terminate()
            try:
                self.process.wait(10)
            except subprocess.TimeoutExpired:
                self.process.kill()


def _serve(args: Namespace, host: str, port: int, tls: list[str]) -> list[str]:
    return [
        sys.executable,
        "-m",
        "granian",
        "--interface",
        "wsgi",
        "--host",
        host,
        "--port",
        str(port),
        "--workers",
        "1",
        "--blocking-threads",
        "4",
        "--log-level",
        "warning",
        *tls,
        "purfling.shop.wsgi:application",
    ]


def run(args: Namespace) -> Said:
    """Serve the book until the terminal stops it.

    Raises
    ------
    Refusal
        A bad port; an address beyond this machine without https.
    """
    port = _port(args.port)
    host = args.host or ("0.0.0.0" if args.lan else "127.0.0.1")
    if not args.lan and host not in ("127.0.0.1", "localhost", "::1"):
        raise Refusal("book.plain_http", host=host[:60])
    folder = Path(args.book or ("book/demo" if args.demo else "book/shop")).resolve()
    os.environ["PURFLING_BOOK"] = str(folder)
    os.environ["PURFLING_LAN"] = "1" if args.lan else "0"
    tls: list[str] = []
    where = [f"http://{host}:{port}"]
    if args.lan:
        from purfling.shop.commands.certificate import certificate_for, own_names

        names = own_names()
        os.environ["PURFLING_HOSTS"] = " ".join(names)
        cert, key, print_of = certificate_for(folder, names)
        tls = ["--ssl-certificate", str(cert), "--ssl-keyfile", str(key), "--ssl-protocol-min", "tls1.2"]
        where = [f"https://{n}:{port}" for n in names]
    wake_book()
    lines = prepare(args)
    print(
        "\n".join(["", "Purfling: the workshop is open at", *(f"  {w}" for w in where), *lines]), flush=True
    )
    if args.lan:
        print(f"Certificate of its own, SHA-256:\n  {print_of}", flush=True)
    print("Stop it with Ctrl-C.", flush=True)
    _stay(_serve(args, host, port, tls))
    return Said(Answer({"closed": True}), lambda language: "closed\n")


def _stay(command: list[str]) -> None:
    """Server and worker until a signal; both are stopped, nothing is left behind."""
    from django.db import connections

    connections.close_all()
    environment = dict(os.environ)
    keeper = Keeper(environment)
    server = subprocess.Popen(command, env=environment)

    def stop(signum: int, frame: object) -> None:
        server.terminate()

    signal.signal(signal.SIGTERM, stop)
    signal.signal(signal.SIGINT, stop)
    keeper.start()
    try:
        code = server.wait()
    finally:
        keeper.stop()
    if code not in (0, -signal.SIGTERM, -signal.SIGINT):
        raise Refusal("book.server_fell", code=code)
