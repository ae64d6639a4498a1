"""What the README shows of the library runs as it stands there."""

import re
from pathlib import Path

import pytest

README = Path(__file__).resolve().parents[1] / "README.md"


def test_the_library_example_runs(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SHADECORE_BOOK", str(tmp_path / "own.sqlite"))
    (code,) = re.findall(r"```python\n(.*?)```", README.read_text("utf-8"), re.DOTALL)
    exec(compile(code, str(README), "exec"), {})  # noqa: S102 - our own text
    last, kept = capsys.readouterr().out.splitlines()[-2:]
    assert last == "() () (('Invented deep red', 'the book holds it already'),)"
    assert kept == "['Invented deep red'] ()"
