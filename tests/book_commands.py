"""What the tests of the book on the command line share."""

import json
from typing import Any

from command_line import RED, WHITE, Captured, refused

from shadecore.cli import main

__all__ = [
    "RED",
    "WHITE",
    "Captured",
    "a_shop",
    "book",
    "data",
    "names",
    "refused",
    "run",
]


def run(capsys: Captured, *words: str, status: int = 0) -> str:
    """Run one command, which may say on stderr what it kept, and give its output."""
    assert main(words) == status
    return capsys.readouterr().out


def data(capsys: Captured, *words: str) -> Any:  # noqa: ANN401 - JSON
    return json.loads(run(capsys, *words, "--json"))


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
