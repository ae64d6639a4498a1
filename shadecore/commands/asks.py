"""Groups of words that commands take, and the question that they come to.

A command names the groups it uses, so that it takes no word that it would ignore.
"""

import argparse
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any, Final, NamedTuple

from shadecore.card.card_table import parse_card
from shadecore.coats.loading import default_loading
from shadecore.coats.settings import (
    DEFAULT_COAT_CAP,
    DEFAULT_TOLERANCE,
    DEFAULT_USUAL_COATS,
    TOLERANCES,
    parse_tolerance,
)
from shadecore.commands.ask_book import (
    add_book,
    first_question,
    kept_shelf,
)
from shadecore.commands.ask_colour import add_colour, with_colour
from shadecore.commands.ask_condition import add_condition, condition_of
from shadecore.commands.ask_film import KEPT, add_film, take_film
from shadecore.commands.ask_learned import with_book, with_learned
from shadecore.commands.ask_seen import add_seen, with_seen
from shadecore.commands.status import ALL_WELL, SOME_ROWS_BAD
from shadecore.formats.bad_rows import BadRow
from shadecore.formats.table import read_text
from shadecore.question.question import Mixing, Question
from shadecore.telling.seen import loading_words
from shadecore.undercoats.shelf_table import read_shelf
from shadecore.units import UNITS


class Asked(NamedTuple):
    """What a command was asked.

    Attributes
    ----------
    question : Question
        The question.
    bad : tuple of BadRow
        Rows of the shelf that were left out.
    shelf_file : str
        The file they stand in.
    """

    question: Question
    bad: tuple[BadRow, ...] = ()
    shelf_file: str = ""


class Group(NamedTuple):
    """Words that belong together.

    Attributes
    ----------
    add : callable
        Puts them on the parser of a command.
    take : callable
        Puts what they say into what is asked.
    """

    add: Callable[[argparse.ArgumentParser], None]
    take: Callable[[argparse.Namespace, Asked], Asked]


def add_groups(parser: argparse.ArgumentParser, groups: Sequence[Group]) -> None:
    """Put groups of words on the parser of a command.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of the command.
    groups : sequence of Group
        What it takes.
    """
    for group in groups:
        group.add(parser)


def asked(options: argparse.Namespace, groups: Sequence[Group]) -> Asked:
    """What the words of a command come to.

    Parameters
    ----------
    options : argparse.Namespace
        The words as given.
    groups : sequence of Group
        Those that were put on the parser.

    Returns
    -------
    Asked

    Raises
    ------
    ShadecoreError
        If one of them cannot be used.
    """
    found = Asked(first_question(options))
    # How colours were measured decides how all others are read, a kept colour brings
    # its whole question along, and records name undercoats on the shelf. What is kept
    # is what all the words came to.
    first_to_last = {CONDITION: 0, COLOUR: 1, SEEN: 3, BOOK: 4, LEARNED: 4}
    for group in sorted(groups, key=lambda each: first_to_last.get(each, 2)):
        found = group.take(options, found)
    return found


def report_bad(bad: Sequence[BadRow], name: str | None) -> int:
    """List the rows that were left out and say so in the exit status.

    Parameters
    ----------
    bad : sequence of BadRow
        The rows.
    name : str or None
        File they stand in.

    Returns
    -------
    int
        Exit status.
    """
    for row in bad:
        sys.stderr.write(f"shadecore: {name}, {row}\n")
    return SOME_ROWS_BAD if bad else ALL_WELL


def _take_colour(options: argparse.Namespace, found: Asked) -> Asked:
    return found._replace(question=with_colour(options, found.question))


def _add_card(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--card",
        metavar="FILE",
        help="readings of a test card: CSV with area,coats,L,a,b (or Y, or a spectrum)",
    )


def _take_card(options: argparse.Namespace, found: Asked) -> Asked:
    if options.card is None:
        return found
    condition = condition_of(options)
    card = parse_card(read_text(options.card), options.card, condition)
    return found._replace(question=replace(found.question, card=card))


