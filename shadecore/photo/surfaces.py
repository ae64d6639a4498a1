"""Even surfaces on a picture, from which marks are suggested and charts are found."""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.photo.area import Area

EVEN_BELOW: Final = 2.0
"""Standard deviation in CIELAB over the neighbourhood below which it counts as even;
this tool's own limit."""
_INNER: Final = 0.8
"""Part of the largest square in a surface that is marked, to keep off its edges."""


class Surface(NamedTuple):
    """An even surface.

    Attributes
    ----------
    area : Area
        The largest square in it, less its rim.
    pixels : int
        Its size on the preview.
    lab : tuple of float
        Rough L*, a*, b* as the picture shows it.
    """

    area: Area
    pixels: int
    lab: tuple[float, float, float]


class Smoothed(NamedTuple):
    """A picture without its grain, and how even it is about each pixel.

    Attributes
    ----------
    lab : array of float32, shape (height, width, 3)
        Rough L*, a*, b*.
    scatter : array of float32, shape (height, width)
        Standard deviation of that over a pixel's neighbourhood.
    """

    lab: NDArray[np.float32]
    scatter: NDArray[np.float32]


class Grain(NamedTuple):
    """How finely a picture is looked at.

    Attributes
    ----------
    smoothing : float
        Standard deviation of the blur that removes grain first. [pixels]
    window : int
        Side of the neighbourhood in which the scatter is taken. [pixels]
    """

    smoothing: float
    window: int


USUAL: Final = Grain(1.0, 5)
FINE: Final = Grain(0.7, 3)
"""For patches of some ten pixels, of which the usual one leaves too little."""


def smoothed(preview: NDArray[np.uint8], grain: Grain = USUAL) -> Smoothed:
    """Look how even a picture is.

    Parameters
    ----------
    preview : array of uint8, shape (height, width, 3)
        As :func:`shadecore.photo.picture.preview` gives it.
    grain : Grain
        How finely.

    Returns
    -------
    Smoothed
    """
    # Both take a moment to load, and most of the time no picture is looked through.
    from scipy import ndimage  # noqa: PLC0415
    from skimage.color import rgb2lab  # noqa: PLC0415

    sharp = np.asarray(rgb2lab(preview), dtype=np.float32)
    lab = ndimage.gaussian_filter(sharp, (grain.smoothing, grain.smoothing, 0))
    mean = ndimage.uniform_filter(lab, (grain.window, grain.window, 0))
    square = ndimage.uniform_filter(lab**2, (grain.window, grain.window, 0))
    scatter = np.sqrt(np.maximum(square - mean**2, 0.0).sum(axis=-1))
    return Smoothed(lab, scatter)


def even_surfaces(picture: Smoothed, smallest_share: float) -> tuple[Surface, ...]:
    """Find the even surfaces on a picture.

    Parameters
    ----------
    picture : Smoothed
        From :func:`smoothed`.
    smallest_share : float
        Share of the picture below which a surface is left out.

    Returns
    -------
    tuple of Surface
        The largest first.
    """
    from scipy import ndimage  # noqa: PLC0415 - slow to load

    lab, scatter = picture
    height, width = scatter.shape
    labels, _ = ndimage.label(scatter < EVEN_BELOW)
    found = []
    for number, box in enumerate(ndimage.find_objects(labels), start=1):
        inside = labels[box] == number
        pixels = int(inside.sum())
        if pixels < smallest_share * height * width:
            continue
        # Padded, so that the edge of the picture counts as an edge of the surface.
        reach = ndimage.distance_transform_cdt(np.pad(inside, 1), "chessboard")[
            1:-1, 1:-1
        ]
        top, left = np.unravel_index(int(np.argmax(reach)), reach.shape)
        half = _INNER * float(reach.max())
        y, x = box[0].start + int(top) + 0.5, box[1].start + int(left) + 0.5
        colour = np.median(lab[box][inside], axis=0)
        found.append(
            Surface(
                Area(
                    max((x - half) / width, 0.0),
                    max((y - half) / height, 0.0),
                    min((x + half) / width, 1.0),
                    min((y + half) / height, 1.0),
                ),
                pixels,
                (float(colour[0]), float(colour[1]), float(colour[2])),
            )
        )
    return tuple(sorted(found, key=lambda each: -each.pixels))
