"""The first page without a browser: the shelf asked for, colours and jobs."""

from datetime import datetime

import pytest
from streamlit.testing.v1 import AppTest

from shadecore.book.book import open_book
from shadecore.book.records import BookColour, BookShelf
from shadecore.book.shop_records import BookJob
from shadecore.book.working import save_new, shop_question
from shadecore.job.job_file import write_job
from shadecore.job.request import JobRequest
from shadecore.question.question import Question
from shadecore.screens.entry import Line
from shadecore.screens.home import first_shelf

SECONDS = 120


def _home() -> None:
    from shadecore.screens import shop  # noqa: PLC0415
    from shadecore.screens.home import page as home_page  # noqa: PLC0415

    shop.begin()
    home_page.page()


def _page() -> AppTest:
    return AppTest.from_function(_home, default_timeout=SECONDS).run()


def _labels(app: AppTest) -> list[str]:
    assert not app.exception
    return [each.label for each in app.button]


def _row(app: AppTest, name: str) -> str:
    return next(each for each in _labels(app) if name in each and "Menu" not in each)


def _press(app: AppTest, label: str) -> AppTest:
    return next(each for each in app.button if label in each.label).click().run()


@pytest.fixture
def kept() -> None:
    with open_book() as book:
        red = save_new(book, Question("45 60 35"), "Invented red")
        save_new(book, Question("28 0 0"), "28 0 0")
        start = datetime(2026, 3, 2, 8)  # noqa: DTZ001 - the shop's own time
        job = JobRequest(start, name="Wing")
        book.add(
            BookJob("Wing", write_job(job), "started", "Flash off", colour=red.uid)
        )


def test_an_empty_book_shows_the_example_and_three_ways_to_start() -> None:
    app = _page()
    starts = ("New colour", "From a photo", "Teach")
    assert [_row(app, each).split("**")[1] for each in starts] == list(starts)
    shown = "\n".join(str(part.proto.body) for part in app.get("html"))
    assert "White N 9 (recommended)" in shown
    assert "Dark grey N 4" in shown


def test_a_shelf_typed_at_the_first_start_is_the_shops_own(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The box sends all lines each time, several new ones where the page was busy."""
    typed = [Line("1", "Snow 92"), Line("2", "Slate 35, Mid N 5")]
    monkeypatch.setattr(first_shelf, "ask_lines", lambda *_: tuple(typed))
    app = _page()
    assert not app.error
    typed.append(Line("3", "Slate 20"))
    app.run()
    assert app.session_state["first_entered"].used.back == typed[-1]
    assert any("Two sealers are called" in each.value for each in app.error)
    _press(app, "Use this shelf")
    with open_book() as book:
        names = [each.name for each in shop_question(book).shelf]
    assert names == ["Snow", "Slate", "Mid"]
    assert not any("shelf" in each for each in _labels(app))


def test_the_invented_greys_are_marked_and_a_shelf_can_wait() -> None:
    app = _press(_page(), "Later")
    assert not any("invented" in each for each in _labels(app))
    _press(_page(), "Take the invented greys")
    with open_book() as book:
        (shelf,) = book.list(BookShelf)
        assert "nvented" in shelf.thing.name
        assert book.settings().thing.shelf == shelf.uid


@pytest.mark.usefixtures("kept")
def test_colours_show_their_pick_and_jobs_their_step() -> None:
    app = _page()
    assert "White N 9, 3 coats" in _row(app, "Invented red")
    assert "Started, next: Flash off" in _row(app, "Wing")
    app.text_input[0].set_value("flash").run()
    assert not any("Invented red" in each for each in _labels(app))
    assert _row(app, "Wing")


@pytest.mark.usefixtures("kept")
def test_one_tap_goes_on_with_a_colour_or_a_job() -> None:
    for name, expected in (("28 0 0", "28 0 0"), ("Wing", "45 60 35")):
        app = _page()
        app.session_state["pages"] = {}
        _press(app, name)
        assert app.session_state["question"].colour == expected
        assert "colour_id" in app.query_params
    assert "job_id" in app.query_params


@pytest.mark.usefixtures("kept")
def test_a_colour_is_renamed_removed_and_brought_back() -> None:
    app = _page()
    name = next(each for each in app.text_input if each.value == "Invented red")
    name.set_value("Fire red")
    next(
        each
        for each in app.button
        if each.label == "Keep" and each.form_id == name.form_id
    ).click()
    app.run()
    assert _row(app, "Fire red")
    next(each for each in app.button if each.label == "Remove").click().run()
    with open_book() as book:
        assert [each.thing.name for each in book.list(BookColour)] == ["28 0 0"]
    _press(app, "Undo")
    assert _row(app, "Fire red")
