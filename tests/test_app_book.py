"""The book on the pages: what is kept as somebody works, and the page that shows it."""

from dataclasses import replace
from pathlib import Path
from typing import Any

from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import FileUploader

from shadecore.book.book import open_book
from shadecore.book.records import BookColour, BookSeen, BookShelf, Stocked
from shadecore.book.shop_records import BookJob, PaintLine, SprayGun
from shadecore.book.working import asked_again, save, shop_question
from shadecore.screens.book.shelves import frame_of, items_of
from shadecore.undercoats.shelf import undercoat, undercoat_from_reflectance

SECONDS = 60


def _asking() -> None:
    """A page that asks a colour only, and answers nothing."""
    from dataclasses import replace as changed  # noqa: PLC0415

    import streamlit as st  # noqa: PLC0415

    from shadecore.screens import kept_bar, session, shop  # noqa: PLC0415

    shop.begin()
    now = session.question()
    edition = session.edition()
    colour = st.text_input("Colour", now.colour, key=f"colour_{edition}")
    tolerance = st.number_input("Hidden", value=now.tolerance, key=f"hidden_{edition}")
    question = changed(now, colour=colour, tolerance=tolerance)
    session.keep(question)
    shop.keep_colour(question)
    kept_bar.show_kept_bar()


def _page(**link: str) -> AppTest:
    app = AppTest.from_function(_asking, default_timeout=SECONDS)
    for name, value in link.items():
        app.query_params[name] = value
    return app.run()


def _say(app: AppTest, colour: str) -> AppTest:
    return app.text_input[0].set_value(colour).run()


def _press(app: AppTest, label: str) -> AppTest:
    return next(each for each in app.button if each.label == label).click().run()


def _told(app: AppTest) -> str:
    assert not app.exception
    return "\n".join(each.value for each in (*app.markdown, *app.warning))


def _names() -> list[str]:
    with open_book() as book:
        return sorted(each.thing.name for each in book.list(BookColour))


def test_what_is_typed_is_kept_named_and_undone() -> None:
    app = _say(_page(), "50 10 10")
    assert "Kept as **50 10 10**" in _told(app)
    _say(app, "60 10 10")
    assert _names() == ["60 10 10"]
    app.session_state["kept_bar_name"] = True
    app.run()
    name = next(each for each in app.text_input if each.label == "Name")
    name.set_value("Invented brown")
    _press(app, "Keep")
    assert "Kept as **Invented brown**" in _told(app)
    _say(app, "20 0 0")
    assert _names() == ["20 0 0", "Invented brown"]
    _press(app, "Undo")
    assert _names() == ["Invented brown"]


def test_a_link_from_elsewhere_is_kept_only_when_asked() -> None:
    elsewhere = "11111111-1111-4111-8111-111111111111"
    app = _page(colour="50 10 10", colour_id=elsewhere)
    assert "not in this book" in _told(app)
    assert _names() == []
    _press(app, "Keep it")
    assert _names() == ["50 10 10"]
    assert app.query_params["colour_id"] != elsewhere


def test_opening_a_link_never_writes() -> None:
    app = _page(colour="30 10 -45")
    assert "not in this book" in _told(app)
    _say(app, "31 10 -45")
    assert _names() == []
    _press(app, "Keep it")
    assert _names() == ["31 10 -45"]
    _say(app, "40 0 0")
    assert _names() == ["40 0 0"]


def _changed_meanwhile() -> AppTest:
    """A session that lowered the tolerance while somebody else raised it."""
    app = _say(_page(), "50 10 10")
    with open_book() as book:
        (kept,) = book.list(BookColour)
        question = asked_again(book, kept).question
        save(book, replace(question, tolerance=3.0), kept.uid)
    return app.number_input[0].set_value(0.25).run()


def _tolerances() -> list[float]:
    with open_book() as book:
        return sorted(
            float(each.thing.question["tolerance"]) for each in book.list(BookColour)
        )


def test_a_change_on_an_old_state_shows_both_and_loses_neither() -> None:
    app = _changed_meanwhile()
    told = _told(app)
    assert "hidden at 0.25" in told
    assert "hidden at 3" in told
    assert _tolerances() == [3.0]
    _press(app, "Both, as two colours")
    assert _tolerances() == [0.25, 3.0]
    assert "Kept as" in _told(app)


