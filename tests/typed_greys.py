"""Greys typed into the shelf's box, which a page without a browser does not draw."""

from uuid import uuid4

import pytest
from streamlit.testing.v1 import AppTest

from shadecore.screens.entry import Line
from shadecore.screens.pick import new_greys


def add_greys(app: AppTest, *lines: str) -> None:
    """Open the box, and enter lines faster than the page runs."""
    typed = tuple(Line(uuid4().hex, words) for words in lines)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(new_greys, "ask_lines", lambda *_, **__: typed)
        app.session_state[new_greys.OPEN] = True
        app.run()
    assert not app.exception
