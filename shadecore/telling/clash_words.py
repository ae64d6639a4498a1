"""A field of a job that was changed at two places, in words."""

from datetime import datetime
from typing import Final

from shadecore.formats.echo import brief
from shadecore.units import percent

_NAMES: Final = {
    "start": "Start",
    "name": "Name",
    "question": "Colour and film",
    "panels": "Panels",
    "area_m2": "Other area (m²)",
    "bare_metal": "Bare metal",
    "filler": "Filler",
    "flattest": "Sanded level and polished",
    "cure": "Cure",
    "air_c": "Air (°C)",
    "panel_c": "Panel (°C)",
    "humidity": "Humidity",
    "cup_loss_l": "Left in cup and gun (L)",
    "cup_l": "Mixing cup (L)",
    "midcoats": "Mid-coats",
    "breaks": "Hours",
    "done": "Steps done",
    "sprayed": "Coats sprayed",
    "looks": "Covered or not",
    "mixed": "Mixed",
    "kind": "Kind of job",
    "place": "Place",
    "sealer": "Sealer",
    "coats": "Coats of colour",
    "second": "Second colour",
    "second_share": "Area of the second colour",
    "spot_cm": "Spot (cm)",
    "sealer_reach_cm": "Sealer reaches past the spot (cm)",
    "fade_step_cm": "Each coat past the last (cm)",
    "old_finish": "Old finish",
    "surfacer": "Surfacer",
    "booth_clearance_min": "Booth clears in (min)",
    "substrates": "Substrates",
    "changes": "Own steps",
    "days": "Weather by day",
    "begun": "Steps half done",
}
_SHARES: Final = frozenset({"humidity", "second_share"})


def clash_words(name: str, mine: object, theirs: object) -> str:
    """A field that was changed at two places.

    Parameters
    ----------
    name : str
        The field of :class:`shadecore.job.request.JobRequest`, or of its details.
    mine, theirs : object
        What was made of it here and elsewhere.

    Returns
    -------
    str

    Examples
    --------
    >>> clash_words("cure", "bake", "lamp")
    'Cure: here bake, elsewhere lamp'
    >>> clash_words("humidity", 0.5, 0.65)
    'Humidity: here 50 %, elsewhere 65 %'
    """
    here, there = (_said(name, each) for each in (mine, theirs))
    return f"{_NAMES.get(name, name)}: here {here}, elsewhere {there}"


def _said(name: str, value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return percent(value) if name in _SHARES else f"{value:g}"
    if isinstance(value, datetime):
        return value.isoformat(" ", "minutes")
    if isinstance(value, tuple):
        keys = [each[0] if isinstance(each, tuple) else each for each in value]
        plain = [str(each) for each in keys if isinstance(each, str | int)]
        whole = plain and len(plain) == len(value)
        return brief(", ".join(plain)) if whole else f"{len(value)} entries"
    return brief(str(value)) if isinstance(value, str | int) else "another one"
