"""The photo's page without a browser: uploads, refusals, and the way to the pick."""

from pathlib import Path

import numpy as np
import pytest
from photo_scenes import encoded, scene, stored
from streamlit.testing.v1 import AppTest

from shadecore.book.book import open_book
from shadecore.book.records import BookColour, BookPhoto, BookShelf
from shadecore.telling.photo_words import SURE, SURE_OF_ONE

SECONDS = 60
RED = (45.0, 55.0, 30.0)


def page() -> AppTest:
    def run() -> None:
        from shadecore.screens.photo import page as photo_page  # noqa: PLC0415

        photo_page.page()

    return AppTest.from_function(run, default_timeout=SECONDS).run()


def _chips() -> None:
    from shadecore.book.working import own_shelf  # noqa: PLC0415
    from shadecore.screens import shop  # noqa: PLC0415
    from shadecore.screens.pick import chips  # noqa: PLC0415

    book = shop.book()
    assert book is not None
    chips.ask_chips(own_shelf(book))


def _rename_last() -> None:
    from dataclasses import replace  # noqa: PLC0415

    from shadecore.book.working import own_shelf  # noqa: PLC0415
    from shadecore.screens import shop, shop_shelf  # noqa: PLC0415

    book = shop.book()
    assert book is not None
    *others, last = own_shelf(book)
    assert shop_shelf.keep_shelf((*others, replace(last, name="Old oxide")))


def _noted(name: str) -> str:
    """What is said of a sealer where its chip was tapped."""
    chips = AppTest.from_function(_chips, default_timeout=SECONDS)
    chips.session_state["shelf_chip"] = name
    chips.run()
    (said,) = [each.value for each in chips.caption if name in each.value]
    return str(said)


def upload(app: AppTest, *files: tuple[str, bytes, str]) -> AppTest:
    uploader = app.get("file_uploader")[0]
    for name, content, kind in files:
        uploader.upload(name, content, kind)
    return app.run()


def press(app: AppTest, label: str) -> None:
    next(each for each in app.button if each.label == label).click().run()
    assert not app.exception


def text(app: AppTest) -> str:
    return " ".join(str(each.value) for each in (*app.markdown, *app.get("html")))


@pytest.fixture(scope="module")
def picture() -> bytes:
    return stored(encoded(scene(RED)), "JPEG", quality=92)


def test_without_a_photo_it_says_how_to_take_one() -> None:
    app = page()
    assert not app.exception
    assert "grey card" in text(app)


def test_a_photo_gives_a_colour_and_a_pick(picture: bytes) -> None:
    app = upload(page(), ("swatch.jpg", picture, "image/jpeg"))
    assert not app.exception
    assert text(app).count("±") >= 6
    assert "(95 %, read off a photo)" in text(app)
    assert "to hide" in text(app)
    assert app.button[0].label == "Take this colour to the pick"


def test_a_chart_is_proposed_where_one_is_seen(picture: bytes) -> None:
    app = upload(page(), ("swatch.jpg", picture, "image/jpeg"))
    against = app.get("button_group")[0]
    assert against.value == "chart"
    narrow = text(app)
    against.set_value("grey card")
    app.run()
    assert not app.exception
    assert not app.error
    press(app, SURE_OF_ONE)
    assert "±" in text(app)
    assert text(app) != narrow


def test_a_guessed_reference_answers_once_somebody_says_that_it_lies_there(
    picture: bytes,
) -> None:
    app = upload(page(), ("swatch.jpg", picture, "image/jpeg"))
    against = app.get("button_group")[0]
    against.set_value("grey card").run()
    assert "Grey card: does the mark lie on it?" in text(app)
    assert "±" not in text(app)
    assert "to hide" not in text(app)
    press(app, SURE_OF_ONE)
    assert "does the mark" not in text(app)
    assert "to hide" in text(app)

    # Said of one thing, it is not said of another.
    against.set_value("white paper").run()
    assert "Matt white paper: does the mark lie on it?" in text(app)
    assert "±" not in text(app)


