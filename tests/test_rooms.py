"""Imports of the lower rooms point one way."""

import ast
from pathlib import Path

import pytest

import shadecore

ROOT = Path(shadecore.__file__).parent
GROUND = {"errors", "datafiles", "units"}
ENGINE = {"colour", "film", "recipes", "undercoats", "coats", "card", "photo"}
BELOW = {
    "formats": GROUND,
    "products": GROUND | {"formats", "film"},
    "job": GROUND | ENGINE | {"formats", "question", "products"},
}
MOST_LINES, MOST_IMPORTS = 400, 20


def imported(path: Path) -> list[str]:
    """Modules of the project that a module imports."""
    found = []
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module is not None:
            found.append(node.module)
        elif isinstance(node, ast.Import):
            found += [name.name for name in node.names]
    return [name for name in found if name.split(".")[0] == "shadecore"]


@pytest.mark.parametrize("room", BELOW)
def test_a_room_imports_nothing_but_itself_and_what_lies_below(room: str) -> None:
    modules = sorted((ROOT / room).glob("*.py"))
    assert len(modules) > 3
    for path in modules:
        rooms = {name.split(".")[1] for name in imported(path)}
        assert rooms <= BELOW[room] | {room}, path
        assert len(imported(path)) <= MOST_IMPORTS, path
        assert len(path.read_text("utf-8").splitlines()) <= MOST_LINES, path
