"""The Lab of a swatch on a picture, with the covariance of its error."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from shadecore.colour.convert import lab_from_linear_srgb, linear_srgb_from_lab
from shadecore.errors import PhotoError
from shadecore.photo import doubt
from shadecore.photo.area import Area, AreaReading, read_area
from shadecore.photo.cautions import NO_REFERENCE, area_cautions
from shadecore.photo.chart_fit import ChartFit, fit_chart
from shadecore.photo.corners import Corners, check_corners
from shadecore.photo.picture import Picture
from shadecore.photo.reference import Reference
from shadecore.photo.rendering import (
    UNKNOWN_LIGHT,
    check_light,
    cone_matrix,
    rendered,
)
from shadecore.photo.shading import Shading, shading_of

NORMAL_95: Final = 1.96
"""Standard deviations that hold 95 percent of a normal distribution."""
_STEP: Final = 0.02
"""Step of a numerical derivative, in the logarithm of light. As large as usual errors,
because the colour correction's square roots are steep where a channel is almost dark
and a small step would overstate the slope."""


@dataclass(frozen=True)
class Marks:
    """What is marked on a picture.

    Attributes
    ----------
    swatch : Area
        The colour to measure.
    references : tuple of (Area, Reference)
        Neutral surfaces beside it.
    chart : tuple of (float, float), optional
        Corners of a 24-patch chart; see :mod:`shadecore.photo.corners`. With a chart
        the references are not used.
    light : str
        Light that the picture was taken in, one of
        :data:`shadecore.photo.rendering.LIGHTS`. Not used with a chart.
    """

    swatch: Area
    references: tuple[tuple[Area, Reference], ...] = ()
    chart: Corners | None = None
    light: str = UNKNOWN_LIGHT


class Driver(NamedTuple):
    """One source of error.

    Attributes
    ----------
    name : str
        ``noise``, ``reference``, ``light`` or ``camera``.
    covariance : tuple of tuple of float
        Of the errors that it causes in L*, a*, b*, shape (3, 3).
    """

    name: str
    covariance: tuple[tuple[float, ...], ...]

    @property
    def size(self) -> float:
        """Root mean square of the distance in CIELAB that it causes."""
        return float(np.sqrt(np.trace(np.array(self.covariance))))


@dataclass(frozen=True)
class PhotoColour:
    """A colour read off a photo.

    Attributes
    ----------
    lab : tuple of float
        L*, a*, b* under D65/10 degrees, 45/0.
    drivers : tuple of Driver
        Sources of error, largest first; their covariances add up.
    warnings : tuple of str
        What the painter should know.
    source : str
        What it was measured against: ``chart``, ``reference`` or ``nothing``.
    """

    lab: tuple[float, float, float]
    drivers: tuple[Driver, ...]
    warnings: tuple[str, ...]
    source: str

    @property
    def covariance(self) -> NDArray[np.float64]:
        """Covariance of the error of L*, a*, b*; shape (3, 3)."""
        return np.asarray(np.sum([each.covariance for each in self.drivers], axis=0))

    @property
    def interval(self) -> tuple[float, float, float]:
        """Half the width of the 95 percent interval of L*, a*, b*."""
        half = NORMAL_95 * np.sqrt(np.diag(self.covariance))
        return float(half[0]), float(half[1]), float(half[2])


def measure_swatch(picture: Picture, marks: Marks) -> PhotoColour:
    """Measure a swatch on a picture.

    Parameters
    ----------
    picture : Picture
    marks : Marks
        Where the swatch is, and what to measure it against.

    Raises
    ------
    PhotoError
        If the marks overlap, a marked area cannot be read, a reference is overexposed
        or black in a channel, or the chart does not fit.
    """
    check_light(marks.light)
    swatch = read_area(picture, marks.swatch, "swatch")
    if marks.chart is not None:
        check_corners(marks.chart)
        return _by_chart(swatch, marks, fit_chart(picture, marks.chart))
    check_marks(marks)
    named = tuple(zip(marks.references, reference_marks(marks), strict=True))
    readings = tuple(read_area(picture, area, name) for (area, _), name in named)
    for reading, (_, name) in zip(readings, named, strict=True):
        if any(reading.at_limit) or any(reading.at_floor):
            message = (
                f"The {name} is overexposed or black in a channel where it is marked, "
                "so it tells nothing of the light; move the mark, or take the picture "
                "again with exposure or light changed."
            )
            raise PhotoError(message)
    return _by_references(swatch, marks, readings)


def _by_references(
    swatch: AreaReading, marks: Marks, readings: tuple[AreaReading, ...]
) -> PhotoColour:
    centre = np.array(marks.swatch.centre)
    shading = shading_of((swatch, *readings))
    log_gain, noise, reference, light = _gain(marks, readings, shading, centre)
    balanced = _log_cones(swatch.linear) + log_gain
    lab = _lab_of(balanced, marks.light)
    slope = _jacobian(balanced, marks.light)
    noise = noise + _cone_noise(swatch)
    cut_off = _cut_off(
        swatch, lambda linear: _lab_of(_log_cones(linear) + log_gain, marks.light)
    )
    source = "reference" if readings else "nothing"
    camera = doubt.camera_covariance(lab, marks.light) + doubt.tone_covariance(
        lab, tuple(known.lab[0] for _, known in marks.references)
    )
    if not readings:
        light = light + doubt.unknown_light()
    return _colour(
        lab,
        (
            ("noise", slope @ noise @ slope.T + cut_off),
            ("reference", slope @ reference @ slope.T),
            ("light", slope @ light @ slope.T),
            ("camera", camera),
        ),
        (
            *area_cautions("swatch", swatch),
            *(
                each
                for reading in readings
                for each in area_cautions("reference", reading)
            ),
            *(() if readings else (NO_REFERENCE,)),
        ),
        source,
    )


def _cut_off(
    swatch: AreaReading, lab_of: Callable[[NDArray[np.float64]], NDArray[np.float64]]
) -> NDArray[np.float64]:
    """Covariance in Lab for channels that are clipped or black all over.

    Such a channel may have had more light than was read; the shift of the colour at the
    most it may have had is taken as one standard deviation.
    """
    covariance = np.zeros((3, 3))
    linear = np.array(swatch.linear)
    read = lab_of(linear)
    beyond = linear * (doubt.BEYOND_LIMIT - 1.0)
    for channel in range(linear.size):
        more = linear.copy()
        more[channel] += beyond[channel] * swatch.at_limit[channel]
        more[channel] += doubt.ABOVE_FLOOR * swatch.at_floor[channel]
        apart = lab_of(more) - read
        covariance = covariance + np.outer(apart, apart)
    return covariance


def _gain(
    marks: Marks,
    readings: tuple[AreaReading, ...],
    shading: Shading,
    centre: NDArray[np.float64],
) -> tuple[NDArray[np.float64], ...]:
    """Logarithm of the factors on cone responses that make the references neutral.

    The slope of the light, read off all marked areas, carries each reference to the
    swatch's place. Each counts by the inverse of its variance, so that the one nearer
    to the swatch counts more.

    Returns
    -------
    log_gain : array, shape (3,)
    noise, reference, light : array, shape (3, 3)
        Covariances of it: from the noise of the references' pixels, from the error of
        their known colour, and from the light changing between them and the swatch.
    """
    nothing = np.zeros((3, 3))
    if not readings:
        return np.zeros(3), nothing, nothing, nothing
    gains, noises, covariances, variances = [], [], [], []
    for (area, known), reading in zip(marks.references, readings, strict=True):
        apart = centre - np.array(area.centre)
        rise, variance = shading.between(apart)
        wanted = _log_cones(linear_srgb_from_lab(known.lab))
        gains.append(wanted - _log_cones(reading.linear) - rise)
        noises.append(_cone_noise(reading))
        covariances.append(_reference_covariance(known, wanted, marks.light))
        variances.append(variance)
    total = np.array([np.trace(each) for each in covariances]) / 3.0 + variances
    weight = (1.0 / total) / np.sum(1.0 / total)
    # Pieces of one card share their error, different references each have their own.
    alike = len({known for _, known in marks.references}) == 1
    counted = weight if alike else weight**2
    noise = np.einsum("r,rij->ij", weight**2, np.array(noises))
    reference = np.einsum("r,rij->ij", counted, np.array(covariances))
    light = float(weight**2 @ np.array(variances)) * np.ones((3, 3))
    return weight @ np.array(gains), noise, reference, light


def _reference_covariance(
    known: Reference, wanted: NDArray[np.float64], light: str
) -> NDArray[np.float64]:
    """Covariance of a reference's known colour, in the logarithm of cone responses."""
    back = np.linalg.inv(_jacobian(wanted, light))
    spread = np.diag([known.lightness_sd**2, *[known.opponent_sd**2] * 2])
    return np.asarray(back @ spread @ back.T)


