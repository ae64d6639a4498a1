"""The shop's book on the pages: opened once for all, kept as somebody works.

A link carries the whole question, so it opens the same answer on another computer. The
``uid`` of the book's colour stands beside it: a book that does not hold it says so.
"""

from dataclasses import replace
from typing import Final

import streamlit as st

from shadecore.book.alike import same_colour
from shadecore.book.asked import asked_of
from shadecore.book.asking import question_of
from shadecore.book.book import Book
from shadecore.book.errors import BookConflict
from shadecore.book.kept import Change, Kept
from shadecore.book.records import BookColour
from shadecore.book.shop_records import BookJob
from shadecore.book.working import (
    asked_again,
    changed_since,
    save,
    save_new,
    shop_question,
    stays,
    without_records,
)
from shadecore.errors import ShadecoreError
from shadecore.job.job_file import parse_job
from shadecore.job.job_link import PARAMETER as JOB_PARAMETER
from shadecore.job.job_link import job_parameters
from shadecore.question.question import Question
from shadecore.screens import open_book, session, shop_shelf

book, find = open_book.book, open_book.find
trouble, tell = open_book.trouble, open_book.tell
settings, change_settings = open_book.settings, open_book.change_settings
letterhead = open_book.letterhead

COLOUR_ID: Final = "colour_id"
"""Parameter of a link: ``uid`` of the colour in the book."""
JOB_ID: Final = "job_id"
"""Parameter of a link: ``uid`` of the job in the book."""
_SAVED: Final = "shop_saved"
_CONFLICT: Final = "shop_conflict"
_LINKED: Final = "shop_linked"
_FOREIGN: Final = "shop_foreign"
"""Whether a link asks what no colour of the book is named for, until it is kept."""
_PAGES_JOB: Final = "job_request"
"""Where the plan's page keeps the job that it shows."""


def start() -> Question:
    """The question that a session without a link begins with.

    Returns
    -------
    Question
        With the shop's shelf and units, and what its line and gun have taught.
    """
    shop = book()
    if shop is None:
        return Question()
    try:
        return shop_question(shop)
    except ShadecoreError as error:
        tell(error)
        return Question()


def begin() -> None:
    """Give a session that asks nothing yet the shop's own question to begin with.

    One that begins with a link takes the link's question as read, so that opening a
    link never writes.
    """
    # Only the first run of a session has a link that nobody has read yet.
    st.session_state[_LINKED] = not session.active() and session.begun()
    named = session.parameters().get(COLOUR_ID)
    if not session.begun():
        session.begin(start())
    elif opened_by_link() and not named:
        st.session_state[_FOREIGN] = session.linked() != start()
    elif _SAVED not in st.session_state and named:
        st.session_state[_SAVED] = session.linked()


def opened_by_link() -> bool:
    """Whether this run of the session is its first, and its link asks something.

    Returns
    -------
    bool
    """
    return bool(st.session_state.get(_LINKED))


def colour() -> Kept[BookColour] | None:
    """The book's colour that the session works on.

    Returns
    -------
    Kept of BookColour or None
        None where there is none, or the link names one that this book does not hold.
    """
    return find(BookColour, session.parameters().get(COLOUR_ID, ""))


def from_elsewhere() -> bool:
    """Whether a link brought a colour that nobody has kept in this book.

    Returns
    -------
    bool
    """
    return _is_from_elsewhere(colour())


def _is_from_elsewhere(now: Kept[BookColour] | None) -> bool:
    named = bool(session.parameters().get(COLOUR_ID))
    return now is None and (named or bool(st.session_state.get(_FOREIGN)))


def keep_colour(question: Question) -> None:
    """Keep what the session asks, where it changed since it was kept last.

    A link from elsewhere is not kept until somebody says so: see :func:`take_in`. Nor
    is what somebody else changed meanwhile: see :func:`conflict`. Where another colour
    takes the place of one that stays, its records stay with it, and the page runs anew.

    Parameters
    ----------
    question : Question
        What is asked; one that has an answer.
    """
    shop, now = book(), colour()
    if shop is None or shop.read_only or _is_from_elsewhere(now) or conflict():
        return
    base = st.session_state.get(_SAVED)
    over = base
    if base is not None and shop.settings().thing.shelf:
        # The shelf is the shop's: a change of it is kept, and undone, by itself.
        over = replace(base, shelf=question.shelf)
    if over == question:
        return
    if now is None and question == start():
        return
    asked = _without_records_of(shop, now, base, question)
    try:
        kept = save(shop, asked, "" if now is None else now.uid, base)
    except ShadecoreError as error:
        st.session_state[_CONFLICT] = isinstance(error, BookConflict)
        tell(error)
        return
    if now is not None and kept.uid != now.uid:
        asked = replace(asked, seen=question_of(shop, kept).question.seen)
    _is_kept(asked, kept)
    if asked != question:
        session.put(asked, session.problems())
        st.rerun()


