"""The package from outside: what it offers, what it needs, what it ships."""

import ast
import importlib
import importlib.metadata
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

import shadecore
from shadecore.datafiles import data_file

ROOT = Path(__file__).resolve().parents[1]
SOURCE = ROOT / "shadecore"
DATA = sorted(path.name for path in (ROOT / "data").iterdir())
MODULES = sorted(SOURCE.rglob("*.py"))
OF_THE_SCREENS = {SOURCE / "serving" / "asgi.py", SOURCE / "serving" / "store.py"}
"""Where the server and the pages meet."""
CORE = [
    path
    for path in MODULES
    if "screens" not in path.relative_to(SOURCE).parts and path not in OF_THE_SCREENS
]


def name_of(path: Path) -> str:
    return str(path.relative_to(ROOT))


def loaded(node: ast.AST) -> Iterator[ast.AST]:
    """What runs when a module is loaded: no bodies of functions, nothing for types."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.FunctionDef) or (
            isinstance(child, ast.If) and ast.unparse(child.test) == "TYPE_CHECKING"
        ):
            continue
        yield child
        yield from loaded(child)


def imported(path: Path) -> set[str]:
    """Top-level packages that a file imports as it is loaded."""
    found = set()
    for node in loaded(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            found |= {each.name.partition(".")[0] for each in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add((node.module or "").partition(".")[0])
    return found


@pytest.mark.parametrize("path", CORE, ids=name_of)
def test_the_core_imports_no_screen_library(path: Path) -> None:
    assert not imported(path) & {"streamlit", "altair", "pandas"}


def test_an_answer_loads_no_screen_library() -> None:
    """Nor what would be slow to start: colour-science serves other notations only."""
    code = (
        "import sys, shadecore, shadecore.cli\n"
        "shadecore.cli.main(['pick', '45', '60', '35'])\n"
        "screens = {'streamlit', 'altair', 'pandas'} & set(sys.modules)\n"
        "assert not screens, screens\n"
        "assert not [m for m in sys.modules if m.startswith('shadecore.screens')]\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, check=False
    )
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("name", shadecore.__all__)
def test_public_names_are_there_and_documented(name: str) -> None:
    documentation = getattr(shadecore, name).__doc__
    assert documentation
    # A dataclass without a text of its own is given its signature as one.
    assert not documentation.startswith(f"{name}(")
    assert documentation.split("\n")[0].strip().endswith(".")


def test_public_names_are_listed_once_in_order() -> None:
    assert shadecore.__all__ == sorted(set(shadecore.__all__))


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_every_module_says_what_it_is_for(path: Path) -> None:
    documentation = ast.get_docstring(ast.parse(path.read_text("utf-8")))
    assert documentation
    assert len(documentation.split("\n")[0]) > 10


def test_errors_have_one_base_and_are_value_errors() -> None:
    errors = importlib.import_module("shadecore.errors")
    classes = [each for each in vars(errors).values() if isinstance(each, type)]
    assert len(classes) > 4
    assert all(issubclass(each, shadecore.ShadecoreError) for each in classes)
    assert issubclass(shadecore.ShadecoreError, ValueError)


@pytest.mark.parametrize("name", DATA)
def test_data_files_are_there(name: str) -> None:
    assert data_file(name).stat().st_size > 0


def test_the_version_is_that_of_the_installed_package() -> None:
    assert importlib.metadata.version("shadecore") == shadecore.__version__


def test_the_command_is_installed() -> None:
    (command,) = importlib.metadata.entry_points(
        group="console_scripts", name="shadecore"
    )
    assert command.load() is importlib.import_module("shadecore.__main__").main


def test_a_wheel_carries_the_package_and_nothing_else(tmp_path: Path) -> None:
    """Needs the build backend, which is not among the development tools."""
    wheel = pytest.importorskip("hatchling.builders.wheel")
    (built,) = wheel.WheelBuilder(str(ROOT)).build(
        directory=str(tmp_path), versions=["standard"]
    )
    with zipfile.ZipFile(built) as archive:
        names = set(archive.namelist())
    package = {name for name in names if name.startswith("shadecore/")}
    assert package == {
        f"shadecore/data/{name}" for name in (*DATA, "streamlit.toml")
    } | {
        path.relative_to(ROOT).as_posix()
        for path in SOURCE.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    # What type checkers of programs that use the package look for (PEP 561).
    assert "shadecore/py.typed" in package
    assert all(".dist-info/" in name for name in names - package)
