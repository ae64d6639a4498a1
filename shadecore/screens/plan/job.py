"""The job of the session: from the book, its link or new; kept as somebody works.

The book goes before the link. A link from another computer is planned from as it
stands, and kept when somebody says so.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

import streamlit as st

from shadecore.book.book import Book
from shadecore.book.errors import BookConflict
from shadecore.book.jobs import find_job, job_of, request_of
from shadecore.book.kept import Kept
from shadecore.book.shop_records import BookJob
from shadecore.errors import ShadecoreError
from shadecore.job.job_link import PARAMETER, job_parameters, read_job_link
from shadecore.job.request import JobRequest
from shadecore.question.question import Question
from shadecore.screens import session, shop
from shadecore.screens.plan import book_job
from shadecore.screens.plan.merge import Clash, merged, mine_after_all

LENGTH: Final = "job_length"
"""Where the session keeps how long the job took as it was planned last."""
PRODUCTS: Final = "products_text"
"""Where it keeps the TOML of a product sheet of the painter's own; None for none."""
_JOB: Final = "job_request"
_UID: Final = "job_uid"
_SYNCED: Final = "job_synced"
_BASE: Final = "job_base"
_BASE_SHEET: Final = "job_base_sheet"
_FIRST: Final = "job_first"
_NAMED: Final = "job_named_by_colour"
_EDITION: Final = "job_edition"
_CLASHES: Final = "job_clashes"
_TROUBLE: Final = "job_trouble"
_TRIES: Final = 5


def current() -> JobRequest:
    """The session's job, with what others changed in the book meanwhile.

    Returns
    -------
    JobRequest
        With the session's question, which another page may have changed.
    """
    state = st.session_state
    if _JOB not in state or book_job.named() != state.get(_UID, ""):
        _begin()
    else:
        take_theirs()
    _follow_colour()
    job: JobRequest = state[_JOB]
    return replace(job, question=session.question())


def _follow_colour() -> None:
    """Call a job that nobody touched after the colour that is asked about by now."""
    state, name = st.session_state, book_job.begun_name(session.question())
    if synced() or state.get(_NAMED) in {None, name}:
        return
    for each in (_JOB, _FIRST):
        job: JobRequest | None = state.get(each)
        if job is not None and job.name == state[_NAMED]:
            state[each] = replace(job, name=name)
    state[_NAMED] = name
    _anew()


def edition() -> int:
    """How often another job, or another's change, took the place of the form's.

    Returns
    -------
    int
        A part of the keys of the form's widgets, which so start anew.
    """
    found: int = st.session_state.get(_EDITION, 0)
    return found


def products() -> str | None:
    """TOML of the job's product sheet; None for the invented one.

    Returns
    -------
    str or None
    """
    text: str | None = st.session_state.get(PRODUCTS)
    return text


def trouble() -> str:
    """Why the job could not be read or kept; empty where all is well.

    Returns
    -------
    str
    """
    found: str = st.session_state.get(_TROUBLE, "")
    return found


def clashes() -> tuple[Clash, ...]:
    """What was changed here and elsewhere, each to something else.

    Returns
    -------
    tuple of Clash
        What was chosen elsewhere is planned with.
    """
    found: tuple[Clash, ...] = st.session_state.get(_CLASHES, ())
    return found


def settle(*, mine: bool) -> None:
    """Decide what was changed at two places.

    Parameters
    ----------
    mine : bool
        Whether what was chosen here goes before.
    """
    found, st.session_state[_CLASHES] = clashes(), ()
    if mine:
        act(lambda job: mine_after_all(job, found))
        _anew()


def synced() -> Kept[BookJob] | None:
    """The job as the book holds it.

    Returns
    -------
    Kept of BookJob or None
        None where the book does not hold it.
    """
    found: Kept[BookJob] | None = st.session_state.get(_SYNCED)
    return found


def from_elsewhere() -> bool:
    """Whether the link names a job that this book does not hold.

    Returns
    -------
    bool
    """
    return bool(st.session_state.get(_UID)) and synced() is None


def keep(job: JobRequest) -> JobRequest:
    """Keep the job for the next run, in the link and in the book.

    Parameters
    ----------
    job : JobRequest
        As the form has it.

    Returns
    -------
    JobRequest
        With what others changed meanwhile.
    """
    st.session_state[_JOB] = job
    for _ in range(_TRIES):
        try:
            _write(st.session_state[_JOB])
        except BookConflict:
            take_theirs()
        else:
            break
    kept: JobRequest = st.session_state[_JOB]
    _link(kept)
    return kept


def act(change: Callable[[JobRequest], JobRequest]) -> None:
    """Change the job as it stands now, whoever changed it last.

    Parameters
    ----------
    change : callable
        From the job to what it becomes; the job itself where there is nothing to do.
    """
    for _ in range(_TRIES):
        job = current()
        try:
            job = change(job)
        except ShadecoreError as error:
            st.session_state[_TROUBLE] = str(error)
            return
        st.session_state[_JOB] = job
        try:
            _write(job)
        except BookConflict:
            # Theirs alone stands; the same is then done to it.
            st.session_state[_JOB] = st.session_state[_BASE]
            continue
        break
    _link(st.session_state[_JOB])


def put(job: JobRequest) -> None:
    """Take another job in the place of the session's, such as one of a file.

    Parameters
    ----------
    job : JobRequest
        The job.
    """
    session.drop(shop.JOB_ID)
    session.put(job.question, ())
    state, book = st.session_state, shop.book()
    there = None if book is None else find_job(book, job.uid)
    state[_JOB], state[_SYNCED], state[_UID] = job, there, there.uid if there else ""
    state[_BASE] = state[_FIRST] = None
    state[_CLASHES], state[_NAMED] = (), None
    _anew()
    keep(job)


