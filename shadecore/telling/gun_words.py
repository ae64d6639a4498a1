"""Guns in words: their type, how they are set, and how the strokes go."""

from collections.abc import Iterable
from typing import Final

from shadecore.formats.echo import brief
from shadecore.products.guns import HVLP_MOST_CAP_BAR, UsualGun, over_hvlp_bar
from shadecore.products.product import Gun
from shadecore.telling.numbers import listed
from shadecore.units import NONE, Units, percent

GUN_WORDS: Final = {
    "hvlp": "HVLP",
    "compliant": "compliant",
    "conventional": "conventional",
    "": NONE,
}
"""By the type in the sheet."""
CAP_NOTE: Final = (
    "Cap: air pressure at the air cap, read with a test cap and a gauge while the "
    "trigger is pulled; inlet: the same at the gun's inlet."
)
_DOUBLE: Final = 2
_KIND_WORDS: Final = {
    "surfacer": "surfacer",
    "sealer": "sealer",
    "base_coat": "base coat",
    "clear_coat": "clear coat",
}


def gun_words(gun: Gun, units: Units) -> str:
    """How a gun is set, for the one who is about to spray.

    Parameters
    ----------
    gun : Gun
        As the sheet sets it.
    units : Units
        What its settings are shown in.

    Returns
    -------
    str
        What the sheet does not say is left out.
    """
    kind = f"{GUN_WORDS[gun.type]}, " if gun.type else ""
    cap = "" if gun.cap_bar is None else f", {units.cap.show(gun.cap_bar)} at the cap"
    return (
        f"Gun: {kind}tip {gun.tip_mm:.1f} mm, inlet "
        f"{units.pressure.show(gun.inlet_bar)}{cap}, distance "
        f"{units.distance.show(gun.distance_cm)}, overlap {percent(gun.overlap)}"
    )


def gun_in_brief(gun: Gun, units: Units) -> str:
    """How a gun is set, for the row of the step that it sprays.

    Parameters
    ----------
    gun : Gun
        As the sheet sets it.
    units : Units
        What its settings are shown in.

    Returns
    -------
    str
        Such as ``HVLP, tip 1.3 mm, inlet 2.0 bar, cap 0.60 bar, 18 cm, overlap 50 %``;
        what the sheet does not say is left out.
    """
    said = [GUN_WORDS[gun.type]] if gun.type else []
    said += [f"tip {gun.tip_mm:.1f} mm", f"inlet {units.pressure.show(gun.inlet_bar)}"]
    if gun.cap_bar is not None:
        said.append(f"cap {units.cap.show(gun.cap_bar)}")
    said.append(f"{units.distance.show(gun.distance_cm)}")
    said.append(f"overlap {percent(gun.overlap)}")
    if gun.passes > 1:
        said.append(f"{gun.passes} passes a coat")
    return ", ".join(said)


def passes_words(passes: int) -> str:
    """How often the gun goes over the panel for one coat.

    Parameters
    ----------
    passes : int
        1 or more.

    Returns
    -------
    str
        Such as ``1`` or ``2 (double coat)``.
    """
    return "2 (double coat)" if passes == _DOUBLE else str(passes)


def over_cap_words(name: str, gun: Gun, units: Units) -> str:
    """That a gun is set above what it may have at its air cap.

    Parameters
    ----------
    name : str
        Of the product.
    gun : Gun
        As the sheet sets it.
    units : Units
        What pressures are shown in.

    Returns
    -------
    str
        Empty where it keeps to the limit.
    """
    if not over_hvlp_bar(gun):
        return ""
    has, most = units.cap.show(gun.cap_bar), units.cap.show(HVLP_MOST_CAP_BAR)
    return (
        f"{brief(name)}: {has} at the air cap is over the {most} that an HVLP gun may "
        "have by US air rules; turn it down, or check the sheet."
    )


def strokes_words(names: Iterable[str], strokes: int, gun: Gun, units: Units) -> str:
    """How strokes cover a panel.

    Parameters
    ----------
    names : iterable of str
        Steps that are sprayed so.
    strokes : int
        On the panel that is drawn.
    gun : Gun
        With its overlap, and its fan where that is told.
    units : Units
        What lengths are shown in.

    Returns
    -------
    str
    """
    named = listed([brief(each) for each in names])
    passed = "" if gun.passes == 1 else f", {gun.passes} times over for a coat"
    if gun.fan_cm is None:
        fan = "measure your fan: its width is not told"
    else:
        apart = units.distance.show(gun.fan_cm * (1.0 - gun.overlap))
        fan = f"at most {apart} apart with a fan of {units.distance.show(gun.fan_cm)}"
    return (
        f"{named}: {strokes} strokes, each over {percent(gun.overlap)} of the one "
        f"before, {fan}{passed}. The first and the last aim at the edges, so that "
        "these get as much as the middle."
    )


def usual_words(found: Iterable[UsualGun], units: Units) -> str:
    """How guns are usually set where the sheet does not say what is at the cap.

    Parameters
    ----------
    found : iterable of UsualGun
        For the products whose sheet is silent.
    units : Units
        What pressures are shown in.

    Returns
    -------
    str
        Empty for none.
    """
    told = "; ".join(_usual(each, units) for each in found)
    return f"Usual (common practice, no source): {told}." if told else ""


def _usual(usual: UsualGun, units: Units) -> str:
    low, high = usual.inlet_bar
    said = f"{units.cap.bare(low)} to {units.cap.show(high)} at the inlet"
    if usual.cap_bar is not None:
        least, most = usual.cap_bar
        said += f" or {units.cap.bare(least)} to {units.cap.show(most)} at the cap"
    overlap = "" if usual.overlap is None else f", {percent(usual.overlap)} overlap"
    return f"{_KIND_WORDS[usual.kind]} {said}, tip {usual.tip_mm:.1f} mm{overlap}"
