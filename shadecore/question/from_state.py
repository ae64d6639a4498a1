"""From what was set on the pick's page to an answer, and from a job to its plan."""

from shadecore.card.card_table import parse_card
from shadecore.card.fit import fit_card
from shadecore.card.reading import Card
from shadecore.coats.answer import Answer
from shadecore.coats.estimate import LikelyPaints, likely_paints
from shadecore.coats.pick import pick
from shadecore.coats.settings import Settings
from shadecore.coats.uncertain import uncertain_paints
from shadecore.colour.condition import Condition
from shadecore.colour.topcoat import Topcoat, parse_topcoat
from shadecore.film.build import CoatFilm, coat_film, reduced_volume_solids
from shadecore.job.plan import Plan, plan_job
from shadecore.job.request import JobRequest
from shadecore.products.product import ProductSheet
from shadecore.question.link import PickState
from shadecore.recipes.library import recipe_library
from shadecore.undercoats.blends import shelf_blends
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import demo_shelf, parse_shelf


def condition_of(state: PickState) -> Condition:
    """How the colours were measured.

    Parameters
    ----------
    state : PickState
        The state.

    Returns
    -------
    Condition
    """
    return Condition(state.illuminant, state.observer, state.specular)


def film_of(state: PickState) -> CoatFilm:
    """Film of one coat: as given, or worked out from the gun and the mix.

    Parameters
    ----------
    state : PickState
        The state.

    Returns
    -------
    CoatFilm

    Raises
    ------
    SettingError
        If a setting is outside its range.
    """
    mix = (state.paint_parts, state.reducer_parts)
    solids, transfer = state.solids_percent / 100.0, state.transfer_percent / 100.0
    if state.from_gun:
        return coat_film(
            state.wet_um, state.overlap_percent / 100.0, solids, mix, transfer
        )
    return CoatFilm(state.film_um, reduced_volume_solids(solids, *mix), transfer)


def settings_of(state: PickState) -> Settings:
    """Tolerance, film and limits.

    Parameters
    ----------
    state : PickState
        The state.

    Returns
    -------
    Settings

    Raises
    ------
    SettingError
        If a setting is outside its range.
    """
    return Settings(
        tolerance=state.tolerance,
        film=film_of(state),
        coat_cap=state.coat_cap,
        film_limit_um=state.film_limit_um,
    )


def paints_of(state: PickState, topcoat: Topcoat, card: Card | None) -> LikelyPaints:
    """What the topcoat may be, by the best that is known of it.

    Parameters
    ----------
    state : PickState
        The film, and the doubt of a photo.
    topcoat : Topcoat
        The colour.
    card : Card or None
        A test card's readings.

    Returns
    -------
    LikelyPaints
        By the test card; else by the photo; else by the colour.

    Raises
    ------
    ShadecoreError
        If the card or the photo's doubt cannot be used.
    """
    if card is not None:
        return fit_card(topcoat, card, film_of(state).dry_film_um).paints
    # Reading photos takes longer to load than a pick takes.
    from shadecore.photo.photo_line import read_photo_line  # noqa: PLC0415

    covariance = read_photo_line(state.photo, state.colour)
    if covariance is not None:
        return uncertain_paints(topcoat.lab, covariance)
    return likely_paints(topcoat, recipe_library())


def answer_of(
    state: PickState,
    topcoat: Topcoat,
    shelf: Shelf,
    paints: LikelyPaints | None = None,
) -> Answer:
    """Pick as the state says.

    Parameters
    ----------
    state : PickState
        Tolerance, film, blends.
    topcoat : Topcoat
        The colour.
    shelf : tuple of Undercoat
        The shelf.
    paints : LikelyPaints, optional
        What the topcoat may be; worked out from the colour unless given.

    Returns
    -------
    Answer

    Raises
    ------
    ShadecoreError
        If a setting or the shelf cannot be used.
    """
    # What a blend gains is less than what a photo leaves in doubt.
    exact = paints is None or paints.basis != "photo"
    mixable = state.blends and exact
    blends = shelf_blends(shelf, state.strength) if mixable else ()
    return pick(topcoat, shelf, settings_of(state), blends=blends, paints=paints)


def plan_request(request: JobRequest, sheet: ProductSheet) -> Plan:
    """Plan a job from nothing but its file and a product sheet.

    Parameters
    ----------
    request : JobRequest
        The job.
    sheet : ProductSheet
        The products.

    Returns
    -------
    Plan

    Raises
    ------
    ShadecoreError
        If the job cannot be planned.
    """
    state = request.pick
    condition = condition_of(state)
    topcoat = parse_topcoat(state.colour, condition)
    shelf = parse_shelf(state.shelf, "The shelf")[0] if state.shelf else demo_shelf()
    card = parse_card(state.card, "The card", condition) if state.card else None
    paints = paints_of(state, topcoat, card)
    return plan_job(request, sheet, answer_of(state, topcoat, shelf, paints))