def _without_records_of(
    shop: Book, now: Kept[BookColour] | None, base: Question | None, question: Question
) -> Question:
    """What is asked, without what belongs to a colour that stays behind."""
    if now is None or base is None or same_colour(base, question):
        return question
    bare = without_records(question, base)
    return bare if bare != question and stays(shop, now) else question


def _is_kept(question: Question, kept: Kept[BookColour]) -> None:
    """Note that the session asks what the book holds of a colour."""
    st.session_state[_CONFLICT] = False
    tell("")
    st.session_state[_SAVED] = question
    session.keep(question, {COLOUR_ID: kept.uid})


def conflict() -> Kept[BookColour] | None:
    """What the book holds of the colour, where the session's own could not be kept.

    Returns
    -------
    Kept of BookColour or None
        None where nobody else changed it.
    """
    return colour() if st.session_state.get(_CONFLICT) else None


def settle(*, mine: bool, theirs: bool) -> None:
    """Choose which version of a colour stays.

    Parameters
    ----------
    mine, theirs : bool
        Whether the session's stays, and the book's; with both, the session's becomes
        a colour of its own.
    """
    shop, there = book(), conflict()
    if shop is None or there is None:
        return
    question = session.question()
    try:
        if not mine:
            _show(shop, there)
        elif theirs:
            _is_kept(question, save_new(shop, question, there.thing.name))
        else:
            base = asked_of(there.thing).question
            _is_kept(question, save(shop, question, there.uid, base))
    except ShadecoreError as error:
        tell(error)


def changed_elsewhere(now: Kept[BookColour]) -> bool:
    """Whether the book holds another version of the colour than the session read.

    Parameters
    ----------
    now : Kept of BookColour
        What :func:`colour` says.

    Returns
    -------
    bool
    """
    return changed_since(now, st.session_state.get(_SAVED))


def take_in() -> None:
    """Take the colour of a link from elsewhere into this book."""
    _forget_colour()
    keep_colour(session.question())


def _forget_colour() -> None:
    """Forget which colour the session works on, and where it came from."""
    session.drop(COLOUR_ID)
    for key in (_SAVED, _FOREIGN):
        st.session_state.pop(key, None)


def open_colour(kept: Kept[BookColour]) -> None:
    """Go on with a colour of the book, on every page.

    Parameters
    ----------
    kept : Kept of BookColour
        The colour.
    """
    shop = book()
    if shop is None:
        return
    settle(mine=True, theirs=True)
    _leave_job()
    _show(shop, kept)


def _show(shop: Book, kept: Kept[BookColour]) -> None:
    """Put a colour of the book in the place of what the session asks."""
    try:
        read = asked_again(shop, kept)
    except ShadecoreError as error:
        tell(error)
        return
    st.session_state[_CONFLICT] = False
    st.session_state[_SAVED] = read.question
    tell("")
    session.put(read.question, read.problems, {COLOUR_ID: kept.uid})


def open_job(kept: Kept[BookJob]) -> bool:
    """Go on with a job of the book.

    Parameters
    ----------
    kept : Kept of BookJob
        The job.

    Returns
    -------
    bool
        Whether it could be read; :func:`trouble` says why not.
    """
    try:
        request = parse_job(kept.thing.text, f"The job {kept.thing.name!r}")
    except ShadecoreError as error:
        tell(error)
        return False
    settle(mine=True, theirs=True)
    _leave_job()
    _forget_colour()
    st.session_state[_SAVED] = request.question
    tell("")
    own = {JOB_ID: kept.uid, COLOUR_ID: kept.thing.colour or None}
    session.put(request.question, (), {**job_parameters(request), **own})
    return True


def new_colour() -> None:
    """Begin another colour, with the shop's shelf."""
    settle(mine=True, theirs=True)
    _forget_colour()
    _leave_job()
    session.put(start(), ())


def _leave_job() -> None:
    st.session_state.pop(_PAGES_JOB, None)
    session.drop(JOB_ID)
    session.drop(JOB_PARAMETER)


def undo(change: Change | None = None) -> None:
    """Take the book's last change back, and show colour and shelf as they then are.

    Parameters
    ----------
    change : Change, optional
        The change that was shown; another one that came after it stays, and
        :func:`trouble` says so.
    """
    shop, before = book(), session.parameters().get(COLOUR_ID)
    if shop is None:
        return
    own = shop_shelf.asks_own_shelf()
    if not open_book.done(lambda: shop.undo(change)):
        return
    if own:
        shop_shelf.ask_own_shelf()
    job, kept = session.parameters().get(JOB_ID, ""), colour()
    reopened = find(BookJob, job)
    if reopened is not None and open_job(reopened):
        return
    if kept is not None:
        _show(shop, kept)
    elif before:
        new_colour()
