"""The one way from a question to its answer, for screens, command line and prints."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Final

from numpy.typing import ArrayLike

from shadecore.card.fit import fit_card
from shadecore.card.hiding_power import HidingPower, hiding_power
from shadecore.coats.answer import Answer, Picks
from shadecore.coats.cost import Cost, Rates, costs
from shadecore.coats.estimate import likely_paints
from shadecore.coats.grounds import Ground, rank_grounds
from shadecore.coats.loading import default_loading
from shadecore.coats.mixes import MixOutlook, compare_mixes
from shadecore.coats.paints import Paints
from shadecore.coats.pick import pick
from shadecore.coats.pick_many import pick_many
from shadecore.coats.sand_throughs import SandThroughs, compare_sand_throughs
from shadecore.coats.seen import Seen
from shadecore.coats.uncertain import Choice, choices, uncertain_paints
from shadecore.colour.colour_table import ColourList
from shadecore.colour.topcoat import Topcoat
from shadecore.errors import CardError, ShelfError
from shadecore.film.gun import mix_film
from shadecore.question.question import Question
from shadecore.recipes.library import recipe_library
from shadecore.undercoats.blends import shelf_blends
from shadecore.undercoats.shelf import Shelf

REDUCTIONS: Final = ((1.0, 1.0), (2.0, 1.0))
"""Paint to reducer, as most data sheets offer them; common practice, no source."""
_REMEMBERED: Final = 256
_PERCENT: Final = 100.0


def answer(question: Question) -> Answer:
    """Answer a question.

    Parameters
    ----------
    question : Question
        What is asked.

    Returns
    -------
    Answer
        The same one for every question that differs in units, rates or areas only.

    Raises
    ------
    ShadecoreError
        If the colour, the shelf, the card or a setting cannot be used.
    """
    return _answer(_that_counts(question))


def answer_as_usual(question: Question) -> Answer | None:
    """Answer a question without what earlier jobs taught of its line and gun.

    Parameters
    ----------
    question : Question
        What is asked.

    Returns
    -------
    Answer or None
        None where nothing was learned.

    Raises
    ------
    ShadecoreError
        If the colour, the shelf, the card or a setting cannot be used.
    """
    if not question.loading.jobs:
        return None
    return answer(replace(question, loading=default_loading()))


def answer_many(
    question: Question,
    lab: ArrayLike,
    progress: Callable[[float], None] | None = None,
    seen: Mapping[int, Sequence[Seen]] | None = None,
) -> Picks:
    """Answer for many colours known by their Lab, with all else as asked.

    Parameters
    ----------
    question : Question
        Shelf, tolerance, film and limits; mixes of two sealers are left out.
    lab : array, shape (colours, 3)
        L*, a*, b* under the working condition.
    progress : callable, optional
        Called with the share done, 0..1.
    seen : mapping of int to sequence of Seen, optional
        What the shop has seen of some of the colours, by their row.

    Returns
    -------
    Picks
        Over the shelf.

    Raises
    ------
    ShadecoreError
        If the colours, the shelf or a setting cannot be used.
    """
    return pick_many(
        lab,
        question.shelf,
        question.settings,
        progress=progress,
        seen=seen,
        loading=question.loading,
    )


def card_power(question: Question) -> HidingPower | None:
    """Hiding power of the paint, where a test card tells it.

    Parameters
    ----------
    question : Question
        What is asked.

    Returns
    -------
    HidingPower or None
        None without a card.
    """
    if question.card is None:
        return None
    return hiding_power(
        paints_of(question),
        question.film.coat.volume_solids,
    )


def photo_choices(question: Question) -> tuple[Choice, ...]:
    """Undercoats that come out for the colours that a photo allows.

    Parameters
    ----------
    question : Question
        With the doubt of a photo.

    Returns
    -------
    tuple of Choice
        The pick first, then the others by how often they come out; empty where the
        colour was not read off a photo, or is a metallic or pearl.
    """
    return _choices(_that_counts(question))


def costs_of(question: Question) -> tuple[Cost, ...]:
    """What each undercoat costs.

    Parameters
    ----------
    question : Question
        What is asked, with its rates.

    Returns
    -------
    tuple of Cost
    """
    return costs(answer(question), question.rates)


def reductions_of(
    question: Question,
    ratios: tuple[tuple[float, float], ...] = REDUCTIONS,
    *,
    by_gun: bool = False,
) -> tuple[MixOutlook, ...]:
    """One reduction against another, sprayed as wet as the question's coat.

    Parameters
    ----------
    question : Question
        What is asked; its film, mix, solids and transfer are used.
    ratios : tuple of (float, float)
        Paint to reducer.
    by_gun : bool
        Whether the wet film is the gun's, even where the question gives a dry film.

    Returns
    -------
    tuple of MixOutlook
    """
    film = question.film
    if not by_gun:
        # The reduction that the pick is made with must give its film and its paint.
        film = replace(
            film,
            wet_um=film.coat.dry_film_um / film.coat.volume_solids,
            overlap_percent=0.0,
        )
    mixes = tuple(
        mix_film(
            ratio,
            film.wet_um,
            film.overlap_percent / _PERCENT,
            film.solids_percent / _PERCENT,
            film.transfer_percent / _PERCENT,
        )
        for ratio in ratios
    )
    return compare_mixes(
        question.topcoat,
        question.shelf,
        question.settings,
        mixes,
        question.rates.minutes_per_coat,
        paints_of(question),
        seen=question.seen,
        loading=question.loading,
    )


def sand_throughs_of(question: Question) -> SandThroughs:
    """Follow the colour over the undercoats that lie bare side by side.

    Parameters
    ----------
    question : Question
        What is asked; its ``areas`` name undercoats on its shelf.

    Returns
    -------
    SandThroughs

    Raises
    ------
    ShelfError
        If one is not on the shelf, or there are fewer than two.
    """
    by_name = {each.name: each for each in question.shelf}
    unknown = [name for name in question.areas if name not in by_name]
    if unknown:
        message = f"{unknown[0]!r} is not on the shelf; it has {', '.join(by_name)}."
        raise ShelfError(message)
    found = answer(question)
    return compare_sand_throughs(
        found.belief,
        tuple(by_name[name] for name in question.areas),
        found.recommended.undercoat,
        found.settings,
    )


def grounds_of(question: Question, colours: ColourList) -> tuple[Ground, ...]:
    """Ways to hide the colour by a ground coat or a tinted sealer.

    Parameters
    ----------
    question : Question
        What is asked.
    colours : ColourList
        The shop's own solid colours.

    Returns
    -------
    tuple of Ground
        Best first.
    """
    own = tuple(
        (code, Topcoat((float(lab[0]), float(lab[1]), float(lab[2])), code))
        for code, lab in zip(colours.codes, colours.lab, strict=True)
    )
    return rank_grounds(
        answer(question).belief,
        own,
        question.shelf,
        question.settings,
        recipe_library(),
    )


def paints_of(question: Question) -> Paints:
    """What the topcoat may be: by the test card, else by the photo, else by colour.

    Parameters
    ----------
    question : Question
        What is asked.

    Returns
    -------
    Paints

    Raises
    ------
    ShadecoreError
        If the colour or the card cannot be used.
    """
    return _paints(_that_counts(question))


def _that_counts(question: Question) -> Question:
    """The question without what no count depends on, so that answers are shared."""
    return replace(question, units="metric", rates=Rates(), areas=())


@lru_cache(maxsize=_REMEMBERED)
def _answer(question: Question) -> Answer:
    return pick(
        question.topcoat,
        question.shelf,
        question.settings,
        blends=_mixtures(question),
        paints=_paints(question),
        seen=question.seen,
        loading=question.loading,
    )


@lru_cache(maxsize=_REMEMBERED)
def _paints(question: Question) -> Paints:
    topcoat = question.topcoat
    if question.flakes:
        return _with_flakes(question)
    if question.card is not None:
        return fit_card(topcoat, question.card, question.film.coat.dry_film_um).paints
    if question.photo is not None:
        return uncertain_paints(topcoat.lab, question.photo.covariance)
    return likely_paints(topcoat, recipe_library())


def _with_flakes(question: Question) -> Paints:
    """Effect paints that the readings may mean."""
    if question.card is not None:
        message = (
            "A test card is fitted for solid colours only; for a metallic or pearl say "
            "how many coats it took instead."
        )
        raise CardError(message)
    # Their room takes a while to load, and solid colours need none of it.
    from shadecore.effects.likely import likely_effect_paints  # noqa: PLC0415

    return likely_effect_paints(question.readings, question.flakes)


@lru_cache(maxsize=_REMEMBERED)
def _choices(question: Question) -> tuple[Choice, ...]:
    # The draws are made of solid paints.
    if question.photo is None or question.flakes:
        return ()
    picked = answer(question).recommended.undercoat
    found = choices(
        question.topcoat.lab,
        question.photo.covariance,
        question.shelf,
        question.settings,
    )
    # The one that is shown large is named first.
    return tuple(sorted(found, key=lambda each: each.undercoat != picked))


def _mixtures(question: Question) -> Shelf:
    """Mixes of two sealers; none where a photo leaves more in doubt than they gain."""
    if not question.mixing.allowed or question.photo is not None:
        return ()
    return shelf_blends(question.shelf, question.mixing.strength)
