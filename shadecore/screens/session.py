"""What a session knows: its question, and what the link says for other pages.

The question stands in the link of every page, so that a reload, or a way from one page
to the next, loses nothing. A page adds parameters of its own beside it.
"""

from collections.abc import Mapping
from typing import Final

import streamlit as st

from shadecore.question.link import belongs, from_link, to_link
from shadecore.question.question import Question

_QUESTION: Final = "question"
_PAGE_PARAMETERS: Final = "page_parameters"
_PROBLEMS: Final = "link_problems"
_EDITION: Final = "question_edition"


def question() -> Question:
    """The session's question; at first the one in the link.

    Returns
    -------
    Question
    """
    if _QUESTION not in st.session_state:
        read = from_link(st.query_params.to_dict())
        st.session_state[_QUESTION] = read.question
        st.session_state[_PROBLEMS] = read.problems
    kept: Question = st.session_state[_QUESTION]
    return kept


def linked() -> Question:
    """The question in the link, which stays unread.

    Returns
    -------
    Question
    """
    return from_link(st.query_params.to_dict()).question


def begun() -> bool:
    """Whether the session or its link asks something already.

    Returns
    -------
    bool
    """
    return _QUESTION in st.session_state or any(map(belongs, st.query_params))


def active() -> bool:
    """Whether a page of this session has read or asked a question before.

    Returns
    -------
    bool
        False where the session's link has just been opened.
    """
    return _QUESTION in st.session_state


def begin(asked: Question) -> None:
    """Give a session that asks nothing a question, without writing a link.

    Parameters
    ----------
    asked : Question
        The question.
    """
    st.session_state[_QUESTION] = asked


def leave_link() -> None:
    """Take everything out of the link of a page that shows no question."""
    parameters()
    question()
    st.query_params.clear()


def edition() -> int:
    """How often another question took the place of the session's.

    Returns
    -------
    int
        A page whose widgets were filled at a lower one fills them anew.
    """
    found: int = st.session_state.get(_EDITION, 0)
    return found


def put(
    asked: Question, told: tuple[str, ...], own: Mapping[str, str | None] | None = None
) -> None:
    """Put another question in the place of the session's, whatever its widgets hold.

    Parameters
    ----------
    asked : Question
        The question.
    told : tuple of str
        What of it could not be used.
    own : mapping of str to str or None, optional
        Parameters as for :func:`keep`.
    """
    st.session_state[_EDITION] = edition() + 1
    st.session_state[_PROBLEMS] = told
    keep(asked, own)


def drop(name: str) -> None:
    """Take a page's parameter out of the link.

    Parameters
    ----------
    name : str
        Its name.
    """
    kept = parameters()
    kept.pop(name, None)
    st.session_state[_PAGE_PARAMETERS] = kept
    if name in st.query_params:
        del st.query_params[name]


def problems() -> tuple[str, ...]:
    """What of the link could not be used.

    Returns
    -------
    tuple of str
        Sentences.
    """
    question()
    found: tuple[str, ...] = st.session_state.get(_PROBLEMS, ())
    return found


def parameters() -> dict[str, str]:
    """Parameters of pages, of this link and of those left before.

    Returns
    -------
    dict of str to str
        Without those of the question.
    """
    kept: dict[str, str] = st.session_state.setdefault(_PAGE_PARAMETERS, {})
    link = st.query_params.to_dict()
    kept.update({name: text for name, text in link.items() if not belongs(name)})
    return dict(kept)


def keep(asked: Question, own: Mapping[str, str | None] | None = None) -> None:
    """Keep the question, and write the link of this page.

    Parameters
    ----------
    asked : Question
        The question as it now is.
    own : mapping of str to str or None, optional
        Parameters of the page; None takes one out of the link.
    """
    st.session_state[_QUESTION] = asked
    kept = parameters()
    for name, text in (own or {}).items():
        if text is None:
            kept.pop(name, None)
        else:
            kept[name] = text
    st.session_state[_PAGE_PARAMETERS] = kept
    query = {**kept, **to_link(asked)}
    if st.query_params.to_dict() != query:
        st.query_params.from_dict(query)
