"""``wallchart``: a palette on the wall."""

import argparse
from pathlib import Path
from typing import Final

from shadecore.colour.colour_table import parse_colours
from shadecore.commands.ask_seen import add_records, seen_by_row
from shadecore.commands.asks import SHOWN, add_groups, asked, report_bad
from shadecore.commands.chart import TAKES
from shadecore.commands.posters import check_name, write_poster
from shadecore.formats.text_file import open_text
from shadecore.pages.wall_chart import wall_chart
from shadecore.question.answer import answer_many
from shadecore.units import UNITS

_TAKES: Final = (*TAKES, SHOWN)


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
    add_records(parser)
    add_groups(parser, _TAKES)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    out = check_name(options.out)
    question, bad, shelf_file = asked(options, _TAKES)
    colours = parse_colours(
        open_text(options.colours), Path(options.colours).name, question.condition
    )
    poster = wall_chart(
        colours,
        question.shelf,
        answer_many(
            question, colours.lab, seen=seen_by_row(options, question, colours)
        ),
        question.settings,
        UNITS[question.units],
    )
    write_poster(poster, out, question.units)
    return max(report_bad(bad, shelf_file), report_bad(colours.bad, options.colours))
