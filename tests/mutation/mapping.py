"""Which test files check a module."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
_OTHER_PROCESSES = ("test_app", "test_photo_fuzz", "test_package", "test_cli")
"""Starts of names of test files that are slow, or run the module in another process."""
_MOST_FILES = 3


def files_that_test(path: Path) -> list[Path]:
    """Test files of a module, the one named after it first.

    Those that import the module; or else those of the modules that import it.

    Parameters
    ----------
    path : Path
        The module's file.

    Returns
    -------
    list of Path
        Empty where no test file is found.
    """
    name = _module_name(path)
    found = _importers(name, _test_files())
    if not found:
        users = _importers(name, tuple(sorted(ROOT.glob("shadecore/**/*.py"))))
        found = [
            test
            for user in users
            for test in _importers(_module_name(user), _test_files())
        ]
    own = f"test_{path.parent.name}_{path.stem}"
    room = f"test_{path.parent.name}_"
    ranked = sorted(
        dict.fromkeys(found),
        key=lambda each: (
            each.stem != own,
            not own.startswith(each.stem),
            not each.stem.startswith(room),
            len(_imported(each)),
        ),
    )
    return ranked[:_MOST_FILES]


def _module_name(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts)


@cache
def _test_files() -> tuple[Path, ...]:
    return tuple(
        path
        for path in sorted((ROOT / "tests").glob("test_*.py"))
        if not path.stem.startswith(_OTHER_PROCESSES)
    )


def _importers(name: str, paths: tuple[Path, ...]) -> list[Path]:
    return [path for path in paths if name in _imported(path)]


@cache
def _imported(path: Path) -> frozenset[str]:
    """Modules that a file imports, and names as if they were modules."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module, *(f"{node.module}.{e.name}" for e in node.names)}
        elif isinstance(node, ast.Import):
            found |= {each.name for each in node.names}
    return frozenset(each for each in found if each.startswith("shadecore"))
