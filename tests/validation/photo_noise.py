"""How far one swatch scatters from picture to picture, beside the noise that is told.

A scene is photographed again and again, with the same light, exposure and file format;
only the sensor's noise and the grain of the surfaces are drawn anew.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from .camera import draw_scene, photograph
from .camera.photograph import draw_taking
from .photo_report import HELD_OUT, KINDS, read_shot

FloatArray = NDArray[np.float64]


class Scatter(NamedTuple):
    """Scatter of readings that differ by noise alone.

    Attributes
    ----------
    seen, told : FloatArray
        Standard deviations of L*, a*, b*: over the pictures of each scene, and by the
        readings' noise (root mean square over the pictures). Shape (scenes, 3).
    """

    seen: FloatArray
    told: FloatArray


def noise_scatter(kind: str, scenes: int, pictures: int, seed: int) -> Scatter:
    """Photograph scenes repeatedly and compare the scatter with the noise told.

    Parameters
    ----------
    kind : str
        One of `KINDS`.
    scenes, pictures : int
        Scenes, and pictures of each.
    seed : int
        Seed of all scenes.

    Returns
    -------
    Scatter
        Scenes of which a picture was refused, or clipped or black in a channel, are
        left out.
    """
    seen, told = [], []
    for number in range(scenes):
        rng = np.random.default_rng([seed, number])
        scene = draw_scene(rng, KINDS[kind], HELD_OUT)
        taking = draw_taking(scene, rng)
        cases = [read_shot(photograph(scene, rng, taking)) for _ in range(pictures)]
        colours = [each.colour for each in cases if each.colour is not None]
        if len(colours) < pictures or any(each.warnings for each in colours):
            continue
        seen.append(np.std([each.lab for each in colours], axis=0, ddof=1))
        noise = [
            np.diag(np.array(driver.covariance))
            for each in colours
            for driver in each.drivers
            if driver.name == "noise"
        ]
        told.append(np.sqrt(np.mean(noise, axis=0)))
    return Scatter(np.array(seen), np.array(told))
