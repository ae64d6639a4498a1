"""Coloured grounds for colours that no grey hides: shop colours and tinted sealers."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from shadecore.coats.belief import Belief, count_over, first_belief
from shadecore.coats.count import rank
from shadecore.coats.estimate import LikelyPaints, likely_paints
from shadecore.coats.film_model import FilmModel
from shadecore.coats.loading import default_loading
from shadecore.coats.settings import Settings
from shadecore.colour.topcoat import Topcoat
from shadecore.recipes.families import family_ranges
from shadecore.recipes.library import RecipeLibrary
from shadecore.undercoats.blends import two_constants
from shadecore.undercoats.shelf import (
    Shelf,
    Undercoat,
    undercoat_from_reflectance,
)
from shadecore.units import percent

TINTS: Final = (0.1, 0.2, 0.3)
"""Base coat in the sealer, by volume; common practice, no source: the data sheet says
how much a sealer takes."""


@dataclass(frozen=True)
class Ground:
    """A way to hide a colour.

    Attributes
    ----------
    name : str
        What goes under it.
    under : Undercoat
        Undercoat on the shelf that the ground coat itself goes over, or that is
        tinted.
    ground_coats : int
        Coats of the ground colour; 0 for a sealer.
    colour_coats : int
        Coats of the topcoat.
    colour_high : int or None
        Upper end of its 90 percent interval; None beyond the cap.
    paint_ml_per_m2 : float
        Ready-to-spray ground and topcoat together. [ml/m2]
    """

    name: str
    under: Undercoat
    ground_coats: int
    colour_coats: int
    colour_high: int | None
    paint_ml_per_m2: float

    @property
    def coats(self) -> int:
        """Coats of ground and topcoat together."""
        return self.ground_coats + self.colour_coats


def rank_grounds(
    belief: Belief,
    colours: tuple[tuple[str, Topcoat], ...],
    shelf: Shelf,
    settings: Settings,
    library: RecipeLibrary,
) -> tuple[Ground, ...]:
    """Ways to hide a colour, fewest coats first, then least paint.

    Parameters
    ----------
    belief : Belief
        What is held of the topcoat, a solid colour; such as ``Answer.belief``.
    colours : tuple of (str, Topcoat)
        The shop's own solid colours that may serve as ground coats.
    shelf : tuple of Undercoat
        The shop's undercoats.
    settings : Settings
        Film, tolerance and cap.
    library : RecipeLibrary
        Plausible recipes.

    Returns
    -------
    tuple of Ground
        Plain undercoats, tinted sealers and ground coats that hide within the cap;
        none for paints with flakes.
    """
    topcoat = belief.paints
    if not isinstance(topcoat, LikelyPaints):
        return ()
    base = _at_its_loading(belief, topcoat)
    tinted = tuple(
        tinted_sealer(each, base, part, library.model)
        for each in shelf
        for part in TINTS
    )
    under = [(each.name, each, each, 0) for each in shelf]
    bases = (each for each in shelf for _ in TINTS)
    under += [
        (mixed.name, mixed, base, 0) for mixed, base in zip(tinted, bases, strict=True)
    ]
    coloured = [
        (name, *found)
        for name, colour in colours
        if (found := _ground_coat(name, colour, shelf, settings, library)) is not None
    ]
    grounds = _count_ways(belief, under, settings)
    alike = replace(belief, paints=_like_its_colour(topcoat, library.model))
    grounds += _count_ways(alike, coloured, settings)
    return tuple(sorted(grounds, key=lambda way: (way.coats, way.ground_coats)))


_Way = tuple[str, Undercoat, Undercoat, int]
"""Name, what the topcoat lies on, what that lies on, and coats of it."""


def _count_ways(belief: Belief, ways: list[_Way], settings: Settings) -> list[Ground]:
    """Coats of the topcoat over each way that hides it within the cap."""
    if not ways:
        return []
    counts = count_over(belief, tuple(way[1] for way in ways), settings)
    return [
        Ground(
            name,
            under,
            ground_coats,
            int(counts.coats[0, i]),
            int(counts.high[0, i]) if counts.high[0, i] <= counts.cap else None,
            settings.film.sprayed_ml_per_m2(ground_coats + int(counts.coats[0, i])),
        )
        for i, (name, _, under, ground_coats) in enumerate(ways)
        if counts.coats[0, i] <= counts.cap
    ]


def _ground_coat(
    name: str,
    colour: Topcoat,
    shelf: Shelf,
    settings: Settings,
    library: RecipeLibrary,
) -> tuple[Undercoat, Undercoat, int] | None:
    """The shop's colour as a ground, over the undercoat where it hides soonest."""
    paints = likely_paints(colour, library)
    counts = count_over(first_belief(paints, default_loading()), shelf, settings)
    best = int(rank(counts, np.array([colour.lab[0]]), shelf)[0, 0])
    if counts.coats[0, best] > counts.cap:
        return None
    full = paints.weight @ library.model.masstone(paints.absorption, paints.scattering)
    spectrum = full if colour.reflectance is None else np.array(colour.reflectance)
    ground = undercoat_from_reflectance(name, spectrum)
    return ground, shelf[best], int(counts.coats[0, best])


def tinted_sealer(
    sealer: Undercoat, topcoat: LikelyPaints, part: float, model: FilmModel
) -> Undercoat:
    """A sealer with base coat stirred in.

    Parameters
    ----------
    sealer : Undercoat
        The sealer.
    topcoat : LikelyPaints
        What the base coat may be.
    part : float
        Base coat in the mix by volume, 0..1.
    model : FilmModel
        The film's optics.

    Returns
    -------
    Undercoat
        What the mix dries to.

    References
    ----------
    .. [1] D. R. Duncan, Proc. Phys. Soc. 52 (1940) 390: K and S add by concentration.
    """
    # The sealer's S is relative to titanium white, the paint's per um; its K is what
    # gives the sealer's own colour back by the film that the mix is read with.
    white_per_um = family_ranges()["scale"]["white_scattering_per_um"]
    s_sealer = two_constants(sealer)[1] * white_per_um
    k_sealer = s_sealer * model.absorption_to_scattering(np.array(sealer.reflectance))
    k = (1.0 - part) * k_sealer + part * (topcoat.weight @ topcoat.absorption)
    s = (1.0 - part) * s_sealer + part * (topcoat.weight @ topcoat.scattering)
    reflectance = model.masstone(k, s)
    return undercoat_from_reflectance(
        f"{sealer.name} with {percent(part)} base coat", reflectance
    )


def _like_its_colour(topcoat: LikelyPaints, model: FilmModel) -> LikelyPaints:
    """The likely paints, each with K changed so that its full colour is their mean.

    A ground coat of the very same colour must not look like another one because the
    recipes miss the colour by a little.
    """
    full = model.masstone(topcoat.absorption, topcoat.scattering)
    ratio = model.absorption_to_scattering(topcoat.weight @ full)
    absorption = (topcoat.scattering * ratio).astype(np.float32)
    return replace(topcoat, absorption=absorption, recipes=None)


def _at_its_loading(belief: Belief, topcoat: LikelyPaints) -> LikelyPaints:
    """The likely paints, loaded as they are beside what base coats usually are.

    A sealer's white counts as loaded as usual, so this is how the two compare.
    """
    usual = default_loading().mean
    share = belief.weight / belief.paint_weight[:, None]
    factor = share @ np.exp(belief.ln_loading - usual)
    scale = factor[:, None].astype(np.float32)
    return replace(
        topcoat,
        absorption=topcoat.absorption * scale,
        scattering=topcoat.scattering * scale,
        weight=belief.paint_weight,
        recipes=None,
    )