def _add_units(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--units", choices=sorted(UNITS), help="metric unless given")


def _take_units(options: argparse.Namespace, found: Asked) -> Asked:
    return _with(found, units=options.units)


def _add_shelf(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--undercoats",
        metavar="FILE",
        help="your shelf: CSV with name,L (and a,b,price,unit), or name and a "
        "spectrum; or kept:NAME from the shop's book; else five invented greys",
    )


def _take_shelf(options: argparse.Namespace, found: Asked) -> Asked:
    if options.undercoats is None:
        return found
    if options.undercoats.startswith(KEPT):
        return _with(found, shelf=kept_shelf(options, options.undercoats))
    shelf, bad = read_shelf(options.undercoats, condition_of(options))
    return Asked(replace(found.question, shelf=shelf), bad, options.undercoats)


def _add_mixing(parser: argparse.ArgumentParser) -> None:
    group = parser.add_argument_group("mixing two sealers")
    group.add_argument(
        "--no-mixing",
        dest="mixing",
        action="store_false",
        default=None,
        help="do not look whether a mix of two sealers saves a coat",
    )
    group.add_argument(
        "--strength",
        type=float,
        metavar="TIMES",
        help="how many times its own volume the darker sealer counts for in a mix; 1 "
        "unless you measured one",
    )


def _take_mixing(options: argparse.Namespace, found: Asked) -> Asked:
    usual = found.question.mixing
    mixing = Mixing(
        usual.allowed if options.mixing is None else options.mixing,
        usual.strength if options.strength is None else options.strength,
    )
    return _with(found, mixing=mixing)


def _add_tolerance(parser: argparse.ArgumentParser) -> None:
    names = ", ".join(f"{name} ({value:g})" for name, (value, _) in TOLERANCES.items())
    group = parser.add_argument_group("what counts as hidden")
    group.add_argument(
        "--tolerance",
        help=f"CIEDE2000, or {names}; {DEFAULT_TOLERANCE:g} unless given",
    )
    group.add_argument(
        "--cap",
        type=int,
        help=f"coats counted at most; {DEFAULT_COAT_CAP} unless given",
    )
    group.add_argument(
        "--usual-coats",
        type=int,
        help="a colour that needs more is said to hide poorly; "
        f"{DEFAULT_USUAL_COATS} unless given",
    )


def _take_tolerance(options: argparse.Namespace, found: Asked) -> Asked:
    said = options.tolerance
    return _with(
        found,
        tolerance=None if said is None else parse_tolerance(said),
        coat_cap=options.cap,
        usual_coats=options.usual_coats,
    )


def _take_condition(options: argparse.Namespace, found: Asked) -> Asked:
    condition = condition_of(options)
    return found._replace(question=replace(found.question, condition=condition))


def _take_film(options: argparse.Namespace, found: Asked) -> Asked:
    return _with(found, film=take_film(options, found.question.film))


def _with(found: Asked, **given: Any) -> Asked:  # noqa: ANN401 - of different kinds
    """What is asked with what was given; None was not."""
    said = {name: value for name, value in given.items() if value is not None}
    return found._replace(question=replace(found.question, **said))


def _take_seen(options: argparse.Namespace, found: Asked) -> Asked:
    return found._replace(question=with_seen(options, found.question))


def _add_learned(parser: argparse.ArgumentParser) -> None:
    add_book(parser, what="")


def _take_learned(options: argparse.Namespace, found: Asked) -> Asked:
    question = with_learned(options, found.question)
    learned = loading_words(question.loading, default_loading())
    if learned:
        sys.stderr.write(f"shadecore: {learned}\n")
    return found._replace(question=question)


def _take_book(options: argparse.Namespace, found: Asked) -> Asked:
    return found._replace(question=with_book(options, found.question))


COLOUR: Final = Group(add_colour, _take_colour)
CARD: Final = Group(_add_card, _take_card)
SHELF: Final = Group(_add_shelf, _take_shelf)
MIXING: Final = Group(_add_mixing, _take_mixing)
TOLERANCE: Final = Group(_add_tolerance, _take_tolerance)
FILM: Final = Group(add_film, _take_film)
CONDITION: Final = Group(add_condition, _take_condition)
SEEN: Final = Group(add_seen, _take_seen)
BOOK: Final = Group(add_book, _take_book)
"""What the shop's book says and keeps."""
LEARNED: Final = Group(_add_learned, _take_learned)
"""What the shop's book says, for commands about many colours."""
SHOWN: Final = Group(_add_units, _take_units)
"""Units of what is shown."""
ONE_COLOUR: Final = (COLOUR, CARD, SHELF, SEEN, TOLERANCE, FILM, CONDITION, BOOK)
"""What every command about one colour takes."""
