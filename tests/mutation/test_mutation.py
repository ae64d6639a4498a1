"""The sampler of changed lines: what it changes, how it draws, which tests it runs."""

from __future__ import annotations

import ast
import importlib.util
from pathlib import Path

import pytest

from .mapping import ROOT, files_that_test
from .mutants import sample
from .running import _Changed

FOLDERS = ("film", "photo", "card")
MODULES = [
    path
    for folder in FOLDERS
    for path in sorted((ROOT / "shadecore" / folder).glob("*.py"))
    if path.stem != "__init__"
]


def changes(source: str, path: Path) -> set[str]:
    """All that seeds draw of a module of one changeable line."""
    path.write_text(source, "utf-8")
    return {each.source for seed in range(60) for each in sample([path], 9, seed)}


@pytest.mark.parametrize(
    ("line", "changed"),
    [
        ("a < b", {"a <= b", "a >= b"}),
        ("a == b", {"a != b"}),
        ("a and b", {"a or b"}),
        ("not a", {"a"}),
        ("a * b", {"a / b"}),
        ("a + b", {"a - b"}),
        ("-a", {"a"}),
        ("a if b else c", {"a", "c"}),
        ("min(a, b)", {"max(a, b)"}),
        ("a.mean()", {"a.sum()"}),
        ("f(1)", {"f(2)"}),
        ("f(24)", {"f(48)"}),
        ("f(0.5)", {"f(1.0)"}),
        ("f(True)", {"f(False)"}),
    ],
)
def test_changes_of_a_line(line: str, changed: set[str], tmp_path: Path) -> None:
    assert changes(f"x = {line}\n", tmp_path / "a.py") == {
        f"x = {each}" for each in changed
    }


@pytest.mark.parametrize(
    "source",
    [
        "'A text of 3 words.'\n",
        "x: tuple[int, Literal[3]]\n",
        "def f(a: Literal[1]) -> Literal[2]:\n    raise ValueError(f'{a + 1}')\n",
        "@dataclass(frozen=True)\nclass A:\n    pass\n",
        "x = 'a' + b\n",
        "x = f'{a:.1f} of {b + 3}'\n",
    ],
)
def test_what_computes_nothing_is_left_as_it_is(source: str, tmp_path: Path) -> None:
    assert changes(source, tmp_path / "a.py") == set()


def test_a_seed_draws_the_same_lines_again() -> None:
    first, again, other = (sample(MODULES, 40, seed) for seed in (1, 1, 2))
    assert first == again
    assert first != other
    assert len({(each.path, each.line) for each in first}) == 40
    for each in first:
        before = ast.unparse(ast.parse(each.path.read_text("utf-8")))
        assert ast.unparse(ast.parse(each.source)) != before


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_every_module_has_tests(path: Path) -> None:
    found = files_that_test(path)
    assert found
    own = ROOT / "tests" / f"test_{path.parent.name}_{path.stem}.py"
    assert not own.exists() or found[0] == own


def test_a_changed_module_is_loaded_in_place_of_its_file() -> None:
    path = ROOT / "shadecore" / "film" / "drawdown.py"
    finder = _Changed(path, "COMPLETE_HIDING = 2.0")
    assert finder.find_spec("shadecore.film.gun", None) is None
    spec = finder.find_spec("shadecore.film.drawdown", None)
    assert spec is not None
    module = importlib.util.module_from_spec(spec)
    finder.exec_module(module)
    assert module.COMPLETE_HIDING == 2.0
