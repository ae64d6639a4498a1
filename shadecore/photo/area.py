"""One area of a picture, read robustly: its linear light, its noise, its faults."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.errors import PhotoError
from shadecore.photo.light import LUMINANCE, linear_from_levels
from shadecore.photo.picture import Picture

SMALLEST_AREA_PX: Final = 8
"""Shortest side of an area that is read; in a smaller one, blurred edges would weigh
too much. [pixels]"""
MOST_PIXELS_READ: Final = 1_000_000
"""Of a larger area only every second (or third ...) row and column is read."""
BLOCKS: Final = 24
"""Blocks along each side that an area is divided into: many enough that a highlight
fills whole blocks, few enough that noise averages out within each."""
NOISE_TILES: Final = 6
"""Tiles along each side whose scatter tells the noise of the average. A tile holds
several blocks, because demosaicing, noise reduction and JPEG's coarse colour make
neighbouring blocks err alike."""
CLIPPED_FROM: Final = 0.985
"""Encoded share of full scale from which a channel counts as clipped."""
FLOOR: Final = 1.0 / 255.0
"""Encoded share of full scale up to which a channel counts as black."""
SHARE_FLOORED: Final = 0.25
"""Share of pixels that noise may make black before the channel counts as black."""
DARK_BELOW: Final = 0.004
"""Linear light below which noise and stray light outweigh the light of the paint."""
SHARE_SPOILED: Final = 0.05
"""Clipped pixels that a block may hold and still count."""
OUTLIER_SIGMAS: Final = 3.0
"""Blocks farther from the median are rejected, in standard deviations estimated by the
median absolute deviation."""
SMALLEST_SCATTER: Final = 0.004
"""Scatter of blocks' light below which none are rejected: shading that cannot be seen.
[relative]"""
SMALLEST_HUE_SCATTER: Final = 0.015
"""The same for each channel's share of the light; in dark channels the steps of eight
bits are of that size."""
MAD_TO_SIGMA: Final = 1.4826
"""Median absolute deviation to standard deviation of a normal distribution."""
ROUNDS: Final = 4
"""Rounds of rejection; few areas change after the second."""
FITTED_TO_TILES: Final = 3
"""Numbers fitted to an area: its mean and its light's slope across and down."""
FEWEST_BLOCKS: Final = 9
"""Blocks that an area must keep for a plane of light to be fitted; this tool's own
limit."""
_SIDES: Final = 4

SPARKLE_TEXTURE: Final = 0.04
"""Scatter of pixels above which an area may be an effect colour; this tool's own limit.
Noise scatters as much, but symmetrically, so the skewness decides. [relative]"""
SPARKLE_SKEW: Final = 0.6
"""Skewness above which bright pixels stand out as flakes do; this tool's own limit."""

FAINTEST_TEXTURE: Final = 1e-4
"""Least scatter used in the skewness, for areas without any, as drawn by a program."""


class Area(NamedTuple):
    """A rectangle on a picture, as shares of its width and height.

    Attributes
    ----------
    left, top, right, bottom : float
        0..1, from the upper left corner.
    """

    left: float
    top: float
    right: float
    bottom: float

    @property
    def centre(self) -> tuple[float, float]:
        """Its middle, as shares of width and height."""
        return (self.left + self.right) / 2.0, (self.top + self.bottom) / 2.0

    @property
    def extent(self) -> tuple[float, float]:
        """Its width and height, as shares of the picture's."""
        return abs(self.right - self.left), abs(self.bottom - self.top)

    def apart_from(self, other: "Area") -> bool:
        """Whether it shares nothing with another one but a side."""
        return (
            self.right <= other.left
            or other.right <= self.left
            or self.bottom <= other.top
            or other.bottom <= self.top
        )


