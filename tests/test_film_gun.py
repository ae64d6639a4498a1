"""Wet film from the gun and one mix against another, by hand."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import SettingError
from shadecore.film.build import coat_film
from shadecore.film.gun import RUN_LIMIT_UM, mix_film, wet_pass_from_gun

UM_PER_MIL = 25.4
SOME = settings(deadline=None, derandomize=True, max_examples=100)
POSITIVE = st.floats(1.0, 500.0)
EFFICIENCY = st.floats(0.1, 1.0)


def test_a_pass_by_hand() -> None:
    """180 ml/min is 3 ml/s; 20 cm at 50 cm/s is 0.1 m2/s; so 30 ml/m2.

    Half of it stays: 15 um, since a micrometre on a square metre is a millilitre.
    """
    assert wet_pass_from_gun(180.0, 20.0, 50.0, 0.5) == pytest.approx(15.0)


@SOME
@given(POSITIVE, POSITIVE, POSITIVE, EFFICIENCY)
def test_paint_is_neither_made_nor_lost(
    fluid: float, fan: float, speed: float, efficiency: float
) -> None:
    """In a minute the gun passes over an area whose film holds what stayed on it."""
    wet_um = wet_pass_from_gun(fluid, fan, speed, efficiency)
    area_m2 = fan / 100.0 * speed / 100.0 * 60.0
    assert wet_um * area_m2 == pytest.approx(fluid * efficiency)


def test_twice_as_fast_or_as_wide_leaves_half() -> None:
    usual = wet_pass_from_gun(200.0, 25.0, 40.0, 0.65)
    assert wet_pass_from_gun(200.0, 25.0, 80.0, 0.65) == pytest.approx(usual / 2.0)
    assert wet_pass_from_gun(200.0, 50.0, 40.0, 0.65) == pytest.approx(usual / 2.0)
    assert wet_pass_from_gun(400.0, 25.0, 40.0, 0.65) == pytest.approx(2.0 * usual)


def test_a_coat_of_overlapping_passes() -> None:
    """At 70 percent overlap each stroke moves on by 30: 1 / (1 - 0.7) passes.

    12 um wet a pass make 40 um wet, at 50 percent solids halved by 1:1 10 um dry.
    """
    mix = mix_film((1.0, 1.0), 12.0, 0.7, 0.5, 0.65)
    assert mix.wet_um == pytest.approx(12.0 / (1.0 - 0.7))
    assert mix.wet_um == pytest.approx(40.0)
    assert mix.film.dry_film_um == pytest.approx(10.0)
    assert mix.film.volume_solids == pytest.approx(0.25)
    assert (mix.paint, mix.reducer) == (1.0, 1.0)
    # 40 ml stay of what is sprayed on each square metre.
    assert mix.film.sprayed_ml_per_m2(1) == pytest.approx(40.0 / 0.65)


def test_the_comb_gauge() -> None:
    """WFT = DFT / VS: 1.5 mil dry at 42 percent is 3.57 mil wet (a trade column).

    One pass without overlap or reducer, so that the gauge reads the pass.
    """
    wet_um = 3.57 * UM_PER_MIL
    mix = mix_film((1.0, 0.0), wet_um, 0.0, 0.42, 1.0)
    assert mix.film.dry_film_um / UM_PER_MIL == pytest.approx(1.5, abs=0.005)
    assert mix.film.dry_film_um / mix.film.volume_solids == pytest.approx(mix.wet_um)


def test_two_to_one_leaves_more_dry_and_as_much_wet_film() -> None:
    """Of one litre 2/3 against 1/2 are paint: 4/3 of the dry film (algebra)."""
    one, two = (mix_film((paint, 1.0), 20.0, 0.5, 0.26, 0.65) for paint in (1.0, 2.0))
    assert two.wet_um == pytest.approx(one.wet_um)
    assert two.film.dry_film_um == pytest.approx(4.0 / 3.0 * one.film.dry_film_um)


@SOME
@given(
    st.floats(0.5, 9.0),
    st.floats(15.0, 45.0),
    st.floats(0.0, 0.75),
    st.floats(0.15, 0.6),
    st.floats(0.3, 1.0),
)
def test_a_mix_agrees_with_the_film_of_its_coat(
    paint: float, wet_um: float, overlap: float, solids: float, efficiency: float
) -> None:
    mix = mix_film((paint, 1.0), wet_um, overlap, solids, efficiency)
    assert mix.film == coat_film(wet_um, overlap, solids, (paint, 1.0), efficiency)
    assert mix.film.dry_film_um == pytest.approx(mix.wet_um * mix.film.volume_solids)


def test_a_coat_runs_from_the_limit_on() -> None:
    """The rule of thumb at 1:1 is the limit itself."""
    at, below = (
        mix_film((1.0, 1.0), wet, 0.5, 0.26, 0.65)
        for wet in (RUN_LIMIT_UM / 2.0, 0.99 * RUN_LIMIT_UM / 2.0)
    )
    assert at.run_share == pytest.approx(1.0)
    assert at.may_run
    assert below.run_share == pytest.approx(0.99)
    assert not below.may_run


def test_less_reducer_hangs_on_longer() -> None:
    """At 2:1 the solids are 4/3 of those at 1:1, the limit their cube root higher."""
    wet = 0.525 * RUN_LIMIT_UM
    one, two = (mix_film((paint, 1.0), wet, 0.5, 0.26, 0.65) for paint in (1.0, 2.0))
    assert one.may_run
    assert not two.may_run
    assert two.run_share == pytest.approx(one.run_share / (4.0 / 3.0) ** (1.0 / 3.0))


@pytest.mark.parametrize("wrong", [0.0, -1.0, float("nan"), float("inf")])
@pytest.mark.parametrize(
    ("place", "said"), [(0, "fluid delivery"), (1, "fan width"), (2, "gun speed")]
)
def test_guns_out_of_range(place: int, said: str, wrong: float) -> None:
    gun = [200.0, 25.0, 40.0]
    gun[place] = wrong
    with pytest.raises(SettingError, match=said) as caught:
        wet_pass_from_gun(*gun, 0.65)
    assert str(caught.value).endswith(".")


@pytest.mark.parametrize("efficiency", [0.0, -0.1, 1.01, 65.0, float("nan")])
def test_transfer_efficiencies_out_of_range(efficiency: float) -> None:
    with pytest.raises(SettingError, match="transfer efficiency"):
        wet_pass_from_gun(200.0, 25.0, 40.0, efficiency)


@pytest.mark.parametrize(
    ("settings_", "said"),
    [
        (((0.0, 1.0), 20.0, 0.5, 0.26, 0.65), "paint:reducer"),
        (((1.0, -1.0), 20.0, 0.5, 0.26, 0.65), "paint:reducer"),
        (((1.0, 1.0), 20.0, 1.0, 0.26, 0.65), "overlap"),
        (((1.0, 1.0), 20.0, 0.5, 1.26, 0.65), "volume solids"),
        (((1.0, 1.0), 20.0, 0.5, 0.26, 0.0), "transfer efficiency"),
        (((1.0, 1.0), 0.0, 0.5, 0.26, 0.65), "dry film"),
        (((1.0, 1.0), float("nan"), 0.5, 0.26, 0.65), "dry film"),
    ],
)
def test_mixes_out_of_range(
    settings_: tuple[tuple[float, float], float, float, float, float], said: str
) -> None:
    with pytest.raises(SettingError, match=said):
        mix_film(*settings_)
