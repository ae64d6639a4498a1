"""A 24-patch chart found on a picture, however it lies."""

from itertools import product
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree
from skimage.transform import ProjectiveTransform

from shadecore.colour.appearance import colour_difference
from shadecore.colour.convert import lab_from_linear_srgb, linear_srgb_from_lab
from shadecore.photo.chart_fit import chart_lab
from shadecore.photo.corners import COLUMNS, ROWS, Corners, patch_centres
from shadecore.photo.doubt import DARKEST
from shadecore.photo.light import SRGB_PROFILE, linear_from_levels
from shadecore.photo.picture import Picture, preview
from shadecore.photo.surfaces import EVEN_BELOW, Surface, even_surfaces

_EVENNESS: Final = (EVEN_BELOW, 2.0 * EVEN_BELOW, 4.0 * EVEN_BELOW)
"""Scatters tried in turn: patches of a grainy picture are less even, and in a clean one
a larger scatter lets gaps between patches pass for even."""
_SMALLEST_PATCH: Final = 0.00015
_LARGEST_PATCH: Final = 0.03
"""Shares of the picture that one patch may take."""
_FULLEST: Final = 0.45
"""Share of its box that a square fills when it stands on its corner, less its rim."""
_ALIKE: Final = 2.5
"""Most by which the sizes of neighbouring patches differ: perspective, and rims that
blur."""
_NEAREST: Final = 8
_PITCH: Final = (1.0, 2.4)
"""Distance of neighbours over the side of what was seen of a patch."""
_SQUARE: Final = 0.35
"""Cosine up to which two directions may pass for square, and part of a step by which
the next patch may lie elsewhere than expected."""
_FEWEST: Final = 14
"""Patches that must have been seen of the 24."""
_MOST_SEEDS: Final = 40
_ACCEPTED: Final = 14.0
"""Mean CIEDE2000 to the published colours, white balanced, up to which it is one."""
_SAMPLE_PX: Final = 2

Place = tuple[int, int]


class _Grid(NamedTuple):
    """Patches with their places counted from the one that the search began with."""

    places: NDArray[np.intp]
    points: NDArray[np.float64]


def find_chart(picture: Picture) -> Corners | None:
    """Find a 24-patch chart.

    Even surfaces of like size that lie in rows and columns are patches; which of them
    is which is decided by their colours.

    Parameters
    ----------
    picture : Picture
        The picture.

    Returns
    -------
    tuple of (float, float) or None
        See :mod:`shadecore.photo.corners`; None where no chart is seen.
    """
    return chart_on_preview(preview(picture))


def chart_on_preview(small: NDArray[np.uint8]) -> Corners | None:
    """Find a 24-patch chart on a preview that is there already.

    Parameters
    ----------
    small : array of uint8, shape (height, width, 3)
        As :func:`shadecore.photo.picture.preview` gives it.

    Returns
    -------
    tuple of (float, float) or None
        As :func:`find_chart`.
    """
    tries = (_found(small, even_below) for even_below in _EVENNESS)
    return next((corners for corners in tries if corners is not None), None)


def _found(small: NDArray[np.uint8], even_below: float) -> Corners | None:
    size = np.array(small.shape[1::-1], dtype=np.float64)
    patches = [
        each
        for each in even_surfaces(small, _SMALLEST_PATCH, even_below)
        if each.pixels <= _LARGEST_PATCH * small.shape[0] * small.shape[1]
        and each.fill >= _FULLEST
    ]
    if len(patches) < _FEWEST:
        return None
    grid = _largest_grid(patches, size)
    if len(grid.places) < _FEWEST:
        return None
    return _read_round(grid, small, size)


def _largest_grid(patches: list[Surface], size: NDArray[np.float64]) -> _Grid:
    points = np.array([each.centre for each in patches]) * size
    side = np.sqrt([each.pixels for each in patches])
    tree = cKDTree(points)
    best: dict[Place, int] = {}
    tried: set[int] = set()
    for start in np.argsort(-side, kind="stable"):
        if int(start) in tried or len(best) == ROWS * COLUMNS:
            continue
        for step in _steps(int(start), points, side, tree):
            found = _grown(int(start), step, points, side, tree)
            if len(found) > len(best):
                best = found
        tried |= set(best.values())
        if len(tried) > _MOST_SEEDS * ROWS * COLUMNS:
            break
    order = list(best)
    return _Grid(
        np.array(order, dtype=np.intp).reshape(-1, 2),
        points[[best[each] for each in order]].reshape(-1, 2),
    )