def take_in() -> None:
    """Take a job of a link from elsewhere into this book."""
    job = current()
    session.drop(shop.JOB_ID)
    st.session_state[_UID] = ""
    st.session_state[_FIRST] = None
    keep(job)


def change_record(change: Callable[[BookJob], BookJob]) -> None:
    """Change what the book keeps beside the plan: car, customer, what it took.

    Parameters
    ----------
    change : callable
        From the record to what it becomes. A job that is not kept yet is kept.
    """
    state = st.session_state
    state[_FIRST] = None
    try:
        _write(current())
        book, kept = shop.book(), synced()
        if book is not None and kept is not None:
            state[_SYNCED] = book.change(kept, change(kept.thing))
    except ShadecoreError as error:
        state[_TROUBLE] = str(error)
    _link(state[_JOB])


def changed_elsewhere() -> bool:
    """Whether the book holds another version of the job than the session shows.

    Returns
    -------
    bool
    """
    book, known = shop.book(), synced()
    if book is None or known is None:
        return False
    kept = shop.find(BookJob, known.uid)
    return kept is None or kept.version != known.version


def take_theirs() -> None:
    """Take over what others changed in the book since the session read it."""
    state, known, book = st.session_state, synced(), shop.book()
    if known is None or book is None:
        return
    kept = shop.find(BookJob, known.uid)
    if kept is None:
        # Taken back or thrown away elsewhere: it stays on the page, not in the book.
        session.drop(shop.JOB_ID)
        state[_UID], state[_SYNCED], state[_FIRST] = "", None, state[_JOB]
        return
    if kept.version == known.version:
        return
    try:
        theirs = request_of(kept.thing)
    except ShadecoreError as error:
        state[_TROUBLE] = str(error)
        return
    base = state[_BASE]
    mine = replace(state[_JOB], question=session.question())
    found = merged(base, mine, theirs)
    state[_JOB], state[_SYNCED], state[_BASE] = found.job, kept, theirs
    state[_CLASHES] = (*clashes(), *found.clashes)
    if found.job != mine:
        _anew()
    if found.job.question != mine.question:
        session.put(found.job.question, ())


def _begin() -> None:
    """Begin with the job that the link names, or a new one."""
    state, uid, book = st.session_state, book_job.named(), shop.book()
    fresh = not session.active() or session.question() == shop.start()
    if _JOB in state and not uid:
        # Another colour was begun: the job of the one before stays in the book.
        session.drop(PARAMETER)
    linked = _linked(session.question())
    kept = None
    if book is not None and uid:
        kept = shop.find(BookJob, uid)
    elif book is not None and linked is not None:
        kept = find_job(book, linked.uid)
    state[_UID] = uid or ("" if kept is None else kept.uid)
    state[_SYNCED], state[_BASE], state[_FIRST] = kept, None, None
    state[_CLASHES], state[_NAMED] = (), None
    _anew()
    if book is not None and kept is not None and _take(book, kept, fresh=fresh):
        return
    new = book_job.new_job(session.question())
    state[_JOB] = state[_FIRST] = linked or new
    state[_NAMED] = None if linked else new.name
    state[_BASE_SHEET] = products()


def _take(book: Book, kept: Kept[BookJob], *, fresh: bool) -> bool:
    """Whether a job of the book can be read; it is then the session's."""
    try:
        job = job_of(book, kept)
        st.session_state[_BASE] = request_of(kept.thing)
        st.session_state[PRODUCTS] = kept.thing.sheet or None
    except ShadecoreError as error:
        st.session_state[_TROUBLE] = str(error)
        return False
    st.session_state[_JOB] = job
    st.session_state[_BASE_SHEET] = products()
    if fresh:
        session.put(job.question, session.problems())
    return True


def _write(job: JobRequest) -> None:
    """Write the job into the book where it changed.

    Raises
    ------
    BookConflict
        If somebody changed it since it was read.
    """
    state, book, kept = st.session_state, shop.book(), synced()
    if book is None or book.read_only or from_elsewhere():
        return
    same_sheet = state.get(_BASE_SHEET) == products()
    if kept is not None and job == state[_BASE] and same_sheet:
        return
    first: JobRequest | None = state.get(_FIRST)
    untouched = first is not None and replace(first, question=job.question) == job
    if untouched and same_sheet:
        return
    try:
        now = book_job.write(book, job, products(), kept)
    except BookConflict:
        raise
    except ShadecoreError as error:
        state[_TROUBLE] = str(error)
        return
    # The book may have given the job a name or a uid of its own.
    if now.thing.name != job.name:
        _anew()
    job = replace(job, name=now.thing.name, uid=now.thing.request or job.uid)
    state[_SYNCED], state[_BASE], state[_UID] = now, job, now.uid
    state[_JOB], state[_TROUBLE], state[_BASE_SHEET] = job, "", products()


def _link(job: JobRequest) -> None:
    own = job_parameters(job) | {shop.JOB_ID: st.session_state.get(_UID) or None}
    session.keep(job.question, own)


def _anew() -> None:
    st.session_state[_EDITION] = edition() + 1


def _linked(question: Question) -> JobRequest | None:
    try:
        return read_job_link(session.parameters(), question)
    except ShadecoreError as error:
        st.session_state[_TROUBLE] = str(error)
        return None
