"""``wallchart``: a palette on the wall."""

import argparse
from pathlib import Path

from shadecore.coats.pick_many import pick_many
from shadecore.colour.colour_table import parse_colours
from shadecore.commands.options import add_common, job, report_bad
from shadecore.commands.posters import check_name, write_poster
from shadecore.formats.table import read_text
from shadecore.pages.wall_chart import wall_chart
from shadecore.units import UNITS


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "wallchart",
        help="a file of colours as a wall chart",
        description="Puts the coats of a file of colours (code,L,a,b) over each "
        "undercoat on a wall chart (.pdf or .html).",
    )
    parser.add_argument("colours", metavar="COLOURS", help="CSV with code,L,a,b")
    parser.add_argument(
        "--out", metavar="FILE", required=True, help="what to write: .pdf or .html"
    )
    parser.add_argument(
        "--units",
        choices=sorted(UNITS),
        default="metric",
        help="metric on A4 unless given; us on letter paper",
    )
    add_common(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    out = check_name(options.out)
    asked = job(options)
    colours = parse_colours(
        read_text(options.colours), Path(options.colours).name, asked.condition
    )
    candidates = asked.shelf + asked.blends
    picks = pick_many(colours.lab, candidates, asked.settings)
    poster = wall_chart(
        colours, candidates, picks, asked.settings, UNITS[options.units]
    )
    write_poster(poster, out, options.units)
    return max(
        report_bad(asked.bad, options.undercoats),
        report_bad(colours.bad, options.colours),
    )
