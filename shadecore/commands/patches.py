"""``patches``: one colour over several undercoats on one panel."""

import argparse
import sys

from shadecore.coats.pick import pick
from shadecore.coats.sand_throughs import compare_sand_throughs
from shadecore.commands.options import (
    add_colour,
    add_common,
    job,
    paints_of,
    read_colour,
    report_bad,
)
from shadecore.errors import ShelfError
from shadecore.pages.tables import as_text
from shadecore.telling.details import patches_table, patches_words
from shadecore.telling.text import block


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "patches",
        help="one colour over several undercoats at once",
        description="Follows a colour over areas with different undercoats, and says "
        "whether sealing first is cheaper.",
    )
    add_colour(parser)
    parser.add_argument(
        "--area",
        action="append",
        default=[],
        metavar="NAME",
        help="an undercoat on the shelf that lies bare; give two or more",
    )
    add_common(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = job(options)
    by_name = {each.name: each for each in asked.shelf}
    unknown = [name for name in options.area if name not in by_name]
    if unknown:
        message = f"{unknown[0]!r} is not on the shelf; it has {', '.join(by_name)}."
        raise ShelfError(message)
    topcoat, fit = read_colour(options, asked)
    answer = pick(topcoat, asked.shelf, asked.settings, paints=paints_of(fit))
    patches = compare_sand_throughs(
        answer.belief,
        tuple(by_name[name] for name in options.area),
        answer.recommended.undercoat,
        asked.settings,
    )
    table = patches_table(patches)
    words = patches_words(patches, asked.settings.tolerance)
    sys.stdout.write(
        f"{block('Patches', words)}\n\n{as_text(table)}\n{block('', table.note)}\n"
    )
    return report_bad(asked.bad, options.undercoats)
