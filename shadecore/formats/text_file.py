"""Text files read line by line, so that memory stays the same for any size."""

import codecs
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final, NoReturn

from shadecore.errors import TableError
from shadecore.formats.echo import tail

MOST_LINE: Final = 100_000
"""Characters of a line that are read; what is longer is no table."""
_BLOCK_BYTES: Final = 1 << 20
_MARKS: Final = (b"\xff\xfe", b"\xfe\xff")
_LINE: Final = re.compile(r"[^\r\n]*(?:\r\n|[\r\n])|[^\r\n]+")
_NAME: Final = 80


@dataclass(frozen=True)
class TextFile:
    """A text file whose encoding is known.

    Attributes
    ----------
    path : Path
        Where it is.
    encoding : str
        As Python calls it.
    """

    path: Path
    encoding: str

    def lines(self) -> Iterator[str]:
        """Its lines with their ends, none longer than a little over ``MOST_LINE``.

        Raises
        ------
        TableError
            If the file cannot be read any more.
        """
        try:
            with self.path.open(
                encoding=self.encoding, errors="replace", newline=""
            ) as file:
                while line := file.readline(MOST_LINE + 1):
                    yield line
        except OSError as error:
            refuse_file(self.path, error)


TableText = str | TextFile
"""A table as text, or the file that it stands in."""


def open_text(path: str | Path) -> TextFile:
    """A text file for reading line by line, whatever common encoding it has.

    Parameters
    ----------
    path : str or Path
        The file; it is read through once to find its encoding.

    Returns
    -------
    TextFile

    Raises
    ------
    TableError
        If it cannot be read, or is not text.
    """
    try:
        with Path(path).open("rb") as file:
            blocks = iter(lambda: file.read(_BLOCK_BYTES), b"")
            return TextFile(Path(path), encoding_of(blocks, str(path)))
    except OSError as error:
        refuse_file(path, error)


def encoding_of(blocks: Iterable[bytes], name: str) -> str:
    """Encoding of a text: UTF-8, UTF-16 with its mark, or Western.

    Parameters
    ----------
    blocks : iterable of bytes
        The content, in pieces of any length.
    name : str
        What to call it in a message.

    Returns
    -------
    str
        As Python calls it.

    Raises
    ------
    TableError
        If it is not text.
    """
    decoder: codecs.IncrementalDecoder | None
    decoder = codecs.getincrementaldecoder("utf-8")()
    for place, block in enumerate(blocks):
        if not place and block.startswith(_MARKS):
            return "utf-16"
        if b"\0" in block:
            message = f"{tail(name, _NAME)} is not a text file; save it as CSV."
            raise TableError(message)
        decoder = _still(decoder, block)
    decoder = _still(decoder, b"", final=True)
    return "cp1252" if decoder is None else "utf-8-sig"


def _still(
    decoder: codecs.IncrementalDecoder | None, block: bytes, *, final: bool = False
) -> codecs.IncrementalDecoder | None:
    """The decoder, as long as it can read what comes."""
    if decoder is None:
        return None
    try:
        decoder.decode(block, final)
    except UnicodeDecodeError:
        return None
    return decoder


def lines_of(text: TableText) -> Iterator[str]:
    """Lines of a text with their ends.

    Parameters
    ----------
    text : str or TextFile
        The text.

    Yields
    ------
    str
    """
    if isinstance(text, TextFile):
        yield from text.lines()
        return
    for found in _LINE.finditer(text):
        yield found.group()


def refuse_file(path: str | Path, error: OSError) -> NoReturn:
    """Say why a file cannot be read.

    Parameters
    ----------
    path : str or Path
        The file.
    error : OSError
        What went wrong.

    Raises
    ------
    TableError
        Always.
    """
    reason = (error.strerror or "it cannot be opened").lower()
    message = f"{tail(str(path), _NAME)!r} cannot be read: {reason}; check the name."
    raise TableError(message) from error
