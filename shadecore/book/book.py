"""The shop's book: things, search, pictures, imports, and the book as a whole."""

from collections.abc import Callable, Collection, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Any, Final, Self, TypeVar

from sqlalchemy import func, literal, select, union_all

from shadecore.book import ledger
from shadecore.book.errors import BookError
from shadecore.book.import_plan import Import
from shadecore.book.kept import Kept
from shadecore.book.kinds import by_table, folded, kind_of
from shadecore.book.records import BookColour
from shadecore.book.schema import TABLES, in_parts
from shadecore.book.shop_records import BookJob, PaintLine, SprayGun
from shadecore.book.told import NOTHING_TOLD, Told
from shadecore.book.where import book_path
from shadecore.book.whole_book import back_up, check_book, restore_book
from shadecore.book.with_settings import WithSettings
from shadecore.book.worked_out import Hides, read_hides, write_hides
from shadecore.formats.whole import write_whole

T = TypeVar("T")
Paint = TypeVar("Paint", PaintLine, SprayGun)
_MOST_FOUND: Final = 50
_MOST_WORDS: Final = 12


class Book(WithSettings):
    """The shop's book, open.

    What it holds is listed, shown, added, changed, renamed, removed and undone by the
    verbs of :class:`shadecore.book.things.Things` and of
    :class:`shadecore.book.with_settings.WithSettings`. The rooms that read and write
    files, or learn, are loaded by the verb that needs them: the book is opened without.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     with open_book(Path(folder) / "book.sqlite") as book:
    ...         red = book.add(BookColour("Invented red", (45.0, 60.0, 35.0)))
    ...         red = book.rename(red, "Invented deep red")
    ...         [each.thing.name for each in book.search("DEEP")]
    ['Invented deep red']
    """

    @property
    def path(self) -> Path:
        """Its file."""
        return self._database.path

    @property
    def read_only(self) -> bool:
        """Whether the file may only be read."""
        return self._database.read_only

    def close(self) -> None:
        """Give back the file."""
        self._database.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def search(
        self,
        text: str = "",
        *,
        records: tuple[type, ...] = (BookColour, BookJob),
        limit: int = _MOST_FOUND,
    ) -> tuple[Kept[Any], ...]:
        """Colours and jobs that hold every word of a text, those changed last first.

        Parameters
        ----------
        text : str
            Words or parts of them, with or without capitals and accents; all things
            where it is empty.
        records : tuple of type
            What is looked for.
        limit : int
            How many at most.

        Returns
        -------
        tuple of Kept
        """
        words = folded(text).split()[:_MOST_WORDS]
        parts = []
        for record in records:
            table = TABLES[kind_of(record).table]
            query = select(
                literal(table.name).label("kind"), table.c.uid, table.c.change_number
            ).where(table.c.removed.is_(None))
            for word in words:
                query = query.where(func.instr(table.c.search, word) > 0)
            newest = query.order_by(table.c.change_number.desc()).limit(limit)
            parts.append(select(newest.subquery()))
        merged = union_all(*parts).subquery()
        query = select(merged).order_by(merged.c.change_number.desc()).limit(limit)
        with self._database.reading() as connection:
            found = connection.execute(query).all()
            things: dict[str, Kept[Any]] = {}
            for name in {each.kind for each in found}:
                uids = [each.uid for each in found if each.kind == name]
                every = select(TABLES[name]).where(TABLES[name].c.uid.in_(uids))
                for row in connection.execute(every).mappings():
                    things[row["uid"]] = by_table()[name].kept(row)
        return tuple(things[each.uid] for each in found)

    def shown(self, record: type[T], uids: Collection[str]) -> tuple[Kept[T], ...]:
        """Several things at once; none from the bin.

        Parameters
        ----------
        record : type
            Class of their record.
        uids : collection of str
            Their ``uid``; those that the book does not hold are left out.

        Returns
        -------
        tuple of Kept
            In no order that means anything.
        """
        kind = kind_of(record)
        table = TABLES[kind.table]
        found: list[Kept[T]] = []
        with self._database.reading() as connection:
            for some in in_parts(sorted(uids)):
                query = select(table).where(
                    table.c.uid.in_(some), table.c.removed.is_(None)
                )
                rows = connection.execute(query).mappings()
                found.extend(kind.kept(row) for row in rows)
        return tuple(found)

    def recent(self, limit: int = 10) -> tuple[Kept[Any], ...]:
        """Colours and jobs that somebody worked on last, newest first.

        Parameters
        ----------
        limit : int
            How many at most.

        Returns
        -------
        tuple of Kept
        """
        return self.search(limit=limit)

    @property
    def last_change(self) -> int:
        """A number that rises with every change of the book, whoever makes it.

        It is read in a fraction of a millisecond, so that a page can ask often whether
        something changed.
        """
        with self._database.reading() as connection:
            return ledger.state_number(connection)

    def once(self, name: str, make: Callable[[], T]) -> T:
        """What follows from the book as it stands, worked out once for each state.

        Parameters
        ----------
        name : str
            What it is.
        make : callable
            Works it out; of what can be shared by all that use the book.

        Returns
        -------
        object
            As ``make`` gives it.
        """
        if self.in_change:
            # What is not kept yet may still be taken back.
            return make()
        state = self.last_change
        known = self._once.get(name)
        if known is None or known[0] != state:
            known = self._once[name] = (state, make())
        found: T = known[1]
        return found

    def forget(self, kept: Kept[Paint], *, again: bool = False) -> Kept[Paint]:
        """Let a paint line or a gun begin anew: no record made until now counts for it.

        Parameters
        ----------
        kept : Kept of PaintLine or SprayGun
            The line or the gun.
        again : bool
            Whether they are to count again.

        Returns
        -------
        Kept

        Raises
        ------
        BookConflict
            If somebody changed it since it was read.
        BookError
            If it is neither, or cannot be written.
        """
        from shadecore.book.loadings import forget  # noqa: PLC0415 - see the class

        return forget(self, kept, again=again)

    def import_file(
        self,
        path: str | Path,
        record: type | None = None,
        *,
        given: Told = NOTHING_TOLD,
        yes: bool = False,
    ) -> Import:
        r"""Take in a file of colours, a shelf, records, a job, a sheet or steps.

        Parameters
        ----------
        path : str or Path
            The file: ``.csv``, ``.toml``, CGATS text or CxF3.
        record : type, optional
            Class of what it holds; as its name and its first line say unless given.
        given : Told
            How its colours were measured, where the file does not say it.
        yes : bool
            Whether it is done; else nothing is written, and :meth:`apply` does it.

        Returns
        -------
        Import
            What it adds, changes and skips, and what could not be read.

        Raises
        ------
        ShadecoreError
            If it cannot be read, or nothing in it can be used.

        Examples
        --------
        >>> import tempfile
        >>> from shadecore.book.book import open_book
        >>> with tempfile.TemporaryDirectory() as folder:
        ...     table = Path(folder) / "colours.csv"
        ...     _ = table.write_text("code,L,a,b\nR 1,45,60,35\n")
        ...     with open_book(Path(folder) / "book.sqlite") as book:
        ...         plan = book.import_file(table)
        ...         before = len(book.list(BookColour))
        ...         book.apply(plan)
        ...         [each.name for each in plan.add], before, len(book.list(BookColour))
        (['R 1'], 0, 1)
        """
        from shadecore.book.file_import import import_path  # noqa: PLC0415

        plan = import_path(self, path, record, given)
        if yes:
            self.apply(plan)
        return plan

    def export(self, record: type, path: str | Path, which: str | None = None) -> None:
        """Write things of the book into a file.

        Parameters
        ----------
        record : type
            Class of their record: ``BookColour``, ``BookSeen``, ``BookShelf``,
            ``BookJob``, ``BookSteps``, ``BookSheet`` or ``BookPhoto``.
        path : str or Path
            The file, which is there whole afterwards or as it was. Its end says how it
            is written: colours ``.csv``, ``.txt`` (CGATS) or ``.cxf`` (CxF3), a job
            ``.toml``, or its times ``.csv``.
        which : str, optional
            Name, code or ``uid`` of one of them; of records that of their colour. All
            colours or records unless given.

        Raises
        ------
        BookError
            If there is nothing to write, or it cannot be written so.
        """
        from shadecore.book.file_export import exported  # noqa: PLC0415

        out = Path(path)
        write_whole(out, exported(self, record, which, out.suffix.lower()))

    def worked_out(self, keys: Sequence[str]) -> dict[str, Hides]:
        """What the engine said of records before, where that still holds.

        Parameters
        ----------
        keys : sequence of str
            By :func:`shadecore.book.worked_out.key_of`.

        Returns
        -------
        dict of str to Hides
        """
        with self._database.reading() as connection:
            return read_hides(connection, keys)

    def keep_worked_out(self, found: Mapping[str, Hides]) -> None:
        """Keep what the engine said of records, where that can be done.

        It can be worked out again, so it is no change of the book, and a book that
        cannot be written goes without.

        Parameters
        ----------
        found : mapping of str to Hides
            By the same keys.
        """
        if not found or self.read_only:
            return
        with suppress(BookError), self._database.writing() as connection:
            write_hides(connection, found)

    def backup(self, path: str | Path) -> None:
        """Write the whole book into one file.

        Parameters
        ----------
        path : str or Path
            The file, which is there whole afterwards or as it was.

        Raises
        ------
        BookError
            If it cannot be written.
        """
        back_up(self._database, Path(path))

    def restore(self, path: str | Path) -> Path:
        """Put a backup in the place of all that the book holds.

        Parameters
        ----------
        path : str or Path
            A file that :meth:`backup` wrote, by this version or an earlier one.

        Returns
        -------
        Path
            A backup of what the book held before.

        Raises
        ------
        BookError
            If the file is no book or damaged; the book then stays as it is.
        """
        return restore_book(self._database, Path(path), self._migrations)

    def check(self) -> tuple[str, ...]:
        """What is wrong with the book.

        Returns
        -------
        tuple of str
            A sentence each; empty where all is well.
        """
        return check_book(self._database)


def open_book(path: str | Path | None = None) -> Book:
    """Open the shop's book, or begin one.

    Parameters
    ----------
    path : str or Path, optional
        Its file; as ``SHADECORE_BOOK`` says or in the user's data folder unless given.

    Returns
    -------
    Book
        To be closed, or used by ``with``.

    Raises
    ------
    BookError
        If it cannot be opened, is no book, or was written by a newer version.
    """
    return Book(book_path() if path is None else Path(path))
