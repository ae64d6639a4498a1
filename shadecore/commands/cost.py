"""``cost``: what the wrong grey costs."""

import argparse
import sys
from dataclasses import fields, replace
from typing import Final

from shadecore.coats.cost import Rates
from shadecore.commands.asks import ONE_COLOUR, SHOWN, add_groups, asked, report_bad
from shadecore.pages.details import cost_table
from shadecore.pages.text_layout import block_text
from shadecore.question.answer import costs_of
from shadecore.units import UNITS

_TAKES: Final = (*ONE_COLOUR, SHOWN)
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
        help="what each sealer costs",
        description="Works out paint, time and money for each sealer.",
    )
    add_groups(parser, _TAKES)
    rates = parser.add_argument_group("rates", "Those not given are invented.")
    for field in fields(Rates):
        rates.add_argument(
            f"--{field.name.replace('_', '-')}",
            type=float,
            metavar="N",
            default=field.default,
            help=f"{_HELP[field.name]}; %(default)g unless given",
        )
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    question, bad, shelf_file = asked(options, _TAKES)
    rates = Rates(**{each.name: getattr(options, each.name) for each in fields(Rates)})
    found = costs_of(replace(question, rates=rates))
    sys.stdout.write(block_text(cost_table(found, UNITS[question.units])))
    return report_bad(bad, shelf_file)
