"""``chart``: undercoats for a file of colours."""

import argparse
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NoReturn

from tqdm import tqdm

from shadecore.coats.pick_many import pick_many
from shadecore.colour.colour_table import parse_colours
from shadecore.commands.options import add_common, job, report_bad
from shadecore.formats.table_writer import write_records
from shadecore.formats.text_file import open_text
from shadecore.formats.whole import write_whole
from shadecore.telling.records import CHART_COLUMNS, chart_rows


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
    add_common(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = job(options)
    colours = parse_colours(
        open_text(options.colours), Path(options.colours).name, asked.condition
    )
    candidates = asked.shelf + asked.blends
    # A bar is for people: none where the errors go to a file.
    with tqdm(total=100, unit="%", desc="chart", disable=None, leave=False) as bar:
        picks = pick_many(colours.lab, candidates, asked.settings, progress=_moves(bar))
    rows = chart_rows(
        colours,
        candidates,
        picks,
        asked.settings,
        every_undercoat=options.every_undercoat,
    )
    text = write_records(CHART_COLUMNS, rows)
    if options.out:
        write_whole(Path(options.out), text.encode())
    else:
        sys.stdout.write(text)
    return max(
        report_bad(asked.bad, options.undercoats),
        report_bad(colours.bad, options.colours),
    )


def _moves(bar: "tqdm[NoReturn]") -> Callable[[float], None]:
    def move(share: float) -> None:
        bar.update(100.0 * share - bar.n)

    return move
