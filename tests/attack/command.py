"""One command in this process, with all that it says and leaves."""

import contextlib
import io
import re
import warnings
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final, Self

from shadecore.cli import main

from .judge import faults_of_message, live_cells

OLD: Final = b"what was there before\n"
"""What lies where a command is to write."""
_WELL, _REFUSED = (0, 1), 2
_LONG: Final = 300
_PREFIX: Final = re.compile(r"^shadecore(?: [\w-]+)*: (?:error: )?")
_BESIDE: Final = ("-wal", "-shm", "-journal")
_ENDS: Final = {".html": b"</html>", ".ics": b"END:VCALENDAR", ".pdf": b"%%EOF"}
"""How whole files end."""


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


class Quiet(contextlib.ExitStack):
    """What is printed and warned is kept and not shown."""

    def __enter__(self) -> Self:
        self.output, self.told = io.StringIO(), io.StringIO()
        self.enter_context(contextlib.redirect_stdout(self.output))
        self.enter_context(contextlib.redirect_stderr(self.told))
        self.warned: Any = self.enter_context(warnings.catch_warnings(record=True))
        warnings.simplefilter("always")
        super().__enter__()
        return self


def run_command(words: Sequence[str], folder: Path, out: str = "") -> Outcome:
    """Run a command and look at what it says and writes.

    Parameters
    ----------
    words : sequence of str
        The command line.
    folder : Path
        Where it reads and writes.
    out : str
        Name of what it writes: a file that is there before, or a book that is not.

    Returns
    -------
    Outcome
    """
    target = folder / out if out and not out.endswith(".sqlite") else None
    if target is not None:
        target.write_bytes(OLD)
    before = {each.name for each in folder.iterdir()}
    with Quiet() as quiet:
        try:
            status = main(list(words))
        except SystemExit as ended:
            status = ended.code if isinstance(ended.code, int) else -1
    output, told = quiet.output.getvalue(), quiet.told.getvalue()
    outcome = Outcome(shown=repr([each[:_LONG] for each in words]))
    outcome.messages = _messages(told, status, output)
    outcome.faults += [f"warns: {each.message}"[:_LONG] for each in quiet.warned]
    outcome.faults += _faults_of_end(status, output, told, target)
    left = left_behind(folder, before | {out})
    if left:
        outcome.faults.append(f"leaves {left}")
    return outcome


def _faults_of_end(
    status: int, output: str, told: str, target: Path | None
) -> Iterator[str]:
    if status in _WELL:
        if target is not None:
            yield from unwhole(target)
        return
    if status != _REFUSED:
        yield f"ends with status {status}: {told[:_LONG]}"
    if target is not None and target.read_bytes() != OLD:
        yield "refuses, and has written over what was there"
    if output.strip() and "usage" not in output:
        yield f"refuses, and prints {output[:_LONG]!r}"


def left_behind(folder: Path, known: set[str]) -> list[str]:
    """Files that nobody asked for.

    Parameters
    ----------
    folder : Path
        Where a command worked.
    known : set of str
        What should be there.

    Returns
    -------
    list of str
        Their names; what a book keeps beside itself on purpose is none of them.
    """
    return sorted(
        each.name
        for each in folder.iterdir()
        if each.name not in known and not _of_a_book(each.name)
    )


def _of_a_book(name: str) -> bool:
    kept = re.fullmatch(r"\w+\.sqlite(?:\..+|-wal|-shm|-journal)", name)
    return bool(kept) and not name.endswith(".part")


def unwhole(target: Path) -> list[str]:
    """What is wrong with a file that was written.

    Parameters
    ----------
    target : Path
        The file.

    Returns
    -------
    list of str
        Empty where it is whole and no cell of it is live.
    """
    content = target.read_bytes()
    if target.suffix == ".csv":
        cells = live_cells(content.decode("utf-8", "replace"))
        faults = [f"writes the live cell {cells[0]!r}"] if cells else []
        return faults if content.endswith(b"\n") else [*faults, "ends within a row"]
    if content == OLD or not content.rstrip().endswith(_ENDS.get(target.suffix, b"")):
        return [f"leaves {target.name} half-written"]
    return []


def _messages(told: str, status: int, output: str) -> tuple[str, ...]:
    """Sentences of what went to the error output, one a line."""
    lines = [each for each in told.split("\n") if each.strip()]
    if lines and lines[0].startswith("usage:"):
        # The parser's own way: what is wrong stands in the last line.
        return (f"{_PREFIX.sub('', lines[-1]).removesuffix('.')}.",)
    if status == _REFUSED and len(lines) > 1:
        return (_PREFIX.sub("", told.strip()),)
    if status == _REFUSED and not lines and not output:
        return ("",)
    return tuple(_PREFIX.sub("", each) for each in lines)
