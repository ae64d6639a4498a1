"""Left-overs in the book: what is refused, what is said, where they are shown."""

from datetime import date, datetime, timedelta

import pytest
from book_commands import Captured, book, refused
from plan_page import plan_page, press, said
from streamlit.testing.v1 import AppTest

from shadecore.book.book import open_book
from shadecore.book.left_overs import judged, left_of, left_over
from shadecore.book.records import BookColour
from shadecore.book.shop_records import BookLeftOver
from shadecore.errors import JobError
from shadecore.products.left_overs import LeftOver
from shadecore.products.sheet_file import demo_sheet
from shadecore.telling.left_over_words import left_over_words, verdict_words
from shadecore.units import UNITS

SHEETS = (demo_sheet(),)
MONDAY = date(2026, 3, 2)
METRIC = UNITS["metric"]


@pytest.mark.parametrize("amount", ["200 ml", "200", "0,2 L", "20cl"])
def test_amounts_with_and_without_their_unit(amount: str) -> None:
    left = left_over(SHEETS, "Solvent base coat", amount, MONDAY, MONDAY)
    assert (left.product, left.since, left.mixed) == ("base_coat", MONDAY, True)
    assert left.ml == pytest.approx(200.0)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("nosuch", "200", MONDAY), "There is no product 'nosuch'; take one of"),
        (("base_coat", "200", date(2027, 1, 1)), "from 2027-01-01, after 2026-03-02"),
        (("clear_coat", "200", MONDAY), "sets in the pot: it is waste"),
        (("base_coat", "200 g", MONDAY), "What is left is a volume, not '200 g'"),
        (("base_coat", "some", MONDAY), "The amount 'some' cannot be read"),
    ],
)
def test_what_is_not_kept(words: tuple[str, str, date], told: str) -> None:
    with pytest.raises(JobError) as caught:
        left_over(SHEETS, *words, MONDAY)
    message = str(caught.value)
    assert told in message
    assert len(message) <= 300


def test_the_command_says_what_may_be_done_with_it(capsys: Captured) -> None:
    book(capsys, "add", "leftovers", "Red", "120", "ml", "--since", "2020-03-02")
    book(capsys, "add", "leftovers", "Blue", "80")
    can = ("--product", "clear_coat", "--can")
    book(capsys, "add", "leftovers", "Clear", "0.5 L", *can)
    told = " ".join(book(capsys, "list", "leftovers").split())
    # 180 days from 2 March are 29 August, by the calendar.
    assert "its last day was 29 Aug 2020" in told
    assert "its sheet" in told
    for words, why in (
        (("Red", "90", "--product", "nosuch"), "There is no product 'nosuch'"),
        (("Red", "90", "--since", "2999-01-01"), "after"),
        (("Red", "90", "--product", "clear_coat"), "it is waste"),
    ):
        assert why in refused(capsys, "book", "add", "leftovers", *words)
    with open_book() as there:
        assert len(there.list(BookLeftOver)) == 3


def test_what_was_kept_before_gets_its_verdict() -> None:
    """An older book may hold what would be refused now."""
    with open_book() as there:
        for name, left, told in (
            ("Set", LeftOver("clear_coat", 80.0, MONDAY), "waste: mixed with hardener"),
            ("Odd", LeftOver("nosuch", 80.0, MONDAY), "in no product sheet"),
            ("New", LeftOver("base_coat", 80.0, date(2027, 1, 1)), "yet to come"),
            (
                "Rest",
                LeftOver("base_coat", 80.0, MONDAY),
                "to be used until 29 Aug 2026",
            ),
        ):
            kept = there.add(BookLeftOver(name, left))
            found = judged(SHEETS, kept, MONDAY)
            assert told in verdict_words(found)
        said_of = left_over_words(found, METRIC)
        assert said_of.startswith("80 ml left of Rest, mixed 02 Mar 2026: to be used")


def test_the_bench_names_what_is_left_of_the_colour_that_is_mixed() -> None:
    base = demo_sheet().of_kind("base_coat")
    with open_book() as there:
        red, blue = (
            there.add(BookColour(name, lab))
            for name, lab in (("Red", (45.0, 60.0, 35.0)), ("Blue", (30.0, 5.0, -32.0)))
        )
        for name, uid, days in (("of blue", blue.uid, 1), ("of red", red.uid, 9)):
            left = LeftOver("base_coat", 50.0, MONDAY - timedelta(days=days))
            there.add(BookLeftOver(name, left, colour=uid))
        there.add(BookLeftOver("any", LeftOver("base_coat", 30.0, MONDAY)))
        there.add(BookLeftOver("set", LeftOver("clear_coat", 30.0, MONDAY)))
        names = [
            [each.kept.thing.name for each in left_of(there, product, uid, MONDAY)]
            for product, uid in (
                (base, red.uid),
                (base, ""),
                (demo_sheet().of_kind("clear_coat"), red.uid),
            )
        ]
    assert names == [["of red", "any"], ["any"], []]


def test_it_is_shown_at_the_bench() -> None:
    today = datetime.now().astimezone().date()
    with open_book() as there:
        left = LeftOver("surfacer", 250.0, today - timedelta(days=3), mixed=False)
        there.add(BookLeftOver("Surfacer can", left))
    app = plan_page("bench").run()
    while app.subheader[0].value != "Surfacer":
        press(app, "Done: ")
    assert "250 ml left of Surfacer can, can opened" in said(app)


def _book_page() -> None:
    from shadecore.screens.book import page  # noqa: PLC0415

    page.page()


def test_the_page_of_the_book_keeps_and_lists_them() -> None:
    with open_book() as there:
        red = there.add(BookColour("Deep red", (45.0, 60.0, 35.0)))
    app = AppTest.from_function(_book_page, default_timeout=60)
    app.session_state["book_part"] = "Left-overs"
    app.run()
    assert "Nothing is left over" in said(app)

    def keep(amount: str, product: str) -> None:
        fields = {each.label: each for each in (*app.text_input, *app.selectbox)}
        fields["Product"].set_value(product)
        fields["How much"].set_value(amount)
        fields["Colour"].set_value(red.uid)
        press(app, "Keep")

    keep("200 ml", "clear_coat")
    # Beside the button: on a phone the head of the page is out of sight.
    assert any("it is waste" in each.value for each in app.error)
    assert "200 ml" in [each.value for each in app.text_input]
    keep("200 ml", "base_coat")
    assert "200 ml left of Solvent base coat, Deep red, mixed" in said(app)
    assert "to be used until" in said(app)