def test_corners_of_a_chart_that_was_not_found_are_asked_for() -> None:
    plain = stored(encoded(scene(RED))[:300], "JPEG", quality=92)
    app = upload(page(), ("swatch.jpg", plain, "image/jpeg"))
    app.get("button_group")[0].set_value("chart").run()
    assert "Corner patches of the chart: do the marks lie on them?" in text(app)
    assert not app.error
    press(app, SURE)
    (said,) = [each.value for each in app.error]
    assert "chart" in said


def test_marks_that_are_placed_blindly_do_not_lie_on_each_other() -> None:
    """On one grey surface no reference is found: its mark keeps off the swatch's."""
    grey = stored(np.full((200, 300, 3), 119, dtype=np.uint8))
    app = upload(page(), ("grey.png", grey, "image/png"))
    app.toggle(key="photo_second").set_value(True).run()
    assert not app.exception
    assert not app.error
    said = "Grey card and second grey card: do the marks lie on them?"
    assert said in text(app)


def test_a_file_that_is_no_picture_leaves_the_others(picture: bytes) -> None:
    app = upload(
        page(),
        ("sheet.jpg", b"%PDF-1.7", "image/jpeg"),
        ("swatch.jpg", picture, "image/jpeg"),
    )
    (said,) = [each.value for each in app.error]
    assert said.startswith("sheet.jpg is not a picture this tool reads; save it as")
    assert "to hide" in text(app)


def test_a_photo_of_nothing_even_is_told(tmp_path: Path) -> None:
    """The chessboard has no even area but squares; what is marked still answers."""
    import skimage.data  # noqa: PLC0415

    content = stored(skimage.data.coffee())
    app = upload(page(), ("coffee.png", content, "image/png"))
    assert not app.exception
    assert {each.name.split("-")[0] for each in tmp_path.iterdir()} <= {"book.sqlite"}


def test_colour_photo_and_undercoat_are_kept_where_somebody_says_so(
    picture: bytes,
) -> None:
    app = upload(page(), ("swatch.jpg", picture, "image/jpeg"))
    press(app, "Keep it in the book")
    with open_book() as book:
        (colour,) = book.list(BookColour)
        assert colour.thing.photo_spread
    assert app.session_state["question"].photo is not None
    with open_book() as book:
        assert book.list(BookPhoto) == ()
    assert "Kept as" in text(app)
    app.toggle[-1].set_value(True).run()
    press(app, "Keep it in the book")
    with open_book() as book:
        (photo,) = book.list(BookPhoto)
        assert photo.thing.colour == colour.uid
        assert book.picture(photo).startswith(b"\xff\xd8")
    app.text_input[-1].set_value("Invented oxide")
    press(app, "Put it on the shelf")
    with open_book() as book:
        (shelf,) = book.list(BookShelf)
        assert shelf.thing.items[-1].undercoat.name == "Invented oxide"
        assert "±" in shelf.thing.note
    said = _noted("Invented oxide")
    assert "±" in said
    # It has another name: what the photo left open goes with it.
    AppTest.from_function(_rename_last, default_timeout=SECONDS).run()
    assert _noted("Old oxide") == said.replace("Invented oxide", "Old oxide")


def test_more_photos_than_fit_are_told() -> None:
    small = stored(encoded(scene(RED))[:60, :60])
    files = [(f"{place}.png", small, "image/png") for place in range(7)]
    app = upload(page(), *files)
    assert "more than fits" in app.error[0].value


def test_a_damaged_profile_leaves_the_other_photos(picture: bytes) -> None:
    spoiled = stored(encoded(scene(RED)), "PNG", icc_profile=b"garbage")
    app = upload(
        page(),
        ("spoiled.png", spoiled, "image/png"),
        ("swatch.jpg", picture, "image/jpeg"),
    )
    assert not app.exception
    (said,) = [each.value for each in app.error]
    assert "colour profile is damaged" in said
    assert "to hide" in text(app)
