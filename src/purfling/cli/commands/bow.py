"""``purfling bow SLIP.toml``: weight, balance, change, stick, hair, camber, and the wished lapping."""

from argparse import ArgumentParser, Namespace

from purfling.cli.commands.lapping import print_options, print_scale
from purfling.cli.options import slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.drawing.shapes import Drawing
from purfling.drawing.svg import to_svg
from purfling.papers.bow_sheet.build import bow_sheet
from purfling.papers.bow_strips.build import strip_files
from purfling.reckonings.bow.compute import BowCase, compute
from purfling.reckonings.bow.pictures import camber, reach, side, strip
from purfling.reckonings.bow.sentences import plain
from purfling.reckonings.lapping.compute import compute as compute_lapping
from purfling.reckonings.lapping.pictures import strip as handle_strip
from purfling.slips.reader import read_slip
from purfling.words.envelope import to_json


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)
    print_options(parser)


def _files(case: BowCase, args: Namespace, scale: float | None) -> dict[str, bytes]:
    language = args.language
    files = {
        "bow.json": to_json(case.answer, language).encode("utf-8"),
        "bow-sheet.pdf": bow_sheet(case, language, args.paper),
    }
    pictures: dict[str, Drawing | None] = {
        "bow-side": side(case, language),
        "bow-camber": camber(case, language),
        "bow-reach": reach(case, language),
    }
    for name, drawing in pictures.items():
        if drawing is not None:
            files[f"{name}.svg"] = to_svg(drawing).encode("utf-8")
    strips: dict[str, Drawing] = {}
    bent = strip(case, language)
    if bent is not None:
        strips["camber-strip"] = bent
    if case.slip.has("lapping") and case.slip.table("lapping").has("handle_mm"):
        strips["handle-strip"] = handle_strip(case.slip, compute_lapping(case.slip), language)
    if strips:
        files |= strip_files(strips, language, scale, args.paper, "bow-strips.pdf")
    return files


def run(args: Namespace) -> Outcome:
    """Reckon; with -o also the bow sheet, the drawings and the 1:1 strips."""
    scale = print_scale(args)
    case = compute(read_slip(slip_path(args.slip, "bow")))
    files = {} if args.out is None else _files(case, args, scale)
    return Outcome(case.answer, lambda language: plain(case, language), files)
