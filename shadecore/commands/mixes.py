"""``mixes``: one reduction against another."""

import argparse
import sys

from shadecore.coats.mixes import compare_mixes
from shadecore.commands.options import (
    add_colour,
    add_common,
    job,
    overlap,
    paints_of,
    parse_ratio,
    read_colour,
    report_bad,
    wet_pass_um,
)
from shadecore.film.gun import mix_film
from shadecore.pages.details import mixes_table
from shadecore.pages.text_layout import block_text
from shadecore.units import UNITS

_USUAL = ["1:1", "2:1"]
_MINUTES_PER_COAT = 15.0


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "mixes",
        help="one reduction against another",
        description="Sets mixes side by side: coats, film, paint, time, risk of runs.",
    )
    add_colour(parser)
    parser.add_argument(
        "--against",
        action="append",
        metavar="PAINT:REDUCER",
        help="a mix to compare; 1:1 and 2:1 unless given",
    )
    parser.add_argument(
        "--minutes-per-coat",
        type=float,
        metavar="N",
        default=_MINUTES_PER_COAT,
        help="spraying and flashing one coat; %(default)g unless given",
    )
    add_common(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = job(options)
    topcoat, fit = read_colour(options, asked)
    mixes = tuple(
        mix_film(
            parse_ratio(text),
            wet_pass_um(options),
            overlap(options),
            options.solids / 100.0,
            options.transfer / 100.0,
        )
        for text in options.against or _USUAL
    )
    table = mixes_table(
        compare_mixes(
            topcoat,
            asked.shelf,
            asked.settings,
            mixes,
            options.minutes_per_coat,
            paints_of(fit),
        ),
        UNITS[options.units],
    )
    sys.stdout.write(block_text(table))
    return report_bad(asked.bad, options.undercoats)
