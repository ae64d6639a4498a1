"""A topcoat of uncertain colour: its doubt reaches the coats and the pick."""

import colour
import numpy as np
import pytest

from shadecore import Answer, Topcoat, demo_shelf, undercoat
from shadecore.coats.pick import pick
from shadecore.coats.uncertain import (
    choices,
    colours_drawn,
    settled,
    uncertain_paints,
)

RED = (45.0, 60.0, 35.0)
SURE = 1e-6 * np.eye(3)
VAGUE = np.diag([9.0, 25.0, 25.0])


def test_colours_are_drawn_from_the_doubt() -> None:
    spread = np.array([[4.0, 1.0, 0.0], [1.0, 9.0, -2.0], [0.0, -2.0, 16.0]])
    drawn = colours_drawn((50.0, 10.0, 5.0), spread)
    assert drawn[0] == pytest.approx((50.0, 10.0, 5.0))
    assert np.allclose(np.cov(drawn.T), spread, atol=0.45 * spread.max())
    assert np.array_equal(drawn, colours_drawn((50.0, 10.0, 5.0), spread))


def test_colours_that_cannot_be_are_not_drawn() -> None:
    """No X, Y or Z below 0 by colour-science, L* within 0..100."""
    drawn = colours_drawn((3.0, 20.0, -20.0), np.diag([25.0, 900.0, 900.0]))
    white = np.array([94.811, 100.0, 107.305]) / 100.0
    xyz = colour.Lab_to_XYZ(drawn, colour.XYZ_to_xy(white))
    assert drawn[:, 0].min() >= 0.0
    assert xyz.min() > -1e-9


def test_a_sure_colour_gives_the_pick_of_the_colour() -> None:
    plain = pick(Topcoat(RED, "plain"), demo_shelf())
    sure = pick(Topcoat(RED, "sure"), demo_shelf(), paints=uncertain_paints(RED, SURE))
    assert sure.recommended.undercoat == plain.recommended.undercoat
    assert [each.coats for each in sure.outlooks] == [
        each.coats for each in plain.outlooks
    ]
    assert (sure.basis, plain.basis) == ("photo", "colour")


@pytest.mark.parametrize("lightness", [30.0, 50.0, 75.0])
def test_doubt_of_the_colour_widens_the_coats(lightness: float) -> None:
    """Of greys, whose counts hang on how light they are."""
    lab = (lightness, 0.0, 0.0)
    topcoat = Topcoat(lab, "grey")
    sure, vague = (
        pick(topcoat, demo_shelf(), paints=uncertain_paints(lab, each))
        for each in (SURE, VAGUE)
    )

    def width(answer: Answer) -> int:
        beyond = answer.settings.coat_cap + 1
        return sum(
            (each.count.high or beyond) - (each.count.low or beyond)
            for each in answer.outlooks
        )

    assert width(vague) > width(sure)


def test_weights_of_the_paints_sum_to_one() -> None:
    paints = uncertain_paints(RED, VAGUE)
    assert paints.weight.sum() == pytest.approx(1.0)
    assert len(paints.weight) == len(paints.absorption) == len(paints.scattering)
    assert len(paints.weight) > 64


def test_choices_are_shares_of_the_colours() -> None:
    sure = choices(RED, SURE, demo_shelf())
    assert [each.share for each in sure] == [1.0]
    vague = choices((66.0, 0.0, 0.0), np.diag([36.0, 1.0, 1.0]), demo_shelf())
    assert len(vague) >= 2
    shares = [each.share for each in vague]
    assert shares == sorted(shares, reverse=True)
    assert sum(shares) <= 1.0 + 1e-9


def test_a_long_shelf_has_a_choice_too() -> None:
    """With forty greys none is the pick for a tenth of the colours."""
    shelf = tuple(
        undercoat(f"grey {place}", (30.0 + 1.5 * place, 0.0, 0.0))
        for place in range(40)
    )
    found = choices((60.0, 0.0, 0.0), np.diag([400.0, 1.0, 1.0]), shelf)
    assert len(found) >= 1
    assert not settled(found)