def _by_chart(swatch: AreaReading, marks: Marks, fit: ChartFit) -> PhotoColour:
    centre = np.array(marks.swatch.centre)
    linear = np.maximum(swatch.linear, doubt.DARKEST)
    lab, camera = fit.lab(linear, centre)
    relative = fit.light_sd(centre)
    around = np.exp(np.log(linear) + _STEP * np.vstack([np.zeros(3), np.eye(3)]))
    moved = np.array([fit.lab(each, centre)[0] for each in around])
    slope = (moved[1:] - moved[0]).T / _STEP
    # As a share of the light, for a slope by its logarithm.
    noise = np.array(swatch.noise) / np.outer(linear, linear)
    cut_off = _cut_off(swatch, lambda each: fit.lab(each, centre)[0])
    light = relative**2 * np.ones((3, 3))
    return _colour(
        lab,
        (
            ("noise", slope @ noise @ slope.T + cut_off),
            ("reference", fit.reference_covariance),
            ("light", slope @ light @ slope.T),
            ("camera", camera),
        ),
        (*area_cautions("swatch", swatch), *fit.warnings),
        "chart",
    )


def _log_cones(linear: ArrayLike) -> NDArray[np.float64]:
    """Logarithm of cone responses, to which a light's colour adds a constant."""
    return np.asarray(
        np.log(np.maximum(cone_matrix() @ np.asarray(linear), doubt.DARKEST))
    )


