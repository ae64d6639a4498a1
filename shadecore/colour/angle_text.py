"""Readings at several angles as one line, for a link, a job file or a book."""

from shadecore.colour.angles import AngleReadings, Reading, angle_readings
from shadecore.errors import ColourError


def write_angles(readings: AngleReadings) -> str:
    """Readings as one line.

    Parameters
    ----------
    readings : AngleReadings
        The readings.

    Returns
    -------
    str
        ``angle: numbers`` with semicolons between; what :func:`read_angles` reads back
        without loss.
    """
    given: tuple[Reading, ...] = readings.reflectance or readings.lab
    return "; ".join(
        f"{angle:g}: {' '.join(repr(float(value)) for value in each)}"
        for angle, each in zip(readings.angles, given, strict=True)
    )


def read_angles(line: str) -> AngleReadings:
    """Readings from one line.

    Parameters
    ----------
    line : str
        As :func:`write_angles` writes it, under the working condition.

    Returns
    -------
    AngleReadings

    Raises
    ------
    ColourError
        If it is not such a line.

    Examples
    --------
    >>> read_angles("15: 109 0 -1; 45: 35 0 -1.5").angles
    (15.0, 45.0)
    """
    pairs: list[tuple[float, list[float]]] = []
    for part in line.split(";"):
        angle, _, numbers = part.partition(":")
        try:
            pairs.append((float(angle), [float(word) for word in numbers.split()]))
        except ValueError:
            message = (
                "The angles cannot be read; write them like 15: 109 0 -1; 45: 35 0 -1."
            )
            raise ColourError(message) from None
    return angle_readings(pairs)
