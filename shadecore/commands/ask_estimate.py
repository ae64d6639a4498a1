"""The words about a shop's rates and its booth, and the documents that they lead to."""

import argparse
from typing import Final

from shadecore.errors import SettingError
from shadecore.job.estimate import ShopRates
from shadecore.job.plan import Plan
from shadecore.job.safety import Booth
from shadecore.pages.blocks import Document
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.estimate_page import estimate_page

_RATES: Final = {
    "hour_rate": ("N", "price of an hour of work, with --estimate"),
    "materials_percent": ("N", "added to the cans, for paper, tape and thinner"),
    "extras": ("N", "what else there is, such as parts and waste"),
    "tax_percent": ("N", "tax on all of it"),
    "took_hours": ("H", "hands-on time that the job took in the end"),
    "took_materials": ("N", "what its materials cost in the end"),
}
_BOOTH: Final = {
    "booth_m3": ("M3", "volume of the booth"),
    "booth_flow": ("M3/H", "air that its fan moves with the filters that are in"),
    "booth_clearance": ("MIN", "its measured clearance time"),
}


def add_estimate(parser: argparse.ArgumentParser) -> None:
    """Take a shop's rates and what it knows of its booth.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command.
    """
    group = parser.add_argument_group("the estimate, in the product sheet's currency")
    group.add_argument(
        "--estimate",
        action="store_true",
        help="write the estimate for a customer instead of the booth's sheet",
    )
    booth = parser.add_argument_group(
        "the booth; what is not known stands on the sheet"
    )
    for place, words in ((group, _RATES), (booth, _BOOTH)):
        for name, (metavar, help_text) in words.items():
            place.add_argument(
                f"--{name.replace('_', '-')}",
                type=float,
                metavar=metavar,
                help=help_text,
            )


def document_of(options: argparse.Namespace, plan: Plan) -> Document:
    """The sheet for the booth, or the estimate where that is asked for.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_estimate`.
    plan : Plan
        The plan.

    Returns
    -------
    Document

    Raises
    ------
    SettingError
        If words of one are given for the other.
    JobError
        If a number is out of range.
    """
    given = [name for name in _RATES if getattr(options, name) is not None]
    if not options.estimate:
        if given:
            message = (
                f"--{given[0].replace('_', '-')} is for the estimate; add --estimate."
            )
            raise SettingError(message)
        booth = Booth(options.booth_m3, options.booth_flow, options.booth_clearance)
        return booth_sheet(plan, booth)
    if options.hour_rate is None:
        message = "An estimate needs the price of an hour; give it as --hour-rate 60."
        raise SettingError(message)
    if options.took_materials is not None and options.took_hours is None:
        message = "Give what the job took in hours as well, as --took-hours 9.5."
        raise SettingError(message)
    rates = ShopRates(
        options.hour_rate,
        options.materials_percent or 0.0,
        options.extras or 0.0,
        options.tax_percent or 0.0,
    )
    return estimate_page(plan, rates, options.took_hours, options.took_materials)
