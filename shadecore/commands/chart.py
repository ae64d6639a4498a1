"""``chart``: undercoats for a file of colours."""

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final, NoReturn

from tqdm import tqdm

from shadecore.colour.colour_table import parse_colours
from shadecore.commands.ask_seen import add_records, seen_by_row
from shadecore.commands.asks import (
    CONDITION,
    FILM,
    SHELF,
    TOLERANCE,
    add_groups,
    asked,
    report_bad,
)
from shadecore.formats.table_writer import write_records
from shadecore.formats.text_file import open_text
from shadecore.formats.whole import write_whole
from shadecore.question.answer import answer_many
from shadecore.telling.records import CHART_COLUMNS, chart_rows

TAKES: Final = (SHELF, TOLERANCE, FILM, CONDITION)
"""What every command about a file of colours takes."""


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "chart",
        help="a file of colours",
        description="Picks undercoats for a file of colours (code,L,a,b).",
    )
    parser.add_argument("colours", metavar="COLOURS", help="CSV with code,L,a,b")
    parser.add_argument("--out", metavar="FILE", help="CSV to write; else printed")
    parser.add_argument(
        "--every-undercoat",
        action="store_true",
        help="a row for each colour and undercoat, best first",
    )
    add_records(parser)
    add_groups(parser, TAKES)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    question, bad, shelf_file = asked(options, TAKES)
    colours = parse_colours(
        open_text(options.colours), Path(options.colours).name, question.condition
    )
    # A bar is for people: none where the errors go to a file.
    with tqdm(total=100, unit="%", desc="chart", disable=None, leave=False) as bar:
        seen = seen_by_row(options, question, colours)
        picks = answer_many(question, colours.lab, _moves(bar), seen)
    rows = chart_rows(
        colours,
        question.shelf,
        picks,
        question.settings,
        every_undercoat=options.every_undercoat,
    )
    text = write_records(CHART_COLUMNS, rows)
    if options.out:
        write_whole(Path(options.out), text.encode())
    else:
        sys.stdout.write(text)
    return max(report_bad(bad, shelf_file), report_bad(colours.bad, options.colours))


def _moves(bar: "tqdm[NoReturn]") -> Callable[[float], None]:
    def move(share: float) -> None:
        bar.update(100.0 * share - bar.n)

    return move
