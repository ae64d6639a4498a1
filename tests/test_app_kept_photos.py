"""Photos that were kept: shown with their colour, without their place, and removed."""

import io
import re
from base64 import b64decode
from pathlib import Path

import pytest
from book_commands import Captured, book, data, refused
from PIL import Image
from streamlit.testing.v1 import AppTest

from shadecore.book.asking import colour_of
from shadecore.book.book import open_book
from shadecore.book.records import BookColour, BookPhoto
from shadecore.question.question import Question

PLACE = 0x8825
"""Exif 2.3: the pointer to the GPS table."""


def _photo(colour: tuple[int, int, int]) -> bytes:
    """A photo with where it was taken."""
    exif = Image.Exif()
    exif[0x010F] = "Maker of no camera"
    exif.get_ifd(PLACE)[1] = "N"
    out = io.BytesIO()
    Image.new("RGB", (900, 300), colour).save(out, "JPEG", exif=exif)
    return out.getvalue()


@pytest.fixture
def red() -> str:
    """``uid`` of a colour that two photos belong to; another has none."""
    with open_book() as opened:
        kept = opened.add(colour_of("Deep <red>", Question("45 60 35")))
        opened.add(colour_of("Blue", Question("30 5 -40")))
        for name, colour in (("Wing", (200, 40, 40)), ("Door", (40, 200, 40))):
            opened.add_photo(BookPhoto(kept.uid, name), _photo(colour))
    return kept.uid


def _pictures(app: AppTest) -> list[tuple[str, Image.Image]]:
    """What each picture is called, and itself."""
    assert not app.exception
    found = []
    for part in app.get("html"):
        shown = re.search(
            r'src="data:image/jpeg;base64,([^"]+)" alt="([^"]+)"', part.proto.body
        )
        if shown is not None:
            picture = Image.open(io.BytesIO(b64decode(shown[1])))
            found.append((shown[2], picture))
    return found


def _page() -> None:
    from shadecore.screens import kept_bar, session, shop  # noqa: PLC0415
    from shadecore.screens.book import page as book_page  # noqa: PLC0415

    shop.begin()
    session.keep(session.question())
    kept_bar.show_kept_bar()
    book_page.page()


def _app(part: str, colour: str = "") -> AppTest:
    app = AppTest.from_function(_page, default_timeout=60)
    app.session_state["book_part"] = part
    if colour:
        app.query_params["colour"] = "45 60 35"
        app.query_params["colour_id"] = colour
    return app


def _press(app: AppTest, key: str) -> AppTest:
    return next(each for each in app.button if each.key.startswith(key)).click().run()


def _names() -> list[str]:
    with open_book() as opened:
        return sorted(each.thing.name for each in opened.list(BookPhoto))


def test_the_book_shows_photos_without_where_they_were_taken(red: str) -> None:
    app = _app("Photos").run()
    found = _pictures(app)
    assert [name for name, _ in found] == [
        "Photo of Deep &lt;red&gt;: Door",
        "Photo of Deep &lt;red&gt;: Wing",
    ]
    for (_, picture), main in zip(found, ("green", "red"), strict=True):
        assert not dict(picture.getexif())
        assert picture.size == (480, 160)
        shares = dict(
            zip(("red", "green", "blue"), picture.getpixel((9, 9)), strict=True)
        )
        assert max(shares, key=shares.__getitem__) == main
    _press(app, "book_photo_remove")
    assert _names() == ["Wing"]
    app.session_state["book_part"] = "Bin"
    _press(app.run(), "put_back")
    assert _names() == ["Door", "Wing"]
    with open_book() as opened:
        assert opened.show(BookColour, red).removed is None


def test_a_colour_shows_its_photos_where_one_works_on_it(red: str) -> None:
    app = _app("Bin", red)
    # A closed popover draws nothing.
    assert _pictures(app.run()) == []
    app.session_state["kept_bar_photos"] = True
    assert len(_pictures(app.run())) == 2
    _press(app, "kept_bar_photos_remove")
    assert _names() == ["Wing"]


def test_without_photos_there_is_nothing_to_open() -> None:
    with open_book() as opened:
        kept = opened.add(colour_of("Red", Question("45 60 35")))
    app = _app("Photos", kept.uid)
    app.session_state["kept_bar_photos"] = True
    assert _pictures(app.run()) == []
    assert any("None. A photo is kept only" in each.value for each in app.markdown)


def test_the_command_line_lists_gives_out_and_removes_photos(
    red: str, capsys: Captured, tmp_path: Path
) -> None:
    assert "Wing" in book(capsys, "list", "photos")
    door, wing = data(capsys, "book", "list", "photos")
    assert (door["name"], wing["colour"]) == ("Door", red)
    out = tmp_path / "wing.jpg"
    book(capsys, "export", "photos", wing["uid"][:8], "--out", str(out))
    with Image.open(out) as picture:
        assert picture.size == (900, 300)
        assert not dict(picture.getexif())
    wrong = ("book", "export", "photos", "Wing", "--out", str(tmp_path / "wing.png"))
    assert "written as .jpg" in refused(capsys, *wrong)
    book(capsys, "remove", "photos", door["uid"][:8])
    assert _names() == ["Wing"]
    book(capsys, "put-back", "photos", "Door")
    assert _names() == ["Door", "Wing"]
