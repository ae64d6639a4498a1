"""What can go wrong with the shop's book."""

from shadecore.errors import ShadecoreError


class BookError(ShadecoreError):
    """A book, or something for it, that cannot be opened, read or written."""


class BookConflict(BookError):  # noqa: N818 - a conflict is what it is
    """A change made on a state that somebody else has changed since.

    Attributes
    ----------
    mine : object
        What was to be written.
    theirs : object
        What stands in the book now, as :class:`shadecore.book.kept.Kept`; None where
        it was removed for good.
    """

    def __init__(self, message: str, mine: object, theirs: object) -> None:
        super().__init__(message)
        self.mine = mine
        self.theirs = theirs
