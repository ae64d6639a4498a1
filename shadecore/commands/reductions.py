"""``reductions``: one reduction against another."""

import argparse
import sys
from dataclasses import replace
from typing import Final

from shadecore.commands.ask_film import add_gun, parse_ratio, take_gun
from shadecore.commands.asks import (
    BOOK,
    CARD,
    COLOUR,
    CONDITION,
    SEEN,
    SHELF,
    SHOWN,
    TOLERANCE,
    Asked,
    Group,
    add_groups,
    asked,
    report_bad,
)
from shadecore.pages.details import mixes_table
from shadecore.pages.text_layout import block_text
from shadecore.question.answer import reductions_of
from shadecore.question.question import FilmAsked, Question
from shadecore.units import UNITS

_USUAL: Final = ["1:1", "2:1"]


def _add_gun(parser: argparse.ArgumentParser) -> None:
    group = parser.add_argument_group("gun and paint")
    add_gun(group)
    group.add_argument(
        "--card-film",
        type=float,
        metavar="UM",
        help="dry film of one coat on the card of --card; "
        f"{FilmAsked.dry_film_um:g} unless given",
    )


def _take_gun(options: argparse.Namespace, found: Asked) -> Asked:
    film = take_gun(options, found.question.film)
    if options.card_film is not None:
        film = replace(film, dry_film_um=options.card_film)
    return found._replace(question=replace(found.question, film=film))


_TAKES: Final = (
    COLOUR,
    CARD,
    SHELF,
    SEEN,
    TOLERANCE,
    # The film of a coat is each reduction's own, so it cannot be given here.
    Group(_add_gun, _take_gun),
    CONDITION,
    BOOK,
    SHOWN,
)


def add(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Put the command on the parser.

    Parameters
    ----------
    commands : argparse subparsers
        Where it goes.
    """
    parser = commands.add_parser(
        "reductions",
        aliases=["mixes"],
        help="one reduction against another",
        description="Sets reductions side by side: coats, film, paint, time, risk of "
        "runs.",
    )
    parser.add_argument(
        "--against",
        action="append",
        metavar="PAINT:REDUCER",
        help="a reduction to compare; 1:1 and 2:1 unless given",
    )
    parser.add_argument(
        "--minutes-per-coat",
        type=float,
        metavar="N",
        default=Question().rates.minutes_per_coat,
        help="spraying and flashing one coat; %(default)g unless given",
    )
    add_groups(parser, _TAKES)
    parser.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    question, bad, shelf_file = asked(options, _TAKES)
    rates = replace(question.rates, minutes_per_coat=options.minutes_per_coat)
    ratios = tuple(parse_ratio(text) for text in options.against or _USUAL)
    said = (options.wet, options.overlap, options.card_film, options.gun or None)
    by_gun = any(each is not None for each in said)
    found = reductions_of(replace(question, rates=rates), ratios, by_gun=by_gun)
    sys.stdout.write(block_text(mixes_table(found, UNITS[question.units])))
    return report_bad(bad, shelf_file)
