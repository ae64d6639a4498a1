"""How thick a coat dries, and how much paint it takes.

A film of one micrometre over one square metre is one millilitre, so a wet film in
micrometres is also the paint in millilitres per square metre.
"""

import math
from dataclasses import dataclass

from shadecore.errors import SettingError
from shadecore.units import percent

DEFAULT_DRY_FILM_UM = 10.0
"""Dry film of one coat of base; common practice, no source (8 to 15 um is usual)."""
DEFAULT_VOLUME_SOLIDS = 0.26
"""Volume solids of unreduced base coat; common practice, no source."""
DEFAULT_PAINT_TO_REDUCER = (1.0, 1.0)
"""Parts by volume; common practice, no source."""
DEFAULT_WET_PASS_UM = 38.0
"""Wet film of one pass of the gun; common practice, no source."""
DEFAULT_OVERLAP = 0.5
"""Share of the fan that covers the stroke before; common practice, no source."""
DEFAULT_TRANSFER_EFFICIENCY = 0.65
"""Qualification level of guns accepted as HVLP-equivalent (South Coast AQMD)."""

_THINNEST_UM, _THICKEST_UM = 0.5, 200.0
"""Dry films outside of this are taken for slips of the pen; this tool's own limits."""


@dataclass(frozen=True)
class CoatFilm:
    """The film that one coat leaves, and what is sprayed for it.

    Attributes
    ----------
    dry_film_um : float
        Dry film of one coat. [um]
    volume_solids : float
        Volume solids of the ready-to-spray paint, above 0 and up to 1.
    transfer_efficiency : float
        Share of the sprayed paint that stays on the part, above 0 and up to 1.

    Raises
    ------
    SettingError
        If one of them is outside its range.
    """

    dry_film_um: float = DEFAULT_DRY_FILM_UM
    volume_solids: float = DEFAULT_VOLUME_SOLIDS / 2.0
    transfer_efficiency: float = DEFAULT_TRANSFER_EFFICIENCY

    def __post_init__(self) -> None:
        _check_share("volume solids", self.volume_solids)
        _check_share("transfer efficiency", self.transfer_efficiency)
        if not _THINNEST_UM <= self.dry_film_um <= _THICKEST_UM:
            message = (
                f"The dry film of one coat must lie between {_THINNEST_UM:g} and "
                f"{_THICKEST_UM:g} um, not {self.dry_film_um:g}; base coat is usually "
                "8 to 15 um."
            )
            raise SettingError(message)

    def sprayed_ml_per_m2(self, coats: float) -> float:
        """Ready-to-spray paint in ml/m2 for some coats, overspray included."""
        wet_um = coats * self.dry_film_um / self.volume_solids
        return wet_um / self.transfer_efficiency


def reduced_volume_solids(volume_solids: float, paint: float, reducer: float) -> float:
    """Volume solids after reducing.

    Parameters
    ----------
    volume_solids : float
        Of the paint as it comes, above 0 and up to 1.
    paint, reducer : float
        Parts by volume; paint above 0, reducer zero or more.

    Returns
    -------
    float
        Above 0 and up to 1.

    Raises
    ------
    SettingError
        If one of them is outside its range.
    """
    _check_share("volume solids", volume_solids)
    if not (math.isfinite(paint + reducer) and paint > 0.0 and reducer >= 0.0):
        message = (
            "The mix needs paint above 0 and reducer of 0 or more, as paint:reducer, "
            "like 1:1 or 2:1."
        )
        raise SettingError(message)
    return volume_solids * paint / (paint + reducer)


def passes_per_coat(overlap: float) -> float:
    """Number of gun passes that reach each point when strokes overlap.

    Parameters
    ----------
    overlap : float
        Share of the fan that covers the stroke before, 0 up to below 1.

    Returns
    -------
    float
        2 at 50 percent, 3.3 at 70 percent.

    Raises
    ------
    SettingError
        If the overlap is outside its range.
    """
    if not 0.0 <= overlap < 1.0:
        message = (
            f"The overlap must be from 0 to below 100 percent, not {percent(overlap)}."
        )
        raise SettingError(message)
    return 1.0 / (1.0 - overlap)


def coat_film(
    wet_pass_um: float = DEFAULT_WET_PASS_UM,
    overlap: float = DEFAULT_OVERLAP,
    volume_solids: float = DEFAULT_VOLUME_SOLIDS,
    paint_to_reducer: tuple[float, float] = DEFAULT_PAINT_TO_REDUCER,
    transfer_efficiency: float = DEFAULT_TRANSFER_EFFICIENCY,
) -> CoatFilm:
    """Work the film of one coat out from the gun and the mix.

    Dry film = wet film of a pass, times the passes that overlap, times the volume
    solids after reducing.

    Parameters
    ----------
    wet_pass_um : float
        Wet film of one pass on the part, above 0. [um]
    overlap : float
        Share of the fan that covers the stroke before, 0 up to below 1.
    volume_solids : float
        Of the paint as it comes, above 0 and up to 1.
    paint_to_reducer : tuple of float
        Parts by volume, such as (2, 1).
    transfer_efficiency : float
        Share of the sprayed paint that stays on the part, above 0 and up to 1.

    Raises
    ------
    SettingError
        If one of them is outside its range.

    Examples
    --------
    >>> coat_film(paint_to_reducer=(1, 1)).dry_film_um
    9.88
    >>> coat_film(paint_to_reducer=(2, 1)).dry_film_um
    13.17
    """
    if not (math.isfinite(wet_pass_um) and wet_pass_um > 0.0):
        message = f"The wet film must be above 0 um, not {wet_pass_um:g}."
        raise SettingError(message)
    solids = reduced_volume_solids(volume_solids, *paint_to_reducer)
    return CoatFilm(
        wet_pass_um * passes_per_coat(overlap) * solids, solids, transfer_efficiency
    )


def _check_share(name: str, value: float) -> None:
    if not 0.0 < value <= 1.0:
        message = (
            f"The {name} must be above 0 and up to 100 percent, not {percent(value)}."
        )
        raise SettingError(message)