def _cone_noise(reading: AreaReading) -> NDArray[np.float64]:
    """Covariance of an area's noise in the logarithm of cone responses."""
    matrix = cone_matrix()
    slope = matrix / np.maximum(matrix @ reading.linear, doubt.DARKEST)[:, None]
    return np.asarray(slope @ np.array(reading.noise) @ slope.T)


def _lab_of(log_cones: NDArray[np.float64], light: str) -> NDArray[np.float64]:
    """Colour of balanced cone responses, shape (..., 3)."""
    linear = np.exp(log_cones) @ np.linalg.inv(cone_matrix()).T
    return lab_from_linear_srgb(rendered(linear, light))


def _jacobian(log_cones: NDArray[np.float64], light: str) -> NDArray[np.float64]:
    """Change of L*, a*, b* with the logarithm of each cone response."""
    around = log_cones + _STEP * np.vstack([np.zeros(3), np.eye(3)])
    lab = _lab_of(around, light)
    return np.asarray((lab[1:] - lab[0]).T / _STEP)


def _colour(
    lab: NDArray[np.float64],
    doubts: tuple[tuple[str, NDArray[np.float64]], ...],
    warnings: tuple[str, ...],
    source: str,
) -> PhotoColour:
    drivers = tuple(
        Driver(name, tuple(tuple(map(float, row)) for row in covariance))
        for name, covariance in doubts
    )
    return PhotoColour(
        (float(np.clip(lab[0], 0.0, 100.0)), float(lab[1]), float(lab[2])),
        tuple(sorted(drivers, key=lambda each: -each.size)),
        warnings,
        source,
    )


def reference_marks(marks: Marks) -> tuple[str, ...]:
    """What the marks of the references are called, within a sentence.

    Parameters
    ----------
    marks : Marks

    Returns
    -------
    tuple of str
        One for each reference.
    """
    return tuple(
        f"second {known.mark}" if place else known.mark
        for place, (_, known) in enumerate(marks.references)
    )


def check_marks(marks: Marks) -> None:
    """Refuse a swatch that overlaps a reference.

    :func:`measure_swatch` checks this itself; call it to tell the painter before.

    Parameters
    ----------
    marks : Marks

    Raises
    ------
    PhotoError
        If the swatch overlaps a reference.
    """
    for (area, _), name in zip(marks.references, reference_marks(marks), strict=True):
        if not area.apart_from(marks.swatch):
            message = (
                f"The marks of the swatch and of the {name} overlap; move one of them."
            )
            raise PhotoError(message)
