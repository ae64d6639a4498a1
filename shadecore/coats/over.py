"""One topcoat's likely paints over many undercoats."""

from typing import NamedTuple

from shadecore.coats.count import Counts, count_coats
from shadecore.coats.course import Course, FilmModel, coats_to_hide, course
from shadecore.coats.estimate import LikelyPaints
from shadecore.coats.settings import Settings
from shadecore.undercoats.shelf import Shelf, inside_film


class Over(NamedTuple):
    """Films over undercoats and the coats that come of them.

    Attributes
    ----------
    course : Course
        The films, coat by coat.
    counts : Counts
        Coats to hide, for one colour.
    """

    course: Course
    counts: Counts


def follow(
    paints: LikelyPaints, undercoats: Shelf, settings: Settings, model: FilmModel
) -> Over:
    """Follow likely paints coat by coat and count.

    Parameters
    ----------
    paints : LikelyPaints
        What the topcoat may be.
    undercoats : tuple of Undercoat
        What is under it.
    settings : Settings
        Film, tolerance and cap.
    model : FilmModel
        The film's optics.

    Returns
    -------
    Over
    """
    run = course(
        paints.absorption,
        paints.scattering,
        inside_film(undercoats),
        settings.films_um,
        model,
    )
    counts = count_coats(
        coats_to_hide(run.difference, settings.tolerance)[None],
        run.difference[None, ..., -1],
        paints.weight[None],
        settings.coat_cap,
        paints.doubt,
    )
    return Over(run, counts)
