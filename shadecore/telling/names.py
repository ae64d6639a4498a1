"""Names that people give, and sealers with what was measured of them."""

from typing import Final

from shadecore.formats.echo import brief
from shadecore.products.product import ProductSheet
from shadecore.undercoats.shelf import Undercoat, munsell_value

_INVENTED: Final = "(invented)"
MIX: Final = "mix of two sealers"
"""How a sealer that is mixed of two from the shelf is called."""


def grey_words(lightness: float) -> str:
    """A lightness with its Munsell value.

    Parameters
    ----------
    lightness : float
        L*, 0..100.

    Returns
    -------
    str

    Examples
    --------
    >>> grey_words(90.2)
    'L* 90.2, N 9.0'
    """
    return f"L* {lightness:.1f}, N {munsell_value(lightness):.1f}"


def mix_in_brief(undercoat: Undercoat) -> tuple[str, str]:
    """A mix of two sealers as a row of a table calls it.

    Parameters
    ----------
    undercoat : Undercoat
        A mix.

    Returns
    -------
    tuple of str
        Such as ``Mix 4:1`` and ``White N 9 + Light grey N 7.5``.
    """
    names, parts = zip(*undercoat.parts, strict=True)
    return f"Mix {':'.join(map(str, parts))}", " + ".join(map(brief, names))


def products_words(sheet: ProductSheet) -> str:
    """A product sheet by its name, and once that it is invented where it is.

    Parameters
    ----------
    sheet : ProductSheet
        The sheet.

    Returns
    -------
    str
        Such as ``Example line (invented example, do not spray by it)``.
    """
    if not sheet.invented:
        return brief(sheet.name)
    name = brief(sheet.name.removesuffix(_INVENTED).rstrip())
    return f"{name} (invented example, do not spray by it)"


def sealer_words(undercoat: Undercoat) -> str:
    """A sealer with what was measured of it.

    Parameters
    ----------
    undercoat : Undercoat
        The sealer.

    Returns
    -------
    str
        Such as ``White N 9 (L* 90.2, N 9.0)``.
    """
    return f"{brief(undercoat.name)} ({grey_words(undercoat.lightness)})"


def sealer_name(undercoat: Undercoat) -> str:
    """A sealer by its name alone; a mix by what it is.

    Parameters
    ----------
    undercoat : Undercoat
        The sealer.

    Returns
    -------
    str
        Such as ``White N 9`` or ``the mix of two sealers``.
    """
    return f"the {MIX}" if undercoat.parts else brief(undercoat.name)
