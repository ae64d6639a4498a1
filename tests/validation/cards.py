"""Simulated black-and-white test cards, sprayed out by hand and then measured."""

from __future__ import annotations

from dataclasses import dataclass

import colour
import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import roots_legendre

from .paints import Paints
from .transport import Film, Geometry, inside_reflectance, solve
from .truth import HIDING_THICKNESS, reflectance_to_lab

FloatArray = NDArray[np.float64]

PROBE = 0.1
"""CIELAB step that a colour's sensitivity is taken over; small beside its curvature."""

PROBE_POLAR = 6
"""Directions in lightness that are probed, each at twice as many hues."""

MEAN_RADIUS = float(np.sqrt(8.0 / np.pi))
"""Mean length of a vector of three independent standard normal numbers."""


@dataclass(frozen=True)
class Card:
    """A test card, how it is sprayed and how it is read.

    Attributes
    ----------
    black, white : float
        Flat reflectance of the bare areas in air, gloss excluded; taken as read in
        the geometry of the topcoat.
    coats : tuple of int
        Coats on each step of the card, counted from the bare card.
    film_per_coat : float
        Dry film one coat is meant to have, um.
    film_error : float
        Standard deviation of the log of true over meant film; the same on the whole
        card, since it is one painter's hand.
    lab_noise : float
        Mean CIEDE2000 between a colour as read and as it is.
    spectral_noise : float
        Standard deviation of the log of a spectrum as read over the true one, drawn
        for each band alone; 0 gives true spectra.
    """

    black: float = 0.005
    white: float = 0.80
    coats: tuple[int, ...] = (2,)
    film_per_coat: float = 10.0
    film_error: float = 0.10
    lab_noise: float = 0.3
    spectral_noise: float = 0.0


STANDARD_CARD = Card()
"""One step of two coats."""


@dataclass(frozen=True)
class CardReadings:
    """What is read from the cards of some paints.

    Attributes
    ----------
    over_black, over_white : FloatArray
        Noisy Lab of each step, shape (paints, steps, 3).
    hidden : FloatArray
        Noisy Lab of the fully hiding paint, shape (paints, 3).
    spectra_black, spectra_white : FloatArray
        Reflectance factor of each step, with the spectral noise of the card only,
        shape (paints, steps, wavelengths).
    film_factor : FloatArray
        True over meant dry film, shape (paints,).
    """

    over_black: FloatArray
    over_white: FloatArray
    hidden: FloatArray
    spectra_black: FloatArray
    spectra_white: FloatArray
    film_factor: FloatArray


def _directions() -> tuple[FloatArray, FloatArray]:
    """Return unit vectors (directions, 3) and their shares of the sphere."""
    height, band = roots_legendre(PROBE_POLAR)
    around = np.pi * (np.arange(2 * PROBE_POLAR) + 0.5) / PROBE_POLAR
    ring = np.stack([np.cos(around), np.sin(around)], axis=-1)
    radius = np.sqrt(1.0 - height**2)
    vectors = np.empty((height.size, around.size, 3))
    vectors[..., 0] = height[:, None]
    vectors[..., 1:] = radius[:, None, None] * ring
    shares = np.repeat(band / band.sum() / around.size, around.size)
    return vectors.reshape(-1, 3), shares


def noise_deviation(lab: ArrayLike, mean_difference: float) -> FloatArray:
    """Return how strong noise in Lab must be to be seen as a stated CIEDE2000.

    A step in Lab shows least at high chroma, so there the noise has to be larger.

    Parameters
    ----------
    lab : ArrayLike
        Colours, shape (..., 3).
    mean_difference : float
        Mean CIEDE2000 of the noise, small enough for differences to grow in
        proportion.

    Returns
    -------
    FloatArray
        Standard deviation in each of L*, a*, b*, shape (...).
    """
    centre = np.asarray(lab, dtype=np.float64)[..., None, :]
    vectors, shares = _directions()
    seen = colour.delta_E(centre, centre + PROBE * vectors, method="CIE 2000")
    sensitivity = np.asarray(seen) @ shares / PROBE
    return np.asarray(mean_difference / (MEAN_RADIUS * sensitivity))


def read_lab(
    lab: ArrayLike, mean_difference: float, rng: np.random.Generator
) -> FloatArray:
    """Read colours with an instrument that errs.

    Parameters
    ----------
    lab : ArrayLike
        True colours, shape (..., 3).
    mean_difference : float
        Mean CIEDE2000 between reading and truth.
    rng : np.random.Generator
        Source of all randomness.

    Returns
    -------
    FloatArray
        Readings, shape (..., 3). No lightness is below 0, so next to absolute black
        the noise is a little smaller than stated.
    """
    true = np.asarray(lab, dtype=np.float64)
    deviation = noise_deviation(true, mean_difference)[..., None]
    read = true + deviation * rng.standard_normal(true.shape)
    read[..., 0] = np.maximum(read[..., 0], 0.0)
    return read


def _spectra(film: Film, outside: float, geometry: Geometry) -> FloatArray:
    """Look at films over one area of the card, shape (paints, steps, wavelengths)."""
    return np.moveaxis(film.over(inside_reflectance(outside, geometry)), 1, -1)


def spray_cards(
    paints: Paints,
    rng: np.random.Generator,
    card: Card = STANDARD_CARD,
    geometry: Geometry = "45/0",
) -> CardReadings:
    """Spray one card with each paint and measure it.

    Parameters
    ----------
    paints : Paints
        Simulated paints.
    rng : np.random.Generator
        Source of all randomness. From the same state, the films and the readings of
        full hide are the same whatever the steps of the card.
    card : Card
        The card and its errors.
    geometry : Geometry
        Measuring geometry; the gloss is excluded in both.

    Returns
    -------
    CardReadings
        Arrays over the paints.
    """
    # Before all else, so that cards with other steps get the same hand.
    factor = np.exp(rng.normal(0.0, card.film_error, len(paints.amounts)))
    thickness = np.append(
        card.film_per_coat * np.array(card.coats, dtype=np.float64), HIDING_THICKNESS
    )
    # A film depends on K X and S X alone, so a thicker film is solved as a stronger
    # paint: all cards then share one list of thicknesses.
    film = solve(
        factor[:, None] * paints.absorption,
        factor[:, None] * paints.scattering,
        thickness,
    )[geometry]
    steps = Film(film.black[..., :-1], film.through[..., :-1], film.back[..., :-1])
    black = _spectra(steps, card.black, geometry)
    white = _spectra(steps, card.white, geometry)
    hidden = reflectance_to_lab(film.black[..., -1])
    return CardReadings(
        hidden=read_lab(hidden, card.lab_noise, rng),
        over_black=read_lab(reflectance_to_lab(black), card.lab_noise, rng),
        over_white=read_lab(reflectance_to_lab(white), card.lab_noise, rng),
        spectra_black=black * np.exp(rng.normal(0.0, card.spectral_noise, black.shape)),
        spectra_white=white * np.exp(rng.normal(0.0, card.spectral_noise, white.shape)),
        film_factor=factor,
    )
