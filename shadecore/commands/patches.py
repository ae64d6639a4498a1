"""``patches``: one colour over several undercoats on one panel."""

import argparse
import sys

from shadecore.coats.estimate import likely_paints
from shadecore.coats.patches import compare_patches
from shadecore.coats.pick import pick
from shadecore.commands.options import (
    add_colour,
    add_common,
    job,
    paints_of,
    read_colour,
    report_bad,
)
from shadecore.errors import ShelfError
from shadecore.pages.blocks import Text
from shadecore.pages.details import sand_throughs_table
from shadecore.pages.text_layout import block_text
from shadecore.recipes.library import recipe_library
from shadecore.telling.hiding_words import sand_through_words


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
    library = recipe_library()
    paints = paints_of(fit) or likely_paints(topcoat, library)
    best = pick(topcoat, asked.shelf, asked.settings, paints=paints).recommended
    patches = compare_patches(
        paints,
        tuple(by_name[name] for name in options.area),
        best.undercoat,
        asked.settings,
        library.model,
    )
    words = Text(sand_through_words(patches, asked.settings.tolerance), "Sealing")
    sys.stdout.write(f"{block_text(words)}\n{block_text(sand_throughs_table(patches))}")
    return report_bad(asked.bad, options.undercoats)
