"""Test cards read without error, for tests."""

import numpy as np

from shadecore.card.reading import Card, Reading, bare_areas
from shadecore.coats.film_model import FilmModel
from shadecore.colour.appearance import lab_from_reflectance, tristimulus_weights
from shadecore.colour.surface import directional

SEED = 20_301
"""Another draw than the engine's library: the same families, other recipes."""
COAT_UM = 10.0


def read(reflectance: np.ndarray, kind: str) -> Reading:
    """Report a reflectance as an instrument of one kind does."""
    spectrum = np.asarray(reflectance, dtype=np.float64)
    if kind == "Y":
        return (float(spectrum @ tristimulus_weights()[:, 1]),)
    if kind == "Lab":
        return tuple(lab_from_reflectance(spectrum).tolist())
    return tuple(spectrum.tolist())


def films_over(
    absorption: np.ndarray, scattering: np.ndarray, coats: int, model: FilmModel
) -> np.ndarray:
    """Films over the bare areas of a usual card, shape (paints, 2, 31)."""
    films = np.array([coats * COAT_UM], dtype=np.float32)
    terms = model.terms(absorption, scattering, films)
    bare = directional().inside(bare_areas(Card(())))
    return np.stack([terms.over(each)[:, 0] for each in bare], axis=1)
