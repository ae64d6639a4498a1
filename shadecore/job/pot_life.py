"""Until when a mix can be sprayed, at the temperature of the shop."""

from datetime import datetime

from shadecore.job.climate import drying_factor
from shadecore.products.mixing import usable_until
from shadecore.products.product import Product, ProductSheet


def mix_until(
    sheet: ProductSheet, product: Product, mixed_at: datetime, air_c: float
) -> datetime | None:
    """Until when a mix can be sprayed.

    Parameters
    ----------
    sheet : ProductSheet
        With the temperature that its pot lives hold at.
    product : Product
        What was mixed.
    mixed_at : datetime
        When its hardener went in, in the shop's own time.
    air_c : float
        Temperature of the shop: warmth shortens a pot life as it does drying, cold is
        not trusted to lengthen it. [degrees C]

    Returns
    -------
    datetime or None
        None where the sheet gives no pot life.

    Raises
    ------
    SettingError
        If the temperature is out of range.

    Examples
    --------
    >>> from shadecore.products.sheet_file import demo_sheet
    >>> clear = demo_sheet().of_kind("clear_coat")
    >>> mix_until(demo_sheet(), clear, datetime(2026, 3, 2, 8), 31.0).hour
    9
    """
    return usable_until(product, mixed_at, drying_factor(sheet, air_c))
