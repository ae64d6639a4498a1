"""One command in this process, with all that it says and leaves."""

import contextlib
import io
import re
import warnings
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from shadecore.cli import main

from .judge import faults_of_message, live_cells

_OLD: Final = b"what was there before\n"
_STATUS: Final = (0, 1, 2)
_LONG: Final = 300
_PREFIX: Final = re.compile(r"^shadecore(?: [\w-]+)*: (?:error: )?")


@dataclass
class Outcome:
    """What an input led to.

    Attributes
    ----------
    shown : str
        The input, for a report.
    messages : tuple of str
        Sentences that refuse something.
    faults : list of str
        What is not as it should be.
    """

    shown: str = ""
    messages: tuple[str, ...] = ()
    faults: list[str] = field(default_factory=list)

    def all_faults(self) -> list[str]:
        """What is not as it should be, the sentences among it."""
        said = [fault for each in self.messages for fault in faults_of_message(each)]
        return [*self.faults, *said]


def run_command(words: Sequence[str], folder: Path, out: str = "") -> Outcome:
    """Run a command and look at what it says and writes.

    Parameters
    ----------
    words : sequence of str
        The command line.
    folder : Path
        Where it reads and writes.
    out : str
        Name of what it writes, which may be there before.

    Returns
    -------
    Outcome
    """
    outcome = Outcome(shown=repr([each[:_LONG] for each in words]))
    target = folder / out
    old = bool(out) and not out.endswith(".sqlite")
    if old:
        target.write_bytes(_OLD)
    before = {each.name for each in folder.iterdir()}
    output, told = io.StringIO(), io.StringIO()
    with (
        contextlib.redirect_stdout(output),
        contextlib.redirect_stderr(told),
        warnings.catch_warnings(record=True) as warned,
    ):
        warnings.simplefilter("always")
        try:
            status = main(list(words))
        except SystemExit as ended:
            status = ended.code if isinstance(ended.code, int) else -1
    outcome.faults += [f"warns: {each.message}"[:_LONG] for each in warned]
    outcome.messages = _messages(told.getvalue(), status, output.getvalue())
    if status not in _STATUS:
        outcome.faults.append(f"ends with status {status}: {told.getvalue()[:_LONG]}")
    if status == _STATUS[-1]:
        if old and target.read_bytes() != _OLD:
            outcome.faults.append("refuses, and has written over what was there")
        if output.getvalue().strip() and "usage" not in output.getvalue():
            outcome.faults.append(f"refuses, and prints {output.getvalue()[:_LONG]!r}")
    elif old:
        outcome.faults += _unwhole(target)
    left = {each.name for each in folder.iterdir()} - before - {out}
    if out.endswith(".sqlite") or not out:
        left -= {f"{each}{end}" for each in (out, "book.sqlite") for end in _BESIDE}
        left = {each for each in left if not _kept_backup(each)}
    if left:
        outcome.faults.append(f"leaves {sorted(left)}")
    return outcome


_BESIDE: Final = ("-wal", "-shm", "-journal")


def _kept_backup(name: str) -> bool:
    """Whether it is a copy of a book that is kept on purpose."""
    return name.startswith(("book.sqlite.", "b.sqlite.")) and not name.endswith(".part")


def _messages(told: str, status: int, output: str) -> tuple[str, ...]:
    """Sentences of what went to the error output, one a line."""
    lines = [each for each in told.split("\n") if each.strip()]
    if lines and lines[0].startswith("usage:"):
        # The parser's own way: what is wrong stands in the last line.
        return (_ended(_PREFIX.sub("", lines[-1])),)
    if status == _STATUS[-1] and len(lines) > 1:
        return (_PREFIX.sub("", told.strip()),)
    if status == _STATUS[-1] and not lines and not output:
        return ("",)
    return tuple(_PREFIX.sub("", each) for each in lines)


def _ended(text: str) -> str:
    return text if text.endswith(".") else f"{text}."


def _unwhole(target: Path) -> list[str]:
    """What is wrong with a file that was written."""
    content = target.read_bytes()
    text = content.decode("utf-8", "replace")
    match target.suffix:
        case ".csv":
            cells = live_cells(text)
            return [f"writes the live cell {cells[0]!r}"] if cells else []
        case ".html":
            whole = text.rstrip().endswith("</html>")
        case ".ics":
            whole = text.rstrip().endswith("END:VCALENDAR")
        case _:
            whole = content != _OLD
    return [] if whole else [f"leaves {target.name} half-written"]
