"""Words of the core on a page, as they stand.

Streamlit reads what it shows as Markdown. A name or a link's text could carry a picture
from elsewhere or lose its asterisks that way, so everything that is not this tool's own
wording passes here.

A backslash keeps Markdown from reading a mark. What Streamlit and its Markdown library
look for after that, in the text as it will be shown (addresses, emoji, icons, arrows),
no backslash stops: there a word joiner, which is invisible and has no width, parts it.
"""

import re
from typing import Final

import streamlit as st

_JOINER: Final = "\N{WORD JOINER}"
_FOUND: Final = re.compile(
    r"(?<=http:)(?=//)|(?<=https:)(?=//)|(?<=www)(?=\.)|(?<=[-.\w+])(?=@)"
    r"|(?<=:)(?!\d\d:)(?=[-\w+/.]*[-\w+]:)"
    r"|(?<!\S)(?=(?:<->|->|<-|--|>=|<=|~=)(?!\S))",
    re.IGNORECASE,
)
"""Where an address, an emoji, an icon or an arrow is parted: GitHub's Markdown, section
6.9 (autolinks), remark-emoji, and the arrows of Streamlit 1.67's StreamlitMarkdown."""
_MARKS: Final = re.compile(r"([\\`*_\[\]<>~$#&|{}^]|:(?=[^\s\d]))")
"""Marks within a line: CommonMark 0.31, sections 2.4 and 6, and those of Streamlit."""
_LINE_START: Final = re.compile(r"^[^\S\n]*(?:(\d{1,9})([.)])|([-+=]))", re.MULTILINE)
"""Marks that begin a list, a line across or a heading: CommonMark 0.31, section 4 and
5; blanks before them would make the line code."""


def plain(text: object) -> str:
    """Text that Markdown leaves as it is.

    Parameters
    ----------
    text : object
        A text, or an error whose text it is.

    Returns
    -------
    str
        Looks on a page as the text does, blanks at the start of its lines aside.
    """
    parted = _FOUND.sub(_JOINER, str(text))
    lines = "\n".join(line.strip() for line in parted.split("\n"))
    marked = _MARKS.sub(r"\\\1", lines)
    return _LINE_START.sub(_at_start, marked)


def _at_start(found: re.Match[str]) -> str:
    number, end, mark = found.groups()
    return f"{number}\\{end}" if number else f"\\{mark}"


def error(text: object) -> None:
    """Say what went wrong.

    Parameters
    ----------
    text : object
        A text or an error.
    """
    st.error(plain(text))


def warning(text: object) -> None:
    """Say what to mind.

    Parameters
    ----------
    text : object
        A text.
    """
    st.warning(plain(text))


def words(*texts: object) -> None:
    """Say sentences of the core.

    Parameters
    ----------
    *texts : object
        Sentences, shown after each other.
    """
    st.markdown(plain(" ".join(map(str, texts))))
