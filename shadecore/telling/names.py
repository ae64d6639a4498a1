"""Names that people give, short enough for a sheet."""

from typing import Final

_LONGEST_NAME: Final = 48


def brief(name: str) -> str:
    """A name in one line, cut where it would take the sheet's place from the rest.

    Parameters
    ----------
    name : str
        Of a job, an undercoat, a product.

    Returns
    -------
    str
        At most 48 characters.
    """
    return name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1]}…"
