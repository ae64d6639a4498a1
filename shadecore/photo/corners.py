"""Where a 24-patch chart lies on a picture: its four corners and its patches."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.errors import PhotoError
from shadecore.photo.area import Area

ROWS, COLUMNS = 4, 6
Corners = tuple[tuple[float, float], ...]
"""Middles of the four patches in the chart's corners, as shares of the picture's width
and height, read round: patch 1, patch 6, patch 24, patch 19."""

PATCH_READ: Final = 0.25
"""Half the side of the square that is read of a patch, as a share of the distance from
patch to patch."""
_CORNERS: Final = 4
_SMALLEST_TURN: Final = 1e-6
"""Cross product of two sides up to which they count as one straight line."""


def check_corners(corners: Corners) -> None:
    """Refuse corners that do not span a chart.

    Parameters
    ----------
    corners : tuple of (float, float)
        The corners.

    Raises
    ------
    PhotoError
        If they are not four, lie outside, or cross.
    """
    points = np.array(corners, dtype=np.float64)
    if points.shape != (_CORNERS, 2) or not np.all((points >= 0.0) & (points <= 1.0)):
        message = "Mark the four corner patches of the chart, all on the picture."
        raise PhotoError(message)
    ahead = np.roll(points, -1, axis=0) - points
    after = np.roll(ahead, -1, axis=0)
    turns = ahead[:, 0] * after[:, 1] - ahead[:, 1] * after[:, 0]
    if not (np.all(turns > _SMALLEST_TURN) or np.all(turns < -_SMALLEST_TURN)):
        message = (
            "The chart's corners cross; mark the patches in this order: brown, "
            "turquoise, black, white."
        )
        raise PhotoError(message)


def patch_centres(corners: Corners) -> NDArray[np.float64]:
    """Middles of the 24 patches, in perspective.

    Parameters
    ----------
    corners : tuple of (float, float)
        As :func:`check_corners` lets pass.

    Returns
    -------
    array, shape (24, 2)
        Shares of the picture's width and height, row by row.
    """
    return _on_picture(corners, _places())


def patch_areas(corners: Corners) -> tuple[Area, ...]:
    """Areas that are read of the patches, well within their edges.

    Parameters
    ----------
    corners : tuple of (float, float)
        As :func:`check_corners` lets pass.

    Returns
    -------
    tuple of Area
        24 of them, row by row.
    """
    centre = patch_centres(corners)
    # Halfway to the next patch to the right and below, as columns of a matrix.
    half = np.stack(
        [_on_picture(corners, _places() + each) - centre for each in 0.5 * np.eye(2)],
        -1,
    )
    # The largest upright rectangle of that shape within a patch that may be turned.
    shape = np.abs(half).sum(axis=-1)
    reach = np.einsum("pij,pj->pi", np.abs(np.linalg.inv(half)), shape).max(axis=1)
    box = 2.0 * PATCH_READ * shape / reach[:, None]
    sides = np.concatenate([centre - box, centre + box], axis=1)
    return tuple(Area(*map(float, each)) for each in sides)


def _places() -> NDArray[np.float64]:
    """Places of the patches, counted from patch 1, row by row."""
    y, x = np.mgrid[0:ROWS, 0:COLUMNS]
    return np.stack([x.ravel(), y.ravel()], axis=1).astype(np.float64)


def _on_picture(corners: Corners, places: NDArray[np.float64]) -> NDArray[np.float64]:
    """Places counted in patches from patch 1, as shares of the picture."""
    last_x, last_y = COLUMNS - 1, ROWS - 1
    grid = np.array([[0, 0], [last_x, 0], [last_x, last_y], [0, last_y]], dtype=float)
    from skimage.transform import ProjectiveTransform  # noqa: PLC0415 - slow to load

    transform = ProjectiveTransform.from_estimate(  # type: ignore[no-untyped-call]
        grid, np.array(corners, dtype=float)
    )
    if not transform:
        message = "The chart's corners lie on one line; mark them again."
        raise PhotoError(message)
    return np.asarray(transform(places))


def chart_outline(corners: Corners) -> Area:
    """Box around a whole chart, its rim included.

    Parameters
    ----------
    corners : tuple of (float, float)
        As :func:`check_corners` lets pass.
    """
    rim = np.array([[-1, -1], [COLUMNS, -1], [COLUMNS, ROWS], [-1, ROWS]], dtype=float)
    points = np.clip(_on_picture(corners, rim), 0.0, 1.0)
    left, top = points.min(axis=0)
    right, bottom = points.max(axis=0)
    return Area(float(left), float(top), float(right), float(bottom))
