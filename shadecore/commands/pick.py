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
from shadecore.telling.details import hiding_power_words
from shadecore.telling.records import answer_record
from shadecore.telling.text import answer_text, block
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
    if options.json:
        sys.stdout.write(json.dumps(answer_record(answer), indent=2) + "\n")
        return report_bad(asked.bad, options.undercoats)
    units = UNITS[options.units]
    sys.stdout.write(answer_text(answer, units))
    if fit is not None:
        power = hiding_power(fit.paints, asked.settings.film.volume_solids)
        sys.stdout.write(block("Card", hiding_power_words(power, units)) + "\n")
    return report_bad(asked.bad, options.undercoats)
