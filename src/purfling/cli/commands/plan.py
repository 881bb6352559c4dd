"""``purfling plan LOAD.json``: who does what when, while varnish dries and glue sets."""

import sys
import time
from argparse import ArgumentParser, Namespace
from pathlib import Path

from purfling.cli.options import number, whole
from purfling.cli.outcome import Outcome
from purfling.craft.refusals import Refusal
from purfling.planning.solve import Asked, Report
from purfling.reckonings.plan.compute import compute
from purfling.reckonings.plan.sentences import plain
from purfling.slips.load import read_load
from purfling.slips.old_plan import read_old_plan
from purfling.words import say

SECONDS = 10.0
MOVE_PRICE_HOURS = 8.0


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    parser.add_argument("load", nargs="?", metavar="LOAD.json", help="the load")
    parser.add_argument("--seconds", metavar="N", help=f"time for the plan [s] (default {SECONDS:g})")
    parser.add_argument("--evaluations", metavar="N", help="trials instead of time: the same plan every time")
    parser.add_argument("--evenings", action="store_true", help="the evenings of the load may be worked")
    parser.add_argument(
        "--from", dest="old", metavar="OLD.json", help="the plan before; moving it has a price"
    )
    parser.add_argument(
        "--move-price-hours",
        metavar="H",
        help=f"weighted lateness that moving one piece must save (default {MOVE_PRICE_HOURS:g})",
    )


def _progress(language: str) -> Report:
    """Lines on standard error: the first plan, then one each second in which it became better."""
    last = [-1e9, float("inf")]

    def report(cost: float, trials: int, seconds: float) -> None:
        now = time.perf_counter()
        if trials and (now - last[0] < 1.0 or cost >= last[1]):
            return
        last[:] = [now, cost]
        sys.stderr.write(
            say("plan.progress", language, seconds=f"{seconds:.2f}", late=f"{cost:.0f}", trials=trials) + "\n"
        )

    return report


def run(args: Namespace) -> Outcome:
    """Read the load, plan it, answer."""
    if args.load is None:
        raise Refusal("plan.no_load")
    seconds = number(args.seconds, "--seconds", "s", 0, 86_400)
    evaluations = whole(args.evaluations, "--evaluations", 0, 1_000_000_000)
    if seconds is not None and evaluations is not None:
        raise Refusal("plan.seconds_and_evaluations")
    price = number(args.move_price_hours, "--move-price-hours", "h", 0, 100_000)
    if evaluations is None and seconds is None:
        seconds = SECONDS
    load = read_load(Path(args.load), args.evenings)
    if args.old is not None:
        read_old_plan(Path(args.old))
        raise Refusal("plan.from_not_yet")
    asked = Asked(
        seconds=seconds,
        evaluations=evaluations,
        use_evenings=args.evenings,
        old=None,
        move_price=60.0 * (MOVE_PRICE_HOURS if price is None else price),
    )
    case = compute(load, asked, _progress(args.language))
    return Outcome(case.answer, lambda language: plain(case, language))
