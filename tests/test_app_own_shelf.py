"""The shop's own shelf, while links and older jobs bring greys of their own."""

from streamlit.testing.v1 import AppTest
from typed_greys import add_greys

from shadecore.book.book import open_book
from shadecore.book.kinds import kind_of
from shadecore.book.records import BookShelf, Stocked
from shadecore.book.working import own_shelf
from shadecore.question.link import to_link
from shadecore.question.question import Question
from shadecore.undercoats.shelf import undercoat
from shadecore.undercoats.shelf_table import demo_shelf

SECONDS = 60
OURS = (
    Stocked(undercoat("Own white", (92.0, 0.0, 0.0), price=30.0, unit="l"), 2.5),
    Stocked(undercoat("Own mid", (56.0, 0.0, 0.0), price=20.0), 1.5),
)
THEIRS = (undercoat("Theirs A", (80.0, 0.0, 0.0)), undercoat("Theirs B", (40.0, 0, 0)))


def _chips() -> None:
    """A page that asks the shelf only."""
    from shadecore.screens import session, shop  # noqa: PLC0415
    from shadecore.screens.pick import chips  # noqa: PLC0415

    shop.begin()
    chips.ask_chips(session.question().shelf)


def _page(question: Question | None = None) -> AppTest:
    app = AppTest.from_function(_chips, default_timeout=SECONDS)
    for name, text in ({} if question is None else to_link(question)).items():
        app.query_params[name] = text
    return app.run()


def _begin_shelf() -> None:
    with open_book() as book:
        kept = book.add(BookShelf("Ours", OURS))
        now = book.settings()
        with book.changing("used the shelf") as change:
            used = type(now.thing)(shelf=kept.uid)
            change.put(kind_of(type(now.thing)), now, used, removed=False)


def _items() -> tuple[Stocked, ...]:
    with open_book() as book:
        (kept,) = book.list(BookShelf)
        return kept.thing.items


def _press(app: AppTest, label: str) -> None:
    next(each for each in app.button if each.label == label).click().run()
    assert not app.exception


def _names(app: AppTest) -> list[str]:
    return [each.name for each in app.session_state["question"].shelf]


def test_greys_of_a_link_never_take_the_place_of_the_shops_own() -> None:
    _begin_shelf()
    app = _page(Question("30 10 -45", shelf=THEIRS))
    add_greys(app, "New one 60")
    assert _names(app) == ["Theirs A", "Theirs B", "New one"]
    assert _items() == OURS
    _press(app, "Use our shelf")
    assert _names(app) == ["Own white", "Own mid"]
    add_greys(app, "New one 60")
    assert _items()[:2] == OURS
    assert _items()[2].undercoat.name == "New one"


def test_a_link_over_the_shops_own_shelf_still_edits_it() -> None:
    _begin_shelf()
    with open_book() as book:
        shelf = own_shelf(book)
    app = _page(Question("30 10 -45", shelf=shelf))
    assert not [each for each in app.button if each.label == "Use our shelf"]
    add_greys(app, "New one 60")
    assert [each.undercoat.name for each in _items()] == _names(app)


def _shelf_page() -> None:
    from shadecore.screens import kept_bar, session, shop  # noqa: PLC0415
    from shadecore.screens.book import shelves  # noqa: PLC0415

    shop.begin()
    session.leave_link()
    shelves.show(shop.book())
    kept_bar.show_last_change()


def test_the_shelf_in_use_is_removed_and_brought_back_by_one_undo() -> None:
    _begin_shelf()
    app = AppTest.from_function(_shelf_page, default_timeout=SECONDS).run()
    _press(app, "Remove")
    with open_book() as book:
        assert book.settings().thing.shelf == ""
        assert book.changes()[0].what == "removed the shelf Ours"
    _press(app, "Undo")
    with open_book() as book:
        assert [each.name for each in own_shelf(book)] == ["Own white", "Own mid"]
    assert _names(app) == ["Own white", "Own mid"]


def test_another_shelf_is_chosen_on_the_page() -> None:
    _begin_shelf()
    app = AppTest.from_function(_shelf_page, default_timeout=SECONDS).run()
    app.selectbox[0].set_value("").run()
    assert not app.exception
    with open_book() as book:
        assert book.settings().thing.shelf == ""
    assert "Own white" not in _names(app)


def test_the_first_grey_of_ones_own_ends_the_invented_ones() -> None:
    with open_book() as book:
        kept = book.add(BookShelf("Invented greys", tuple(map(Stocked, demo_shelf()))))
        now = book.settings()
        book.change(now, type(now.thing)(shelf=kept.uid))
    app = AppTest.from_function(_shelf_page, default_timeout=SECONDS).run()
    typed = next(each for each in app.text_input if each.key == "shelf_typed")
    typed.set_value("Own white 92").run()
    assert not app.exception
    with open_book() as book:
        (kept,) = book.list(BookShelf)
    assert kept.thing.name == "Our shelf"
    assert [each.undercoat.name for each in kept.thing.items] == ["Own white"]


def test_a_renamed_chip_keeps_what_is_in_stock() -> None:
    _begin_shelf()
    app = _page()
    chips = next(each for each in app.get("button_group") if each.label == "Shelf")
    chips.set_value("Own mid").run()
    app.text_input(key="shelf_edit_Own mid").set_value("Our mid L* 56.0").run()
    assert not app.exception
    assert [(each.undercoat.name, each.stock) for each in _items()] == [
        ("Own white", 2.5),
        ("Our mid", 1.5),
    ]
