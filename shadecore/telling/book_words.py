"""What the shop's book holds and what happened to it, in words."""

from typing import Final

from shadecore.question.plain import Value, to_plain
from shadecore.question.question import Question
from shadecore.telling.numbers import percent
from shadecore.units import UNITS

_SETTINGS: Final = {
    "kind": "kind of colour",
    "angles": "readings at angles",
    "illuminant": "illuminant",
    "observer": "observer",
    "specular": "specular reflection",
    "photo": "photo",
    "from_gun": "film from the gun",
    "paint_parts": "parts of paint",
    "reducer_parts": "parts of reducer",
    "coat_cap": "coats counted",
    "blends": "mixing two sealers",
    "strength": "strength of the darker sealer",
    "test_card": "test card",
}
_MOST: Final = 4
_LONGEST: Final = 40


def version_words(one: Question, other: Question) -> str:
    """What one version of a colour says where another says something else.

    Parameters
    ----------
    one, other : Question
        The versions.

    Returns
    -------
    str
        Of the first: such as ``colour 45 60 35, film 12.0 um``; empty where they say
        the same.
    """
    mine, theirs = to_plain(one), to_plain(other)
    units = UNITS[one.units]
    said = []
    if mine["colour"] != theirs["colour"]:
        said.append(f"colour {_brief(str(mine['colour']))}")
    if one.tolerance != other.tolerance:
        said.append(f"hidden at {one.tolerance:g}")
    if one.film.dry_film_um != other.film.dry_film_um:
        said.append(f"film {units.film.show(one.film.dry_film_um)}")
    if one.film.solids_percent != other.film.solids_percent:
        said.append(f"solids {percent(one.film.solids_percent / 100.0)}")
    for name, words in _SETTINGS.items():
        if mine[name] != theirs[name]:
            said.append(f"{words} {_value(mine[name])}")
    if not said and mine != theirs:
        return "other settings"
    more = len(said) - _MOST
    return ", ".join(said[:_MOST]) + (f" and {more} more" if more > 0 else "")


def _value(value: Value) -> str:
    if isinstance(value, bool):
        return "on" if value else "off"
    if isinstance(value, str):
        return _brief(value) if value else "not given"
    return f"{value:g}"


def _brief(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= _LONGEST else f"{line[: _LONGEST - 1]}…"
