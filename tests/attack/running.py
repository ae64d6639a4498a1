"""Damaged inputs one after another, with an eye on time and memory."""

import contextlib
import faulthandler
import hashlib
import os
import resource
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import Final, Self
from unittest.mock import patch

from shadecore.datafiles import data_file

from .command import run_command
from .doors import DOORS, RED
from .judge import MOST_CPU_S, MOST_MEMORY

_HANGS_S: Final = 900.0
"""Seconds after which a process says where it stands and ends, on a busy machine."""
_BYTES_OF_RUSAGE: Final = 1024 if sys.platform.startswith("linux") else 1
_TRACE: Final = 1500


@dataclass
class Report:
    """What a run found.

    Attributes
    ----------
    inputs, refused : Counter of str
        Inputs put to each door, and those with a message.
    faults : list of str
        What was not as it should be, with the words that bring it back.
    slowest_s : float
        Processor time of the slowest input, and its door.
    memory : int
        Most memory that the process held. [bytes]
    """

    inputs: Counter[str] = field(default_factory=Counter)
    refused: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)
    slowest_s: float = 0.0
    slowest: str = ""
    memory: int = 0

    def add(self, other: "Report") -> None:
        """Take in what another process found."""
        self.inputs += other.inputs
        self.refused += other.refused
        self.faults += other.faults
        self.memory = max(self.memory, other.memory)
        if other.slowest_s > self.slowest_s:
            self.slowest_s, self.slowest = other.slowest_s, other.slowest


def attack(
    seed: int, numbers: Sequence[int], doors: Sequence[str] = tuple(DOORS)
) -> Report:
    """Put damaged inputs to doors in turn.

    Parameters
    ----------
    seed : int
        Of the whole run.
    numbers : sequence of int
        Which inputs; the same seed and number give the same input.
    doors : sequence of str
        Names of the doors that take turns.

    Returns
    -------
    Report
    """
    report = Report()
    with Alone() as alone:
        _load(doors, alone.folder)
        for number in numbers:
            door = doors[number % len(doors)]
            _one(report, seed, number, door, alone.folder)
            if report.memory > MOST_MEMORY:
                break
    return report


def _load(doors: Sequence[str], folder: Path) -> None:
    """Load what the first input would wait for; work it out where nobody has yet."""
    if set(doors) & {"colours", "angles", "book's colours"}:
        angles = ("--at", "45", "35 0 -1.5", "--at", "110", "13 0 -2")
        run_command(["pick", "--kind", "metallic", *angles, "--no-mixing"], folder)
    if set(doors) & {"job", "products"}:
        sheet = ["--out", str(folder / "first.html")]
        run_command(["plan", str(data_file("demo-job.toml")), *sheet], folder)
        (folder / "first.html").unlink()
    run_command(["pick", *RED], folder)


def rng_of(seed: int, number: int, door: str) -> Random:
    """The randomness of one input.

    Parameters
    ----------
    seed, number : int
        Of the run and of the input.
    door : str
        Name of its door.

    Returns
    -------
    random.Random
    """
    digest = hashlib.sha256(f"{seed} {number} {door}".encode()).digest()
    return Random(int.from_bytes(digest[:8], "big"))  # noqa: S311 - nothing secret


def _one(report: Report, seed: int, number: int, door: str, work: Path) -> None:
    name = f"--seed {seed} --number {number} --door {door!r}"
    begun = time.process_time()
    with tempfile.TemporaryDirectory(dir=work) as folder:
        faulthandler.dump_traceback_later(_HANGS_S, exit=True)
        try:
            outcome = DOORS[door](rng_of(seed, number, door), Path(folder))
            faults = outcome.all_faults()
            report.refused[door] += bool(outcome.messages)
            faults = [f"{each}\n    {outcome.shown}" for each in faults]
        except BaseException:
            faults = [f"traceback: {traceback.format_exc()[-_TRACE:]}"]
        finally:
            faulthandler.cancel_dump_traceback_later()
    took = time.process_time() - begun
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * _BYTES_OF_RUSAGE
    if took > MOST_CPU_S:
        faults.append(f"takes {took:.1f} s of processor")
    if peak > MOST_MEMORY >= report.memory:
        faults.append(f"takes {peak / 1e6:.0f} MB")
    if took > report.slowest_s:
        report.slowest_s, report.slowest = took, name
    report.memory = peak
    report.inputs[door] += 1
    report.faults += [f"{name}: {each}" for each in faults]


class Alone(contextlib.ExitStack):
    """A folder of its own, and no book of the user's."""

    def __enter__(self) -> Self:
        self.folder = Path(self.enter_context(tempfile.TemporaryDirectory()))
        named = {"SHADECORE_BOOK": str(self.folder / "none.sqlite")}
        self.enter_context(patch.dict(os.environ, named))
        super().__enter__()
        return self


def said(report: Report) -> Iterator[str]:
    """A report in lines.

    Parameters
    ----------
    report : Report
        The report.

    Yields
    ------
    str
    """
    for door, count in report.inputs.items():
        yield f"{door:16} {count:6} inputs, {report.refused[door]:6} with a message"
    total = report.inputs.total()
    yield (
        f"{total} inputs, {report.refused.total()} with a message, "
        f"{len(report.faults)} faults; slowest {report.slowest_s:.2f} s of processor "
        f"({report.slowest}); at most {report.memory / 1e6:.0f} MB"
    )
