"""How the app is started: nothing of our own package hides a library."""

import sys
from pathlib import Path

import pytest

import shadecore
from shadecore.errors import MOST_MESSAGE
from shadecore.screens import start
from shadecore.serving import asgi


def test_streamlit_is_not_pointed_at_the_package_itself(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """It looks for modules beside ``sys.argv[0]``, and "colour" is a room of ours."""
    package = Path(shadecore.__file__).parent
    started = []

    class App:
        def __init__(self, script: Path, **_: object) -> None:
            self.script = script

        def run(self, **_: object) -> None:
            started.append(Path(sys.argv[0]).resolve().parent)

    monkeypatch.setattr(asgi, "App", App)
    monkeypatch.setattr(sys, "argv", [str(package / "__main__.py"), "app"])
    asgi.run({}, share=False)
    assert not (started[0] / "colour").exists()


def test_pages_that_cannot_be_made_ready_are_said_in_one_sentence(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fail() -> None:
        message = "disk\nfull " * 100
        raise RuntimeError(message)

    # What a server takes out of the search for garbage would stay for all tests.
    monkeypatch.setattr(asgi.gc, "freeze", lambda: None)
    monkeypatch.setattr(start, "make_ready", fail)
    asgi._make_ready()
    (line,) = capsys.readouterr().err.splitlines()
    assert "could not be made ready" in line
    assert "the app is open all the same" in line
    assert "RuntimeError" not in line
    assert len(line) <= MOST_MESSAGE
