"""What the book's records say of a line and a gun: kept, forgotten, told."""

import math
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from shadecore.book import worked_out
from shadecore.book.asking import colour_of, keep
from shadecore.book.book import Book, open_book
from shadecore.book.errors import BookError
from shadecore.book.kept import Kept
from shadecore.book.learning import Experience, learn
from shadecore.book.loadings import forget, learned_loading, observed
from shadecore.book.records import BookColour, BookSeen, BookShelf, Stocked
from shadecore.book.shop_records import PaintLine, SprayGun
from shadecore.book.working import asked_again
from shadecore.coats.loading import Loading, default_loading
from shadecore.coats.seen import Seen
from shadecore.question.answer import answer, answer_as_usual
from shadecore.question.question import Question
from shadecore.telling.counts import sure_words
from shadecore.telling.seen import as_usual_words, loading_words
from shadecore.undercoats.shelf_table import demo_shelf

USUAL = default_loading()


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(tmp_path / "book.sqlite") as opened:
        yield opened


def a_line(book: Book, name: str = "Invented line", coats: int = 2) -> Kept[PaintLine]:
    """A line of which three colours took so many coats."""
    line = book.add(PaintLine(name))
    for lightness in ("40", "45", "50"):
        colour = colour_of(f"{name} {lightness}", Question(f"{lightness} 40 30"))
        record = Seen("job", coats, coats, undercoat=demo_shelf()[1])
        keep(book, replace(colour, line=line.uid), (record,))
    return line


