"""From raw values to an encoded picture, as a camera does it."""

from __future__ import annotations

from dataclasses import dataclass

import colour
import numpy as np
from numpy.typing import NDArray

from .scene import Scene
from .sensor import Pixels, white_raw
from .spectra import correlated_colour_temperature, light

FloatArray = NDArray[np.float64]

SPACES: dict[str, str] = {"sRGB": "sRGB", "Display P3": "Display P3"}
"""Encodings, as colour-science names their primaries; both use the curve of sRGB."""

BALANCE_SPREAD = 0.03
"""Standard deviation of the log error of the red and blue gains."""
CCT_SPREAD = 0.04
"""Standard deviation of the log error of the colour temperature in use."""
WARM_BELOW_K = 4000.0
LARGEST_WARM = 0.35
"""Largest share of a warm light's cast that is left in, as phones do."""
LARGEST_SATURATION = 1.15


@dataclass(frozen=True)
class Look:
    """What a camera does to please.

    Attributes
    ----------
    contrast : float
        Strength of the S-shaped curve; 0 for none.
    saturation : float
        Factor on the distance from grey, 1 for none.
    """

    contrast: float = 0.0
    saturation: float = 1.0


PLAIN = Look()


@dataclass(frozen=True)
class Development:
    """How raw values are turned into a picture.

    Attributes
    ----------
    gains : FloatArray
        White balance, shape (3,).
    cct : float
        Colour temperature at which the colour matrix is taken. [K]
    space : str
        One of `SPACES`.
    look : Look
        Curve and saturation.
    """

    gains: FloatArray
    cct: float
    space: str = "sRGB"
    look: Look = PLAIN


def draw_development(scene: Scene, rng: np.random.Generator) -> Development:
    """Draw a white balance with its usual error, and a colour space."""
    true = white_raw(scene)
    cct = correlated_colour_temperature(scene.light)
    gains = 1.0 / true
    if cct < WARM_BELOW_K:
        cool = light("D50") @ scene.subject.camera.sensitivities
        left_in = rng.uniform(0.0, LARGEST_WARM)
        gains = gains ** (1.0 - left_in) * (cool.max() / cool) ** left_in
    gains *= np.exp(rng.normal(0.0, BALANCE_SPREAD, 3) * [1.0, 0.0, 1.0])
    return Development(
        # Saturated raw values must stay saturated, so no gain is below 1.
        gains=np.asarray(gains / gains.min(), dtype=np.float64),
        cct=float(cct * np.exp(rng.normal(0.0, CCT_SPREAD))),
        space="Display P3" if rng.random() < 0.25 else "sRGB",
    )


def ideal_development(scene: Scene) -> Development:
    """White balance and colour temperature without error, sRGB, no look."""
    return Development(
        1.0 / white_raw(scene), correlated_colour_temperature(scene.light)
    )


def draw_look(rng: np.random.Generator) -> Look:
    """Draw a contrast and a saturation of the usual strength."""
    return Look(
        float(rng.uniform(0.2, 0.8)), float(rng.uniform(1.0, LARGEST_SATURATION))
    )


def develop(raw: Pixels, scene: Scene, how: Development) -> Pixels:
    """Encoded picture, shape (height, width, 3), 0..1.

    Parameters
    ----------
    raw : Pixels
        Raw values, shape (height, width, 3), saturation being 1.
    scene : Scene
        For its camera.
    how : Development
        White balance, matrix and encoding.
    """
    space = colour.RGB_COLOURSPACES[SPACES[how.space]]
    matrix = space.matrix_XYZ_to_RGB @ scene.subject.camera.matrix(how.cct)
    # Rows that sum to 1 keep a balanced grey grey, to the last digit of the white.
    matrix /= matrix.sum(axis=1, keepdims=True)
    balanced = np.minimum(raw * how.gains.astype(np.float32), np.float32(1.0))
    linear = balanced.reshape(-1, 3) @ matrix.T.astype(np.float32)
    np.clip(linear, 0.0, 1.0, out=linear)
    if how.look.saturation != 1.0:
        grey = linear @ space.matrix_RGB_to_XYZ[1].astype(np.float32)
        linear = grey[:, None] + np.float32(how.look.saturation) * (
            linear - grey[:, None]
        )
        np.clip(linear, 0.0, 1.0, out=linear)
    encoded = _encoded(linear)
    if how.look.contrast:
        curve = encoded * encoded * (3.0 - 2.0 * encoded)
        share = np.float32(how.look.contrast)
        encoded = (1.0 - share) * encoded + share * curve
    return encoded.reshape(raw.shape)


def _encoded(linear: Pixels) -> Pixels:
    """Curve of IEC 61966-2-1, which colour-science would evaluate in double."""
    power = np.float32(1.055) * linear ** np.float32(1.0 / 2.4) - np.float32(0.055)
    return np.where(linear <= np.float32(0.0031308), np.float32(12.92) * linear, power)
