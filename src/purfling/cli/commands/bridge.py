"""``purfling bridge SLIP.toml``: mass, balance, what each cut does, lean."""

import sys
from argparse import ArgumentParser, Namespace

from purfling.cli.options import slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.reckonings.bridge.compute import compute
from purfling.reckonings.bridge.sentences import plain
from purfling.slips.reader import read_slip
from purfling.words import say


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)


def run(args: Namespace) -> Outcome:
    """Compute the bridge; the pages only when a folder is named."""

    def progress(name: str, number: int, total: int) -> None:
        line = say("bridge.progress", args.language, name=name, number=number, total=total)
        sys.stderr.write(line + "\n")
        sys.stderr.flush()

    slip = read_slip(slip_path(args.slip, "bridge"))
    case = compute(slip, progress)
    files: dict[str, bytes] = {}
    if args.out is not None:
        from purfling.papers.bridge_sheet.build import bridge_files

        files = bridge_files(case, args.language)
    return Outcome(case.answer, lambda language: plain(case, language), files)
