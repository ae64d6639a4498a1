"""Counts, shares and units become words in one room: the source is read for it."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[1] / "shadecore"
TELLING = PACKAGE / "telling"
NOT_HERE = {
    "formats/toml_rules.py",
    "products/ranges.py",
    "question/plain.py",
}
"""Limits of what a file may hold are no counts."""
ELSEWHERE = sorted(
    path
    for path in PACKAGE.rglob("*.py")
    if TELLING not in path.parents
    and path.relative_to(PACKAGE).as_posix() not in NOT_HERE
)
COUNT = re.compile(
    r"\.(coats|low|high|hidden_from|hides_from|coats_low|coats_high|colour_high)$"
    r"|^(coats|low|high|cap)$|\bcount\.|\.cap$"
)
"""What is put into a text where it is a count or an end of one."""
RATIO = re.compile(r"hiding\.|card\.|power\.")
"""Ends of a contrast ratio are no counts."""
SHARE = re.compile(r"\.\d%")
AVOIDED = (
    *(
        "9 times in 10",
        "19 times in 20",
        "throws back",
        "throw back",
        "closed to",
        "in all",
    ),
    *("runs at", "judged", "flattest finish", "patches say"),
)
SHOWN = ("telling", "pages", "screens")
UNITS_OF = re.compile(r"\} ?(µm|mil|ml/m²|fl oz|m²/L|°F|psi|lb/gal)\b")


def texts(path: Path) -> Iterator[ast.JoinedStr]:
    """Every f-string of a module that is not the text of an error."""
    tree = ast.parse(path.read_text("utf-8"))
    errors = {
        id(part)
        for node in ast.walk(tree)
        if isinstance(node, ast.Raise)
        or (
            isinstance(node, ast.Assign)
            and isinstance(node.targets[0], ast.Name)
            and node.targets[0].id == "message"
        )
        for part in ast.walk(node)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr) and id(node) not in errors:
            yield node


def fields(text: ast.JoinedStr) -> Iterator[tuple[str, str]]:
    """What an f-string puts in where it is read, and how it is formatted."""
    before = ""
    for part in text.values:
        if isinstance(part, ast.Constant):
            before = str(part.value)
        elif isinstance(part, ast.FormattedValue) and not before.endswith('="'):
            form = "" if part.format_spec is None else ast.unparse(part.format_spec)
            yield ast.unparse(part.value), form


def strings(path: Path) -> Iterator[str]:
    """Every text of a module, docstrings left out."""
    tree = ast.parse(path.read_text("utf-8"))
    said = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    for node in ast.walk(tree):
        text = isinstance(node, ast.Constant) and isinstance(node.value, str)
        if text and id(node) not in said:
            yield node.value


def name(path: Path) -> str:
    return path.relative_to(PACKAGE).as_posix()


@pytest.mark.parametrize("path", ELSEWHERE, ids=name)
def test_no_other_module_formats_a_count_or_a_share(path: Path) -> None:
    found = [
        f"line {text.lineno}: {value}"
        for text in texts(path)
        for value, form in fields(text)
        if (COUNT.search(value) and not RATIO.search(value)) or SHARE.search(form)
    ]
    assert found == []


@pytest.mark.parametrize(
    "path",
    [each for each in ELSEWHERE if name(each).split("/")[0] in {"pages", "screens"}],
    ids=name,
)
def test_no_page_formats_a_unit(path: Path) -> None:
    units = [each for each in map(ast.unparse, texts(path)) if UNITS_OF.search(each)]
    assert units == []


@pytest.mark.parametrize(
    "path",
    [each for each in PACKAGE.rglob("*.py") if name(each).split("/")[0] in SHOWN],
    ids=name,
)
def test_words_that_a_painter_stumbles_over_are_gone(path: Path) -> None:
    said = " ".join(strings(path)).lower()
    assert [word for word in AVOIDED if word in said] == []
    # What goes under the colour is the sealer on every page; one word is a key.
    sentences = [each for each in strings(path) if " " in each.strip()]
    assert [each for each in sentences if "undercoat" in each.lower()] == []


def test_a_count_that_is_formatted_is_found(tmp_path: Path) -> None:
    """The search itself finds the forms that it is there to find."""
    module = tmp_path / "module.py"
    module.write_text(
        'a = f"{best.coats} coats"\nb = f"over {cap}"\nmessage = f"{cap} at most"\n'
    )
    found = [value for text in texts(module) for value, _ in fields(text)]
    assert found == ["best.coats", "cap"]
    assert all(COUNT.search(value) for value in found)
