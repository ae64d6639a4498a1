"""The book's verbs: what is kept comes back, changes are refused or undone."""

import uuid
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, time
from pathlib import Path

import pytest
from PIL import Image

from shadecore.book.book import Book, open_book
from shadecore.book.errors import BookConflict, BookError
from shadecore.book.job_times import write_job_times
from shadecore.book.records import (
    AngleReading,
    BookCard,
    BookColour,
    BookPhoto,
    BookSeen,
    BookShelf,
    Stocked,
)
from shadecore.book.shop_records import (
    BookJob,
    BookLeftOver,
    BookSheet,
    BookSteps,
    PaintLine,
    ShopSettings,
    SprayGun,
)
from shadecore.book.where import book_path
from shadecore.card.reading import Card, Step
from shadecore.colour.condition import Condition
from shadecore.job.job_file import parse_job, write_job
from shadecore.job.own_steps import StepChange
from shadecore.job.request import JobRequest
from shadecore.job.shop_hours import ShopHours
from shadecore.products.left_overs import LeftOver
from shadecore.undercoats.shelf import undercoat_from_reflectance
from shadecore.undercoats.shelf_table import demo_shelf

RED = BookColour("Invented red", (45.0, 60.0, 35.0), code="X 1", car="blue van")


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(tmp_path / "book.sqlite") as opened:
        yield opened


def full_book(book: Book) -> dict[str, object]:
    """One thing of each kind, each with all that it can hold."""
    moment = datetime(2026, 3, 2, 8, 30, 15, 250_000)  # noqa: DTZ001 - the shop's own time
    spectrum = tuple(0.1 + i / 100 for i in range(31))
    green = undercoat_from_reflectance("Green", spectrum, price=12.5, unit="L")
    items = (*(Stocked(each, 0.5) for each in demo_shelf()), Stocked(green))
    shelf = book.add(BookShelf("Own shelf", items, "by the door"))
    sheet = book.add(BookSheet("Invented products", "[gun]\ntip_mm = 1.3\n"))
    line = book.add(PaintLine("Invented line", sheet.uid, "B 7"))
    gun = book.add(SprayGun("Old gun", "1.3 tip"))
    colour = book.add(
        replace(
            RED,
            condition=Condition("D50", 2, "included"),
            reflectance=spectrum,
            photo_spread=(1.0, 0.1, 0.0, 2.0, -0.3, 3.0),
            angles=(AngleReading(15.0, (60.0, 50.0, 30.0), spectrum),),
            kind="metallic",
            line=line.uid,
            gun=gun.uid,
            measured=moment,
            question={"colour": "45 60 35", "film_um": 10.0, "cap": 12, "mix": True},
        )
    )
    card = Card((Step(2, (40.0, 1.0, 2.0), (50.0, 3.0, 4.0)),), full=(45.0,))
    kept_card = book.add(BookCard(colour.uid, card, 10.0, sprayed=moment))
    job = book.add(
        BookJob(
            "Door", write_job(JobRequest(moment, "Door")), "started", "base coat 2",
            "X 1", "blue van", colour.uid, line.uid, gun.uid, 2, None, 250.0, None,
            moment, plate="B 12", customer="Ann Onymous", request=str(uuid.uuid4()),
        )
    )  # fmt: skip
    mix = LeftOver("base", 120.0, moment.date(), batch="B 7")
    left = book.add(BookLeftOver("Red base", mix, colour.uid, line.uid, "shelf 2"))
    seen = book.add(
        BookSeen(colour.uid, "check", 2, 3, undercoat=green, film_um=12.0,
             line=line.uid, gun=gun.uid, job=job.uid, batch="B 7", when=moment)
    )  # fmt: skip
    steps = book.add(
        BookSteps(
            "Our way",
            (
                StepChange("wash", drop=True),
                StepChange("block_sand", after="mask", grits=(180, 320), within_h=4.0),
            ),
            "agreed in spring",
        )
    )
    hours = ShopHours(time(8), time(17, 30), (time(12), time(12, 45)))
    settings = book.change(
        book.settings(),
        ShopSettings("us", "Letter", "Shop of no one", hours, shelf.uid, line.uid),
    )
    return {
        each.uid: each
        for each in (
            shelf, sheet, line, gun, colour, kept_card, job, left, steps, seen, settings
        )
    }  # fmt: skip


def test_everything_comes_back_as_it_was_kept(book: Book) -> None:
    kept = full_book(book)
    with open_book(book.path) as again:
        for uid, each in kept.items():
            assert again.show(type(each.thing), uid) == each
        assert again.settings().thing.hours.pause == (time(12), time(12, 45))
        job = next(iter(again.list(BookJob))).thing
        assert parse_job(job.text, "job").name == "Door"
        assert again.check() == ()