def test_numbers_that_are_kept_are_those_that_are_worked_out(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    line = a_line(book)
    first = learned_loading(book, line.uid)
    number = book.last_change
    with open_book(book.path) as again, monkeypatch.context() as patch:
        patch.setattr("shadecore.book.loadings.paints_of", None)
        assert learned_loading(again, line.uid) == first
    # They are no change of the book.
    assert book.last_change == number
    # After a change of the engine they are worked out again.
    monkeypatch.setattr(worked_out, "_made_by", lambda: "another engine")
    monkeypatch.setattr("shadecore.book.loadings.paints_of", None)
    with open_book(book.path) as again, pytest.raises(TypeError):
        learned_loading(again, line.uid)


def test_what_was_learned_is_worked_out_once_for_each_state_of_the_book(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A first page of twelve colours, three of which have records of their own."""
    line = a_line(book)
    sprayed = book.list(BookColour)
    new = [
        book.add(replace(BookColour(f"New {n}", (30.0 + n, 5.0, 5.0)), line=line.uid))
        for n in range(9)
    ]
    learned = []

    def noted(*words: Any, **more: Any) -> Experience:  # noqa: ANN401 - passed on
        learned.append(words)
        return learn(*words, **more)

    monkeypatch.setattr("shadecore.book.loadings.learn", noted)
    rows = (*sprayed, *new)
    first = [asked_again(book, each) for each in rows]
    assert len(learned) == 1 + len(sprayed)
    assert [asked_again(book, each) for each in rows] == first
    assert len(learned) == 1 + len(sprayed)
    with open_book(book.path) as other:
        record = other.list(BookSeen)[0]
        other.change(record, replace(record.thing, coats_high=6))
    assert asked_again(book, new[0]) != first[-9]
    assert asked_again(book, new[0]).question.loading == learned_loading(book, line.uid)


def test_what_is_not_kept_yet_is_not_remembered(book: Book) -> None:
    line = a_line(book)
    before = learned_loading(book, line.uid)
    record = book.list(BookSeen)[0]

    def tried() -> None:
        with book.changing("tried"):
            book.change(record, replace(record.thing, coats_high=6))
            assert learned_loading(book, line.uid) != before
            book.add(PaintLine(line.thing.name))

    with pytest.raises(BookError, match="already"):
        tried()
    book.add(PaintLine("Another"))
    assert learned_loading(book, line.uid) == before


def test_what_is_kept_follows_the_colour_and_the_record(book: Book) -> None:
    a_line(book)
    before = observed(book)
    colour = book.show(BookColour, "Invented line 40")
    book.change(colour, replace(colour.thing, entered="80 5 60", question={}))
    record = book.list(BookSeen, belongs={"colour": colour.uid})[0]
    book.change(record, replace(record.thing, undercoat=demo_shelf()[-1]))
    after = observed(book)
    assert len(after) == len(before) == 3
    assert {each.ln_thickness_mean for each in after} != {
        each.ln_thickness_mean for each in before
    }


def test_only_the_newest_numbers_are_kept(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(worked_out, "MOST_KEPT", 2)
    keys = ("a", "b", "c")
    for place, key in enumerate(keys):
        book.keep_worked_out({key: worked_out.Hides(place, 0.1, 10.0)})
    assert set(book.worked_out(keys)) == {"b", "c"}


def test_a_line_that_is_told_to_forget_begins_anew(book: Book) -> None:
    line, other = a_line(book), a_line(book, "Other line", 5)
    learned = learned_loading(book, line.uid)
    assert learned.jobs == 3
    gone = forget(book, line)
    assert learned_loading(book, line.uid) == USUAL
    assert learned_loading(book, other.uid).jobs == 3
    colour = book.show(BookColour, "Invented line 45")
    keep(book, colour.thing, (Seen("job", 4, 4),), onto=colour)
    assert learned_loading(book, line.uid).jobs == 1
    assert book.changes(2)[1].what == "forgot what was learned of Invented line"
    forget(book, gone, again=True)
    assert learned_loading(book, line.uid).jobs == 4


def test_a_gun_forgets_and_nothing_else_can(book: Book) -> None:
    line = a_line(book)
    gun = book.add(SprayGun("Old gun"))
    for each in book.list(BookSeen):
        book.change(each, replace(each.thing, gun=gun.uid))
    assert learned_loading(book, "", gun.uid).jobs == 3
    forget(book, gun)
    assert learned_loading(book, line.uid, gun.uid) == USUAL
    with pytest.raises(BookError, match="Only of a paint line and of a gun"):
        forget(book, book.add(BookShelf("Shelf", (Stocked(demo_shelf()[0]),))))


@pytest.mark.parametrize(
    ("times", "said"),
    [
        (1.0, "as paints usually do"),
        (4 / 3, "a third better"),
        (1 / 0.75, "a third better"),
        (0.75, "a quarter worse"),
        (0.6, "two fifths worse"),
        (1.1, "a tenth better"),
        (2.0, "2.0 times better"),
        (0.4, "2.5 times worse"),
    ],
)
def test_how_much_better_a_line_covers(times: float, said: str) -> None:
    loading = Loading(USUAL.mean + math.log(times), 0.3, 6)
    words = loading_words(loading, USUAL)
    assert said in words
    assert "6 jobs" in words


@pytest.mark.parametrize(
    ("of", "said"),
    [
        ("line and gun", "This line and gun cover "),
        ("line", "This line covers "),
        ("gun", "This gun covers "),
    ],
)
def test_it_is_told_whose_jobs_were_learned_from(of: str, said: str) -> None:
    for more in (0.0, 0.5):
        loading = Loading(USUAL.mean + more, 0.3, 6, of)
        assert loading_words(loading, USUAL).startswith(said)


def test_nothing_is_told_where_nothing_was_learned() -> None:
    assert loading_words(USUAL, USUAL) == ""
    assert answer_as_usual(Question()) is None


def test_the_answer_without_what_was_learned_is_the_usual_one() -> None:
    learned = Question(loading=Loading(USUAL.mean + 1.0, 0.2, 6))
    usual = answer_as_usual(learned)
    assert usual is not None
    assert usual == answer(Question())
    words = as_usual_words(usual)
    assert sure_words(usual.recommended.count) in words
    assert usual.recommended.count != answer(learned).recommended.count