def _steps(
    start: int,
    points: NDArray[np.float64],
    side: NDArray[np.float64],
    tree: cKDTree,
) -> list[NDArray[np.float64]]:
    """Pairs of steps to a neighbour in a row and to one in a column."""
    _, near = tree.query(points[start], min(_NEAREST + 1, len(points)))
    steps = [
        points[other] - points[start]
        for other in np.atleast_1d(near)[1:]
        if _alike(side[start], side[other])
        and _PITCH[0] * side[start]
        <= np.hypot(*(points[other] - points[start]))
        <= _PITCH[1] * side[start]
    ]
    pairs = []
    for first, second in product(steps, steps):
        lengths = np.hypot(*first) * np.hypot(*second)
        turn = first[0] * second[1] - first[1] * second[0]
        if turn > 0.0 and abs(first @ second) < _SQUARE * lengths:
            pairs.append(np.stack([first, second]))
    return pairs


def _alike(first: np.floating, second: np.floating) -> bool:
    return bool(max(first, second) <= np.sqrt(_ALIKE) * min(first, second))


def _grown(
    start: int,
    step: NDArray[np.float64],
    points: NDArray[np.float64],
    side: NDArray[np.float64],
    tree: cKDTree,
) -> dict[Place, int]:
    """All patches that can be reached from one, step by step."""
    found: dict[Place, int] = {(0, 0): start}
    steps = {(0, 0): step}
    waiting = [(0, 0)]
    while waiting:
        place = waiting.pop(0)
        here, own = found[place], steps[place]
        for axis, sign in product((0, 1), (1, -1)):
            ahead = (place[0] + sign * (axis == 0), place[1] + sign * (axis == 1))
            if ahead in found:
                continue
            far, nearest = tree.query(points[here] + sign * own[axis])
            apart, other = float(far), int(nearest)
            if (
                apart > _SQUARE * np.hypot(*own[axis])
                or other in found.values()
                or not _alike(side[here], side[other])
            ):
                continue
            found[ahead] = other
            turned = own.copy()
            # The step as it was found leads on through the perspective.
            turned[axis] = sign * (points[other] - points[here])
            steps[ahead] = turned
            waiting.append(ahead)
    return found


def _read_round(
    grid: _Grid, small: NDArray[np.uint8], size: NDArray[np.float64]
) -> Corners | None:
    """Corners of the chart that the grid is part of, in the order of reading."""
    transform = ProjectiveTransform.from_estimate(  # type: ignore[no-untyped-call]
        grid.places.astype(np.float64), grid.points
    )
    if not transform:
        return None
    linear = linear_from_levels(small, SRGB_PROFILE).astype(np.float64)
    low, high = grid.places.min(axis=0), grid.places.max(axis=0)
    best: tuple[float, Corners] | None = None
    for wide, tall in ((COLUMNS, ROWS), (ROWS, COLUMNS)):
        if np.any(high - low >= (wide, tall)):
            continue
        for left, top in product(
            range(high[0] - wide + 1, low[0] + 1), range(high[1] - tall + 1, low[1] + 1)
        ):
            for corners in _turns(left, top, wide, tall):
                pixels = np.asarray(transform(np.array(corners, dtype=np.float64)))
                marks: Corners = tuple((float(x), float(y)) for x, y in (pixels / size))
                error = _colour_error(marks, linear)
                if error is not None and (best is None or error < best[0]):
                    best = (error, marks)
    return best[1] if best is not None and best[0] <= _ACCEPTED else None


def _turns(left: int, top: int, wide: int, tall: int) -> list[list[Place]]:
    """The two ways in which a chart can lie in a window of the grid."""
    right, bottom = left + wide - 1, top + tall - 1
    around = [(left, top), (right, top), (right, bottom), (left, bottom)]
    first = 0 if wide == COLUMNS else 1
    return [
        [around[(first + turn + place) % 4] for place in range(4)] for turn in (0, 2)
    ]


def _colour_error(corners: Corners, linear: NDArray[np.float64]) -> float | None:
    """Mean difference of the patches to the published ones; None off the picture."""
    height, width = linear.shape[:2]
    centres = patch_centres(corners) * (width, height)
    column, row = np.floor(centres).astype(int).T
    inside = (
        (column >= _SAMPLE_PX)
        & (row >= _SAMPLE_PX)
        & (column < width - _SAMPLE_PX)
        & (row < height - _SAMPLE_PX)
    )
    if not inside.all():
        return None
    reach = range(-_SAMPLE_PX, _SAMPLE_PX + 1)
    read = np.mean(
        [linear[row + down, column + across] for down, across in product(reach, reach)],
        axis=0,
    )
    wanted = linear_srgb_from_lab(chart_lab())
    gain = np.einsum("pc,pc->c", wanted, read) / np.maximum(
        np.einsum("pc,pc->c", read, read), DARKEST
    )
    lab = lab_from_linear_srgb(np.maximum(read * gain, DARKEST))
    return float(colour_difference(lab, chart_lab()).mean())
