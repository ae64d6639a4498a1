"""``wallchart``: a palette on the wall."""

import argparse
from pathlib import Path
from typing import Final

from shadecore.colour.colour_file import parse_colour_file
from shadecore.commands.ask_book import kept_letterhead
from shadecore.commands.ask_seen import add_records, seen_by_row
from shadecore.commands.asks import SHOWN, add_groups, asked, report_bad
from shadecore.commands.chart import TAKES
from shadecore.commands.posters import check_name, write_poster
from shadecore.formats.text_file import open_text
from shadecore.pages.pdf_layout import PAPERS
from shadecore.pages.wall_chart import wall_chart
from shadecore.question.many_kinds import answer_kinds
from shadecore.units import UNITS

_PAPERS: Final = {each.lower(): each for each in PAPERS}
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
        description="Puts the coats of a file of colours (code,L,a,b; or L15,a15,"
        "b15,... for effect colours, and kind) over each sealer on a wall "
        "chart (.pdf or .html).",
    )
    parser.add_argument(
        "colours", metavar="COLOURS", help="CSV with code,L,a,b (or angles, and kind)"
    )
    parser.add_argument(
        "--out", metavar="FILE", required=True, help="what to write: .pdf or .html"
    )
    parser.add_argument(
        "--paper",
        choices=tuple(_PAPERS),
        help="of the PDF: a3 is twice as large as a4, to be read from across the room; "
        "unless given as the book of --book says, or --units",
    )
    add_records(parser)
    add_groups(parser, _TAKES)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    out = check_name(options.out)
    question, bad, shelf_file = asked(options, _TAKES)
    every = parse_colour_file(
        open_text(options.colours), Path(options.colours).name, question.condition
    )
    colours = every.colours
    picks, kinds = answer_kinds(
        question, every, seen_by_row(options, question, colours)
    )
    poster = wall_chart(
        colours,
        question.shelf,
        picks,
        question.settings,
        UNITS[question.units],
        kinds,
    )
    letterhead = kept_letterhead(options)
    usual = letterhead.paper_for(question.units)
    write_poster(poster, out, letterhead, _PAPERS.get(options.paper, usual))
    return max(report_bad(bad, shelf_file), report_bad(colours.bad, options.colours))