def test_a_job_s_times_are_a_table() -> None:
    start = datetime(2026, 3, 2, 8)  # noqa: DTZ001 - the shop's own time
    request = JobRequest(
        start,
        done=(("clean", start.replace(minute=20)), ("sand", start.replace(minute=50))),
        sprayed=(start.replace(hour=9, minute=5, second=30),),
    )
    assert write_job_times(request, "Door", "X 1", "van").splitlines() == [
        "job,code,car,step,ended,minutes",
        'Door,X 1,van,clean,"2026-03-02 08:20:00",20.0',
        'Door,X 1,van,sand,"2026-03-02 08:50:00",30.0',
        'Door,X 1,van,coat 1,"2026-03-02 09:05:30",15.5',
    ]


def test_the_shelf_is_the_shop_s_own_with_spectra(book: Book) -> None:
    full_book(book)
    green = book.show(BookShelf, "own SHELF").thing.shelf[-1]
    assert green.reflectance[30] == pytest.approx(0.4)


def test_things_are_shown_by_uid_code_or_name(book: Book) -> None:
    kept = book.add(RED)
    for which in (kept.uid, "x 1", "INVENTED  red"):
        assert book.show(BookColour, which) == kept
    with pytest.raises(BookError, match="no colour called 'blue'"):
        book.show(BookColour, "blue")
    book.add_all((replace(RED, code="X 2"),))
    with pytest.raises(BookError, match="more than one colour"):
        book.show(BookColour, "invented red")


def test_newest_change_comes_first(book: Book) -> None:
    first, second = book.add(RED), book.add(replace(RED, name="Blue"))
    assert [each.uid for each in book.list(BookColour)] == [second.uid, first.uid]
    book.rename(first, "Deep red")
    assert [each.thing.name for each in book.list(BookColour)] == ["Deep red", "Blue"]
    assert len(book.list(BookColour, limit=1)) == 1


def test_a_change_on_an_old_state_is_refused_with_both(book: Book) -> None:
    kept = book.add(RED)
    theirs = book.change(kept, replace(RED, note="theirs"))
    mine = replace(RED, note="mine")
    for verb in (
        lambda: book.change(kept, mine),
        lambda: book.rename(kept, "Mine"),
        lambda: book.remove(kept),
    ):
        with pytest.raises(BookConflict, match="Somebody changed") as caught:
            verb()
        assert caught.value.theirs == theirs
    with pytest.raises(BookConflict) as caught:
        book.change(kept, mine)
    assert caught.value.mine == mine
    assert book.show(BookColour, kept.uid) == theirs


def test_settings_first_written_twice_are_refused_once(book: Book) -> None:
    before = book.settings()
    book.change(before, ShopSettings(shop="one"))
    with pytest.raises(BookConflict):
        book.change(before, ShopSettings(shop="two"))
    assert book.settings().thing.shop == "one"


def test_the_bin_holds_what_is_removed_until_it_is_emptied(book: Book) -> None:
    kept = book.add(RED)
    card = Card((Step(1, (40.0,), (50.0,)),))
    book.add(BookCard(kept.uid, card, 10.0))
    gone = book.remove(kept)
    assert book.list(BookColour) == ()
    assert book.search("red") == ()
    assert book.bin() == (gone,)
    back = book.put_back(gone)
    assert book.list(BookColour) == (back,)
    book.remove(back)
    assert book.empty_bin() == 1
    assert book.bin() == ()
    assert book.list(BookCard) == ()
    assert book.changes() == ()
    with pytest.raises(BookConflict, match="for good") as caught:
        book.rename(back, "Late")
    assert caught.value.theirs is None


def test_a_line_removed_for_good_leaves_its_colours(book: Book) -> None:
    line = book.add(PaintLine("Invented line"))
    kept = book.add(replace(RED, line=line.uid))
    book.remove(line)
    book.empty_bin()
    assert book.show(BookColour, kept.uid).thing == RED


def test_what_belongs_to_nothing_is_refused(book: Book) -> None:
    with pytest.raises(BookError, match="does not hold what this belongs to"):
        book.add(replace(RED, line="nowhere"))
    assert book.list(BookColour) == ()
    assert book.changes() == ()


def test_names_of_shelves_are_their_own(book: Book) -> None:
    first = book.add(SprayGun("Gun"))
    with pytest.raises(BookError, match=r"a gun called .* already"):
        book.add(SprayGun(" gun"))
    gone = book.remove(first)
    book.add(SprayGun("Gun"))
    with pytest.raises(BookError, match="by that name already"):
        book.put_back(gone)


def test_every_change_can_be_undone(book: Book) -> None:
    full_book(book)
    states = []
    colour = book.list(BookColour)[0]
    for verb in (
        lambda: book.rename(colour, "Other red"),
        lambda: book.remove(book.show(BookColour, colour.uid)),
        lambda: book.change(book.settings(), ShopSettings(shop="Other")),
        lambda: book.add_all((RED, replace(RED, name="Second"))),
    ):
        states.append(_state(book))
        verb()
    while states:
        book.undo()
        assert _state(book) == states.pop()
    while book.changes():
        book.undo()
    assert book.list(BookColour) == book.list(BookShelf) == ()
    with pytest.raises(BookError, match="no change"):
        book.undo()


