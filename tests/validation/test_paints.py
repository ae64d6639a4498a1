"""The simulated paints are reproducible, complete and physically possible."""

from __future__ import annotations

import numpy as np
import pytest

from .paints import WAVELENGTHS, draw_paints, pigments


def test_pigment_curves_are_complete_and_positive() -> None:
    known = pigments()
    shape = (len(known.names), WAVELENGTHS.size)
    assert known.absorption.shape == known.scattering.shape == shape
    assert np.all(known.absorption > 0.0)
    assert np.all(known.scattering > 0.0)
    assert known.having("white").size == 1
    assert np.all((known.demand > 0.0) == np.isfinite(known.hue))


def test_white_sets_the_unit_of_scattering() -> None:
    known = pigments()
    white = known.having("white")[0]
    assert known.scattering[white][WAVELENGTHS == 550.0] == pytest.approx(0.2)


def test_curves_pass_through_their_nodes() -> None:
    known = pigments()
    row = known.names.index("PR254")
    assert known.absorption[row][WAVELENGTHS == 490.0] == pytest.approx(0.2 * 0.83)


def test_a_seed_fixes_the_paints() -> None:
    first, again, other = (
        draw_paints(20, np.random.default_rng(seed)) for seed in (5, 5, 6)
    )
    np.testing.assert_array_equal(first.amounts, again.amounts)
    np.testing.assert_array_equal(first.absorption, again.absorption)
    assert not np.array_equal(first.amounts, other.amounts)


def test_recipes_are_what_a_mixer_would_make() -> None:
    known = pigments()
    paints = draw_paints(400, np.random.default_rng(17))
    np.testing.assert_allclose(paints.amounts.sum(axis=1), 1.0)
    assert np.all(paints.amounts >= 0.0)
    used = paints.amounts > 0.0
    coloured = used[:, known.having("chromatic")].sum(axis=1)
    assert set(coloured) == {1, 2, 3}
    assert used[:, known.having("black")].sum(axis=1).max() == 1
    assert used.any(axis=0).all()


def test_strength_varies_from_paint_to_paint() -> None:
    known = pigments()
    paints = draw_paints(400, np.random.default_rng(17))
    ratio = np.log(paints.absorption / (paints.amounts @ known.absorption))
    assert np.abs(ratio.mean()) < 0.01
    assert 0.04 < ratio.std() < 0.08