def area_between(shares: Sequence[float]) -> Area:
    """Area between four sides.

    Left and right may be swapped, and so may top and bottom.

    Parameters
    ----------
    shares : sequence of float
        Left, top, right, bottom, 0..1.

    Raises
    ------
    PhotoError
        If they are not four shares of the picture.
    """
    if len(shares) != _SIDES or not all(0.0 <= each <= 1.0 for each in shares):
        message = (
            "An area has four sides on the picture: left, top, right and bottom, each "
            "from 0 to 100 percent."
        )
        raise PhotoError(message)
    (left, right), (top, bottom) = sorted(shares[::2]), sorted(shares[1::2])
    return Area(left, top, right, bottom)


@dataclass(frozen=True)
class AreaReading:
    """What was read of an area of a picture.

    Attributes
    ----------
    linear : tuple of float
        Linear light on sRGB primaries at the area's middle.
    noise : tuple of tuple of float
        Covariance of the errors of that from noise, by channel, shape (3, 3).
    extent : tuple of float
        Width and height of the area, as shares of the picture.
    slope : tuple of float
        Rise of the logarithm of light over the whole width and the whole height of
        the picture.
    slope_error : tuple of float
        Its standard error.
    clipped, dark, rejected : float
        Shares of the area, 0..1, that were clipped, too dark, or left out as a
        highlight, dirt or edge.
    texture : float
        Scatter of single pixels within a block. [relative]
    sparkle : bool
        Whether bright pixels stand out, as in a metallic or pearl colour.
    at_limit : tuple of bool
        Red, green, blue: whether the channel is clipped all over, so that its light
        is at least what was read.
    at_floor : tuple of bool
        The same where a channel is black all over: the colour lies outside what the
        picture can hold, and the channel's light may be a little more than read.
    """

    linear: tuple[float, float, float]
    noise: tuple[tuple[float, ...], ...]
    extent: tuple[float, float]
    slope: tuple[float, float]
    slope_error: tuple[float, float]
    clipped: float
    dark: float
    rejected: float
    texture: float
    sparkle: bool
    at_limit: tuple[bool, bool, bool]
    at_floor: tuple[bool, bool, bool]


class _Blocks(NamedTuple):
    """An area cut into blocks."""

    mean: NDArray[np.float64]
    """shape (blocks, 3)"""
    place: NDArray[np.float64]
    """shape (blocks, 2): x and y from the area's middle, -0.5..0.5"""
    clipped: NDArray[np.float64]
    """shape (blocks, 3): share of the pixels that are clipped, by channel"""
    floored: NDArray[np.float64]
    """the same for those that are black"""
    size_px: int


def read_area(picture: Picture, area: Area, mark: str = "area") -> AreaReading:
    """Read one area of a picture.

    Parameters
    ----------
    picture : Picture
    area : Area
        Where; all of it one even surface.
    mark : str
        What errors call it, such as "swatch" or "grey card".

    Raises
    ------
    PhotoError
        If the area is too small, lies outside, or holds nothing that can be read.
    """
    levels = _cut(picture, area, mark)
    linear = linear_from_levels(levels, picture.profile).astype(np.float64)
    clipped = levels >= CLIPPED_FROM * np.iinfo(levels.dtype).max
    dark = np.max(linear, axis=-1) < DARK_BELOW
    floored = levels <= FLOOR * np.iinfo(levels.dtype).max
    blocks = _blocks(linear, clipped, floored)
    kept, plane, plane_error = _fitted(blocks, mark)
    mean = blocks.mean[kept].mean(axis=0)
    middle = blocks.place[kept].mean(axis=0)
    # Carried from the middle of what was kept to the middle of the area.
    mean = mean * np.exp(-float(middle @ plane))
    texture, skew = _texture(linear, blocks)
    width, height = area.extent
    return AreaReading(
        linear=(float(mean[0]), float(mean[1]), float(mean[2])),
        noise=tuple(tuple(map(float, row)) for row in _noise(blocks, kept, plane)),
        extent=(width, height),
        slope=(float(plane[0] / width), float(plane[1] / height)),
        slope_error=(float(plane_error[0] / width), float(plane_error[1] / height)),
        clipped=float(clipped.any(axis=-1).mean()),
        dark=float(dark.mean()),
        rejected=float(1.0 - kept.mean()),
        texture=texture,
        sparkle=texture > SPARKLE_TEXTURE and skew > SPARKLE_SKEW,
        at_limit=_all_over(blocks.clipped[kept], SHARE_SPOILED),
        at_floor=_all_over(blocks.floored[kept], SHARE_FLOORED),
    )


