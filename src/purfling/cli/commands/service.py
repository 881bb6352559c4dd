"""``purfling service SLIP.toml -o OUT``: set-up card, bridge template, service report, service.json."""

from argparse import ArgumentParser, Namespace

from purfling.cli.options import number, slip_argument, slip_path
from purfling.cli.outcome import Outcome
from purfling.reckonings.service.compute import reckon_service
from purfling.reckonings.service.sentences import table
from purfling.slips.reader import read_slip
from purfling.words.envelope import to_json


def options(parser: ArgumentParser) -> None:
    """The options of the command."""
    slip_argument(parser)
    parser.add_argument("--print-scale", metavar="K", help="the printer's correction, e.g. 1.006")
    parser.add_argument("--evenings", action="store_true", help="the evenings of [shop] may be worked")


def run(args: Namespace) -> Outcome:
    """Reckon the service; with -o the papers are made as well."""
    scale = number(args.print_scale, "--print-scale", "", 0.9, 1.1)
    slip = read_slip(slip_path(args.slip, "service"))
    service = reckon_service(slip, args.evenings, args.language)
    files: dict[str, bytes] = {}
    if args.out is not None:
        from purfling.papers.bridge_template.build import template_files
        from purfling.papers.service_report.build import service_report
        from purfling.papers.setup_card.build import setup_card

        files["setup-card.pdf"] = setup_card(service, args.language)
        files.update(template_files(service, scale, args.language))
        files["service-report.pdf"] = service_report(service, args.language)
        files["service.json"] = to_json(service.answer, args.language).encode("utf-8")
    return Outcome(service.answer, lambda language: table(service, tuple(files), language), files)
