"""``purfling <command> SLIP.toml [--json] [-o DIR]``: exit 0 computed, 1 refused, 2 unknown command."""

import os
import sys
from importlib import import_module
from importlib.metadata import entry_points
from pathlib import Path
from typing import Any

from purfling import __version__
from purfling.cli.options import Parser
from purfling.cli.outcome import Outcome
from purfling.cli.registry import BOOK_COMMANDS, BOOK_GROUP, COMMANDS
from purfling.cli.writing import write_files
from purfling.craft.refusals import Refusal
from purfling.words import LANGUAGES, refusal_text

# Our matrices are small or sparse: a second thread of the linear algebra only waits for the first, and on a
# busy machine both wait for each other. Read when numpy is first imported, which commands do later.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")


def _language(asked: str | None) -> str:
    wanted = asked or os.environ.get("PURFLING_LANG", "en")
    if wanted not in LANGUAGES:
        raise Refusal("slips.bad_choice", field="--lang", value=wanted[:40], choices=", ".join(LANGUAGES))
    return wanted


def _overview() -> str:
    width = max(len(name) for name in (*COMMANDS, *BOOK_COMMANDS))
    lines = ["usage: purfling COMMAND [SLIP.toml] [--json] [-o DIR] [--lang en|de]", "", "commands:"]
    lines += [f"  {name.ljust(width)}  {line}" for name, (_, line) in COMMANDS.items()]
    lines += ["", "commands of the workshop's book:"]
    lines += [f"  {name.ljust(width)}  {line}" for name, line in BOOK_COMMANDS.items()]
    lines += ["", "purfling COMMAND --help tells its options."]
    return "\n".join(lines) + "\n"


def _command(name: str) -> tuple[Any, str]:
    """The module of a command and its line of help; one of the book is refused where there is no book."""
    if name in COMMANDS:
        return import_module(f"purfling.cli.commands.{COMMANDS[name][0]}"), COMMANDS[name][1]
    for point in entry_points(group=BOOK_GROUP, name=name):
        try:
            return point.load(), BOOK_COMMANDS[name]
        except ImportError:
            break
    raise Refusal("book.needs_book", command=name)


def _emit(outcome: Outcome, language: str, as_json: bool, out: str | None) -> None:
    from purfling.words.envelope import to_json

    text = to_json(outcome.answer, language) if as_json else outcome.plain(language)
    if out is not None and outcome.files:
        write_files(Path(out), outcome.files)
    sys.stdout.write(text if text.endswith("\n") else text + "\n")


def main(argv: list[str] | None = None) -> int:
    """Run one command; returns the exit code."""
    arguments = sys.argv[1:] if argv is None else argv
    if not arguments or arguments[0] in ("-h", "--help"):
        sys.stdout.write(_overview())
        return 0
    if arguments[0] == "--version":
        sys.stdout.write(f"purfling {__version__}\n")
        return 0
    name = arguments[0]
    if name not in COMMANDS and name not in BOOK_COMMANDS:
        sys.stderr.write(f"purfling: unknown command {name[:60]!r}; `purfling --help` lists them\n")
        return 2
    language = "en"
    try:
        language = _language(_asked_language(arguments))
        module, told = _command(name)
        parser = Parser(prog=f"purfling {name}", description=told, allow_abbrev=False)
        parser.add_argument("--json", action="store_true", help="print one JSON object")
        parser.add_argument("-o", "--out", metavar="DIR", help="write the pages into DIR")
        parser.add_argument("--lang", metavar="LANGUAGE", help="en or de")
        module.options(parser)
        args = parser.parse_args(arguments[1:])
        args.language = language
        _emit(module.run(args), language, args.json, args.out)
    except Refusal as refusal:
        sys.stderr.write(refusal_text(refusal, language) + "\n")
        return 1
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    return 0


def _asked_language(arguments: list[str]) -> str | None:
    for place, word in enumerate(arguments):
        if word == "--lang" and place + 1 < len(arguments):
            return arguments[place + 1]
        if word.startswith("--lang="):
            return word.removeprefix("--lang=")
    return None


if __name__ == "__main__":
    sys.exit(main())
