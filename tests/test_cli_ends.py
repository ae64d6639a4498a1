"""Ways that a command ends before it is done, each with its status and sentence."""

import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

from shadecore import __main__, cli
from shadecore.commands.status import INTERRUPTED, NOT_WRITTEN

FULL = Path("/dev/full")
Captured = pytest.CaptureFixture[str]


def test_an_interrupted_command_says_so(
    monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    def interrupted(_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(cli, "_parser", interrupted)
    assert cli.main(["pick", "45", "60", "35"]) == INTERRUPTED
    said = capsys.readouterr()
    assert said.err == "shadecore: Interrupted; nothing more was written.\n"
    assert said.out == ""


def test_one_that_is_still_loading_says_so_too(
    monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    class Loading(ModuleType):
        def __getattr__(self, name: str) -> object:
            raise KeyboardInterrupt

    monkeypatch.setitem(sys.modules, "shadecore.cli", Loading("shadecore.cli"))
    assert __main__.main() == INTERRUPTED
    assert capsys.readouterr().err == "shadecore: Interrupted; nothing was done.\n"


@pytest.mark.skipif(not FULL.exists(), reason="needs a device that is always full")
def test_output_that_finds_no_room_is_told_in_one_sentence() -> None:
    with FULL.open("wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "shadecore", "pick", "45", "60", "35"],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert done.returncode == NOT_WRITTEN
    assert done.stderr == (
        "shadecore: A file cannot be read or written: no space left on device.\n"
    )
