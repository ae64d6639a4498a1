"""Even surfaces on a picture, from which marks are suggested and charts are found."""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.photo.area import Area

_WINDOW_PX: Final = 5
"""Side of the neighbourhood in which the scatter is taken. [pixels of the preview]"""
EVEN_BELOW: Final = 2.0
"""Standard deviation in CIELAB over the neighbourhood below which it counts as even;
this tool's own limit."""
_SMOOTHING_PX: Final = 1.0
"""Standard deviation of the blur that removes grain first. [pixels of the preview]"""
_INNER: Final = 0.8
"""Part of the largest square in a surface that is marked, to keep off its edges."""


class Surface(NamedTuple):
    """An even surface.

    Attributes
    ----------
    area : Area
        The largest square in it, less its rim.
    centre : tuple of float
        Centre of gravity, as shares of width and height.
    pixels : int
        Its size on the preview.
    fill : float
        Its share of the box around it; a rectangle that lies straight has 1.
    lab : tuple of float
        Rough L*, a*, b* as the picture shows it.
    """

    area: Area
    centre: tuple[float, float]
    pixels: int
    fill: float
    lab: tuple[float, float, float]


def even_surfaces(
    preview: NDArray[np.uint8], smallest_share: float, even_below: float = EVEN_BELOW
) -> tuple[Surface, ...]:
    """Find the even surfaces on a picture.

    Parameters
    ----------
    preview : array of uint8, shape (height, width, 3)
        As :func:`shadecore.photo.picture.preview` gives it.
    smallest_share : float
        Share of the picture below which a surface is left out.
    even_below : float
        Scatter in CIELAB below which a place is even; larger for a grainy picture.

    Returns
    -------
    tuple of Surface
        The largest first.
    """
    # Both take a moment to load, and most of the time no picture is looked through.
    from scipy import ndimage  # noqa: PLC0415
    from skimage.color import rgb2lab  # noqa: PLC0415

    height, width = preview.shape[:2]
    sharp = np.asarray(rgb2lab(preview), dtype=np.float32)
    lab = ndimage.gaussian_filter(sharp, (_SMOOTHING_PX, _SMOOTHING_PX, 0))
    mean = ndimage.uniform_filter(lab, (_WINDOW_PX, _WINDOW_PX, 0))
    square = ndimage.uniform_filter(lab**2, (_WINDOW_PX, _WINDOW_PX, 0))
    scatter = np.sqrt(np.maximum(square - mean**2, 0.0).sum(axis=-1))
    labels, _ = ndimage.label(scatter < even_below)
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
        rows, columns = np.nonzero(inside)
        colour = np.median(lab[box][inside], axis=0)
        found.append(
            Surface(
                Area(
                    max((x - half) / width, 0.0),
                    max((y - half) / height, 0.0),
                    min((x + half) / width, 1.0),
                    min((y + half) / height, 1.0),
                ),
                (
                    (box[1].start + float(columns.mean()) + 0.5) / width,
                    (box[0].start + float(rows.mean()) + 0.5) / height,
                ),
                pixels,
                pixels / inside.size,
                (float(colour[0]), float(colour[1]), float(colour[2])),
            )
        )
    return tuple(sorted(found, key=lambda each: -each.pixels))
