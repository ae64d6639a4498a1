"""What goes for good with a colour that lies in the bin."""

from shadecore.book.book import Book
from shadecore.book.records import BookCard, BookColour, BookPhoto, BookSeen

_ALONG: dict[type, str] = {
    BookSeen: "records",
    BookPhoto: "photos",
    BookCard: "test cards",
}


def goes_along(book: Book) -> tuple[str, ...]:
    """What emptying the bin removes beside what lies in it.

    Parameters
    ----------
    book : Book
        The book.

    Returns
    -------
    tuple of str
        Such as ``Red: records 2``, for each colour to which something belongs.
    """
    told = []
    for kept in book.bin():
        if not isinstance(kept.thing, BookColour):
            continue
        belongs = {"colour": kept.uid}
        counts = (
            (words, len(book.list(record, belongs=belongs)))
            for record, words in _ALONG.items()
        )
        parts = [f"{words} {count}" for words, count in counts if count]
        if parts:
            told.append(f"{kept.thing.name}: {', '.join(parts)}")
    return tuple(told)
