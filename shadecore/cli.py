"""The command line.

Only the module of the command that is asked for is loaded, so that a pick need not wait
for what reads photos and lays out pages.
"""

import argparse
import contextlib
import io
import os
import re
import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from importlib.metadata import version
from typing import Any, Final, NoReturn

from shadecore.commands.status import (
    ALL_WELL,
    INTERRUPTED,
    NOT_WRITTEN,
    READER_GONE,
    SOME_ROWS_BAD,
    UNUSABLE,
)
from shadecore.errors import ShadecoreError, sentence
from shadecore.formats.echo import shown

_COMMANDS: Final = {
    "pick": "pick",
    "photo": "photo",
    "chart": "chart",
    "sand-throughs": "sand_throughs",
    "grounds": "grounds",
    "reductions": "reductions",
    "cost": "cost",
    "midcoats": "midcoats",
    "candy": "candy",
    "plan": "plan",
    "mix": "mix",
    "cups": "cups",
    "book": "book",
    "handout": "handout",
    "wallchart": "wallchart",
    "app": "app",
}
"""Modules of ``shadecore.commands`` by the commands they hold."""
_FORMER: Final = {"patches": "sand_throughs", "mixes": "reductions"}
"""Names that commands had before; they are still taken."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line.

    Parameters
    ----------
    arguments : sequence of str, optional
        Words after the program's name; those of the process unless given.

    Returns
    -------
    int
        0 when all is well, 1 when rows were left out, 2 when nothing could be done, 3
        when a file cannot be read or written, 130 when interrupted, 141 when the reader
        of the output closed it.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A terminal without the degree sign shows something else in its place.
            stream.reconfigure(errors="replace")
    words = list(sys.argv[1:] if arguments is None else arguments)
    try:
        options = _parser(words).parse_args([_unlike_an_option(word) for word in words])
        run: Callable[[argparse.Namespace], int] = options.run
        status = run(options)
        sys.stdout.flush()
        if status in {ALL_WELL, SOME_ROWS_BAD}:
            getattr(options, "afterwards", _nothing)()
    except ShadecoreError as error:
        return _told(str(error), UNUSABLE)
    except KeyboardInterrupt:
        return _told("Interrupted; nothing more was written.", INTERRUPTED)
    except BrokenPipeError:
        _drop_output()
        return READER_GONE
    except OSError as error:
        _drop_output()
        reason = (error.strerror or "the system gives no reason").lower()
        return _told(f"A file cannot be read or written: {reason}.", NOT_WRITTEN)
    return status


def _nothing() -> None:
    """What a command does after its answer where it was not told to keep it."""


def _drop_output() -> None:
    """Send what is still to be written nowhere: Python would complain as it ends."""
    # What stands in for the output in a notebook has no number to point away.
    with contextlib.suppress(io.UnsupportedOperation):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _told(sentence: str, status: int) -> int:
    print(f"shadecore: {sentence}", file=sys.stderr)
    return status


def _unlike_an_option(word: str) -> str:
    """Write -40,5 and -6e1, which look like options, with a true minus sign."""
    negative = r"^-(?=\d*,\d|\d[\d.]*e[-+]?\d)"
    return re.sub(negative, "\N{MINUS SIGN}", word, flags=re.IGNORECASE)


class _Parser(argparse.ArgumentParser):
    """A parser that refuses a word in one short sentence, without a type's name."""

    def __init__(self, **settings: Any) -> None:  # noqa: ANN401 - as its base takes them
        super().__init__(**settings)
        self.register("type", float, _number)
        self.register("type", int, _whole_number)

    def error(self, message: str) -> NoReturn:
        super().error(sentence(message))


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        message = f"{shown(text)} is not a number"
        raise argparse.ArgumentTypeError(message) from None


def _whole_number(text: str) -> int:
    try:
        return int(text)
    except ValueError:
        message = f"{shown(text)} is not a whole number"
        raise argparse.ArgumentTypeError(message) from None


def _parser(words: Sequence[str]) -> argparse.ArgumentParser:
    """The parser of the command that is asked for; of all where none is."""
    parser = _Parser(
        prog="shadecore",
        description="Picks the shade of the sealer under a refinish topcoat.",
    )
    parser.add_argument(
        "--version", action="version", version=f"shadecore {version('shadecore')}"
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    known = {**_COMMANDS, **_FORMER}
    asked = [known[word] for word in words[:1] if word in known]
    for module in asked or _COMMANDS.values():
        import_module(f"shadecore.commands.{module}").add(commands)
    return parser
