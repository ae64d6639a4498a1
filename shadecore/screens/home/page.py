"""The first page: the shop's colours and jobs, and three ways to start."""

from typing import Any, Final, NamedTuple

import streamlit as st

from shadecore.book.book import Book
from shadecore.book.kept import Kept
from shadecore.book.records import BookColour
from shadecore.book.shop_records import BookJob
from shadecore.book.working import asked_again
from shadecore.errors import ShadecoreError
from shadecore.question.answer import answer
from shadecore.question.question import Question
from shadecore.screens import pictures, say, session, shop, ways
from shadecore.screens.home import picks, rows
from shadecore.screens.home.first_shelf import ask_first_shelf, is_asked
from shadecore.screens.kept_bar import show_last_change
from shadecore.telling.counts import count_words

_SEARCH: Final = "home_search"
_MORE: Final = "home_more"
_FIRST_COLOURS: Final = 6
_FIRST_JOBS: Final = 4
_MORE_ROWS: Final = 12


class _Start(NamedTuple):
    button: str
    text: str
    page: str


_STARTS: Final = (
    _Start(
        "New colour",
        "Type its Lab, sRGB or Munsell value: out come the sealer and the coats.",
        "pick",
    ),
    _Start(
        "From a photo",
        "A swatch beside a grey card, white paper or a 24-patch chart.",
        "photo",
    ),
    _Start(
        "Teach",
        "One film over five greys, coat by coat, and an exercise to guess.",
        "lesson",
    ),
)


def page() -> None:
    """Run the page from top to bottom."""
    if shop.opened_by_link():
        # A link of a pick, from when the pick was the first page.
        ways.go_to("pick", st.query_params.to_dict())
    session.leave_link()
    book = shop.book()
    if shop.trouble():
        say.warning(shop.trouble())
    empty = book is None or not book.search(limit=1)
    if empty:
        _show_first()
    if empty or book is None:
        if is_asked():
            ask_first_shelf()
        _ask_start()
        show_last_change()
        _show_example()
        st.caption(
            "The count is modelled; the example's colour and greys are invented. The "
            "product's data sheet and a sprayed-out test card have the last word. "
            "Everything stays on this computer."
        )
        return
    _ask_start_briefly()
    _show_book(book)


def _show_first() -> None:
    st.title("Which sealer, and how many coats?", anchor=False)
    st.markdown(
        "The shade of the sealer decides whether a colour hides in three coats or in "
        "six. shadecore picks it from the greys on your shelf, says how sure the count "
        "is, and plans the rest of the job."
    )


def _ask_start() -> None:
    for column, start in zip(st.columns(len(_STARTS)), _STARTS, strict=True):
        label = f"**{start.button}**  \n:small[{start.text}]"
        if column.button(label, key=f"sc_card_{start.page}", width="stretch"):
            _go(start)


def _ask_start_briefly() -> None:
    with st.container(horizontal=True, key="home_starts"):
        for start in _STARTS:
            if st.button(
                start.button,
                key=start.page,
                type="primary" if start.page == "pick" else "secondary",
                width="stretch",
            ):
                _go(start)


def _go(start: _Start) -> None:
    if start.page == "pick":
        shop.new_colour()
    ways.go_to(start.page)


def _show_book(book: Book) -> None:
    """Show colours and jobs, newest first, with one search over both."""
    st.html(f"<style>{rows.STYLE}</style>")
    text = st.text_input(
        "Search colours and jobs",
        key=_SEARCH,
        type="search",
        live=True,
        placeholder="Search name, code, car, step",
        label_visibility="collapsed",
    )
    more = st.session_state.get(_MORE, 0) * _MORE_ROWS
    colours = _found(book, text or "", BookColour, _FIRST_COLOURS + more)
    jobs = _found(book, text or "", BookJob, _FIRST_JOBS + more)
    left, right = st.columns(2, gap="medium")
    with left, st.container(key="sc_colours", gap=None):
        st.subheader("My colours", anchor=False)
        waiting = _show_colours(book, colours[: _FIRST_COLOURS + more])
    with right, st.container(key="sc_jobs", gap=None):
        st.subheader("My jobs", anchor=False)
        for kept in jobs[: _FIRST_JOBS + more]:
            rows.show_job(kept, rows.job_swatch(kept))
        if not jobs:
            st.caption(
                "None found."
                if text
                else "A planned job stands here once something of it is set or done."
            )
    if len(colours) > _FIRST_COLOURS + more or len(jobs) > _FIRST_JOBS + more:
        st.button("More", on_click=_show_more, width="stretch")
    show_last_change()
    if is_asked():
        ask_first_shelf()
    _work_out(waiting)


def _found(
    book: Book, text: str, record: type[Any], rows_shown: int
) -> tuple[Kept[Any], ...]:
    """What a search finds, and one more where there are more."""
    return book.search(text, records=(record,), limit=rows_shown + 1)


def _show_more() -> None:
    st.session_state[_MORE] = st.session_state.get(_MORE, 0) + 1


def _show_colours(book: Book, colours: tuple[Kept[BookColour], ...]) -> list[Question]:
    """Show colours; the questions whose pick is not worked out yet."""
    if not colours:
        st.caption("None found.")
    waiting = []
    for kept in colours:
        try:
            question = asked_again(book, kept).question
            words = picks.known_pick(question)
        except ShadecoreError:
            question, words = None, ""
        rows.show_colour(kept, words)
        if question is not None and words is None:
            waiting.append(question)
    return waiting


def _work_out(waiting: list[Question]) -> None:
    """Work out picks that nobody did yet, then show them; a tap comes before that."""
    quick = [each for each in waiting if picks.is_quick(each)]
    for question in quick:
        # Gives way to a tap meanwhile, which this page takes between two picks.
        st.empty()
        picks.work_out(question)
    if quick:
        st.rerun()


def _show_example() -> None:
    with st.spinner("Mixing the example"):
        found = answer(Question())
    best, closest = found.recommended, found.closest
    st.html(pictures.beside_html(found))
    st.markdown(
        f"The same red over {best.undercoat.name} and over {closest.undercoat.name}, "
        f"the grey that matches it in lightness: {count_words(best.count)} against "
        f"{count_words(closest.count)}."
    )
