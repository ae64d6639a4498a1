"""Finding a 24-patch chart on a picture, however it is turned."""

from collections.abc import Iterator
from itertools import product
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import colour_difference
from shadecore.colour.convert import lab_from_linear_srgb, linear_srgb_from_lab
from shadecore.photo.chart_fit import chart_lab
from shadecore.photo.corners import COLUMNS, ROWS, Corners, patch_centres
from shadecore.photo.doubt import DARKEST
from shadecore.photo.light import SRGB_PROFILE, linear_from_levels
from shadecore.photo.picture import Picture, preview
from shadecore.photo.surfaces import EVEN_BELOW, FINE, Smoothed, smoothed

if TYPE_CHECKING:
    from scipy.spatial import cKDTree

_EVENNESS: Final = (EVEN_BELOW, 2.0 * EVEN_BELOW, 4.0 * EVEN_BELOW)
"""Scatters up to which a place counts as even, tried in turn: a grainy picture needs a
larger one, which in a clean picture would take gaps between patches for patches."""
_SMALLEST_PATCH: Final = 0.00003
_LARGEST_PATCH: Final = 0.03
"""Share of the picture that the even part of one patch may take. This and the limits
below are this tool's own."""
_FULLEST: Final = 0.45
"""Least share of its upright box that a patch fills: half for a square that stands on
its corner, a little less because its rim is not even."""
_ALIKE: Final = 2.5
"""Largest ratio of the areas of neighbouring patches, which perspective and blurred
rims make unequal."""
_NEAREST: Final = 8
"""Nearest surfaces that are tried as a patch's neighbours."""
_PITCH: Final = (1.0, 2.4)
"""Least and largest distance between neighbours, in sides of the part of a patch that
was found even."""
_SQUARE: Final = 0.35
"""Largest cosine between the directions of rows and columns, and largest distance of a
patch from its expected place, as a share of the step to it."""
_FEWEST: Final = 14
"""Patches of the 24 that must have been found."""
_MOST_SEEDS: Final = 40
"""Charts' worth of patches after which the search for a larger grid stops."""
_ACCEPTED: Final = 14.0
"""Largest mean CIEDE2000 to the published colours, white balanced, of a chart; this
tool's own limit."""
_SAMPLE_PX: Final = 2
"""Pixels about the middle of a patch, each way, that its colour is averaged over."""

Place = tuple[int, int]


class _Patches(NamedTuple):
    """Even places that may be patches.

    Attributes
    ----------
    points : array, shape (places, 2)
        Their centres of gravity. [pixels]
    side : array, shape (places,)
        Side of a square of the same size. [pixels]
    """

    points: NDArray[np.float64]
    side: NDArray[np.float64]


class _Grid(NamedTuple):
    """Patches in rows and columns.

    Attributes
    ----------
    places : array of int, shape (patches, 2)
        Column and row, counted from the patch that the search began with.
    points : array, shape (patches, 2)
        Where they lie. [pixels]
    """

    places: NDArray[np.intp]
    points: NDArray[np.float64]


def find_chart(picture: Picture) -> Corners | None:
    """Find a 24-patch chart.

    Even surfaces of similar size in rows and columns are taken for patches; their
    colours decide which is which.

    Parameters
    ----------
    picture : Picture

    Returns
    -------
    tuple of (float, float) or None
        See :mod:`shadecore.photo.corners`; None where no chart is seen.
    """
    small = preview(picture)
    return chart_on_preview(small, smoothed(small))


def chart_on_preview(small: NDArray[np.uint8], usual: Smoothed) -> Corners | None:
    """Find a 24-patch chart on a preview.

    Parameters
    ----------
    small : array of uint8, shape (height, width, 3)
        As :func:`shadecore.photo.picture.preview` gives it.
    usual : Smoothed
        The same, as :func:`shadecore.photo.surfaces.smoothed` gives it.

    Returns
    -------
    tuple of (float, float) or None
        As :func:`find_chart`.
    """
    for scatter in _looks(small, usual):
        for even_below in _EVENNESS:
            patches = _patches(scatter, even_below)
            if len(patches.side) < _FEWEST:
                continue
            grid = _largest_grid(patches)
            if len(grid.places) < _FEWEST:
                continue
            corners = _read_round(grid, small)
            if corners is not None:
                return corners
    return None


def _looks(small: NDArray[np.uint8], usual: Smoothed) -> Iterator[NDArray[np.float32]]:
    """Scatter of the picture, and that of a finer look if no chart was seen so far."""
    yield usual.scatter
    yield smoothed(small, FINE).scatter