def _state(book: Book) -> list[object]:
    kinds = (BookColour, BookShelf, BookJob, BookSeen, BookCard)
    things = [each.thing for kind in kinds for each in book.list(kind)]
    return [*things, *(each.thing for each in book.bin()), book.settings().thing]


def test_what_was_read_before_an_undo_cannot_be_written(book: Book) -> None:
    kept = book.add(RED)
    changed = book.rename(kept, "Other")
    book.undo()
    for stale in (kept, changed):
        with pytest.raises(BookConflict):
            book.change(stale, replace(RED, note="late"))


def test_undo_of_a_change_that_is_not_the_last_is_refused(book: Book) -> None:
    book.add(RED)
    mine = book.changes()[0]
    book.add(replace(RED, name="Theirs"))
    with pytest.raises(BookConflict, match="added the colour Theirs"):
        book.undo(mine)
    assert len(book.list(BookColour)) == 2


def test_search_finds_parts_of_words_in_colours_and_jobs(book: Book) -> None:
    red = book.add(replace(RED, name="Rubín 100%_red"))
    job = book.add(BookJob("Tür", "", car="Blue Van 7", code="X 1"))
    for text, found in (
        ("rubin", [red]),
        ("TUR", [job]),
        ("0%_r", [red]),
        ("%", [red]),
        ("_", [red]),
        ("blue van", [job, red]),
        ("van blue 7", [job]),
        ("'; DROP TABLE colours; --", []),
        ("", [job, red]),
    ):
        assert list(book.search(text)) == found, text
    assert book.search("", records=(BookColour,)) == (red,)


def test_a_photo_is_kept_without_where_it_was_taken(book: Book, tmp_path: Path) -> None:
    source = tmp_path / "photo.jpg"
    image = Image.new("RGB", (3000, 1000), (200, 40, 40))
    exif = Image.Exif()
    exif[0x010F] = "Maker of no camera"
    exif.get_ifd(0x8825)[1] = "N"  # Exif 2.3: GPSLatitudeRef in the GPS table
    image.save(source, exif=exif)
    assert b"Maker of no camera" in source.read_bytes()
    colour = book.add(RED)
    photo = book.add_photo(BookPhoto(colour.uid, "Wing"), source.read_bytes())
    (tmp_path / "kept.jpg").write_bytes(book.picture(photo))
    with Image.open(tmp_path / "kept.jpg") as kept:
        assert max(kept.size) == 1600
        assert not dict(kept.getexif())
    assert b"Maker of no camera" not in book.picture(photo)


@pytest.mark.parametrize(
    "values",
    [
        {"name": " "},
        {"name": "two\nlines"},
        {"name": "x" * 201},
        {"name": "half \ud800"},
        {"lab": (float("nan"), 0.0, 0.0)},
        {"lab": (50.0, float("inf"), 0.0)},
        {"lab": (50.0, 0.0)},
        {"reflectance": (0.5,) * 30},
        {"photo_spread": (1.0,)},
        {"kind": "chrome"},
        {"note": "a\0b"},
        {"question": {"film_um": float("nan")}},
        {"question": {"x": "y" * 1_000_001}},
    ],
)
def test_what_no_colour_is_gets_one_sentence(values: dict[str, object]) -> None:
    with pytest.raises(BookError) as caught:
        replace(RED, **values)
    assert len(str(caught.value)) < 300
    assert "\n" not in str(caught.value)


def test_a_value_of_another_kind_is_refused_when_kept(book: Book) -> None:
    with pytest.raises(BookError, match="cannot be kept"):
        book.add(replace(RED, measured="yesterday"))  # type: ignore[arg-type]
    with pytest.raises(BookError, match="holds no str"):
        book.add("red")


def test_a_shelf_needs_undercoats_of_different_names() -> None:
    one = Stocked(demo_shelf()[0])
    with pytest.raises(BookError, match="needs 1 to"):
        BookShelf("Empty", ())
    with pytest.raises(BookError, match="Two sealers"):
        BookShelf("Twice", (one, one))


def test_records_that_nobody_could_see_are_refused() -> None:
    for values in (
        {"coats_low": 0},
        {"coats_high": 1},
        {"coats_high": None, "hid": False},
        {"source": "rumour"},
    ):
        known = {"colour": "x", "source": "job", "coats_low": 2, "coats_high": 3}
        with pytest.raises(BookError):
            BookSeen(**known | values)


def test_the_book_lies_where_the_environment_says(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("SHADECORE_BOOK", str(tmp_path / "deep" / "own.sqlite"))
    with open_book() as book:
        assert book.path == tmp_path / "deep" / "own.sqlite"
        assert book.path.stat().st_mode & 0o077 == 0
    monkeypatch.delenv("SHADECORE_BOOK")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert book_path().name == "book.sqlite"
