"""Texts of the core on a page: shown as they stand, whatever is in them."""

import re

import pytest
from markdown_forms import FORMS
from streamlit.testing.v1 import AppTest

from shadecore.screens.say import plain

_ESCAPED = re.compile(r"\\([!-/:-@\[-`{-~])")
"""What CommonMark 0.31, section 2.4, takes a backslash before."""


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("L* 45, a* 60", r"L\* 45, a\* 60"),
        ("![a](b.png)", r"!\[a\](b.png)"),
        ("<b>bold</b>", r"\<b\>bold\</b\>"),
        ("White N 9: 4 to 11.", "White N 9: 4 to 11."),
    ],
)
def test_marks_are_kept_from_being_read(text: str, shown: str) -> None:
    assert plain(text) == shown


@pytest.mark.parametrize("form", FORMS)
def test_nothing_that_would_be_read_as_something_else_is_left(form: str) -> None:
    """By the patterns of remark-emoji, GitHub's autolinks and Streamlit's arrows."""
    shown = _ESCAPED.sub(r"\1", plain(form))
    assert shown.replace("\N{WORD JOINER}", "") == form
    for read in (
        r"(?i)https?://|www\.|[-.\w+]+@[-\w]+\.",
        r":\+1:|:-1:|:(?!\d\d:)[-\w]+:|:(?:material|streamlit)[/\w]*:",
        r"(?:^|\s)(?:<->|->|<-|--|>=|<=|~=)(?:\s|$)",
    ):
        assert not re.search(read, shown), read
    # No mark of CommonMark stands without its backslash.
    bare = _ESCAPED.sub("x", plain(form))
    assert not re.search(r"[\\`*_\[\]<>~$#&|{}^]|^\s*(?:[-+=]|\d+[.)])", bare)


def test_a_link_cannot_bring_a_picture_along() -> None:
    """What is echoed of a link is text, not Markdown."""

    def run() -> None:
        from shadecore.screens.pick import page as pick_page  # noqa: PLC0415

        pick_page.page()

    app = AppTest.from_function(run, default_timeout=60)
    app.query_params["colour"] = "![a](http://127.0.0.1/x.png)"
    app.run()
    (said,) = [each.value for each in app.error]
    assert r"!\[a\](" in said
