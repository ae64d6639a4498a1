"""``grounds``: ground coats and tinted sealers for a colour that no grey hides."""

import argparse
import sys
from pathlib import Path
from typing import Final

from shadecore.colour.colour_table import DEMO_COLOURS, parse_colours
from shadecore.commands.asks import ONE_COLOUR, SHOWN, add_groups, asked, report_bad
from shadecore.datafiles import data_file
from shadecore.formats.table import read_text
from shadecore.pages.details import grounds_table
from shadecore.pages.text_layout import block_text
from shadecore.question.answer import grounds_of
from shadecore.units import UNITS

_TAKES: Final = (*ONE_COLOUR, SHOWN)


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "grounds",
        help="ground coats for a colour that no grey hides",
        description="Ranks sealers, tinted sealers and ground coats of the shop's "
        "own colours by coats and paint.",
    )
    parser.add_argument(
        "--colours",
        metavar="FILE",
        help="the shop's own colours, CSV with code,L,a,b; else invented ones",
    )
    add_groups(parser, _TAKES)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    question, bad, shelf_file = asked(options, _TAKES)
    path = Path(options.colours or data_file(DEMO_COLOURS))
    colours = parse_colours(read_text(path), path.name, question.condition)
    ways = grounds_of(question, colours)
    sys.stdout.write(block_text(grounds_table(ways, UNITS[question.units])))
    return max(report_bad(bad, shelf_file), report_bad(colours.bad, options.colours))
