"""``cups``: seconds of one flow cup in the others."""

import argparse
import json
import sys
from typing import Final

from shadecore.commands.status import ALL_WELL
from shadecore.pages.cups_page import cups_page
from shadecore.pages.text_layout import document_text
from shadecore.products.cups import find_cup, in_every_cup
from shadecore.units import UNITS

_DECIMALS: Final = 1


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "cups",
        help="seconds of a viscosity cup in other cups",
        description="Turns the seconds of a flow cup into those of other cups, by "
        "ISO 2431, ASTM D1200 and ASTM D4212.",
    )
    parser.add_argument("seconds", type=float, help="that the cup takes to run out")
    parser.add_argument(
        "--from",
        dest="by",
        required=True,
        metavar="CUP",
        help="such as iso4, ford4 or zahn2",
    )
    parser.add_argument(
        "--to", metavar="CUP", help="only this one; all of them unless given"
    )
    parser.add_argument("--units", choices=sorted(UNITS), default="metric")
    parser.add_argument("--json", action="store_true", help="answer for programs")
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    viscosity, readings = in_every_cup(options.seconds, find_cup(options.by))
    only = None if options.to is None else find_cup(options.to)
    if options.json:
        record = {
            "viscosity_mm2_s": round(viscosity, _DECIMALS),
            "cups": [
                {
                    "cup": each.cup.cup,
                    "seconds": round(each.seconds, _DECIMALS),
                    "measures": each.inside,
                }
                for each in readings
                if only in {None, each.cup}
            ],
        }
        sys.stdout.write(json.dumps(record, indent=2) + "\n")
        return ALL_WELL
    page = cups_page(viscosity, readings, options.units, only)
    sys.stdout.write(document_text(page))
    return ALL_WELL
