"""The words about what the shop has seen of a paint."""

import argparse
from collections.abc import Sequence
from dataclasses import replace

from shadecore.coats.seen import Seen
from shadecore.coats.seen_table import HOW_TO_SAY, Noted, parse_seen, parse_took
from shadecore.colour.colour_table import ColourList
from shadecore.errors import SettingError
from shadecore.formats.text_file import open_text
from shadecore.question.question import Question
from shadecore.undercoats.shelf import Shelf


def add_seen(parser: argparse.ArgumentParser) -> None:
    """Take what was seen of one colour.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command.
    """
    group = add_records(parser)
    group.add_argument(
        "--code",
        metavar="CODE",
        help="which colour of the file it is; not needed where the file has one only",
    )


def add_records(parser: argparse.ArgumentParser) -> "argparse._ArgumentGroup":
    """Take what was seen of any colour.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command.

    Returns
    -------
    argparse group
        The words, to add more to.
    """
    group = parser.add_argument_group("what the shop has seen of the paint")
    group.add_argument(
        "--took",
        action="append",
        default=[],
        metavar="COATS",
        help=f"{HOW_TO_SAY}; without a sealer as the data sheet says it; may be "
        "repeated",
    )
    group.add_argument(
        "--seen",
        metavar="FILE",
        help="CSV with code,source,undercoat,coats_low,coats_high,hid (and film_um, "
        "tolerance, undercoat_L)",
    )
    return group


def with_seen(options: argparse.Namespace, question: Question) -> Question:
    """A question with what was seen of its colour.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_seen`.
    question : Question
        The question; its shelf holds the undercoats that are named.

    Returns
    -------
    Question

    Raises
    ------
    ShadecoreError
        If a record cannot be used, or the file has several colours and none is named.
    """
    records = tuple(parse_took(text, question.shelf) for text in options.took)
    noted = seen_in_file(options, question.shelf)
    records += _of_one(noted, options.code, str(options.seen))
    return replace(question, seen=question.seen + records)


def seen_in_file(options: argparse.Namespace, shelf: Shelf) -> tuple[Noted, ...]:
    """Records of ``--seen``.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_records`.
    shelf : tuple of Undercoat
        What the undercoats may be.

    Returns
    -------
    tuple of Noted
        Empty without a file.

    Raises
    ------
    ShadecoreError
        If the file cannot be used.
    """
    if options.seen is None:
        return ()
    return parse_seen(open_text(options.seen), options.seen, shelf)


def seen_by_row(
    options: argparse.Namespace, question: Question, colours: ColourList
) -> dict[int, tuple[Seen, ...]]:
    """Records of the colours of a list, by their rows.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_records`.
    question : Question
        Its shelf holds the undercoats that are named.
    colours : ColourList
        The colours, which the records name by their codes.

    Returns
    -------
    dict of int to tuple of Seen
        What ``--took`` says counts for every colour.

    Raises
    ------
    ShadecoreError
        If a record cannot be used, or names no colour of the list.
    """
    said = tuple(parse_took(text, question.shelf) for text in options.took)
    noted = seen_in_file(options, question.shelf)
    unknown = next((each for each in noted if each.code not in colours.codes), None)
    if unknown is not None:
        message = (
            f"{options.seen} has a record of {unknown.code!r}, which is not among the "
            "colours; correct its code."
        )
        raise SettingError(message)
    found = {
        row: said + tuple(each.seen for each in noted if each.code == code)
        for row, code in enumerate(colours.codes)
    }
    return {row: records for row, records in found.items() if records}


def _of_one(noted: Sequence[Noted], code: str | None, name: str) -> tuple[Seen, ...]:
    codes = list(dict.fromkeys(each.code for each in noted))
    if code is None and len(codes) > 1:
        message = (
            f"{name} has records of {len(codes)} colours; say with --code which one is "
            "meant."
        )
        raise SettingError(message)
    if code is not None and noted and code not in codes:
        message = f"{name} has no record of {code!r}; check --code."
        raise SettingError(message)
    return tuple(each.seen for each in noted if code is None or each.code == code)
