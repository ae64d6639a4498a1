"""How thick a coat dries: worked examples, identities and limits."""

import pytest
from check_values import rows
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import SettingError
from shadecore.film.build import (
    CoatFilm,
    coat_film,
    passes_per_coat,
    reduced_volume_solids,
)

UM_PER_MIL = 25.4
ML_PER_US_GALLON = 231 * 2.54**3
"""231 cubic inches."""
M2_PER_FT2 = 0.3048**2


@pytest.mark.parametrize("row", rows("coverage.csv"))
def test_spreading_rates(row: dict[str, str]) -> None:
    """Printed examples of spreading rate; sources in the table."""
    film = CoatFilm(
        float(row["dry_film_mil"]) * UM_PER_MIL,
        float(row["volume_solids"]),
        float(row["transfer_efficiency"]),
    )
    area_m2 = ML_PER_US_GALLON / film.sprayed_ml_per_m2(1)
    expected = float(row["ft2_per_us_gallon"])
    assert area_m2 / M2_PER_FT2 == pytest.approx(expected, rel=3e-4)


def test_spreading_rate_in_metric_units() -> None:
    """65 percent solids at 125 um: 5.2 m2 a litre (a text on spreading rates)."""
    film = CoatFilm(125.0, 0.65, 1.0)
    assert 1000.0 / film.sprayed_ml_per_m2(1) == pytest.approx(5.2)


def test_a_micrometre_on_a_square_metre_is_a_millilitre() -> None:
    assert CoatFilm(1.0, 1.0, 1.0).sprayed_ml_per_m2(1) == pytest.approx(1.0)


def test_wet_film_of_a_dry_film() -> None:
    """1.5 mil at 42 percent solids is 3.57 mil wet (a trade column's example)."""
    film = CoatFilm(1.5 * UM_PER_MIL, 0.42, 1.0)
    assert film.sprayed_ml_per_m2(1) / UM_PER_MIL == pytest.approx(3.57, abs=0.005)


@pytest.mark.parametrize(
    ("overlap", "passes"), [(0.0, 1.0), (0.5, 2.0), (0.7, 3.333), (0.75, 4.0)]
)
def test_overlap(overlap: float, passes: float) -> None:
    """At 70 percent each stroke moves on by 30 percent: 1 / 0.3 passes."""
    assert passes_per_coat(overlap) == pytest.approx(passes, abs=5e-4)


@pytest.mark.parametrize(
    ("paint", "reducer", "expected"),
    [(1, 1, 0.25), (2, 1, 1 / 3), (4, 1, 0.4), (1, 0, 0.5), (10, 10, 0.25)],
)
def test_reducing(paint: float, reducer: float, expected: float) -> None:
    """Solids times paint over all of it (algebra), from 50 percent."""
    assert reduced_volume_solids(0.5, paint, reducer) == pytest.approx(expected)


def test_a_film_worked_out_from_the_gun() -> None:
    """20 um wet, two passes, 30 percent solids halved: 20 * 2 * 0.15 = 6 um."""
    film = coat_film(20.0, 0.5, 0.30, (1, 1), 0.5)
    assert film.dry_film_um == pytest.approx(6.0)
    assert film.volume_solids == pytest.approx(0.15)
    # 40 um of wet film stay of the 80 ml sprayed on each square metre.
    assert film.sprayed_ml_per_m2(1) == pytest.approx(80.0)


def test_less_reducer_leaves_more_film_and_takes_as_much_paint() -> None:
    one, two = coat_film(paint_to_reducer=(1, 1)), coat_film(paint_to_reducer=(2, 1))
    # Solids of 2/3 over those of 1/2.
    assert two.dry_film_um / one.dry_film_um == pytest.approx(4.0 / 3.0)
    assert two.sprayed_ml_per_m2(1) == pytest.approx(one.sprayed_ml_per_m2(1))


@settings(deadline=None, derandomize=True, max_examples=100)
@given(
    st.floats(10.0, 40.0),
    st.floats(0.0, 0.75),
    st.floats(0.2, 1.0),
    st.floats(0.5, 4.0),
    st.floats(0.3, 1.0),
)
def test_solids_are_neither_made_nor_lost(
    wet_um: float, overlap: float, solids: float, paint: float, efficiency: float
) -> None:
    film = coat_film(wet_um, overlap, solids, (paint, 1.0), efficiency)
    on_part_ml = film.sprayed_ml_per_m2(3) * efficiency
    dry_ml = on_part_ml * solids * paint / (paint + 1.0)
    assert dry_ml == pytest.approx(3 * film.dry_film_um)
    assert on_part_ml == pytest.approx(3 * wet_um / (1.0 - overlap))


def test_paint_grows_with_coats() -> None:
    film = CoatFilm()
    assert film.sprayed_ml_per_m2(0) == 0.0
    assert film.sprayed_ml_per_m2(4) == pytest.approx(4 * film.sprayed_ml_per_m2(1))


def test_the_default_coat_is_a_usual_one() -> None:
    """8 to 15 um of base coat (common practice, from memory)."""
    assert 8.0 <= CoatFilm().dry_film_um <= 15.0
    assert 8.0 <= coat_film().dry_film_um <= 15.0
    # Both are the usual paint reduced 1:1.
    assert CoatFilm().volume_solids == pytest.approx(coat_film().volume_solids)


@pytest.mark.parametrize(
    ("settings_", "said"),
    [
        ({"dry_film_um": 0.0}, "dry film"),
        ({"dry_film_um": 500.0}, "dry film"),
        ({"dry_film_um": float("nan")}, "dry film"),
        ({"volume_solids": 0.0}, "volume solids"),
        ({"volume_solids": 1.01}, "volume solids"),
        ({"volume_solids": float("nan")}, "volume solids"),
        ({"transfer_efficiency": 0.0}, "transfer efficiency"),
        ({"transfer_efficiency": 65.0}, "transfer efficiency"),
    ],
)
def test_films_out_of_range(settings_: dict[str, float], said: str) -> None:
    with pytest.raises(SettingError, match=said) as caught:
        CoatFilm(**settings_)
    assert str(caught.value).endswith(".")


@pytest.mark.parametrize("overlap", [-0.1, 1.0, 50.0, float("nan")])
def test_overlaps_out_of_range(overlap: float) -> None:
    with pytest.raises(SettingError, match="overlap"):
        passes_per_coat(overlap)


@pytest.mark.parametrize(
    ("paint", "reducer"),
    [(0, 1), (-1, 1), (1, -1), (float("nan"), 1), (1, float("nan"))],
)
def test_mixes_out_of_range(paint: float, reducer: float) -> None:
    with pytest.raises(SettingError, match="paint:reducer"):
        reduced_volume_solids(0.4, paint, reducer)


@pytest.mark.parametrize("wet_um", [0.0, -5.0, float("nan"), float("inf")])
def test_wet_films_out_of_range(wet_um: float) -> None:
    with pytest.raises(SettingError, match="wet film"):
        coat_film(wet_um)


def test_a_film_of_the_gun_is_checked_as_well() -> None:
    with pytest.raises(SettingError, match="dry film"):
        coat_film(wet_pass_um=2000.0)