def _cut(picture: Picture, area: Area, mark: str) -> NDArray[np.unsignedinteger]:
    width, height = picture.size
    left, right = sorted((round(area.left * width), round(area.right * width)))
    top, bottom = sorted((round(area.top * height), round(area.bottom * height)))
    left, right = max(left, 0), min(right, width)
    top, bottom = max(top, 0), min(bottom, height)
    if min(right - left, bottom - top) < SMALLEST_AREA_PX:
        message = (
            f"The {mark} marked on {picture.name} is smaller than {SMALLEST_AREA_PX} "
            "pixels or lies outside; mark more of it, or go closer with the camera."
        )
        raise PhotoError(message)
    step = int(np.ceil(np.sqrt((right - left) * (bottom - top) / MOST_PIXELS_READ)))
    return np.ascontiguousarray(picture.levels[top:bottom:step, left:right:step])


def _blocks(
    linear: NDArray[np.float64],
    clipped: NDArray[np.bool_],
    floored: NDArray[np.bool_],
) -> _Blocks:
    height, width = clipped.shape[:2]
    rows, columns = min(BLOCKS, height // 2), min(BLOCKS, width // 2)
    tall, wide = height // rows, width // columns
    # What is left over at the edges is cut off evenly.
    top, left = (height - rows * tall) // 2, (width - columns * wide) // 2
    inner = (slice(top, top + rows * tall), slice(left, left + columns * wide))
    shape = (rows, tall, columns, wide)
    mean = linear[inner].reshape(*shape, 3).mean(axis=(1, 3)).reshape(-1, 3)
    at_top, at_bottom = (
        each[inner].reshape(*shape, 3).mean(axis=(1, 3)).reshape(-1, 3)
        for each in (clipped, floored)
    )
    y, x = np.mgrid[0:rows, 0:columns]
    place = np.stack(
        [(x.ravel() + 0.5) / columns - 0.5, (y.ravel() + 0.5) / rows - 0.5], axis=1
    )
    return _Blocks(mean, place, at_top, at_bottom, tall * wide)


def _fitted(
    blocks: _Blocks, mark: str
) -> tuple[NDArray[np.bool_], NDArray[np.float64], NDArray[np.float64]]:
    """Blocks of the even surface, the slope of the light over them, and its error."""
    luminance = blocks.mean @ LUMINANCE
    whole = (blocks.clipped <= SHARE_SPOILED).all(axis=1)
    if whole.sum() < FEWEST_BLOCKS:
        # A strong colour may clip one channel all over; the others are still of use.
        whole = (blocks.clipped <= SHARE_SPOILED).any(axis=1)
    usable = whole & (luminance > 0.0)
    if usable.sum() < FEWEST_BLOCKS:
        message = (
            f"What is marked as {mark} is overexposed or black almost everywhere; "
            "move the mark, or change the light or the exposure and take it again."
        )
        raise PhotoError(message)
    log = np.log(np.where(usable, luminance, 1.0))
    # A highlight is paler than the paint and dirt has another hue, so blocks are judged
    # by each channel's share of the light, too.
    share = blocks.mean / np.maximum(luminance, np.finfo(float).tiny)[:, None]
    kept = usable.copy()
    # The first guess is a level plane at the median: one fitted before anything is
    # rejected would be tilted by a highlight.
    plane = np.zeros(3)
    plane[0] = np.median(log[usable])
    design = np.column_stack([np.ones(len(log)), blocks.place])
    covariance = np.zeros((3, 3))
    for _ in range(ROUNDS):
        left = log - design @ plane
        hue = np.abs(share - np.median(share[kept], axis=0)).max(axis=1)
        kept = (
            usable
            & _near(left, kept, SMALLEST_SCATTER)
            & _near(hue, kept, SMALLEST_HUE_SCATTER)
        )
        if kept.sum() < FEWEST_BLOCKS:
            break
        plane, *_ = np.linalg.lstsq(design[kept], log[kept], rcond=None)
        spread = np.var(log[kept] - design[kept] @ plane)
        covariance = spread * np.linalg.pinv(design[kept].T @ design[kept])
    if kept.sum() < FEWEST_BLOCKS:
        message = (
            f"What is marked as {mark} is not one even surface; mark a smaller part of "
            "it, away from edges, reflections and dirt."
        )
        raise PhotoError(message)
    return kept, plane[1:], np.sqrt(np.diag(covariance)[1:])


def _noise(
    blocks: _Blocks, kept: NDArray[np.bool_], plane: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Covariance of the average of the blocks, shape (3, 3).

    Estimated from sums over tiles, so that blocks of one tile may err alike: the
    cluster-robust covariance of K.-Y. Liang and S. L. Zeger, Biometrika 73 (1986) 13
    (from memory), of a mean.
    """
    even = blocks.mean[kept] * np.exp(-blocks.place[kept] @ plane)[:, None]
    left = even - even.mean(axis=0)
    column, row = ((blocks.place[kept] + 0.5) * NOISE_TILES).astype(np.intp).T
    sums = np.zeros((NOISE_TILES**2, left.shape[1]))
    np.add.at(sums, row * NOISE_TILES + column, left)
    tiles = np.unique(row * NOISE_TILES + column).size
    # The mean and the two slopes were fitted to the same tiles.
    unbiased = tiles / max(tiles - FITTED_TO_TILES, 1)
    return np.asarray(unbiased * sums.T @ sums / len(left) ** 2)


def _all_over(shares: NDArray[np.float64], most: float) -> tuple[bool, bool, bool]:
    """Channels that are cut off in more than a share of most blocks."""
    red, green, blue = np.median(shares, axis=0) > most
    return bool(red), bool(green), bool(blue)


def _near(
    left: NDArray[np.float64], kept: NDArray[np.bool_], smallest: float
) -> NDArray[np.bool_]:
    middle = np.median(left[kept])
    scatter = MAD_TO_SIGMA * np.median(np.abs(left[kept] - middle))
    near: NDArray[np.bool_] = np.abs(left - middle) <= OUTLIER_SIGMAS * max(
        float(scatter), smallest
    )
    return near


def _texture(linear: NDArray[np.float64], blocks: _Blocks) -> tuple[float, float]:
    """Scatter and skewness of single pixels within small squares of the area."""
    luminance = linear @ LUMINANCE
    # Squares as large as a block, and no larger than a narrow area.
    side = min(max(2, round(np.sqrt(blocks.size_px))), *luminance.shape)
    rows, columns = luminance.shape[0] // side, luminance.shape[1] // side
    whole = luminance[: rows * side, : columns * side]
    tiles = whole.reshape(rows, side, columns, side).swapaxes(1, 2)
    tiles = tiles.reshape(rows * columns, side * side)
    level = np.maximum(tiles.mean(axis=1, keepdims=True), DARK_BELOW)
    apart = tiles / level - 1.0
    spread = apart.std(axis=1)
    # The median over the squares: highlights and edges scatter more, in a few of them.
    texture = float(np.median(spread))
    skew = np.mean(apart**3, axis=1) / np.maximum(spread, FAINTEST_TEXTURE) ** 3
    return texture, float(np.median(skew))
