"""The words about the film of one coat: given, or worked out from gun and mix."""

import argparse
from dataclasses import replace
from typing import Final

from shadecore.errors import SettingError
from shadecore.film.gun import wet_pass_from_gun
from shadecore.question.question import FilmAsked

_PERCENT = 100.0
_SEPARATOR = ","
_SETTINGS: Final = 3
"""Fluid delivery, fan width and speed."""
KEPT: Final = "kept:"
"""Before a name that is always the book's."""
_USUAL = FilmAsked()


def add_film(parser: argparse.ArgumentParser) -> None:
    """Take the film of one coat, or what it can be worked out from.

    Parameters
    ----------
    parser : argparse.ArgumentParser
        Of a command.
    """
    film = parser.add_argument_group(
        "film", "Give --film, or let it be worked out from the gun and the mix."
    )
    film.add_argument(
        "--film",
        type=float,
        metavar="UM",
        help=f"dry film of one coat in um; {_USUAL.dry_film_um:g} unless given",
    )
    film.add_argument(
        "--mix", metavar="PAINT:REDUCER", help="such as 1:1 or 2:1; 1:1 unless given"
    )
    add_gun(film)


def add_gun(parser: "argparse._ActionsContainer") -> None:
    """Take the gun and the paint.

    Parameters
    ----------
    parser : argparse parser or group
        Of a command.
    """
    parser.add_argument(
        "--wet",
        type=float,
        metavar="UM",
        help=f"wet film of one pass; {_USUAL.wet_um:g} unless given",
    )
    parser.add_argument(
        "--overlap",
        type=float,
        metavar="PERCENT",
        help=f"of the stroke before; {_USUAL.overlap_percent:g} unless given",
    )
    parser.add_argument(
        "--gun",
        action="append",
        default=[],
        metavar="ML/MIN,CM,CM/S or NAME",
        help="fluid delivery, fan width and speed, to work --wet out; or a gun of the "
        "shop's book, to use what was learned of it ('' for none); may be given once "
        "for each",
    )
    parser.add_argument(
        "--solids",
        type=float,
        metavar="PERCENT",
        help="volume solids of the paint as it comes; "
        f"{_USUAL.solids_percent:g} unless given",
    )
    parser.add_argument(
        "--transfer",
        type=float,
        metavar="PERCENT",
        help="share of the paint that stays on the part; "
        f"{_USUAL.transfer_percent:g} unless given",
    )


def take_film(options: argparse.Namespace, usual: FilmAsked = _USUAL) -> FilmAsked:
    """What the words say of the film.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_film`.
    usual : FilmAsked
        What holds where they say nothing.

    Returns
    -------
    FilmAsked

    Raises
    ------
    SettingError
        If they contradict each other or cannot be used.
    """
    around = (options.wet, options.overlap, gun_settings(options))
    if options.film is not None and around != (None, None, None):
        message = "Give either --film or --wet, --gun and --overlap, not both."
        raise SettingError(message)
    film = take_gun(options, usual)
    if options.mix is not None:
        paint, reducer = parse_ratio(options.mix)
        film = replace(film, paint_parts=paint, reducer_parts=reducer)
    if options.film is not None:
        return replace(film, dry_film_um=options.film, from_gun=False)
    worked_out = (options.mix, *around) != (None, None, None, None)
    return replace(film, from_gun=usual.from_gun or worked_out)


def take_gun(options: argparse.Namespace, usual: FilmAsked = _USUAL) -> FilmAsked:
    """What the words say of gun and paint.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_gun`.
    usual : FilmAsked
        What holds where they say nothing.

    Returns
    -------
    FilmAsked
        With the mix and the film of ``usual``.

    Raises
    ------
    SettingError
        If they contradict each other or cannot be used.
    """
    given = {
        "solids_percent": options.solids,
        "overlap_percent": options.overlap,
        "transfer_percent": options.transfer,
    }
    said = {name: value for name, value in given.items() if value is not None}
    film = replace(usual, **said)
    return replace(film, wet_um=_wet_pass_um(options, film))


def gun_settings(options: argparse.Namespace) -> str | None:
    """Settings that ``--gun`` gives.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_gun`.

    Returns
    -------
    str or None
        Such as ``200,25,40``; None where it gives none.
    """
    return _one_gun([each for each in options.gun if _is_settings(each)])


def gun_name(options: argparse.Namespace) -> str | None:
    """Name of a gun in the shop's book that ``--gun`` gives.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_gun`.

    Returns
    -------
    str or None
        None where it gives none.
    """
    return _one_gun([each for each in options.gun if not _is_settings(each)])


def _is_settings(written: str) -> bool:
    """Whether it reads as a gun's settings and not as the name of one."""
    first, *others = written.split(_SEPARATOR)
    if written.startswith(KEPT) or not others:
        return False
    try:
        float(first)
    except ValueError:
        return len(others) == _SETTINGS - 1
    return True


def _one_gun(given: list[str]) -> str | None:
    if len(given) > 1:
        message = f"Give one --gun, not both {given[0]!r} and {given[1]!r}."
        raise SettingError(message)
    return given[0] if given else None


def _wet_pass_um(options: argparse.Namespace, film: FilmAsked) -> float:
    """Wet film of a pass: as given, from the gun, or as it was. [um]."""
    settings = gun_settings(options)
    if settings is None:
        return film.wet_um if options.wet is None else float(options.wet)
    if options.wet is not None:
        message = "Give either --wet or --gun, not both."
        raise SettingError(message)
    try:
        fluid, fan, speed = (float(part) for part in settings.split(_SEPARATOR))
    except ValueError:
        message = (
            f"The gun {settings!r} is not fluid delivery, fan width and speed; "
            "write it like 200,25,40 in ml/min, cm and cm/s."
        )
        raise SettingError(message) from None
    return wet_pass_from_gun(fluid, fan, speed, film.transfer_percent / _PERCENT)


def parse_ratio(text: str) -> tuple[float, float]:
    """Parts of paint and reducer.

    Parameters
    ----------
    text : str
        Such as ``2:1``.

    Returns
    -------
    tuple of float

    Raises
    ------
    SettingError
        If it is not such a ratio.
    """
    try:
        paint, reducer = (float(part) for part in text.split(":"))
    except ValueError:
        message = f"The mix {text!r} is not paint:reducer; write it like 1:1 or 2:1."
        raise SettingError(message) from None
    return paint, reducer
