"""Words of the core on a page, as they stand.

Streamlit reads what it shows as Markdown. A name or a link's text could carry a picture
from elsewhere or lose its asterisks that way, so everything that is not this tool's own
wording passes here.
"""

import re
from typing import Final

import streamlit as st

_MARKS: Final = re.compile(r"([\\`*_\[\]<>~$#])")


def plain(text: object) -> str:
    """Text that Markdown leaves as it is.

    Parameters
    ----------
    text : object
        A text, or an error whose text it is.

    Returns
    -------
    str
    """
    return _MARKS.sub(r"\\\1", str(text))


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
