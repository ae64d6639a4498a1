"""A swatch's colour off a picture file, its marks given or found."""

from dataclasses import replace
from pathlib import Path
from typing import Final

from shadecore.errors import PhotoError, TableError
from shadecore.formats.echo import shown
from shadecore.formats.table import read_content
from shadecore.photo.area import Area, area_between
from shadecore.photo.corners import Corners
from shadecore.photo.measure import Marks, PhotoColour, check_marks, measure_swatch
from shadecore.photo.picture import Picture, open_picture
from shadecore.photo.reference import REFERENCES, Reference, own_reference
from shadecore.photo.rendering import UNKNOWN_LIGHT
from shadecore.photo.suggest import suggest_marks

_CHART, _NOTHING = "chart", "nothing"
AGAINST: Final = (*REFERENCES, _CHART, _NOTHING)
"""What a swatch may be measured against; beside these, the L* of a grey."""
FOUND: Final = "found"
"""Said for where the reference lies: what the program finds shall count."""
_CORNERS: Final = 4
_PERCENT: Final = 100.0
MOST_FILE_BYTES: Final = 500_000_000
"""Of a picture file: 50 megapixels of 16 bits take 300 MB without compression."""

Shares = tuple[float, ...]
"""Places as shares of the picture's width and height, in turn."""


def measure_file(
    path: str | Path,
    swatch: Shares | None = None,
    *,
    against: str = AGAINST[0],
    reference: Shares | str | None = None,
    light: str = "",
) -> PhotoColour:
    """Measure a swatch on a picture file.

    What looks neutral need not be the reference: a white wall behind a swatch, taken
    for a grey card, shifts L* by tens. So a reference that is only found is refused,
    with its place, until somebody says that it counts. A chart is known by its colours.
    Whatever was guessed stands among the colour's warnings.

    Parameters
    ----------
    path : str or Path
        JPEG, PNG, TIFF, WebP or HEIC.
    swatch : tuple of float, optional
        Left, top, right and bottom of the swatch; found unless given.
    against : str
        One of ``AGAINST``, or the L* of a grey.
    reference : tuple of float or ``FOUND``, optional
        Where that lies: the same of a reference, or x and y of the middles of a
        chart's corner patches, which is found unless given.
    light : str
        What light it is in; not known unless given.

    Returns
    -------
    PhotoColour

    Raises
    ------
    PhotoError
        If the file cannot be opened, something is not found on it, its reference was
        only found, or it cannot be measured.
    """
    try:
        content = read_content(path, MOST_FILE_BYTES)
    except TableError as error:
        raise PhotoError(str(error)) from error
    picture = open_picture(content, str(path))
    marks = _marks(picture, swatch, against.strip().lower(), reference, light)
    guessed = _guessed(marks, given=swatch is not None, found=reference == FOUND)
    try:
        check_marks(marks)
        colour = measure_swatch(picture, marks)
    except PhotoError as error:
        said = str(error) if picture.name in str(error) else f"{picture.name}: {error}"
        message = f"{said} Guessed: {guessed}." if guessed else said
        raise PhotoError(message) from error
    if not guessed:
        return colour
    caution = (
        f"Guessed on {Path(path).name}: {guessed} (left, top, right, bottom in "
        "percent; --swatch and --reference on the command line). Look: if that is "
        "wrong, so is the colour."
    )
    return replace(colour, warnings=(caution, *colour.warnings))


def _guessed(marks: Marks, *, given: bool, found: bool) -> str:
    """Places that nobody gave; empty where there are none."""
    places = [] if given else [("swatch", marks.swatch)]
    places += [(each.mark, area) for area, each in marks.references if found]
    return " and ".join(f"{name} at {_percents(area)}" for name, area in places)


def _marks(
    picture: Picture,
    swatch: Shares | None,
    against: str,
    reference: Shares | str | None,
    light: str,
) -> Marks:
    suggested = suggest_marks(picture)
    own = suggested.swatch if swatch is None else area_between(swatch)
    lit = light or UNKNOWN_LIGHT
    if against == _NOTHING:
        return Marks(own, light=lit)
    if against == _CHART:
        given = None if isinstance(reference, str) else reference
        corners = suggested.chart if given is None else _corners(given)
        if corners is None:
            message = (
                f"No 24-patch chart was found on {picture.name}; say where its corner "
                "patches lie (--reference on the command line)."
            )
            raise PhotoError(message)
        return Marks(own, chart=corners)
    known = _reference(against)
    if reference is not None and not isinstance(reference, str):
        return Marks(own, ((area_between(reference), known),), light=lit)
    if suggested.reference is None:
        message = (
            f"Nothing neutral was found on {picture.name}; say where the {known.mark} "
            "lies (--reference on the command line)."
        )
        raise PhotoError(message)
    if reference != FOUND:
        message = (
            f"Is it the {known.mark} that lies at {_percents(suggested.reference)} on "
            f"{picture.name}? That is a guess (left, top, right, bottom in percent): "
            f"look, then say --reference {FOUND}, or where it lies."
        )
        raise PhotoError(message)
    return Marks(own, ((suggested.reference, known),), light=lit)


def _percents(area: Area) -> str:
    sides = (area.left, area.top, area.right, area.bottom)
    return ",".join(f"{_PERCENT * each:.0f}" for each in sides)


def _reference(against: str) -> Reference:
    known = REFERENCES.get(against)
    if known is not None:
        return known
    try:
        lightness = float(against.replace(",", "."))
    except ValueError:
        message = (
            f"{shown(against)} is not something to measure against; use one of "
            f"{', '.join(AGAINST)}, or the L* of a grey."
        )
        raise PhotoError(message) from None
    return own_reference(lightness)


def _corners(shares: Shares) -> Corners:
    if len(shares) != 2 * _CORNERS:
        message = "A chart has four corners: give x and y of each, eight numbers."
        raise PhotoError(message)
    return tuple(zip(shares[::2], shares[1::2], strict=True))
