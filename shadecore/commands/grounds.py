"""``grounds``: ground coats and tinted sealers for a colour that no grey hides."""

import argparse
import sys
from pathlib import Path

from shadecore.coats.estimate import likely_paints
from shadecore.coats.evidence import believe
from shadecore.coats.grounds import rank_grounds
from shadecore.colour.colour_table import DEMO_COLOURS, parse_colours
from shadecore.colour.topcoat import Topcoat
from shadecore.commands.options import (
    add_colour,
    add_common,
    job,
    paints_of,
    read_colour,
    report_bad,
)
from shadecore.datafiles import data_file
from shadecore.formats.table import read_text
from shadecore.pages.tables import as_text
from shadecore.recipes.library import recipe_library
from shadecore.telling.details import grounds_table
from shadecore.telling.text import block
from shadecore.units import UNITS


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
        description="Ranks undercoats, tinted sealers and ground coats of the shop's "
        "own colours by coats and paint.",
    )
    add_colour(parser)
    parser.add_argument(
        "--colours",
        metavar="FILE",
        help="the shop's own colours, CSV with code,L,a,b; else invented ones",
    )
    add_common(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = job(options)
    topcoat, fit = read_colour(options, asked)
    path = Path(options.colours or data_file(DEMO_COLOURS))
    colours = parse_colours(read_text(path), path.name, asked.condition)
    library = recipe_library()
    grounds = rank_grounds(
        believe(paints_of(fit) or likely_paints(topcoat, library), asked.settings),
        tuple(
            (code, Topcoat((float(lab[0]), float(lab[1]), float(lab[2])), code))
            for code, lab in zip(colours.codes, colours.lab, strict=True)
        ),
        asked.shelf,
        asked.settings,
        library,
    )
    table = grounds_table(grounds, UNITS[options.units])
    sys.stdout.write(f"{as_text(table)}\n{block('', table.note)}\n")
    return max(
        report_bad(asked.bad, options.undercoats),
        report_bad(colours.bad, options.colours),
    )
