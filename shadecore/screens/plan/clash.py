"""A field that was changed at two places, in words."""

from datetime import datetime
from typing import Any, Final

from shadecore.formats.echo import brief
from shadecore.screens.plan.merge import Clash

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
    "midcoats": "Mid-coats",
    "breaks": "Hours",
    "done": "Steps done",
    "sprayed": "Coats sprayed",
    "looks": "Covered or not",
    "kind": "Kind of job",
    "place": "Place",
    "sealer": "Sealer",
    "coats": "Coats of colour",
    "old_finish": "Old finish",
    "substrates": "Substrates",
    "changes": "Own steps",
    "days": "Weather by day",
    "begun": "Steps half done",
}


def clash_words(clash: Clash) -> str:
    """A field that was changed at two places.

    Parameters
    ----------
    clash : Clash
        The field.

    Returns
    -------
    str
    """
    name = _NAMES.get(clash.name, clash.name)
    return f"{name}: here {_said(clash.mine)}, elsewhere {_said(clash.theirs)}"


def _said(value: Any) -> str:  # noqa: ANN401 - of any field
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, datetime):
        return value.isoformat(" ", "minutes")
    if isinstance(value, tuple):
        keys = [each[0] if isinstance(each, tuple) else each for each in value]
        plain = [str(each) for each in keys if isinstance(each, str | int)]
        whole = plain and len(plain) == len(value)
        return brief(", ".join(plain)) if whole else f"{len(value)} entries"
    return brief(str(value)) if isinstance(value, str | int) else "another one"
