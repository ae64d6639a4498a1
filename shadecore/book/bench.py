"""What was seen at the bench: looks after the coats of a job, kept as one record."""

import uuid
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Final, NamedTuple

from shadecore.book.asking import record_of
from shadecore.book.book import Book
from shadecore.book.errors import BookError
from shadecore.book.kept import Kept
from shadecore.book.kinds import kind_of
from shadecore.book.ledger import Ledger, read_row
from shadecore.book.records import BookColour, BookSeen
from shadecore.book.shop_records import BookJob, PaintLine
from shadecore.coats.seen import Seen
from shadecore.undercoats.shelf import Undercoat

_BENCH: Final = "bench"
"""Goes into the ``uid`` of a job's record, so that each job has one."""


class Look(NamedTuple):
    """An answer to "covered?" after a coat.

    Attributes
    ----------
    coat : int
        Coats of the colour so far, 1 or more.
    covered : bool
        Whether the colour hid.
    """

    coat: int
    covered: bool


def with_look(looks: Sequence[tuple[int, bool]], look: Look) -> tuple[Look, ...]:
    """Looks with one more, which takes the place of an earlier one at its coat.

    Parameters
    ----------
    looks : sequence of (int, bool)
        What was said so far.
    look : Look
        What is said now.

    Returns
    -------
    tuple of Look
        In the order of their coats.
    """
    return tuple(sorted((*without_look(looks, look.coat), look)))


def without_look(looks: Sequence[tuple[int, bool]], coat: int) -> tuple[Look, ...]:
    """Looks without the one after a coat.

    Parameters
    ----------
    looks : sequence of (int, bool)
        What was said so far.
    coat : int
        The coat.

    Returns
    -------
    tuple of Look
        In the order of their coats.
    """
    return tuple(sorted(Look(*each) for each in looks if each[0] != coat))


def seen_of_looks(
    looks: Sequence[tuple[int, bool]],
    undercoat: Undercoat | None = None,
    film_um: float | None = None,
    tolerance: float | None = None,
) -> Seen | None:
    """What the looks of a job say of its colour.

    "Not yet" after n coats: more than n are needed. The first "yes" after n: exactly
    n where the look before was "not yet" after n - 1, or n is 1; where coats between
    were left out, any of them may have been the first that hid. A "yes" before a "not
    yet" does not count, as the later look sees more paint and is the harder test.

    Parameters
    ----------
    looks : sequence of (int, bool)
        Coats and whether the colour was covered, in any order.
    undercoat : Undercoat, optional
        What was under it.
    film_um : float, optional
        Dry film of one coat. [um]
    tolerance : float, optional
        Difference that counts as hidden. [CIEDE2000]

    Returns
    -------
    Seen or None
        None where nobody looked.

    Raises
    ------
    BookError
        If both are said of one coat.
    SettingError
        If a coat is less than 1 or more than can be counted.

    Examples
    --------
    >>> seen = seen_of_looks([(2, False), (3, True)])
    >>> seen.coats_low, seen.coats_high, seen.looked
    (3, 3, True)
    >>> seen = seen_of_looks([(3, True)])
    >>> seen.coats_low, seen.coats_high, seen.looked
    (1, 3, False)
    """
    said: dict[int, bool] = {}
    for coat, covered in looks:
        if said.setdefault(coat, covered) != covered:
            message = (
                f"After coat {coat} both 'covered' and 'not yet' are said; keep one of "
                "them."
            )
            raise BookError(message)
    if not said:
        return None
    about = {"undercoat": undercoat, "film_um": film_um, "tolerance": tolerance}
    open_after = max((coat for coat, covered in said.items() if not covered), default=0)
    hid = min((coat for coat in said if coat > open_after), default=None)
    if hid is None:
        return Seen("job", 1, open_after, hid=False, **about)  # type: ignore[arg-type]
    looked = open_after > 0 or hid == 1
    return Seen("job", open_after + 1, hid, looked=looked, **about)  # type: ignore[arg-type]


def bench_uid(job_uid: str) -> str:
    """The ``uid`` of the record of what was seen in a job.

    Parameters
    ----------
    job_uid : str
        ``uid`` of the job in the book.

    Returns
    -------
    str
        Always the same one, so that a job has one such record however often it is
        written, and by whichever process.
    """
    return str(uuid.uuid5(uuid.UUID(job_uid), _BENCH))


def bench_record(book: Book, job: Kept[BookJob]) -> Kept[BookSeen] | None:
    """The record of what was seen in a job.

    Parameters
    ----------
    book : Book
        The book.
    job : Kept of BookJob
        The job.

    Returns
    -------
    Kept of BookSeen or None
        None where nobody looked.
    """
    uid = bench_uid(job.uid)
    found = book.list(BookSeen, belongs={"job": job.uid})
    return next((each for each in found if each.uid == uid), None)


def record_bench(
    book: Book,
    job: Kept[BookJob],
    colour: Kept[BookColour],
    seen: Seen | None,
    *,
    who: str = "",
    when: datetime | None = None,
) -> Kept[BookSeen] | None:
    """Keep what was seen in a job, in the place of what it said before.

    The record belongs to the colour, and to the paint line and the gun of the job, or
    of the colour where the job names none.

    Parameters
    ----------
    book : Book
        The book.
    job : Kept of BookJob
        The job.
    colour : Kept of BookColour
        Its colour.
    seen : Seen or None
        From :func:`seen_of_looks`; None takes the record away.
    who : str
        Who looked.
    when : datetime, optional
        In the shop's own time.

    Returns
    -------
    Kept of BookSeen or None
        None where nobody looked.

    Raises
    ------
    BookError
        If it cannot be written.
    """
    with book.changing(f"noted what the job {job.thing.name} showed") as change:
        return _put(change, job, colour, seen, who, when)


def _put(
    change: Ledger,
    job: Kept[BookJob],
    colour: Kept[BookColour],
    seen: Seen | None,
    who: str,
    when: datetime | None,
) -> Kept[BookSeen] | None:
    kind = kind_of(BookSeen)
    uid = bench_uid(job.uid)
    row = read_row(change.connection, kind.table, uid)
    there = None if row is None else kind.kept(row)
    if seen is None:
        if there is not None and there.removed is None:
            change.put(kind, there, there.thing, removed=True)
        return None
    line = job.thing.line or colour.thing.line
    record = replace(
        record_of(colour, seen),
        line=line,
        gun=job.thing.gun or colour.thing.gun,
        job=job.uid,
        batch=_batch(change, line, there),
        who=who or job.thing.who,
        when=when,
    )
    if there is None:
        (kept,) = change.add_as(kind, ((uid, record),))
        return kept
    if when is None:
        record = replace(record, when=there.thing.when)
    if there.removed is None and there.thing == record:
        return there
    return change.put(kind, there, record, removed=False)


def _batch(change: Ledger, line: str, there: Kept[BookSeen] | None) -> str:
    """The batch that was sprayed: as noted first, else the one of the line in use."""
    if there is not None and there.thing.line == line:
        return there.thing.batch
    kind = kind_of(PaintLine)
    row = read_row(change.connection, kind.table, line) if line else None
    return "" if row is None else kind.kept(row).thing.batch
