"""Who breathes what while isocyanate hangs in the air of a booth or an open shop."""

from datetime import datetime

from shadecore.job.steps import Step
from shadecore.job.usual_steps import is_clean, is_cure


def air_until(
    step: Step, air: tuple[Step, datetime] | None, begun: datetime, cure: str
) -> datetime | None:
    """Until when a step asks for supplied air.

    Parameters
    ----------
    step : Step
        The step.
    air : tuple of (Step, datetime) or None
        What sprayed isocyanate last, this step itself counted, and when the air is
        clear of it.
    begun : datetime
        When the step starts.
    cure : str
        One of :data:`shadecore.job.climate.CURES`.

    Returns
    -------
    datetime or None
        None where it asks for none, or nobody is at it.
    """
    if air is None or begun >= air[1]:
        return None
    # A booth bakes with nobody in it, and a film that cures in air needs nobody.
    unmanned = ("air", "bake") if air[0].in_booth else ("air",)
    if is_cure(step.key) and cure in unmanned:
        return None
    return air[1]


def waits_for_air(step: Step, sprayed: Step, cure: str) -> bool:
    """Whether a step is put off until the air is clear.

    Coats follow within their windows and guns are cleaned at once, both with supplied
    air still on; so does all else in a booth, which clears in minutes.

    Parameters
    ----------
    step : Step
        The step.
    sprayed : Step
        What sprayed isocyanate.
    cure : str
        One of :data:`shadecore.job.climate.CURES`.

    Returns
    -------
    bool
    """
    if sprayed.in_booth:
        return False
    if is_cure(step.key):
        return cure != "air"
    return not step.coats and not is_clean(step.key)
