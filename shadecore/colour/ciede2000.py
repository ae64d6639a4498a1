"""CIEDE2000 by vector algebra: mean hues come from sums of unit vectors, not angles.

scikit-image's formula gives the same differences, but loading it takes longer than a
whole pick, and its six trigonometric functions a colour are most of a chart's time.
"""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.floating]

_CHROMA_KNEE = 25.0
"""Chroma at which the correction of a* is half way."""
_BLUE_DEG, _BLUE_WIDTH_DEG, _BLUE_TURN_DEG = 275.0, 25.0, 30.0
"""Where, how widely and how far the ellipses of blues are turned."""


def ciede2000(first: Array, second: Array) -> Array:
    """CIEDE2000 of rows of colours.

    Parameters
    ----------
    first, second : array, shape (n, 3)
        L*, a*, b*, of one type. Single precision stays single.

    Returns
    -------
    array, shape (n,)

    References
    ----------
    .. [1] ISO/CIE 11664-6; G. Sharma, W. Wu and E. N. Dalal, "The CIEDE2000
       color-difference formula", Color Res. Appl. 30 (2005) 21.
    """
    (light, a, b), (other_light, other_a, other_b) = first.T, second.T
    mean_chroma = (np.hypot(a, b) + np.hypot(other_a, other_b)) / 2
    stretch = 1.5 - 0.5 * _knee(mean_chroma)
    a, other_a = a * stretch, other_a * stretch
    chroma, other_chroma = np.hypot(a, b), np.hypot(other_a, other_b)
    d_light, d_chroma = other_light - light, other_chroma - chroma
    d_hue = np.sqrt(
        np.maximum((other_a - a) ** 2 + (other_b - b) ** 2 - d_chroma**2, 0)
    )
    d_hue = np.copysign(d_hue, a * other_b - b * other_a)

    cosine, sine = _mean_hue(a, b, chroma, other_a, other_b, other_chroma)
    mean_chroma = (chroma + other_chroma) / 2
    off_middle = ((light + other_light) / 2 - 50) ** 2
    d_light /= 1 + 0.015 * off_middle / np.sqrt(20 + off_middle)
    d_chroma /= 1 + 0.045 * mean_chroma
    d_hue /= 1 + 0.015 * mean_chroma * _hue_weight(cosine, sine)
    turn = 2 * _knee(mean_chroma) * _blue_turn(cosine, sine)
    squared = d_light**2 + d_chroma**2 + d_hue**2 - turn * d_chroma * d_hue
    return np.asarray(np.sqrt(np.maximum(squared, 0)))


def _knee(chroma: Array) -> Array:
    """Square root of C^7 / (C^7 + 25^7)."""
    part = chroma / _CHROMA_KNEE
    squared = part * part
    seventh = squared * squared * squared * part
    return np.asarray(np.sqrt(seventh / (1 + seventh)))


def _mean_hue(
    a: Array, b: Array, chroma: Array, other_a: Array, other_b: Array, other: Array
) -> tuple[Array, Array]:
    """Cosine and sine of the hue half way between two; a grey takes the other's."""
    tiny = np.finfo(a.dtype).tiny
    inverse, other_inverse = 1 / np.maximum(chroma, tiny), 1 / np.maximum(other, tiny)
    along = a * inverse + other_a * other_inverse
    across = b * inverse + other_b * other_inverse
    length = np.hypot(along, across)
    # Opposite hues have two middles: the formula takes the one past the smaller
    # angle. Of two greys the hue is of no consequence.
    opposite = length < 4 * np.finfo(a.dtype).eps
    if opposite.any():
        from_first = (b > 0) | ((b == 0) & (a > 0))
        along = np.where(opposite, np.where(from_first, -b, -other_b), along)
        across = np.where(opposite, np.where(from_first, a, other_a), across)
        length = np.maximum(np.hypot(along, across), tiny)
    return along / length, across / length


def _hue_weight(cosine: Array, sine: Array) -> Array:
    """The formula's T, with multiples of the hue by the addition theorems."""
    cosine_2, sine_2 = cosine * cosine - sine * sine, 2 * sine * cosine
    cosine_3 = cosine_2 * cosine - sine_2 * sine
    sine_3 = sine_2 * cosine + cosine_2 * sine
    cosine_4, sine_4 = cosine_2 * cosine_2 - sine_2 * sine_2, 2 * sine_2 * cosine_2
    return np.asarray(
        1
        - 0.17 * _turned(cosine, sine, -30.0)
        + 0.24 * cosine_2
        + 0.32 * _turned(cosine_3, sine_3, 6.0)
        - 0.20 * _turned(cosine_4, sine_4, -63.0)
    )


def _turned(cosine: Array, sine: Array, by_deg: float) -> Array:
    """Cosine of an angle turned by some degrees."""
    turn = float(np.deg2rad(by_deg))
    return np.asarray(cosine * float(np.cos(turn)) - sine * float(np.sin(turn)))


def _blue_turn(cosine: Array, sine: Array) -> Array:
    """Sine of twice the formula's delta theta."""
    hue = np.arctan2(sine, cosine)
    hue += (hue < 0) * float(2 * np.pi)
    apart = (hue - float(np.deg2rad(_BLUE_DEG))) / float(np.deg2rad(_BLUE_WIDTH_DEG))
    return np.sin(2 * float(np.deg2rad(_BLUE_TURN_DEG)) * np.exp(-(apart * apart)))
