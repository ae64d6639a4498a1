"""Loading: from the measured white films, and only as a product with the film."""

import numpy as np
import pytest

import shadecore
from shadecore.coats.loading import Loading, default_loading, white_scattering
from shadecore.coats.pick import pick
from shadecore.errors import SettingError

SHELF = shadecore.demo_shelf()
RED = shadecore.parse_topcoat("45 60 35")


@pytest.mark.parametrize(("share", "scattering"), [(0.020, 0.12), (0.228, 0.60)])
def test_the_measured_whites_are_met(share: float, scattering: float) -> None:
    """Levinson, Berdahl and Akbari (2005), two-flux S at 550 nm, per um."""
    assert white_scattering(share) == pytest.approx(scattering)


def test_crowded_pigment_scatters_less_for_each_part() -> None:
    shares = np.array([0.02, 0.05, 0.1, 0.2])
    per_part = [white_scattering(share) / share for share in shares]
    assert np.all(np.diff(per_part) < 0.0)


def test_the_default_is_worked_out_from_films_and_pigment() -> None:
    """Power law through the two films, ends of 5 and 20 percent, 8 to 15 um a coat.

    By hand: S = 0.12 (c / 0.02)^0.6613, 0.2200 and 0.5502 per um, so ln(S / 0.2) runs
    from 0.0953 to 1.0120; ln(15 / 8) / 3.29 = 0.1911 for the film, and ln 1.35 = 0.3001
    for the grade.
    """
    found = default_loading()
    assert found.mean == pytest.approx((0.0953 + 1.0120) / 2.0, abs=1e-3)
    assert found.spread == pytest.approx(
        np.sqrt(0.4583**2 + 0.1911**2 + 0.3001**2), abs=1e-3
    )
    assert found.jobs == 0


@pytest.mark.parametrize(
    "values", [(9.0, 0.5, 0), (0.0, 0.0, 0), (0.0, 3.5, 0), (float("nan"), 1.0, 0)]
)
def test_what_cannot_be_a_loading_is_refused(values: tuple[float, float, int]) -> None:
    with pytest.raises(SettingError):
        Loading(*values)


def test_jobs_are_counted_from_none() -> None:
    with pytest.raises(SettingError, match="jobs"):
        Loading(0.0, 0.5, -1)


def test_only_film_times_loading_counts() -> None:
    """Twice the loading at half the film a coat gives the same chances."""
    thick = shadecore.Settings(film=shadecore.CoatFilm(14.0))
    thin = shadecore.Settings(film=shadecore.CoatFilm(7.0))
    light, heavy = Loading(0.2, 0.4), Loading(0.2 + np.log(2.0), 0.4)
    one = pick(RED, SHELF, thick, loading=light)
    other = pick(RED, SHELF, thin, loading=heavy)
    for a, b in zip(one.outlooks, other.outlooks, strict=True):
        assert a.undercoat == b.undercoat
        assert a.count.chance == pytest.approx(b.count.chance, abs=1e-6)


def test_a_better_known_loading_narrows_the_count() -> None:
    def width(spread: float) -> int:
        answer = pick(RED, SHELF, loading=Loading(0.5, spread))
        return sum((o.count.high or 13) - (o.count.low or 13) for o in answer.outlooks)

    assert width(0.1) < width(0.5) < width(1.0)
