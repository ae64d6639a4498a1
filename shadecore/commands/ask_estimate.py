"""The words about a shop's rates and its booth, and the documents that they lead to."""

import argparse
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from shadecore.commands.ask_book import kept_rates
from shadecore.errors import SettingError
from shadecore.job.estimate import ShopRates
from shadecore.job.kinds import BOOTH
from shadecore.job.plan import Plan
from shadecore.job.safety import Booth
from shadecore.pages.blocks import Document
from shadecore.pages.booth_sheet import booth_sheet
from shadecore.pages.cautions_sheet import cautions_sheet
from shadecore.pages.estimate_page import estimate_page

_SHOP: Final = {
    "hour_rate": ("N", "price of an hour of work"),
    "materials_percent": ("N", "added to the cans, for paper, tape and thinner"),
    "extras": ("N", "what else there is, such as parts and waste"),
    "tax_percent": ("N", "tax on all of it"),
}
_FIELDS: Final = {
    "hour_rate": "hour",
    **{name: name for name in ("materials_percent", "extras", "tax_percent")},
}
"""The words, and what they are called in the rates."""
_WORDS: Final = {
    **_SHOP,
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
    group = parser.add_argument_group(
        "the estimate, in the product sheet's currency",
        "With --book or kept:NAME it begins with the rates that the book keeps.",
    )
    group.add_argument(
        "--estimate",
        action="store_true",
        help="write the estimate for a customer instead of the booth's sheet",
    )
    parser.add_argument(
        "--cautions",
        action="store_true",
        help="write the cautions sheet instead of the booth's: cautions and waste in "
        "full, VOC beside its limits, and what the plan rests on",
    )
    booth = parser.add_argument_group(
        "the booth; what is not known stands on the sheet"
    )
    _add_numbers(group, _WORDS)
    _add_numbers(booth, _BOOTH)


def add_rates(parser: argparse.ArgumentParser) -> None:
    """Take a shop's rates.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command.
    """
    about = "the rates, in the product sheet's currency"
    _add_numbers(parser.add_argument_group(about), _SHOP)


def _add_numbers(
    group: "argparse._ArgumentGroup", words: Mapping[str, tuple[str, str]]
) -> None:
    for name, (metavar, help_text) in words.items():
        group.add_argument(
            f"--{name.replace('_', '-')}", type=float, metavar=metavar, help=help_text
        )


def rates_of(options: argparse.Namespace, kept: ShopRates | None) -> ShopRates | None:
    """A shop's rates, by the words over those that it keeps.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_rates` or :func:`add_estimate`.
    kept : ShopRates or None
        What the shop keeps.

    Returns
    -------
    ShopRates or None
        None where nobody said what an hour costs.

    Raises
    ------
    JobError
        If a number is out of range.
    """
    told = {
        field: getattr(options, word)
        for word, field in _FIELDS.items()
        if getattr(options, word) is not None
    }
    if kept is not None:
        return replace(kept, **told)
    return ShopRates(**told) if "hour" in told else None


def documents_of(options: argparse.Namespace, plan: Plan) -> tuple[Document, ...]:
    """The sheet for the booth and the cautions sheet, or what is asked for instead.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_estimate`.
    plan : Plan
        The plan.

    Returns
    -------
    tuple of Document
        What a file holds, and then what a terminal shows with it.

    Raises
    ------
    SettingError
        If words of one are given for the other.
    JobError
        If a number is out of range.
    """
    given = [name for name in _WORDS if getattr(options, name) is not None]
    of_booth = [name for name in _BOOTH if getattr(options, name) is not None]
    if of_booth and (options.estimate or plan.request.place != BOOTH):
        word = f"--{of_booth[0].replace('_', '-')}"
        message = f"{word} is for the sheet of a job in a booth; leave it out."
        raise SettingError(message)
    if not options.estimate:
        if given:
            message = (
                f"--{given[0].replace('_', '-')} is for the estimate; add --estimate."
            )
            raise SettingError(message)
        booth = Booth(options.booth_m3, options.booth_flow, options.booth_clearance)
        cautions = cautions_sheet(plan, booth)
        return (cautions,) if options.cautions else (booth_sheet(plan, booth), cautions)
    if options.cautions:
        message = "Ask for one of --cautions and --estimate at a time."
        raise SettingError(message)
    rates = rates_of(options, kept_rates(options))
    if rates is None:
        message = (
            "An estimate needs the price of an hour; give it as --hour-rate 60, or "
            "keep it by 'shadecore book rates --hour-rate 60' and add --book."
        )
        raise SettingError(message)
    if options.took_materials is not None and options.took_hours is None:
        message = "Give what the job took in hours as well, as --took-hours 9.5."
        raise SettingError(message)
    page = estimate_page(plan, rates, options.took_hours, options.took_materials)
    return (page,)
