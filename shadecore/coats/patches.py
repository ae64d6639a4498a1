"""Patches: several undercoats under one colour, side by side on a panel."""

from dataclasses import dataclass

from shadecore.coats.answer import Count
from shadecore.coats.count import (
    MIDDLE,
    count_coats,
    shortest_interval,
    weighted_quantile,
)
from shadecore.coats.course import FilmModel, coats_to_hide
from shadecore.coats.estimate import LikelyPaints
from shadecore.coats.over import follow
from shadecore.coats.settings import Settings
from shadecore.colour.appearance import colour_difference
from shadecore.errors import ShelfError
from shadecore.undercoats.shelf import Shelf, Undercoat, check_shelf

_FEWEST_AREAS = 2


@dataclass(frozen=True)
class Patches:
    """How areas over different undercoats grow alike.

    Attributes
    ----------
    areas : tuple of Undercoat
        What lies bare on the panel.
    difference : tuple of float
        Largest difference between any two areas after each coat, middle of the
        likely paints. [CIEDE2000]
    count : Count
        Coats until the areas stay alike within the tolerance.
    sealer : Undercoat
        The undercoat with the fewest coats, sprayed over everything first.
    sealed_coats : int or None
        Coats to hide over that sealer.
    """

    areas: Shelf
    difference: tuple[float, ...]
    count: Count
    sealer: Undercoat
    sealed_coats: int | None

    @property
    def sealing_saves(self) -> int | None:
        """Coats of colour that sealing first saves; None where it cannot be said.

        Areas that stay apart within the cap count as one coat more than the cap.
        """
        if self.sealed_coats is None:
            return None
        coats = self.count.coats
        unsealed = self.count.cap + 1 if coats is None else coats
        return unsealed - self.sealed_coats


def compare_patches(
    paints: LikelyPaints,
    areas: Shelf,
    sealer: Undercoat,
    settings: Settings,
    model: FilmModel,
) -> Patches:
    """Follow one colour over several undercoats until the areas look alike.

    Parameters
    ----------
    paints : LikelyPaints
        What the topcoat may be.
    areas : tuple of Undercoat
        What lies bare on the panel, two or more.
    sealer : Undercoat
        What would be sprayed over everything instead.
    settings : Settings
        Film, tolerance and cap.
    model : FilmModel
        The film's optics.

    Returns
    -------
    Patches

    Raises
    ------
    ShelfError
        If there are fewer than two areas.
    """
    if len(areas) < _FEWEST_AREAS:
        message = "Name at least two areas with different undercoats to compare."
        raise ShelfError(message)
    check_shelf(areas)
    sealer_as_area = Undercoat(" sealer", sealer.lab, sealer.reflectance)
    run, counts = follow(paints, (*areas, sealer_as_area), settings, model)
    lab = run.lab[:, : len(areas)]
    apart = colour_difference(lab[:, :, None], lab[:, None, :]).max(axis=(1, 2))
    alike = count_coats(
        coats_to_hide(apart, settings.tolerance)[None, :, None],
        apart[None, :, None, -1],
        paints.weight[None],
        settings.coat_cap,
        paints.doubt,
    )
    within = alike.chance[0, 0]
    low, high = shortest_interval(within)
    cap = settings.coat_cap
    return Patches(
        areas=areas,
        difference=tuple(
            float(v) for v in weighted_quantile(apart.T, paints.weight, MIDDLE)
        ),
        count=Count(
            _within(int(alike.coats[0, 0]), cap),
            _within(int(low), cap),
            _within(int(high), cap),
            tuple(float(v) for v in within),
        ),
        sealer=sealer,
        sealed_coats=_within(int(counts.coats[0, -1]), cap),
    )


def _within(count: int, cap: int) -> int | None:
    return count if count <= cap else None
