"""``chart``: undercoats for a file of colours."""

import argparse
import sys
from pathlib import Path
from typing import Final

from shadecore.coats.evidence import newest
from shadecore.colour.colour_file import parse_colour_file
from shadecore.commands.ask_seen import add_records, seen_by_row
from shadecore.commands.asks import (
    CONDITION,
    FILM,
    LEARNED,
    SHELF,
    TOLERANCE,
    add_groups,
    asked,
    report_bad,
)
from shadecore.commands.progress import bar
from shadecore.formats.table_writer import write_records
from shadecore.formats.text_file import open_text
from shadecore.formats.whole import write_whole
from shadecore.telling.chart_records import CHART_COLUMNS, chart_of_kinds
from shadecore.telling.seen import left_out_words

TAKES: Final = (SHELF, TOLERANCE, FILM, CONDITION, LEARNED)
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
        description="Picks sealers for a file of colours (code,L,a,b; or L15,a15,"
        "b15,... for effect colours, and kind).",
    )
    parser.add_argument(
        "colours", metavar="COLOURS", help="CSV with code,L,a,b (or angles, and kind)"
    )
    parser.add_argument("--out", metavar="FILE", help="CSV to write; else printed")
    parser.add_argument(
        "--every-undercoat",
        action="store_true",
        help="a row for each colour and sealer, best first",
    )
    add_records(parser)
    add_groups(parser, TAKES)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    question, bad, shelf_file = asked(options, TAKES)
    name = Path(options.colours).name
    every = parse_colour_file(open_text(options.colours), name, question.condition)
    seen = seen_by_row(options, question, every.colours)
    with bar("chart") as move:
        rows = chart_of_kinds(
            question,
            every,
            seen,
            every_undercoat=options.every_undercoat,
            progress=move,
        )
        text = write_records(CHART_COLUMNS, rows)
    for row, records in seen.items():
        counted = len(newest(records))
        code = every.colours.codes[row]
        fewer = left_out_words(counted, len(records) - counted, code)
        sys.stderr.write(f"shadecore: {fewer}\n" if fewer else "")
    if options.out:
        write_whole(Path(options.out), text.encode())
    else:
        sys.stdout.write(text)
    left_out = report_bad(every.colours.bad, options.colours)
    return max(report_bad(bad, shelf_file), left_out)
