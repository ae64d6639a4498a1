"""The words about the film of one coat: given, or worked out from gun and mix."""

import argparse

from shadecore.errors import SettingError
from shadecore.film.gun import wet_pass_from_gun
from shadecore.question.question import FilmAsked

_PERCENT = 100.0
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
        metavar="ML/MIN,CM,CM/S",
        help="fluid delivery, fan width and speed, to work --wet out",
    )
    parser.add_argument(
        "--solids",
        type=float,
        metavar="PERCENT",
        default=_USUAL.solids_percent,
        help="volume solids of the paint as it comes; %(default)g unless given",
    )
    parser.add_argument(
        "--transfer",
        type=float,
        metavar="PERCENT",
        default=_USUAL.transfer_percent,
        help="share of the paint that stays on the part; %(default)g unless given",
    )


def take_film(options: argparse.Namespace) -> FilmAsked:
    """What the words say of the film.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_film`.

    Returns
    -------
    FilmAsked

    Raises
    ------
    SettingError
        If they contradict each other or cannot be used.
    """
    around = (options.wet, options.overlap, options.gun)
    if options.film is not None and around != (None, None, None):
        message = "Give either --film or --wet, --gun and --overlap, not both."
        raise SettingError(message)
    paint, reducer = parse_ratio(options.mix or "1:1")
    worked_out = (options.mix, *around) != (None, None, None, None)
    gun = take_gun(options)
    return FilmAsked(
        _USUAL.dry_film_um if options.film is None else options.film,
        options.film is None and worked_out,
        paint,
        reducer,
        gun.solids_percent,
        gun.wet_um,
        gun.overlap_percent,
        gun.transfer_percent,
    )


def take_gun(options: argparse.Namespace) -> FilmAsked:
    """What the words say of gun and paint.

    Parameters
    ----------
    options : argparse.Namespace
        Of a parser with :func:`add_gun`.

    Returns
    -------
    FilmAsked
        With the usual mix and film.

    Raises
    ------
    SettingError
        If they contradict each other or cannot be used.
    """
    return FilmAsked(
        solids_percent=options.solids,
        wet_um=_wet_pass_um(options),
        overlap_percent=(
            _USUAL.overlap_percent if options.overlap is None else options.overlap
        ),
        transfer_percent=options.transfer,
    )


def _wet_pass_um(options: argparse.Namespace) -> float:
    """Wet film of a pass: as given, from the gun, or the usual one. [um]."""
    if options.gun is None:
        return _USUAL.wet_um if options.wet is None else float(options.wet)
    if options.wet is not None:
        message = "Give either --wet or --gun, not both."
        raise SettingError(message)
    try:
        fluid, fan, speed = (float(part) for part in options.gun.split(","))
    except ValueError:
        message = (
            f"The gun {options.gun!r} is not fluid delivery, fan width and speed; "
            "write it like 200,25,40 in ml/min, cm and cm/s."
        )
        raise SettingError(message) from None
    return wet_pass_from_gun(fluid, fan, speed, options.transfer / _PERCENT)


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
