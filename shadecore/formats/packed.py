"""Text packed for a link: compressed, in letters that a link may hold."""

import base64
import binascii
import zlib
from typing import Final

from shadecore.errors import ShadecoreError, TableError

MOST_PACKED: Final = 16_000
"""Characters of a packed text; web servers take links of 8 kB and up; common practice,
no source."""
MOST_CHARACTERS: Final = 1_000_000
"""Of the text itself: a few thousand are usual, and what unpacks to more is none."""
_GROUP: Final = 4


def pack(text: str) -> str:
    """Pack a text for a link.

    Parameters
    ----------
    text : str
        Any text.

    Returns
    -------
    str
        Letters, digits, ``-`` and ``_``.

    Examples
    --------
    >>> unpack(pack("coats = 2"), "The job in the link")
    'coats = 2'
    """
    packed = zlib.compress(text.encode("utf-8", "surrogatepass"), level=9)
    return base64.urlsafe_b64encode(packed).decode("ascii").rstrip("=")


def unpack(
    packed: str,
    name: str,
    error: type[ShadecoreError] = TableError,
    most_packed: int = MOST_PACKED,
    most_characters: int = MOST_CHARACTERS,
) -> str:
    """Unpack a text out of a link, never more of it than may be.

    Parameters
    ----------
    packed : str
        As :func:`pack` gives it.
    name : str
        What to call it in a message.
    error : type
        Class of the error to raise.
    most_packed, most_characters : int
        Characters that the packed text and the text may have.

    Returns
    -------
    str

    Raises
    ------
    ShadecoreError
        If it is too long or not such a text; of the class given.
    """
    if len(packed) > most_packed:
        message = (
            f"{name} is longer than the {most_packed:,} characters that a link may "
            "hold; open the file that it came from."
        )
        raise error(message)
    # Four octets are the most that a character takes in UTF-8.
    text = _unpacked(packed, 4 * most_characters)
    if text is None or len(text) > most_characters:
        message = f"{name} is cut off or changed; open the file that it came from."
        raise error(message)
    return text


def _unpacked(packed: str, most_bytes: int) -> str | None:
    """The text, or None where there is none of at most so many bytes."""
    unpacker = zlib.decompressobj()
    padding = "=" * (-len(packed) % _GROUP)
    try:
        content = base64.b64decode(
            f"{packed}{padding}".encode("ascii"), altchars=b"-_", validate=True
        )
        found = unpacker.decompress(content, most_bytes)
        text = found.decode("utf-8", "surrogatepass")
    except (ValueError, binascii.Error, zlib.error):
        return None
    return text if unpacker.eof and not unpacker.unused_data else None
