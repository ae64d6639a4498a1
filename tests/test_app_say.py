"""Texts of the core on a page: shown as they stand, whatever is in them."""

import pytest
from streamlit.testing.v1 import AppTest

from shadecore.screens.say import plain


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("L* 45, a* 60", r"L\* 45, a\* 60"),
        ("![a](http://127.0.0.1/x.png)", r"!\[a\](http://127.0.0.1/x.png)"),
        ("<b>bold</b>", r"\<b\>bold\</b\>"),
        ("White N 9: 4 to 11.", "White N 9: 4 to 11."),
    ],
)
def test_marks_are_kept_from_being_read(text: str, shown: str) -> None:
    assert plain(text) == shown


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
