"""One hiding rule: what is shown, framed, numbered, drawn and charted says the same."""

import numpy as np
import pytest

import shadecore
from shadecore.coats.answer import Answer
from shadecore.coats.pick import pick
from shadecore.coats.pick_many import pick_many
from shadecore.coats.thickness import hidden_from
from shadecore.coats.uncertain import uncertain_paints
from shadecore.colour.appearance import colour_difference
from shadecore.lesson.panels import lesson_of
from shadecore.recipes.library import recipe_library
from shadecore.undercoats.shelf import Shelf, undercoat_from_reflectance

GREYS = tuple(
    shadecore.undercoat(f"Grey {each:g}", (each, 0.0, 0.0))
    for each in (95.0, 90.0, 80.0, 70.0, 60.0, 50.0, 40.0, 30.0, 25.5)
)
MATT = tuple(
    shadecore.undercoat(f"Matt {each:g}", (each, 0.0, 0.0), finish="matt")
    for each in (88.0, 55.0, 27.0)
)
RED_OXIDE = shadecore.undercoat("Red oxide", (38.0, 30.0, 22.0))
SHELVES: dict[str, Shelf] = {
    "demo": shadecore.demo_shelf(),
    "nine greys": GREYS,
    "matt": MATT,
    "coloured": (GREYS[0], RED_OXIDE),
}
COLOURS = 12


def colours() -> np.ndarray:
    full = recipe_library().lab
    rng = np.random.default_rng(41)
    lab = full[rng.integers(0, len(full), COLOURS)] + rng.normal(0, 1.5, (COLOURS, 3))
    lab[:, 0] = np.clip(lab[:, 0], 2.0, 98.0)
    return np.asarray(lab)


def topcoat(lab: np.ndarray) -> shadecore.Topcoat:
    return shadecore.Topcoat((float(lab[0]), float(lab[1]), float(lab[2])), "drawn")


@pytest.mark.parametrize("name", SHELVES)
@pytest.mark.parametrize(("tolerance", "film_um"), [(1.0, 10.0), (2.0, 10.0), (0.6, 6)])
def test_everything_shown_agrees(name: str, tolerance: float, film_um: float) -> None:
    settings = shadecore.Settings(tolerance, shadecore.CoatFilm(film_um))
    shelf, lab = SHELVES[name], colours()
    picks = pick_many(lab, shelf, settings)
    for row, each in enumerate(lab):
        answer = pick(topcoat(each), shelf, settings)
        _agrees(answer)
        for outlook in answer.outlooks:
            charted = picks.counts.coats[row, shelf.index(outlook.undercoat)]
            assert (outlook.coats or settings.coat_cap + 1) == charted
        for strip in lesson_of(answer, shelf).panels:
            assert strip.hides_from == strip.estimate.coats
            assert strip.difference[1:] == strip.estimate.difference


def _agrees(answer: Answer) -> None:
    beyond = answer.settings.coat_cap + 1
    for outlook in answer.outlooks:
        own = outlook.coats or beyond
        shown = colour_difference(outlook.lab, answer.topcoat.lab)
        assert hidden_from(np.array(outlook.difference), answer.settings.tolerance) == (
            own
        )
        np.testing.assert_allclose(outlook.difference, shown, atol=5e-3)
        chance = np.array(outlook.count.chance)
        assert own == 1 + np.sum(chance < 0.5 - 1e-6)
        assert (outlook.count.low or beyond) <= own <= (outlook.count.high or beyond)


def test_a_matt_undercoat_is_darker_under_the_film_than_it_reads() -> None:
    """It reads 2 to 5 percent more than it is (from memory), most of all a dark one."""
    grey = (topcoat(np.array([22.0, 0.0, 0.0])),)
    for colour in grey:
        over = {}
        for finish in ("gloss", "matt", "wet"):
            shelf = (
                shadecore.undercoat("own", (22.0, 0, 0), finish=finish),  # type: ignore[arg-type]
            )
            over[finish] = pick(colour, shelf).recommended
        assert over["wet"].count == over["gloss"].count
        # The glossy one vanishes at once; the matt one is darker than the colour.
        assert over["gloss"].coats == 1
        assert over["matt"].coats_average > over["gloss"].coats_average


def test_the_doubt_of_a_matt_surface_enters_the_count() -> None:
    """Chances lie between those of the least and of the most that it may add."""
    colour = shadecore.parse_topcoat("30 30 15")
    matt = shadecore.undercoat("own", (27.0, 0, 0), finish="matt")
    found = np.array(pick(colour, (matt,)).recommended.count.chance)
    ends = []
    for part in (0.015, 0.030, 0.045):
        darker = undercoat_from_reflectance("own", np.array(matt.reflectance) - part)
        answer = pick(colour, (darker,))
        ends.append(np.array(answer.recommended.count.chance))
    np.testing.assert_allclose(found, np.mean(ends, axis=0), atol=0.02)


def test_an_unknown_finish_is_refused() -> None:
    with pytest.raises(shadecore.ShadecoreError, match="finish"):
        shadecore.undercoat("own", (50, 0, 0), finish="satin")  # type: ignore[arg-type]


def test_a_photo_is_on_average_never_surer_than_an_exact_reading() -> None:
    """Entropy of the count, over colours and undercoats."""
    shelf = shadecore.demo_shelf()

    def entropy(answer: Answer) -> float:
        return float(np.mean([_entropy(o.count.chance) for o in answer.outlooks]))

    exact, photo = [], []
    for each in colours():
        colour = topcoat(each)
        exact.append(entropy(pick(colour, shelf)))
        paints = uncertain_paints(colour.lab, np.diag([4.0, 9.0, 9.0]))
        photo.append(entropy(pick(colour, shelf, paints=paints)))
    assert np.mean(photo) > np.mean(exact)


def _entropy(chance: tuple[float, ...]) -> float:
    part = np.diff(np.concatenate([[0.0], chance, [1.0]]))
    part = part[part > 1e-12]
    return float(-(part * np.log(part)).sum())


def test_after_each_coat_the_film_lies_on_the_undercoats_side() -> None:
    """Over white a mid grey comes from above, over black from below."""
    answer = pick(shadecore.parse_topcoat("55 0 0"), (GREYS[0], GREYS[-1]))
    for outlook in answer.outlooks:
        first = outlook.lab[0][0] - 55.0
        assert first * (outlook.undercoat.lightness - 55.0) > 0.0


def test_what_shines_through_is_a_share_of_the_undercoats_light() -> None:
    """Of a film thin beside its hiding thickness nearly all, of a thick one nothing."""
    colour = shadecore.parse_topcoat("45 60 35")
    thin = pick(
        colour, GREYS, shadecore.Settings(film=shadecore.CoatFilm(0.5), coat_cap=1)
    )
    thick = pick(colour, GREYS, shadecore.Settings(film=shadecore.CoatFilm(200.0)))
    clearest = max(thin.bands.see_through[0])
    assert 0.85 < clearest <= 1.0
    assert max(thick.bands.see_through[-1]) < 0.01
