"""Wet film from a comb gauge or from the gun, and one mix against another."""

import math
from dataclasses import dataclass
from typing import Final

from shadecore.errors import SettingError
from shadecore.film.build import CoatFilm, passes_per_coat, reduced_volume_solids

RUN_LIMIT_UM: Final = 100.0
"""Wet film of one coat, reduced 1:1, above which it may run; a rule of thumb (common
practice, no source)."""
_SECONDS_PER_MINUTE: Final = 60.0
_CM_PER_M: Final = 100.0


def wet_pass_from_gun(
    fluid_ml_per_min: float,
    fan_cm: float,
    speed_cm_per_s: float,
    transfer_efficiency: float,
) -> float:
    """Wet film that one pass of the gun leaves.

    Parameters
    ----------
    fluid_ml_per_min : float
        Fluid delivery, above 0. [ml/min]
    fan_cm : float
        Width of the fan on the part, above 0. [cm]
    speed_cm_per_s : float
        Speed of the gun, above 0. [cm/s]
    transfer_efficiency : float
        Share of the paint that stays on the part, above 0 and up to 1.

    Returns
    -------
    float
        [um]

    Raises
    ------
    SettingError
        If one of them is outside its range.

    Examples
    --------
    >>> wet_pass_from_gun(200.0, 25.0, 40.0, 0.65)
    21.67
    """
    for name, value in (
        ("fluid delivery", fluid_ml_per_min),
        ("fan width", fan_cm),
        ("gun speed", speed_cm_per_s),
    ):
        if not (math.isfinite(value) and value > 0.0):
            message = f"The {name} must be above 0, not {value:g}."
            raise SettingError(message)
    if not 0.0 < transfer_efficiency <= 1.0:
        message = "The transfer efficiency must be above 0 and up to 100 percent."
        raise SettingError(message)
    area_m2_per_s = fan_cm * speed_cm_per_s / _CM_PER_M**2
    sprayed_ml_per_m2 = fluid_ml_per_min / _SECONDS_PER_MINUTE / area_m2_per_s
    return sprayed_ml_per_m2 * transfer_efficiency


@dataclass(frozen=True)
class Mix:
    """One mix of a paint, sprayed by the same hand.

    Attributes
    ----------
    paint, reducer : float
        Parts by volume.
    film : CoatFilm
        What a coat leaves.
    wet_um : float
        Wet film of a coat. [um]
    run_share : float
        Wet film as a share of the film at which this mix may run, by a rule of thumb;
        from 1 on it may run.
    """

    paint: float
    reducer: float
    film: CoatFilm
    wet_um: float
    run_share: float

    @property
    def may_run(self) -> bool:
        """Whether a coat may run by the rule of thumb."""
        return self.run_share >= 1.0


def mix_film(
    paint_to_reducer: tuple[float, float],
    wet_pass_um: float,
    overlap: float,
    volume_solids: float,
    transfer_efficiency: float,
) -> Mix:
    """Film of a mix at a given wet film of a pass.

    A mix with less reducer is more viscous and runs later. The limit is taken to grow
    with the cube root of its volume solids over those at 1:1; a rule of thumb (common
    practice, no source).

    Parameters
    ----------
    paint_to_reducer : tuple of float
        Parts by volume.
    wet_pass_um : float
        Wet film of one pass. [um]
    overlap : float
        Share of the fan that covers the stroke before, 0 up to below 1.
    volume_solids : float
        Of the paint as it comes, above 0 and up to 1.
    transfer_efficiency : float
        Share of the paint that stays on the part, above 0 and up to 1.

    Raises
    ------
    SettingError
        If one of them is outside its range.
    """
    solids = reduced_volume_solids(volume_solids, *paint_to_reducer)
    usual = reduced_volume_solids(volume_solids, 1.0, 1.0)
    wet_um = wet_pass_um * passes_per_coat(overlap)
    limit_um = RUN_LIMIT_UM * math.cbrt(solids / usual)
    return Mix(
        *paint_to_reducer,
        CoatFilm(wet_um * solids, solids, transfer_efficiency),
        wet_um,
        wet_um / limit_um,
    )
