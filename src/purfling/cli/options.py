"""Options that refuse a bad value with one sentence and exit 1 (argparse alone would exit 2)."""

import math
from argparse import ArgumentParser
from pathlib import Path
from typing import NoReturn

from purfling.craft.refusals import Refusal


class Parser(ArgumentParser):
    """An ArgumentParser whose complaints are refusals: unknown options and commands exit 2, all else 1."""

    def error(self, message: str) -> NoReturn:
        if message.startswith("unrecognized arguments"):
            self.exit(2, f"{self.prog}: {' '.join(message.split())[:240]}\n")
        raise Refusal("cli.usage", command=self.prog, reason=message)


def number(
    text: str | None,
    option: str,
    unit: str,
    low: float | None = None,
    high: float | None = None,
    above: float | None = None,
) -> float | None:
    """The number of an option, or None where it is not given.

    Raises
    ------
    Refusal
        Not a finite number, or outside [low, high] or not above ``above`` (all in ``unit``).
    """
    if text is None:
        return None
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise Refusal("slips.not_a_number", field=option, value=text[:40], unit=unit or "1")
    shown = {"field": option, "value": f"{value:g}", "unit": unit}
    if above is not None and value <= above:
        raise Refusal("slips.not_above", limit=f"{above:g}", **shown)
    if low is not None and value < low:
        raise Refusal("cli.option_below", limit=f"{low:g}", **shown)
    if high is not None and value > high:
        raise Refusal("cli.option_above", limit=f"{high:g}", **shown)
    return value


def whole(text: str | None, option: str, low: int, high: int) -> int | None:
    """The whole number of an option, or None where it is not given."""
    value = number(text, option, "", low, high)
    if value is None:
        return None
    if value != int(value):
        raise Refusal("cli.not_whole", field=option, value=text)
    return int(value)


def slip_argument(parser: ArgumentParser) -> None:
    """The SLIP.toml argument; ``slip_path`` refuses its absence with exit 1."""
    parser.add_argument("slip", nargs="?", metavar="SLIP.toml", help="the slip")


def slip_path(given: str | None, command: str) -> Path:
    """The path of the slip that was named."""
    if given is None:
        raise Refusal("cli.no_slip", command=f"purfling {command}")
    return Path(given)
