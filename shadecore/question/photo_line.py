"""The doubt of a colour read off a photo, as one line for a link or a job file."""

from typing import TYPE_CHECKING, Any, Final

import numpy as np
from numpy.typing import ArrayLike

from shadecore.colour.condition import WORKING
from shadecore.errors import PhotoError
from shadecore.question.question import PhotoDoubt, photo_doubt

if TYPE_CHECKING:
    from shadecore.photo.measure import PhotoColour

_NUMBERS: Final = 6
_LARGEST: Final = 1e4
"""Variance beyond which nothing was measured. [L*, a*, b* squared]"""
_ROUNDING: Final = 1e-3
"""How far below zero rounding may bring the smallest variance, as a share of the
largest."""


def photo_colour_text(lab: ArrayLike) -> str:
    """Lab of a colour read off a photo, as it stands in the colour's box.

    Parameters
    ----------
    lab : array, shape (3,)
        L*, a*, b*.

    Returns
    -------
    str
    """
    # Adding zero turns a rounded -0.0 into 0.0.
    return " ".join(f"{round(float(v), 1) + 0.0:.1f}" for v in np.asarray(lab))


def photo_fields(colour: "PhotoColour") -> dict[str, Any]:
    """What a colour read off a photo makes of a question.

    Parameters
    ----------
    colour : PhotoColour
        The colour.

    Returns
    -------
    dict
        Fields of the question. A test card belongs to the paint before, so it goes.
    """
    return {
        "colour": photo_colour_text(colour.lab),
        "condition": WORKING,
        "photo": photo_doubt(colour.covariance),
        "card": None,
    }


def write_photo_line(colour: str, doubt: PhotoDoubt) -> str:
    """Write the doubt of a colour.

    Parameters
    ----------
    colour : str
        What stands in the colour's box.
    doubt : PhotoDoubt
        Its doubt.

    Returns
    -------
    str
        The colour, a semicolon, and the six variances and covariances of L*, a*, b*,
        row by row.
    """
    return f"{colour}; {' '.join(map(repr, doubt.spread))}"


def read_photo_line(line: str, colour: str) -> PhotoDoubt | None:
    """Read the doubt of a colour.

    Parameters
    ----------
    line : str
        As :func:`write_photo_line` writes it; empty for none.
    colour : str
        What stands in the colour's box.

    Returns
    -------
    PhotoDoubt or None
        None where the box holds another colour by now.

    Raises
    ------
    PhotoError
        If the line is not such a line.
    """
    if not line:
        return None
    whose, found, numbers = line.rpartition(";")
    try:
        spread = tuple(float(word) for word in numbers.split())
    except ValueError:
        spread = ()
    if not (found and len(spread) == _NUMBERS and _possible(PhotoDoubt(spread))):
        message = (
            "The photo's doubt cannot be read; measure the photo again, or leave it "
            "out."
        )
        raise PhotoError(message)
    return PhotoDoubt(spread) if whose.split() == colour.split() else None


def _possible(doubt: PhotoDoubt) -> bool:
    """Whether the numbers are a covariance, rounding aside."""
    covariance = doubt.covariance
    if not (np.all(np.isfinite(covariance)) and covariance.max() <= _LARGEST):
        return False
    values = np.linalg.eigvalsh(covariance)
    spread = float(np.trace(covariance))
    return bool(spread > 0.0 and values[0] >= -_ROUNDING * values[-1])
