"""``cost``: what each undercoat costs in paint, time and money."""

import argparse
import sys
from dataclasses import fields

from shadecore.coats.cost import Rates, costs
from shadecore.coats.pick import pick
from shadecore.commands.options import (
    add_colour,
    add_common,
    job,
    paints_of,
    read_colour,
    report_bad,
)
from shadecore.pages.details import cost_table
from shadecore.pages.text_layout import block_text
from shadecore.units import UNITS

_HELP = {
    "area_m2": "area to paint in m2",
    "topcoat_price_per_l": "price of a litre of ready-to-spray base coat",
    "sealer_ml_per_m2": "ready-to-spray sealer on a m2",
    "minutes_per_coat": "spraying and flashing one coat",
    "hourly_rate": "price of an hour",
}


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "cost",
        help="what each undercoat costs",
        description="Works out paint, time and money for each undercoat.",
    )
    add_colour(parser)
    rates = parser.add_argument_group("rates", "Those not given are invented.")
    for field in fields(Rates):
        rates.add_argument(
            f"--{field.name.replace('_', '-')}",
            type=float,
            metavar="N",
            default=field.default,
            help=f"{_HELP[field.name]}; %(default)g unless given",
        )
    add_common(parser)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    asked = job(options)
    rates = Rates(**{each.name: getattr(options, each.name) for each in fields(Rates)})
    topcoat, fit = read_colour(options, asked)
    answer = pick(
        topcoat,
        asked.shelf,
        asked.settings,
        blends=asked.blends,
        paints=paints_of(fit),
    )
    table = cost_table(costs(answer, rates), UNITS[options.units])
    sys.stdout.write(block_text(table))
    return report_bad(asked.bad, options.undercoats)