def test_their_version_is_taken_where_it_is_chosen() -> None:
    app = _press(_changed_meanwhile(), "Theirs")
    assert _tolerances() == [3.0]
    assert app.number_input[0].value == 3.0


def test_my_version_is_kept_where_it_is_chosen() -> None:
    app = _press(_changed_meanwhile(), "Mine")
    assert "Kept as" in _told(app)
    assert _tolerances() == [0.25]


def _book_page() -> None:
    from shadecore.screens import shop  # noqa: PLC0415
    from shadecore.screens.book import page as book_page  # noqa: PLC0415

    shop.begin()
    book_page.page()


def _part(name: str) -> AppTest:
    app = AppTest.from_function(_book_page, default_timeout=SECONDS)
    app.session_state["book_part"] = name
    app.run()
    _told(app)
    return app


def _box(app: AppTest, label: str) -> Any:  # noqa: ANN401 - a widget
    every = (*app.text_input, *app.selectbox, *app.toggle)
    return next(each for each in every if each.label.startswith(label))


def _upload(app: AppTest, name: str, content: bytes) -> AppTest:
    upload = app.get("file_uploader")[0]
    assert isinstance(upload, FileUploader)
    upload.upload(name, content, "text/plain")
    return app.run()


def test_a_shelf_is_begun_added_to_and_asked_over() -> None:
    app = _part("Shelf")
    _box(app, "Add sealers").set_value("Snow 92").run()
    _box(app, "Add sealers").set_value("Slate N 3, Snow 20").run()
    assert "Two sealers are called 'Snow'" in _told(app)
    _box(app, "Add sealers").set_value("Slate N 3").run()
    with open_book() as book:
        assert [each.name for each in shop_question(book).shelf] == ["Snow", "Slate"]
    asked = app.session_state["question"].shelf
    assert [each.name for each in asked] == ["Snow", "Slate"]


def test_a_line_and_a_gun_are_added_and_used() -> None:
    app = _part("Paint and guns")
    _box(app, "Add a paint line").set_value("Invented line").run()
    _box(app, "Add a gun").set_value("Gun of A").run()
    with open_book() as book:
        line, gun = (
            book.show(PaintLine, "Invented line"),
            book.show(SprayGun, "Gun of A"),
        )
    # The first one is used at once; another one waits until somebody chooses it.
    _box(app, "Add a paint line").set_value("Another line").run()
    assert _box(app, "Paint line in use").value == line.uid
    assert "Nothing learned yet" in _told(app)
    _box(app, "Batch").set_value("B 7").run()
    with open_book() as book:
        settings = book.settings().thing
        assert (settings.line, settings.gun) == (line.uid, gun.uid)
        assert book.show(PaintLine, line.uid).thing.batch == "B 7"


def test_settings_are_kept_as_they_are_changed() -> None:
    app = _part("Settings")
    _box(app, "Name of the shop").set_value("Invented Body Shop").run()
    _box(app, "Keep photos").set_value(True).run()
    _box(app, "The shop has hours").set_value(True).run()
    with open_book() as book:
        settings = book.settings().thing
    assert settings.shop == "Invented Body Shop"
    assert settings.keep_photos
    assert settings.hours is not None


def test_a_stale_edit_is_refused_with_both_versions_shown() -> None:
    mine, theirs = _part("Settings"), _part("Settings")
    _box(theirs, "Name of the shop").set_value("Theirs").run()
    _box(mine, "Name of the shop").set_value("Mine").run()
    told = _told(mine)
    assert "the book has 'Theirs'" in told
    assert "'Mine', was not kept" in told
    assert _box(mine, "Name of the shop").value == "Theirs"
    _box(theirs, "Keep photos").set_value(True).run()
    _box(mine, "Name of the shop").set_value("Mine").run()
    with open_book() as book:
        settings = book.settings().thing
    assert (settings.shop, settings.keep_photos) == ("Mine", True)


def test_a_stale_rename_is_refused_with_both_versions_shown() -> None:
    first = _part("Shelf")
    _box(first, "Add sealers").set_value("Snow 92").run()
    mine, theirs = _part("Shelf"), _part("Shelf")
    for app, name in ((theirs, "Theirs"), (mine, "Mine")):
        _box(app, "Name").set_value(name)
        _press(app, "Keep")
    told = _told(mine)
    assert "'Theirs'" in told
    assert "'Mine'" in told
    with open_book() as book:
        assert [each.thing.name for each in book.list(BookShelf)] == ["Theirs"]


