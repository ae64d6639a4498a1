"""A question as the parameters of a link, and back."""

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Final

from shadecore.errors import ShadecoreError
from shadecore.formats.packed import pack, unpack
from shadecore.question.plain import BY_NAME, NAMES, PLAIN, Value
from shadecore.question.question import Question
from shadecore.question.read_plain import Read, from_plain

PACKED: Final = ".z"
"""End of a parameter's name whose text is packed."""
_LONGEST_PLAIN: Final = 400
"""Characters of a text that stands in a link as it is; longer ones are packed, so that
the link stays below the 2000 characters that mail programs take."""
_WHOLE: Final = re.compile(r"[-+]?\d{1,9}")
_KEPT: Final = 256
"""Links kept ready."""
_SHORTEST: Final = 6
"""Digits that a number is written with where they give it back."""


def to_link(question: Question) -> dict[str, str]:
    """Write a question as the parameters of a link; what is usual is left out.

    Parameters
    ----------
    question : Question
        The question.

    Returns
    -------
    dict of str to str
        What :func:`from_link` reads back without loss.
    """
    return dict(_parameters(question))


@lru_cache(maxsize=_KEPT)
def _parameters(question: Question) -> tuple[tuple[str, str], ...]:
    """The link of a question, which a page writes again at every click."""
    query = {}
    for each in PLAIN:
        value = each.of(question)
        if value == each.usual:
            continue
        text = _written(value)
        if len(text) > _LONGEST_PLAIN:
            query[each.name + PACKED] = pack(text)
        else:
            query[each.name] = text
    return tuple(query.items())


def from_link(query: Mapping[str, str]) -> Read:
    """Read a question from the parameters of a link.

    Parameters
    ----------
    query : mapping of str to str
        The parameters; those of other pages are passed over.

    Returns
    -------
    Read
        The question; what could not be used is as usual and named in ``problems``.
    """
    values: dict[str, object] = {}
    problems = []
    for name, text in query.items():
        plain = name.removesuffix(PACKED)
        if plain not in NAMES:
            continue
        try:
            whole = unpack(text, plain) if plain != name else text
        except ShadecoreError as error:
            problems.append(str(error))
            continue
        values[plain] = _value(plain, whole)
    read = from_plain(values)
    told = (*problems, *read.problems)
    return Read(read.question, tuple(f"In the link, {each}" for each in told))


def belongs(name: str) -> bool:
    """Whether a parameter of a link is one of a question's.

    Parameters
    ----------
    name : str
        Its name.

    Returns
    -------
    bool
    """
    return name.removesuffix(PACKED) in NAMES


def _written(value: Value) -> str:
    if not isinstance(value, float):
        return str(value)
    brief = f"{value:.{_SHORTEST}g}"
    return brief if float(brief) == value else repr(value)


def _value(name: str, text: str) -> object:
    """The text as the kind of value that it stands for; itself where it is none."""
    usual = BY_NAME[name].usual if name in BY_NAME else ""
    if isinstance(usual, bool):
        return {"True": True, "False": False}.get(text, text)
    if isinstance(usual, int):
        return int(text) if _WHOLE.fullmatch(text) else text
    if isinstance(usual, float):
        try:
            return float(text)
        except ValueError:
            return text
    return text
