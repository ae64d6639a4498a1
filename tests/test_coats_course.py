"""Coats to hide on curves drawn by hand, and films growing coat by coat."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from shadecore.coats.course import coats_to_hide, course
from shadecore.film.two_flux import FilmTerms

Floats = NDArray[np.floating]
CURVES = st.lists(st.floats(0.0, 9.0), min_size=1, max_size=12)


class ClearingFilm:
    """A film that reads 0.5 when it hides and lets a known share through before."""

    def masstone(self, absorption: Floats, scattering: Floats) -> Floats:
        """Read half of the light, whatever the paint."""
        return np.full_like(absorption + scattering, 0.5)

    def terms(
        self, absorption: Floats, scattering: Floats, dry_film_um: Floats
    ) -> FilmTerms:
        """Let through a half, a quarter, an eighth, ... each 10 um."""
        through = 0.5 ** (np.asarray(dry_film_um) / 10.0)[None, :, None]
        through = through * np.ones_like(absorption + scattering)[:, None, :]
        return FilmTerms(0.5 * (1.0 - through), through, np.zeros_like(through))


@pytest.mark.parametrize(
    ("curve", "expected"),
    [
        ([0.5, 0.4, 0.3], 1),
        ([3.0, 1.5, 0.9, 0.2], 3),
        ([3.0, 0.9, 1.4, 0.7], 4),  # passes through the tolerance on its way
        ([0.2, 0.9, 1.4, 0.7], 4),  # even when it starts inside
        ([0.9, 3.0, 0.9, 3.0], 5),  # inside twice and out again at the end
        ([2.0, 1.0, 1.0], 2),  # on the tolerance is inside
        ([3.0, 2.0, 1.1], 4),  # never within the coats that are counted
        ([0.9], 1),
        ([1.1], 2),
    ],
)
def test_coats_are_counted_from_where_the_difference_stays_inside(
    curve: list[float], expected: int
) -> None:
    assert coats_to_hide(np.array(curve), 1.0) == expected


def test_any_leading_shape_is_kept() -> None:
    curves = np.array([[[3.0, 0.5], [0.5, 3.0]], [[0.5, 0.5], [3.0, 3.0]]])
    assert coats_to_hide(curves, 1.0).tolist() == [[2, 3], [1, 3]]


def test_as_many_coats_as_may_be_counted_fit_the_small_integer() -> None:
    assert coats_to_hide(np.full(50, 9.0), 1.0) == 51


@given(CURVES, st.floats(0.1, 8.0))
@settings(derandomize=True, deadline=None)
def test_from_the_count_on_the_difference_is_inside_and_just_before_it_is_not(
    curve: list[float], tolerance: float
) -> None:
    coats = int(coats_to_hide(np.array(curve), tolerance))
    assert 1 <= coats <= len(curve) + 1
    assert all(value <= tolerance for value in curve[coats - 1 :])
    if coats > 1:
        assert curve[coats - 2] > tolerance


@given(CURVES, st.floats(0.1, 8.0), st.floats(0.0, 4.0))
@settings(derandomize=True, deadline=None)
def test_a_looser_tolerance_never_adds_coats(
    curve: list[float], tolerance: float, looser_by: float
) -> None:
    strict = coats_to_hide(np.array(curve), tolerance)
    assert coats_to_hide(np.array(curve), tolerance + looser_by) <= strict


def test_a_thicker_coat_can_need_one_more_when_it_lands_on_a_hook() -> None:
    """Why a thicker film is only checked on the engine's counts, not on any curve.

    The curve leaves the tolerance once more between 14 and 16 um: coats of 10 um
    step over it, the first coat of 15 um lands on it.
    """
    film_um = np.arange(1, 5)

    def difference(um: np.ndarray) -> np.ndarray:
        return np.where((um < 8.0) | ((um > 14.0) & (um < 16.0)), 3.0, 0.5)

    assert coats_to_hide(difference(10.0 * film_um), 1.0) == 1
    assert coats_to_hide(difference(15.0 * film_um), 1.0) == 2


def test_a_film_is_followed_over_each_undercoat() -> None:
    paints, coats = np.ones((2, 31)), np.array([10.0, 20.0, 300.0])
    backing = np.stack([np.full(31, 0.5), np.full(31, 0.9), np.full(31, 0.1)])
    run = course(paints, paints, backing, coats, ClearingFilm())
    assert run.lab.shape == (2, 3, 3, 3)
    assert run.full_lab.shape == (2, 3)
    assert run.difference.shape == (2, 3, 3)
    # An undercoat of the full colour shows no difference after any coat.
    np.testing.assert_allclose(run.difference[:, 0], 0.0, atol=1e-6)
    # 0.5 (1 - t) + t Rg with t = 1/2: 0.7 over the light one, 0.3 over the dark one,
    # whose L* is 116 (Y/Yn)^(1/3) - 16.
    lightness = 116.0 * np.cbrt([0.7, 0.3]) - 16.0
    np.testing.assert_allclose(run.lab[0, 1:, 0, 0], lightness, atol=1e-3)
    assert np.all(np.diff(run.difference[:, 1:], axis=-1) < 0.0)
    np.testing.assert_allclose(run.difference[..., -1], 0.0, atol=1e-5)
