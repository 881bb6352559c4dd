"""``purfling lapping``: turns, wire to cut, mass, underlay and the shift of the balance."""

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import Any

from purfling.cli.options import number, slip_argument
from purfling.cli.outcome import Outcome
from purfling.craft.bow.wire import checked_diameter
from purfling.craft.refusals import Refusal
from purfling.drawing.strips import PAPERS
from purfling.papers.bow_strips.build import strip_files
from purfling.reckonings.lapping.compute import compute
from purfling.reckonings.lapping.pictures import strip
from purfling.reckonings.lapping.sentences import plain
from purfling.slips.reader import Slip, check_slip, read_slip

# option -> (key of [lapping], unit, low, high)
_NUMBERS: dict[str, tuple[str, str, float, float]] = {
    "length": ("length_mm", "mm", 5, 300),
    "handle": ("handle_mm", "mm", 4, 15),
    "handle_end": ("handle_end_mm", "mm", 4, 15),
    "width": ("width_mm", "mm", 0.01, 10),
    "density": ("density_kg_m3", "kg/m3", 300, 23000),
    "tails": ("tails_mm", "mm", 0, 2000),
    "sheet": ("sheet_mm", "mm", 0.005, 1),
}


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)
    parser.add_argument("--wire", metavar="MM", help="diameter of the wire in mm, with decimals")
    parser.add_argument("--length", metavar="MM", help="length of the lapping along the stick")
    parser.add_argument("--handle", metavar="MM", help="diameter under it (across flats of an octagon)")
    parser.add_argument("--handle-end", metavar="MM", help="diameter under its other end")
    parser.add_argument("--octagonal", action="store_true", help="the handle is octagonal")
    parser.add_argument("--material", metavar="NAME", help="silver, sterling, nickel_silver, silk, ...")
    parser.add_argument("--width", metavar="MM", help="width of a flat strip")
    parser.add_argument("--density", metavar="KG_M3", help="density instead of the table's")
    parser.add_argument("--tails", metavar="MM", help="both tails together")
    parser.add_argument("--sheet", metavar="MM", help="thickness of one sheet of underlay paper")
    print_options(parser)


def print_options(parser: ArgumentParser) -> None:
    """The options of the 1:1 strips."""
    parser.add_argument("--print-scale", metavar="X", help="printer's correction of the 1:1 strips")
    parser.add_argument("--paper", metavar="NAME", default="a4", help="a4 or us-letter")


def print_scale(args: Namespace) -> float | None:
    """The printer's correction, or None where the printer is not calibrated."""
    if args.paper not in PAPERS:
        raise Refusal("slips.bad_choice", field="--paper", value=args.paper[:40], choices=", ".join(PAPERS))
    return number(args.print_scale, "--print-scale", "", 0.9, 1.1)


def _wire(text: str) -> float:
    value = number(text, "--wire", "mm")
    assert value is not None
    return checked_diameter(value, "." in text or value != int(value), "--wire")


def _given(args: Namespace) -> dict[str, Any]:
    found: dict[str, Any] = {}
    if args.wire is not None:
        found["wire_mm"] = _wire(args.wire)
    for option, (key, unit, low, high) in _NUMBERS.items():
        value = number(getattr(args, option), f"--{option.replace('_', '-')}", unit, low, high)
        if value is not None:
            found[key] = value
    if args.material is not None:
        found["material"] = args.material
    if args.octagonal:
        found["octagonal"] = True
    return found


def _merged(args: Namespace) -> Slip:
    """The slip with the options laid over its [lapping]."""
    slip = read_slip(Path(args.slip)) if args.slip else check_slip({})
    own = dict(slip.tables.get("lapping", {}))
    given = _given(args)
    # What was weighed of another wire or another length weighs nothing here.
    if given.keys() - {"tails_mm", "sheet_mm"}:
        own.pop("mass_g", None)
    if given.keys() & {"wire_mm", "width_mm", "material", "density_kg_m3"}:
        own.pop("g_per_m", None)
    if "material" in given and "density_kg_m3" not in given:
        own.pop("density_kg_m3", None)
    return Slip({**slip.tables, "lapping": {**own, **given}}, slip.name, slip.folder)


def run(args: Namespace) -> Outcome:
    """Reckon; with -o also the 1:1 strip of the handle."""
    scale = print_scale(args)
    slip = _merged(args)
    case = compute(slip)
    files: dict[str, bytes] = {}
    if args.out is not None:
        strips = {"handle-strip": strip(slip, case, args.language)}
        files = strip_files(strips, args.language, scale, args.paper, "lapping-strip.pdf")
    return Outcome(case.answer, lambda language: plain(case, language), files)