def _patches(scatter: NDArray[np.float32], even_below: float) -> _Patches:
    """Even places of the size of a patch, and about square."""
    from scipy import ndimage  # noqa: PLC0415 - slow to load

    labels, _ = ndimage.label(scatter < even_below)
    pixels = np.bincount(labels.ravel())[1:]
    boxes = ndimage.find_objects(labels)
    fits = (pixels >= _SMALLEST_PATCH * labels.size) & (
        pixels <= _LARGEST_PATCH * labels.size
    )
    points, side = [], []
    for place in np.flatnonzero(fits):
        down, across = boxes[place]
        inside = labels[down, across] == place + 1
        if pixels[place] < _FULLEST * inside.size:
            continue
        rows, columns = np.nonzero(inside)
        points.append(
            (across.start + columns.mean() + 0.5, down.start + rows.mean() + 0.5)
        )
        side.append(np.sqrt(pixels[place]))
    return _Patches(np.array(points).reshape(-1, 2), np.array(side))


def _largest_grid(patches: _Patches) -> _Grid:
    points, side = patches
    from scipy.spatial import cKDTree  # noqa: PLC0415 - slow to load

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
    tree: "cKDTree",
) -> list[NDArray[np.float64]]:
    """Pairs of steps from a patch to a neighbour in its row and one in its column."""
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
    tree: "cKDTree",
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
            # The step is replaced by the one that was found, so that it follows the
            # perspective from patch to patch.
            turned[axis] = sign * (points[other] - points[here])
            steps[ahead] = turned
            waiting.append(ahead)
    return found


def _read_round(grid: _Grid, small: NDArray[np.uint8]) -> Corners | None:
    """Corners of the chart that is part of the grid, patch 1 first.

    Every way in which a chart can lie over the grid is tried; the one whose patches
    have the published colours is taken. Something beside the chart may have been taken
    for a patch of it: what lies outside of a try does not count in it.
    """
    from skimage.transform import ProjectiveTransform  # noqa: PLC0415 - slow to load

    size = np.array(small.shape[1::-1], dtype=np.float64)
    low, high = grid.places.min(axis=0), grid.places.max(axis=0)
    best: tuple[float, Corners] | None = None
    for wide, tall in ((COLUMNS, ROWS), (ROWS, COLUMNS)):
        for left, top in product(
            range(low[0] - wide + 1, high[0] + 1), range(low[1] - tall + 1, high[1] + 1)
        ):
            from_first = grid.places - (left, top)
            inside = np.all((from_first >= 0) & (from_first < (wide, tall)), axis=1)
            if inside.sum() < _FEWEST:
                continue
            transform = ProjectiveTransform.from_estimate(  # type: ignore[no-untyped-call]
                grid.places[inside].astype(np.float64), grid.points[inside]
            )
            if not transform:
                continue
            for corners in _turns(left, top, wide, tall):
                pixels = np.asarray(transform(np.array(corners, dtype=np.float64)))
                marks: Corners = tuple((float(x), float(y)) for x, y in (pixels / size))
                error = _colour_error(marks, small)
                if error is not None and (best is None or error < best[0]):
                    best = (error, marks)
    return best[1] if best is not None and best[0] <= _ACCEPTED else None


def _turns(left: int, top: int, wide: int, tall: int) -> list[list[Place]]:
    """Corners of the two ways in which a chart can lie in a window of the grid.

    They differ by half a turn. Mirror images are left out.
    """
    right, bottom = left + wide - 1, top + tall - 1
    around = [(left, top), (right, top), (right, bottom), (left, bottom)]
    first = 0 if wide == COLUMNS else 1
    return [
        [around[(first + turn + place) % 4] for place in range(4)] for turn in (0, 2)
    ]


def _colour_error(corners: Corners, small: NDArray[np.uint8]) -> float | None:
    """Mean CIEDE2000 of the patches to the published ones; None off the picture."""
    height, width = small.shape[:2]
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
    levels = np.stack(
        [small[row + down, column + across] for down, across in product(reach, reach)]
    )
    read = linear_from_levels(levels, SRGB_PROFILE).astype(np.float64).mean(axis=0)
    wanted = linear_srgb_from_lab(chart_lab())
    gain = np.einsum("pc,pc->c", wanted, read) / np.maximum(
        np.einsum("pc,pc->c", read, read), DARKEST
    )
    lab = lab_from_linear_srgb(np.maximum(read * gain, DARKEST))
    return float(colour_difference(lab, chart_lab()).mean())
