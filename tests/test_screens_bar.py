"""The bar at a phone's lower edge marks the open page, however it was reached."""

import pytest
from streamlit.testing.v1 import AppTest


def _bar(here: str) -> None:
    from shadecore.screens.bottom_bar import show_bottom_bar  # noqa: PLC0415

    show_bottom_bar(here)


@pytest.mark.parametrize(
    ("here", "view", "marked"),
    [
        ("pick", "", ["Pick"]),
        ("plan", "", ["Set up"]),
        ("plan", "setup", ["Set up"]),
        ("plan", "bench", ["Bench"]),
        ("plan", "sheet", ["Sheet"]),
        ("lesson", "", ["Lesson"]),
    ],
)
def test_the_open_page_is_marked(here: str, view: str, marked: list[str]) -> None:
    app = AppTest.from_function(_bar, args=(here,))
    if view:
        app.query_params["view"] = view
    app.session_state[f"bottom_bar_more_{here}"] = True
    app.run()
    assert not app.exception
    found = [each.label for each in app.button if each.proto.type == "primary"]
    assert found == marked
    (more,) = app.get("popover")
    assert (more.proto.popover.type == "primary") is (marked == ["Lesson"])


def test_the_other_pages_are_drawn_once_somebody_looks() -> None:
    app = AppTest.from_function(_bar, args=("pick",)).run()
    assert [each.label for each in app.button] == ["Pick", "Set up", "Bench", "Sheet"]
    app.session_state["bottom_bar_more_pick"] = True
    app.run()
    assert "Open on phone" in [each.label for each in app.button]
