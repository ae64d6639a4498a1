"""The pick of a kept colour, for a list: worked out once, after the list is shown."""

from collections import OrderedDict
from dataclasses import replace
from typing import Final

import streamlit as st

from shadecore.errors import ShadecoreError
from shadecore.question.answer import answer
from shadecore.question.question import Question
from shadecore.telling.book_words import pick_words

_REMEMBERED: Final = 512
"""Picks kept in words, those used last; each takes some ten kB with its question."""


@st.cache_resource(show_spinner=False)
def _known() -> OrderedDict[Question, str]:
    """Picks in words by their question, of all sessions."""
    return OrderedDict()


def _key(question: Question) -> Question:
    """What the words depend on."""
    usual = Question()
    return replace(question, areas=(), rates=usual.rates, units=usual.units)


def known_pick(question: Question) -> str | None:
    """The pick, if it was worked out before.

    Parameters
    ----------
    question : Question
        Of a kept colour.

    Returns
    -------
    str or None
        Empty where there is no answer; None where nobody worked it out yet.
    """
    known, key = _known(), _key(question)
    # Put back as the one used last. To read it first and move it then would fail where
    # another session drops it in between.
    found = known.pop(key, None)
    if found is not None:
        known[key] = found
    return found


def is_quick(question: Question) -> bool:
    """Whether an answer takes about a second and not many.

    Parameters
    ----------
    question : Question
        Of a kept colour.

    Returns
    -------
    bool
        False for a metallic or pearl until the effect paints are worked out.
    """
    if not question.flakes:
        return True
    # Their room takes a while to load, and solid colours need none of it.
    from shadecore.effects.library import effect_library_is_ready  # noqa: PLC0415

    return effect_library_is_ready()


def work_out(question: Question) -> str:
    """The pick in words.

    Parameters
    ----------
    question : Question
        Of a kept colour.

    Returns
    -------
    str
        Empty where there is no answer.
    """
    try:
        words = pick_words(answer(question))
    except ShadecoreError:
        words = ""
    known = _known()
    known[_key(question)] = words
    while len(known) > _REMEMBERED:
        known.popitem(last=False)
    return words
