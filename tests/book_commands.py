"""What the tests of the book on the command line share."""

import json
from typing import Any

import pytest

from shadecore.cli import main
from shadecore.undercoats.shelf_table import demo_shelf

Captured = pytest.CaptureFixture[str]
RED = ("45", "60", "35")
WHITE = demo_shelf()[0].name


def run(capsys: Captured, *words: str, status: int = 0) -> str:
    assert main(words) == status
    return capsys.readouterr().out


def data(capsys: Captured, *words: str) -> Any:  # noqa: ANN401 - JSON
    return json.loads(run(capsys, *words, "--json"))


def refused(capsys: Captured, *words: str) -> str:
    """The one sentence of a command that can do nothing."""
    assert main(words) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("shadecore: ")
    assert said.err.count("\n") == 1
    return said.err


def book(capsys: Captured, *words: str, status: int = 0) -> str:
    return run(capsys, "book", *words, status=status)


def names(capsys: Captured, kind: str) -> list[str]:
    return [each["name"] for each in data(capsys, "book", "list", kind)]


def a_shop(capsys: Captured) -> None:
    """A line and a gun with three colours that took two coats over white."""
    book(capsys, "add", "lines", "Invented line", "--batch", "first")
    book(capsys, "add", "guns", "Anna 1.3")
    for place in range(3):
        name = f"Colour {place}"
        words = ("--line", "Invented line", "--gun", "Anna 1.3")
        book(capsys, "add", "colours", name, f"{40 + 5 * place}", "40", "30", *words)
        book(capsys, "add", "records", name, f"2 over {WHITE}")
