"""The words about how colours and the shelf were measured."""

import argparse
from typing import TYPE_CHECKING

from shadecore.colour.condition import (
    ILLUMINANTS,
    OBSERVERS,
    SPECULAR,
    WORKING,
    Condition,
)

if TYPE_CHECKING:
    from shadecore.book.told import Told


def add_condition(parser: argparse.ArgumentParser) -> None:
    """Take how colours were measured.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command.
    """
    group = parser.add_argument_group("how the colours and the shelf were measured")
    given = "%(default)s unless given"
    _add(group, given, WORKING)


def add_told(parser: argparse.ArgumentParser) -> None:
    """Take how colours of a file were measured that may say it itself.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command.
    """
    group = parser.add_argument_group(
        "how the colours were measured, where the file does not say it"
    )
    _add(group, "of a table D65, 10 and excluded unless given", None)


def _add(group: "argparse._ArgumentGroup", given: str, usual: Condition | None) -> None:
    group.add_argument(
        "--illuminant",
        choices=ILLUMINANTS,
        default=usual and usual.illuminant,
        help=given,
    )
    group.add_argument(
        "--observer",
        type=int,
        choices=OBSERVERS,
        default=usual and usual.observer,
        help=given,
    )
    group.add_argument(
        "--specular",
        choices=SPECULAR,
        default=usual and usual.specular,
        help=given,
    )


def told_of(options: argparse.Namespace) -> "Told":
    """What is said of how colours of a file were measured.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_told`.

    Returns
    -------
    Told
    """
    from shadecore.book.told import Told  # noqa: PLC0415 - of a room few commands need

    return Told(options.illuminant or "", options.observer or 0, options.specular or "")


def condition_of(options: argparse.Namespace) -> Condition:
    """How colours were measured.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_condition`.

    Returns
    -------
    Condition
    """
    return Condition(options.illuminant, options.observer, options.specular)
