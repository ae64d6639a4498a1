"""The library's verbs that start from a file: card, photo, job, product sheet."""

from pathlib import Path

from shadecore.card.card_table import parse_card
from shadecore.card.reading import Card
from shadecore.colour.condition import WORKING, Condition
from shadecore.formats.table import read_text
from shadecore.job.job_file import parse_job
from shadecore.job.plan import Plan
from shadecore.job.planned import planned
from shadecore.job.pots import with_spraying
from shadecore.job.request import JobRequest
from shadecore.photo.from_file import measure_file
from shadecore.photo.measure import PhotoColour
from shadecore.products.bench import BenchAsk, BenchMix, bench_mix, find_product
from shadecore.products.product import ProductSheet
from shadecore.products.sheet_file import demo_sheet, read_sheet


def open_card(path: str | Path, condition: Condition = WORKING) -> Card:
    """Read the readings of a test card.

    Parameters
    ----------
    path : str or Path
        CSV with ``area,coats`` and ``L,a,b``, or ``Y``, or a spectrum.
    condition : Condition
        How it was read.

    Returns
    -------
    Card

    Raises
    ------
    ShadecoreError
        If it cannot be used.
    """
    return parse_card(read_text(path), str(path), condition)


def measure_photo(
    path: str | Path,
    swatch: tuple[float, ...] | None = None,
    *,
    against: str = "grey card",
    reference: tuple[float, ...] | str | None = None,
    light: str = "",
) -> PhotoColour:
    """Read a swatch's colour off a photo.

    Parameters
    ----------
    path : str or Path
        JPEG, PNG, TIFF, WebP or HEIC.
    swatch : tuple of float, optional
        Left, top, right and bottom of the swatch as shares of the picture; found
        unless given.
    against : str
        What lies beside it: ``grey card``, ``white paper``, ``chart``, ``nothing``, or
        the L* of a grey.
    reference : tuple of float or ``"found"``, optional
        Where that lies: sides as of the swatch, or x and y of the middles of a chart's
        corner patches; a chart is found unless given, anything else that is only found
        has to be allowed by ``"found"``.
    light : str
        What light it is in; not known unless given.

    Returns
    -------
    PhotoColour

    Raises
    ------
    PhotoError
        If it cannot be measured, or nobody has said that what was found is the
        reference.
    """
    return measure_file(path, swatch, against=against, reference=reference, light=light)


def open_job(path: str | Path) -> JobRequest:
    """Read a job file.

    Parameters
    ----------
    path : str or Path
        TOML.

    Returns
    -------
    JobRequest

    Raises
    ------
    ShadecoreError
        If it cannot be used.
    """
    return parse_job(read_text(path), str(path))


def plan(
    job: JobRequest | str | Path, products: ProductSheet | str | Path | None = None
) -> Plan:
    """Plan a job.

    Parameters
    ----------
    job : JobRequest, str or Path
        The job, or its file.
    products : ProductSheet, str or Path, optional
        The products, or their file; an invented line unless given.

    Returns
    -------
    Plan

    Raises
    ------
    ShadecoreError
        If it cannot be planned.
    """
    request = job if isinstance(job, JobRequest) else open_job(job)
    return planned(request, open_products(products))


def open_products(
    products: ProductSheet | str | Path | None = None,
) -> ProductSheet:
    """Read a product sheet.

    Parameters
    ----------
    products : ProductSheet, str or Path, optional
        The sheet or its file; an invented line unless given.

    Returns
    -------
    ProductSheet

    Raises
    ------
    ShadecoreError
        If it cannot be used.
    """
    if products is None:
        return demo_sheet()
    return products if isinstance(products, ProductSheet) else read_sheet(products)


def mix(
    product: str,
    asked: BenchAsk,
    products: ProductSheet | str | Path | None = None,
) -> BenchMix:
    """Work out what to pour at the bench.

    Parameters
    ----------
    product : str
        Its key, its kind or its name in the sheet, such as ``base_coat``.
    asked : BenchAsk
        The cup in hand, a weight, what is in the can, or coats on an area, which are
        split into pots that are sprayed within the pot life.
    products : ProductSheet, str or Path, optional
        The products, or their file; an invented line unless given.

    Returns
    -------
    BenchMix

    Raises
    ------
    ShadecoreError
        If there is no such product, or it cannot be mixed so.

    Examples
    --------
    >>> found = mix("clear_coat", BenchAsk(cup_ml=600.0))
    >>> [round(each.scale_g) for each in found.pours]
    [320, 483]
    """
    sheet = open_products(products)
    found = find_product(sheet, product)
    return bench_mix(found, with_spraying(asked, found, sheet, sheet.reference_c))
