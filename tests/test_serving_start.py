"""How the app is started: nothing of our own package hides a library."""

import sys
from pathlib import Path

import pytest

import shadecore
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
