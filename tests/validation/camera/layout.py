"""Where things lie in a picture, as fractions of its upright width and height."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""

COLUMNS, ROWS = 6, 4
CORNER_PATCHES = (0, 5, 23, 18)
"""Places of the patches at the corners: brown, turquoise, black, white."""

LARGEST_TURN = np.radians(4.0)
LARGEST_CHART_TURN = np.radians(18.0)
LARGEST_TILT = 0.10
"""Change of scale over half the chart's length, from perspective."""
QUARTER_TURNS = (0.7, 0.1, 0.1, 0.1)
"""Probability that the chart lies upright, on a side, upside down, on the other."""


@dataclass(frozen=True)
class ChartPlace:
    """Where the chart lies.

    Attributes
    ----------
    frame : FloatArray
        Outer corners of the dark frame, shape (4, 2).
    patches : FloatArray
        Corners of each patch (left top, right top, right bottom, left bottom when the
        chart stands upright), shape (24, 4, 2).
    """

    frame: FloatArray
    patches: FloatArray

    @property
    def centres(self) -> FloatArray:
        """Middle of each patch, where its diagonals cross, shape (24, 2)."""
        start, first, end, last = np.moveaxis(self.patches, 1, 0)
        along, across, between = end - start, last - first, first - start
        share = _cross(between, across) / _cross(along, across)
        return np.asarray(start + share[:, None] * along)

    @property
    def corners(self) -> FloatArray:
        """Middles of the patches 1, 6, 24 and 19, shape (4, 2)."""
        return self.centres[list(CORNER_PATCHES)]


def lay_rectangle(box: Box, aspect: float, rng: np.random.Generator) -> FloatArray:
    """Lay a rectangle in a box, smaller and a little turned, shape (4, 2).

    Parameters
    ----------
    box : Box
        Where there is room.
    aspect : float
        Width over height of the picture.
    rng : np.random.Generator
        Source of all randomness.
    """
    left, top, right, bottom = box
    half = np.array([(right - left) * aspect, bottom - top]) / 2.0
    half *= rng.uniform(0.75, 0.92, 2)
    corners = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]) * half
    turned = _turned(corners, rng.uniform(-LARGEST_TURN, LARGEST_TURN))
    middle = np.array([(left + right) / 2.0, (top + bottom) / 2.0])
    return np.asarray(turned / [aspect, 1.0] + middle)


def marked(outline: FloatArray, rng: np.random.Generator) -> Box:
    """What a user marks in a turned rectangle: most of it, nothing beside it."""
    middle = outline.mean(axis=0)
    low = np.sort(outline, axis=0)[1] - middle
    high = np.sort(outline, axis=0)[2] - middle
    share = rng.uniform(0.7, 0.9)
    left, top = middle + share * low
    right, bottom = middle + share * high
    return float(left), float(top), float(right), float(bottom)


def lay_chart(box: Box, aspect: float, rng: np.random.Generator) -> ChartPlace:
    """Lay the chart in a box, turned and seen at an angle.

    Parameters
    ----------
    box : Box
        Where there is room.
    aspect : float
        Width over height of the picture.
    rng : np.random.Generator
        Source of all randomness.
    """
    gap, margin = rng.uniform(0.10, 0.25), rng.uniform(0.15, 0.45)
    pitch = 1.0 + gap
    size = np.array([COLUMNS * pitch - gap, ROWS * pitch - gap]) + 2.0 * margin
    row, column = np.divmod(np.arange(COLUMNS * ROWS), COLUMNS)
    start = np.stack([column, row], axis=1) * pitch + margin
    unit = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    points = np.concatenate([unit * size, (start[:, None] + unit).reshape(-1, 2)])
    points = (points - size / 2.0) / size.max()
    quarter = int(rng.choice(4, p=QUARTER_TURNS))
    turn = quarter * np.pi / 2.0 + rng.uniform(-1.0, 1.0) * LARGEST_CHART_TURN
    points = _turned(points, turn)
    tilt = rng.uniform(-LARGEST_TILT, LARGEST_TILT, 2) * 2.0
    points /= 1.0 + (points @ tilt)[:, None]
    return _fitted(points, box, aspect, float(rng.uniform(0.85, 1.0)))


def _fitted(points: FloatArray, box: Box, aspect: float, fill: float) -> ChartPlace:
    left, top, right, bottom = box
    room = np.array([(right - left) * aspect, bottom - top])
    low, high = points[:4].min(axis=0), points[:4].max(axis=0)
    scale = fill * (room / (high - low)).min()
    middle = np.array([(left + right) / 2.0, (top + bottom) / 2.0])
    placed = (points - (low + high) / 2.0) * scale / [aspect, 1.0] + middle
    return ChartPlace(placed[:4], placed[4:].reshape(-1, 4, 2))


def _turned(points: FloatArray, angle: float) -> FloatArray:
    cos, sin = np.cos(angle), np.sin(angle)
    return np.asarray(points @ np.array([[cos, sin], [-sin, cos]]))


def _cross(first: FloatArray, second: FloatArray) -> FloatArray:
    return np.asarray(first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0])
