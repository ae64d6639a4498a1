"""How often and how fast a 24-patch chart is found: turned, small, in coloured light.

Run it by ``python tests/benchmarks/chart_finding.py``. Pictures are drawn from the
reflectances of ISO 17321-1 by colour-science and blurred by SciPy; they share no code
with the finder. Beside the finder's processor time stands that of scikit-image turning
the same picture to CIELAB.
"""

import os
import sys
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("COLOUR_SCIENCE__FILTER_USAGE_WARNINGS", "True")
sys.path.insert(0, str(Path(__file__).parents[1]))

import numpy as np
from numpy.typing import NDArray
from photo_scenes import chart_lab, encoded, linear_of
from scipy import ndimage
from skimage.color import rgb2lab

from shadecore.photo.chart import find_chart
from shadecore.photo.picture import Picture

Array = NDArray[np.float64]

SEED = 5
PICTURES = 3
SIZE = (1200, 900)
CASTS = {
    "daylight": (1.0, 1.0, 1.0),
    "bulb": (1.0, 0.62, 0.28),
    "deep bulb": (1.0, 0.45, 0.12),
    "blue shade": (0.45, 0.7, 1.0),
    "green": (0.6, 1.0, 0.5),
}
"""Factors on red, green and blue, our own."""
WIDTHS = (0.45, 0.25, 0.15, 0.10, 0.08)
"""Of six patches, as shares of the picture's width."""
PATCH = 0.8
"""Side of a patch as a share of the distance from patch to patch."""
HALF = (3.0, 2.0)
"""Half of six columns and four rows. [patches]"""
RIM = 0.25
FRAME = 0.03
CLUTTER = 12
BLUR_PX, GRAIN = 0.8, 0.006
NEAR = 0.25
"""Patches that a corner may be off to count as found."""


def draw(
    rng: np.random.Generator, width: float, cast: tuple[float, float, float]
) -> tuple[NDArray[np.uint8], Array, float]:
    """A chart among rectangles, turned at random.

    Returns
    -------
    levels : array of uint8, shape (height, width, 3)
    corners : array, shape (4, 2)
        Middles of patches 1, 6, 24 and 19. [pixels]
    pitch : float
        From patch to patch. [pixels]
    """
    wide, tall = SIZE
    pitch, turn = width * wide / 6, rng.uniform(0.0, 2.0 * np.pi)
    linear = np.empty((tall, wide, 3))
    linear[:] = rng.uniform(0.1, 0.4, 3)
    for _ in range(CLUTTER):
        left, top, across, down = (rng.uniform(0, each) for each in (*SIZE, 300, 300))
        linear[int(top) : int(top + down), int(left) : int(left + across)] = (
            rng.uniform(0.02, 0.9, 3)
        )
    reach = np.hypot(*HALF) * pitch
    middle = np.array(
        [rng.uniform(min(reach, x / 2), max(x - reach, x / 2)) for x in SIZE]
    )
    rotation = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    y, x = np.mgrid[0:tall, 0:wide] + 0.5
    at = (np.stack([x, y], axis=-1) - middle) @ rotation.T / pitch
    linear[np.all(np.abs(at) < np.array(HALF) + RIM, axis=-1)] = FRAME
    place = np.floor(at + HALF).astype(int)
    off = np.abs(at + HALF - place - 0.5)
    patch = np.all((place >= 0) & (place < (6, 4)) & (off < PATCH / 2), axis=-1)
    column, row = place[patch].T
    linear[patch] = linear_of(chart_lab())[6 * row + column]
    blurred = ndimage.gaussian_filter(linear * cast, (BLUR_PX, BLUR_PX, 0))
    grain = rng.normal(0.0, GRAIN, blurred.shape) * np.sqrt(np.maximum(blurred, 0.01))
    local = np.array([[-2.5, -1.5], [2.5, -1.5], [2.5, 1.5], [-2.5, 1.5]])
    return encoded(blurred + grain), middle + pitch * local @ rotation, pitch


def timed(work: Callable[[], object]) -> tuple[object, float]:
    """What a piece of work gives, and its processor time. [s]."""
    start = time.process_time()
    found = work()
    return found, time.process_time() - start


def main() -> None:
    """Print a row for each light and size."""
    rng = np.random.default_rng(SEED)
    find_chart(Picture("first", draw(rng, WIDTHS[0], CASTS["daylight"])[0]))
    for name, cast in CASTS.items():
        for width in WIDTHS:
            seen, own, peer = 0, [], []
            for _ in range(PICTURES):
                levels, corners, pitch = draw(rng, width, cast)
                found, seconds = timed(
                    lambda levels=levels: find_chart(Picture("chart", levels))
                )
                own.append(seconds)
                peer.append(timed(lambda levels=levels: rgb2lab(levels))[1])
                if found is not None:
                    off = np.abs(np.array(found) * SIZE - corners).max()
                    seen += bool(off < NEAR * pitch)
            sys.stdout.write(
                f"{name:<11} {width:4.0%} wide  {seen} of {PICTURES} found  "
                f"at most {max(own):5.2f} s   own/rgb2lab {sum(own) / sum(peer):5.1f}\n"
            )
            sys.stdout.flush()


if __name__ == "__main__":
    main()
