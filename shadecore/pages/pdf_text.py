"""Text for PDF."""

from html import escape


def plain(text: str) -> str:
    """Text in the characters that the built-in fonts have, safe inside markup.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    str
    """
    return escape(text.encode("cp1252", errors="replace").decode("cp1252"))
