"""Tables of what the book holds, for other programs."""

from collections.abc import Sequence

from shadecore.book.asked import readings_of
from shadecore.book.job_times import write_job_times
from shadecore.book.records import BookColour, BookShelf
from shadecore.book.shop_records import BookJob
from shadecore.formats.table_writer import Cell, write_records
from shadecore.job.job_file import parse_job
from shadecore.undercoats.shelf_table import write_shelf


def colours_table(colours: Sequence[BookColour]) -> bytes:
    """Colours as CSV, by their code or name, with all but their spectra.

    Parameters
    ----------
    colours : sequence of BookColour
        The colours.

    Returns
    -------
    bytes
    """
    rows: list[dict[str, Cell]] = []
    angles: set[float] = set()
    for each in colours:
        row: dict[str, Cell] = {"code": each.code or each.name, "name": each.name}
        row |= {"kind": each.kind, "car": each.car}
        row |= zip("Lab", each.lab, strict=True)
        # Readings that cannot be asked about could not be read back, either.
        if each.angles and readings_of(each) is not None:
            for one in each.angles:
                angles.add(one.aspecular_deg)
                row |= zip(_angle_columns(one.aspecular_deg), one.lab, strict=True)
        rows.append(row)
    columns = ["code", "name", "kind", "car", "L", "a", "b"]
    for angle in sorted(angles):
        columns += _angle_columns(angle)
    return write_records(columns, rows).encode()


def _angle_columns(angle: float) -> tuple[str, ...]:
    return tuple(f"{letter}{angle:g}" for letter in "Lab")


def shelf_table(shelf: BookShelf) -> bytes:
    """A shelf as CSV, with prices and stock.

    Parameters
    ----------
    shelf : BookShelf
        The shelf.

    Returns
    -------
    bytes
    """
    return write_shelf(shelf.shelf, shelf.stock).encode()


def job_times_table(job: BookJob) -> bytes:
    """Times of a job as CSV, for the accounts.

    Parameters
    ----------
    job : BookJob
        The job.

    Returns
    -------
    bytes

    Raises
    ------
    JobError
        If its text cannot be read.
    """
    request = parse_job(job.text, job.name)
    return write_job_times(request, job.name, job.code, job.car).encode()
