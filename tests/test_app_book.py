"""The book on the pages: what is kept as somebody works, and the page that shows it."""

from dataclasses import replace

from streamlit.testing.v1 import AppTest

from shadecore.book.book import open_book
from shadecore.book.records import BookColour

SECONDS = 30


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


def _changed_meanwhile() -> AppTest:
    """A session that lowered the tolerance while somebody else raised it."""
    app = _say(_page(), "50 10 10")
    with open_book() as book:
        from shadecore.book.working import asked_again, save  # noqa: PLC0415

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
