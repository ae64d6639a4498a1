"""The simulated contrast card against the definitions of its standards."""

import numpy as np
import pytest

from shadecore.coats.settings import Settings
from shadecore.colour.colour_science import colour_science
from shadecore.colour.topcoat import parse_topcoat, topcoat_from_spectrum
from shadecore.lesson.colours import examples
from shadecore.lesson.contrast_card import ContrastCard, contrast_card
from shadecore.lesson.panels import lesson

D65_10 = np.array([0.31382, 0.33100])
"""Chromaticity of D65 for the 10 degree observer, CIE 15 table T.3."""
SETTINGS = Settings()


def _card(text: str, settings: Settings = SETTINGS) -> ContrastCard:
    return contrast_card(lesson(parse_topcoat(text), settings).answer)


CARDS = {each.name: _card(" ".join(map(str, each.topcoat.lab))) for each in examples()}
every_card = pytest.mark.parametrize("name", CARDS)


def _luminance(lab: tuple[float, float, float]) -> float:
    return float(colour_science().Lab_to_XYZ(lab, D65_10)[1])


def test_the_ratio_is_luminance_over_black_by_luminance_over_white() -> None:
    """ISO 6504-3 and ASTM D2805, the luminances read off the halves by colour-science.

    A topcoat given by its spectrum is shown as it is, not moved onto a Lab value.
    """
    rows = "\n".join(
        f"{nm},{0.06 + 0.6 / (1 + np.exp((600 - nm) / 12)):.4f}"
        for nm in range(400, 701, 10)
    )
    topcoat = topcoat_from_spectrum(rows)
    card = contrast_card(lesson(topcoat).answer)
    for black, white, ratio in zip(
        card.over_black, card.over_white, card.contrast_ratio, strict=True
    ):
        expected = _luminance(black.lab) / _luminance(white.lab)
        assert ratio == pytest.approx(expected, abs=0.004)


def test_the_bare_card_is_black_and_of_reflectance_80_percent() -> None:
    """The white of ASTM D2805's card; CIELAB by colour-science."""
    colour = colour_science()
    white = colour.xyY_to_XYZ([*D65_10, 0.80])
    for card in CARDS.values():
        assert card.over_black[0].lab == pytest.approx((0.0, 0.0, 0.0))
        assert card.over_white[0].lab == pytest.approx(
            colour.XYZ_to_Lab(white, D65_10), abs=0.05
        )
        assert card.contrast_ratio[0] == 0.0


@every_card
def test_the_ratio_rises_coat_by_coat_inside_its_interval(name: str) -> None:
    card = CARDS[name]
    rises = np.diff(card.contrast_ratio)
    assert np.all(rises >= 0.0)
    # Strictly until single precision tells it from 1 no more.
    assert np.all(rises[np.array(card.contrast_ratio[:-1]) < 0.999] > 0.0)
    assert np.all(np.array(card.low) <= np.array(card.high))
    assert max(card.high) <= 1.0 + 1e-6


@every_card
def test_hidden_is_from_098_on(name: str) -> None:
    """Complete hiding by ISO 6504-3 and ASTM D2805."""
    card = CARDS[name]
    reached = [n for n, ratio in enumerate(card.contrast_ratio) if ratio >= 0.98]
    assert card.hidden_from == (reached[0] if reached else None)


@every_card
def test_judges_see_the_halves(name: str) -> None:
    """CIEDE2000 by colour-science; the lightness match sees L* and nothing else."""
    colour = colour_science()
    card = CARDS[name]
    spectral, lightness, eye = card.judges
    for n, (black, white) in enumerate(
        zip(card.over_black, card.over_white, strict=True)
    ):
        expected = float(colour.delta_E(black.lab, white.lab, method="CIE 2000"))
        assert spectral.difference[n] == pytest.approx(expected, abs=0.02)
        assert eye.difference[n] == spectral.difference[n]
        apart = abs(black.lab[0] - white.lab[0])
        assert lightness.difference[n] == pytest.approx(apart, abs=0.01)


@every_card
def test_judges_are_satisfied_where_they_see_no_more_than_their_limit(
    name: str,
) -> None:
    card = CARDS[name]
    for judge in card.judges:
        for coats, seen in enumerate(judge.difference):
            assert not judge.hidden(coats) or seen <= judge.limit
    spectral, _, eye = card.judges
    beyond = SETTINGS.coat_cap + 1
    assert (eye.hidden_from or beyond) >= (spectral.hidden_from or beyond)


def test_a_grey_is_told_by_lightness_alone_a_blue_is_not() -> None:
    """A neutral film's halves differ in nothing else; a chromatic one's do."""
    grey = CARDS["light grey"]
    assert grey.judges[0].hidden_from == grey.judges[1].hidden_from
    sooner = []
    for name in ("red", "yellow", "blue"):
        spectral, lightness, _ = CARDS[name].judges
        beyond = SETTINGS.coat_cap + 1
        assert (lightness.hidden_from or beyond) <= (spectral.hidden_from or beyond)
        sooner.append((lightness.hidden_from or beyond) < (spectral.hidden_from or 0))
    assert any(sooner)
