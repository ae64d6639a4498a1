"""Verbs that set what is in use, take in photos, and do what an import plans."""

from typing import Any, TypeVar

from sqlalchemy import insert, select

from shadecore.book.errors import BookError
from shadecore.book.import_plan import Import, ImportPlan, plan_colours
from shadecore.book.in_use import IN_USE, shop_settings, use
from shadecore.book.kept import Kept
from shadecore.book.kinds import kind_of
from shadecore.book.records import BookColour, BookPhoto
from shadecore.book.schema import PICTURES
from shadecore.book.shop_records import ShopSettings
from shadecore.book.things import Things

T = TypeVar("T")


class WithSettings(Things):
    """Things of a book, and how the shop works with them."""

    def settings(self) -> Kept[ShopSettings]:
        """How the shop works; as usual where nobody said.

        Returns
        -------
        Kept of ShopSettings
            For :meth:`change`.
        """
        with self._database.reading() as connection:
            return shop_settings(connection)

    def use(self, record: type[T], kept: Kept[T] | None) -> Kept[ShopSettings]:
        """Set which shelf, paint line or gun is in use.

        Parameters
        ----------
        record : type
            ``BookShelf``, ``PaintLine`` or ``SprayGun``.
        kept : Kept or None
            The one that is to be used; None for none of them.

        Returns
        -------
        Kept of ShopSettings

        Raises
        ------
        BookError
            If nothing of that kind can be in use, or it lies in the bin.
        """
        if record not in IN_USE:
            message = (
                f"A {kind_of(record).word} cannot be in use; a shelf, a paint line or "
                "a gun can."
            )
            raise BookError(message)
        if kept is not None and kept.removed is not None:
            message = f"The {kind_of(record).word} lies in the bin; put it back first."
            raise BookError(message)
        name = "" if kept is None else getattr(kept.thing, "name", "")
        word = kind_of(record).word
        what = f"uses the {word} {name}" if name else f"uses no {word}"
        with self.changing(what) as change:
            return use(change, IN_USE[record], "" if kept is None else kept.uid)

    def add_photo(self, photo: BookPhoto, content: bytes) -> Kept[BookPhoto]:
        """Keep a photo of a colour, to look at: without where and when it was taken.

        Parameters
        ----------
        photo : BookPhoto
            What it shows.
        content : bytes
            The picture file; a smaller JPEG copy of it is kept.

        Returns
        -------
        Kept of BookPhoto

        Raises
        ------
        PhotoError
            If it is not a picture.
        BookError
            If it cannot be kept.
        """
        # Readers of pictures take a moment to import, and only photos need them.
        from shadecore.book.photo_copy import photo_copy  # noqa: PLC0415

        copy = photo_copy(content, photo.name or "The photo")
        kind = kind_of(BookPhoto)
        with self.changing(f"added the photo {photo.name}".strip()) as book:
            (kept,) = book.add(kind, (photo,))
            row = insert(PICTURES).values(uid=kept.uid, content=copy)
            book.connection.execute(row)
        return kept

    def picture(self, photo: Kept[BookPhoto]) -> bytes:
        """The JPEG file of a photo.

        Parameters
        ----------
        photo : Kept of BookPhoto
            The photo.

        Returns
        -------
        bytes

        Raises
        ------
        BookError
            If it was removed for good.
        """
        query = select(PICTURES.c.content).where(PICTURES.c.uid == photo.uid)
        with self._database.reading() as connection:
            content = connection.execute(query).scalar_one_or_none()
        if content is None:
            message = f"The photo {photo.thing.name!r} was removed for good."
            raise BookError(message)
        return bytes(content)

    def plan_import(self, colours: tuple[BookColour, ...]) -> ImportPlan[BookColour]:
        """What an import of colours would add, change and skip.

        Parameters
        ----------
        colours : tuple of BookColour
            As :func:`shadecore.book.exchange.read_colours` reads them from a file.

        Returns
        -------
        ImportPlan
            For :meth:`apply`; nothing is written yet.
        """
        with self._database.reading() as connection:
            return plan_colours(connection, colours)

    def apply(self, plan: ImportPlan[Any] | Import) -> None:
        """Do what an import's plan says, all of it or nothing.

        Parameters
        ----------
        plan : ImportPlan or Import
            The plan; all its things are of one kind.

        Raises
        ------
        BookConflict
            If somebody changed one of its things since it was made.
        BookError
            If it cannot be written.
        """
        things = (*plan.add, *(thing for _, thing in plan.change))
        if not things:
            return
        kind = kind_of(type(things[0]))
        with self.changing(f"imported ({kind.word}): {len(things)}") as book:
            book.add(kind, plan.add)
            for kept, thing in plan.change:
                book.put(kind, kept, thing, removed=False)