def test_trouble_on_the_page_is_said_when_it_happens() -> None:
    app = _part("Settings")
    _box(app, "Name of the shop").set_value("x" * 300).run()
    assert len(app.warning) == 1


def test_a_file_says_what_it_brings_before_it_does() -> None:
    with open_book() as book:
        book.add(BookColour("Red", (45.0, 60.0, 35.0), code="R1"))
    app = _upload(
        _part("In and out"),
        "c.csv",
        b"code,L,a,b\nR1,40,50,30\nG1,50,-20,20\nx,y,0,0\n",
    )
    told = _told(app)
    assert "Adds 1: G1." in told
    # A table that names colours by their code says nothing of their names.
    assert "Changes 1: Red." in told
    assert "Not read: c.csv, line 4" in told
    assert _names() == ["Red"]
    _press(app, "Take it in")
    assert _names() == ["G1", "Red"]


def test_a_file_of_no_kind_is_refused_in_a_sentence() -> None:
    app = _upload(_part("In and out"), "c.cxf", b"<x>")
    assert len(app.error) == 1
    assert len(app.error[0].value) < 320


def test_the_bin_is_emptied_with_a_second_tap() -> None:
    with open_book() as book:
        for name in ("Red", "Blue"):
            book.remove(book.add(BookColour(name, (45.0, 60.0, 35.0))))
    app = _press(_part("Bin"), "Put back")
    assert _names() == ["Blue"]
    _press(app, "Empty the bin")
    with open_book() as book:
        assert len(book.bin()) == 1
    next(each for each in app.button if each.label.startswith("Yes")).click().run()
    with open_book() as book:
        assert book.bin() == ()


def test_jobs_of_one_name_are_both_given_out() -> None:
    with open_book() as book:
        book.add_all([BookJob("Job", "[job]"), BookJob("Job", "[job]")])
    options = _box(_part("In and out"), "Give out").options
    assert len([each for each in options if "Times of the job Job" in each]) == 2


def test_the_bin_says_what_goes_along_before_it_is_emptied() -> None:
    with open_book() as book:
        gone = book.add(BookColour("Sprayed", (45.0, 60.0, 35.0)))
        book.add(BookSeen(gone.uid, "job", 3, 3))
        book.remove(gone)
    assert "Sprayed: records 1" in _told(_part("Bin"))


def test_a_backup_takes_the_place_of_the_book_after_a_second_tap(
    tmp_path: Path,
) -> None:
    with open_book() as book:
        book.add(BookColour("Red", (45.0, 60.0, 35.0)))
        book.backup(tmp_path / "kept.sqlite")
        book.add(BookColour("Blue", (45.0, 0.0, -35.0)))
    content = (tmp_path / "kept.sqlite").read_bytes()
    app = _press(_part("Backup"), "Check the book")
    assert "The book is whole." in _told(app)
    _upload(app, "kept.sqlite", content)
    _press(app, "Put it back")
    assert _names() == ["Blue", "Red"]
    _press(app, "Yes, take its place")
    assert _names() == ["Red"]
    assert "Put it back" not in [each.label for each in app.button]


def test_an_edited_shelf_keeps_the_spectrum_of_what_was_left_alone() -> None:
    measured = undercoat_from_reflectance("Oxide", [0.1] * 20 + [0.4] * 11)
    before = (Stocked(measured, 2.0), Stocked(undercoat("Snow", (92.0, 0.0, 0.0))))
    table = frame_of(before)
    assert items_of(table, before) == before
    table.loc[0, "name"], table.loc[0, "price"] = "Oxide red", 12.5
    table.loc[1, "L"] = 90.0
    table.loc[2, "name"], table.loc[2, "L"], table.loc[2, "stock"] = "Slate", 35.0, 1.5
    oxide, snow, slate = items_of(table, before)
    assert oxide.undercoat.reflectance == measured.reflectance
    assert (oxide.undercoat.name, oxide.undercoat.price) == ("Oxide red", 12.5)
    assert snow.undercoat.lightness == 90.0
    assert (slate.undercoat.name, slate.stock) == ("Slate", 1.5)
