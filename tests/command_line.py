"""The command line as tests run it."""

import json
from typing import Any

import pytest

from shadecore.cli import main
from shadecore.datafiles import data_file
from shadecore.undercoats.shelf_table import demo_shelf

Captured = pytest.CaptureFixture[str]
RED = ("45", "60", "35")
WHITE, BLACK = demo_shelf()[0].name, demo_shelf()[-1].name
DEMO = str(data_file("demo-job.toml"))
LONGEST = len("shadecore: ") + 300


def run(capsys: Captured, *words: str, status: int = 0) -> str:
    """Run one command that says nothing on stderr, and give what it prints."""
    assert main(words) == status
    said = capsys.readouterr()
    assert said.err == ""
    return said.out


def refused(capsys: Captured, *words: str) -> str:
    """Run one command that cannot do anything, and give the sentence it says."""
    assert main(words) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("shadecore: ")
    assert said.err.count("\n") == 1
    assert said.err.endswith(".\n")
    assert "Traceback" not in said.err
    assert len(said.err.rstrip("\n")) <= LONGEST
    return said.err


def data(capsys: Captured, *words: str) -> Any:  # noqa: ANN401 - JSON is what it is
    """What a command answers to programs, which must hold no NaN or infinity."""

    def refuse(word: str) -> float:
        raise AssertionError(word)

    return json.loads(run(capsys, *words, "--json"), parse_constant=refuse)


def flat(text: str) -> str:
    """A text in one line."""
    return " ".join(text.split())
