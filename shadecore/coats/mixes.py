"""One mix against another: coats, film, paint, time and the risk of a run."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from shadecore.coats.answer import Answer
from shadecore.coats.evidence import resolved
from shadecore.coats.loading import Loading
from shadecore.coats.paints import Paints
from shadecore.coats.pick import pick
from shadecore.coats.seen import Seen
from shadecore.coats.settings import Settings
from shadecore.colour.topcoat import Topcoat
from shadecore.film.gun import Mix
from shadecore.undercoats.shelf import Shelf


@dataclass(frozen=True)
class MixOutlook:
    """What a mix makes of the job.

    Attributes
    ----------
    mix : Mix
        The mix and the film it leaves.
    answer : Answer
        The pick with that film.
    minutes : float or None
        Spraying and flashing the coats; None where nothing hides. [min]
    """

    mix: Mix
    answer: Answer
    minutes: float | None


def compare_mixes(  # noqa: PLR0913 - the last are given by name
    topcoat: Topcoat,
    shelf: Shelf,
    settings: Settings,
    mixes: tuple[Mix, ...],
    minutes_per_coat: float,
    paints: Paints | None = None,
    *,
    seen: Sequence[Seen] = (),
    loading: Loading | None = None,
) -> tuple[MixOutlook, ...]:
    """Pick once for each mix.

    Parameters
    ----------
    topcoat : Topcoat
        The colour.
    shelf : tuple of Undercoat
        The shelf.
    settings : Settings
        Tolerance, cap and limits; the film is each mix's own.
    mixes : tuple of Mix
        The mixes.
    minutes_per_coat : float
        Spraying and flashing one coat. [min]
    paints : Paints, optional
        What a test card says the paint is.
    seen : sequence of Seen
        What the shop has seen of the paint, with the film of ``settings`` where a
        record has none.
    loading : Loading, optional
        How heavily such paints are loaded.

    Returns
    -------
    tuple of MixOutlook
    """
    outlooks = []
    records = resolved(seen, settings)
    for mix in mixes:
        answer = pick(
            topcoat,
            shelf,
            replace(settings, film=mix.film),
            paints=paints,
            seen=records,
            loading=loading,
        )
        coats = answer.recommended.coats
        minutes = None if coats is None else coats * minutes_per_coat
        outlooks.append(MixOutlook(mix, answer, minutes))
    return tuple(outlooks)
