"""The words about how colours and the shelf were measured."""

import argparse

from shadecore.colour.condition import (
    ILLUMINANTS,
    OBSERVERS,
    SPECULAR,
    WORKING,
    Condition,
)


def add_condition(parser: argparse.ArgumentParser) -> None:
    """Take how colours were measured.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command.
    """
    group = parser.add_argument_group("how the colours and the shelf were measured")
    given = "%(default)s unless given"
    group.add_argument(
        "--illuminant", choices=ILLUMINANTS, default=WORKING.illuminant, help=given
    )
    group.add_argument(
        "--observer",
        type=int,
        choices=OBSERVERS,
        default=WORKING.observer,
        help=given,
    )
    group.add_argument(
        "--specular", choices=SPECULAR, default=WORKING.specular, help=given
    )


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
