"""The command line."""

import argparse
import io
import os
import re
import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from importlib.metadata import version

from shadecore.commands.options import ALL_WELL, UNUSABLE
from shadecore.errors import ShadecoreError

_COMMANDS = (
    "pick",
    "photo",
    "chart",
    "patches",
    "grounds",
    "mixes",
    "cost",
    "plan",
    "handout",
    "wallchart",
)
"""Modules of ``shadecore.commands``, in the order that the help lists them."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line.

    Parameters
    ----------
    arguments : sequence of str, optional
        Words after the program's name; those of the process unless given.

    Returns
    -------
    int
        0 when all is well, 1 when rows were left out, 2 when nothing could be done.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A terminal without the degree sign shows something else in its place.
            stream.reconfigure(errors="replace")
    words = sys.argv[1:] if arguments is None else arguments
    try:
        options = _parser(words).parse_args([_unlike_an_option(word) for word in words])
        run: Callable[[argparse.Namespace], int] = options.run
        status = run(options)
        sys.stdout.flush()
    except ShadecoreError as error:
        print(f"shadecore: {error}", file=sys.stderr)
        return UNUSABLE
    except BrokenPipeError:
        # The reader of our output has had enough; that is no error of ours.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return ALL_WELL
    return status


def _unlike_an_option(word: str) -> str:
    """Write -40,5, which looks like an option, with a true minus sign."""
    return re.sub(r"^-(?=\d*,\d)", "\N{MINUS SIGN}", word)


def _parser(words: Sequence[str]) -> argparse.ArgumentParser:
    """The parser; a command that is named is loaded alone, which halves its start."""
    parser = argparse.ArgumentParser(
        prog="shadecore",
        description="Picks the undercoat shade under a refinish topcoat.",
    )
    parser.add_argument(
        "--version", action="version", version=f"shadecore {version('shadecore')}"
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    named = tuple(each for each in _COMMANDS if words and each == words[0])
    for name in named or _COMMANDS:
        import_module(f"shadecore.commands.{name}").add(commands)
    return parser
