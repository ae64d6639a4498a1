"""How heavily an effect paint is loaded: enough to hide in the film it is made for.

The colour of a film that hides says in which parts flakes and pigments are mixed, and
next to nothing about how much of them there is in a um. Makers load a paint until it
hides in the film of two or three coats.
"""

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.appearance import colour_difference, neutral_reflectance
from shadecore.colour.surface import directional
from shadecore.effects.appearance import angle_lab
from shadecore.effects.geometry import views
from shadecore.effects.optics import Optics
from shadecore.effects.recipes import effect_ranges

Array = NDArray[np.float64]

_GREY_LIGHTNESS = 50.0
_HIDDEN = 2.0
_FILMS_UM = np.geomspace(1.0, 1000.0, 16)
_LEAST = 1e-6
_FLOP = 4


def hiding_film_um(optics: Optics, masstone: Array) -> Array:
    """Film through which a mid grey no longer shows at the flop, roughly.

    Flakes and pigment are taken together as two fluxes (Kubelka and Munk), which is
    quick and, for what only sets how strong plausible paints are, near enough.

    Parameters
    ----------
    optics : Optics
        The paints.
    masstone : array, shape (paints, views, wavelengths)
        Readings of films that hide.

    Returns
    -------
    array, shape (paints,)
        Film that hides to 2 CIEDE2000. [um]

    References
    ----------
    .. [1] P. Kubelka, J. Opt. Soc. Am. 38 (1948) 448.
    """
    # Flat mirrors: K is what they lose, S what they reflect. Pigment: the solid
    # engine's K = 2 mu_a and S = 3/4 mu_s.
    absorbs = optics.area - optics.mirrored + 2.0 * optics.absorption
    scatters = optics.mirrored + 0.75 * optics.scattering
    rate = np.sqrt(absorbs * (absorbs + 2.0 * scatters))
    ratio = absorbs / scatters
    endless = 1.0 + ratio - np.sqrt(ratio * (ratio + 2.0))
    grey = directional().inside(neutral_reflectance(_GREY_LIGHTNESS))
    flop = masstone[:, _FLOP]
    hidden = angle_lab(flop)
    difference = np.empty((_FILMS_UM.size, len(flop)))
    for row, film in enumerate(_FILMS_UM):
        once = np.exp(-rate * film)
        passed = once * (1.0 - endless**2) / (1.0 - (endless * once) ** 2)
        leak = views().passed[_FLOP] * grey * passed**2
        difference[row] = colour_difference(angle_lab(flop + leak), hidden)
    # The last crossing, straight between the logarithms of film and difference.
    outside = difference > _HIDDEN
    last = np.where(
        outside.any(axis=0), outside.shape[0] - 1 - outside[::-1].argmax(0), 0
    )
    last = np.minimum(last, _FILMS_UM.size - 2)
    above, below = (
        np.log(np.maximum(np.take_along_axis(difference, at[None], axis=0)[0], _LEAST))
        for at in (last, last + 1)
    )
    part = np.clip((above - np.log(_HIDDEN)) / (above - below), 0.0, 1.0)
    place = np.log(_FILMS_UM)
    return np.asarray(np.exp(place[last] + part * (place[last + 1] - place[last])))


def loading(optics: Optics, masstone: Array, rng: np.random.Generator) -> Array:
    """Draw how many times as heavily paints are loaded.

    What a maker usually puts into a um pulls one way, the film that a paint should
    hide in the other; neither is known to decide alone, so they meet half-way.

    Parameters
    ----------
    optics : Optics
        The paints, holding what a maker usually puts in.
    masstone : array, shape (paints, views, wavelengths)
        Readings of films that hide.
    rng : numpy.random.Generator
        Source of randomness.

    Returns
    -------
    array, shape (paints,)
    """
    own = effect_ranges()["loading"]
    hides_in = hiding_film_um(optics, masstone)
    wanted = (own["film_um"] / hides_in) ** own["pull"]
    drawn = rng.normal(0.0, own["spread"], hides_in.shape)
    return np.asarray(np.exp(drawn) / wanted)
