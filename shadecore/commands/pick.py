"""``pick``: the undercoat for one colour."""

import argparse
import json
import sys

from shadecore.card.hiding_power import hiding_power
from shadecore.coats.pick import pick
from shadecore.commands.options import (
    add_colour,
    add_common,
    job,
    paints_of,
    read_colour,
    report_bad,
)
from shadecore.pages.answer_page import answer_page
from shadecore.pages.text_layout import document_text
from shadecore.recipes.library import recipe_library
from shadecore.telling.records import answer_record
from shadecore.units import UNITS


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "pick", help="one colour", description="Picks the undercoat for one colour."
    )
    add_colour(parser)
    parser.add_argument("--json", action="store_true", help="answer for programs")
    add_common(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = job(options)
    topcoat, fit = read_colour(options, asked)
    answer = pick(
        topcoat,
        asked.shelf,
        asked.settings,
        blends=asked.blends,
        paints=paints_of(fit),
    )
    power = None
    if fit is not None:
        power = hiding_power(
            fit.paints, asked.settings.film.volume_solids, recipe_library().model
        )
    if options.json:
        sys.stdout.write(json.dumps(answer_record(answer, power), indent=2) + "\n")
    else:
        page = answer_page(answer, UNITS[options.units], power)
        sys.stdout.write(document_text(page))
    return report_bad(asked.bad, options.undercoats)
