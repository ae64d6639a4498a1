"""From likely paints to counts, and from counts to an order, worked out by hand."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import ndtr

import shadecore
from shadecore.coats.count import (
    Counts,
    closest_in_lightness,
    count_coats,
    join_counts,
    middle_film,
    rank,
    weighted_quantile,
)
from shadecore.undercoats.blends import blend
from shadecore.undercoats.shelf import Shelf

CAP = 12


def counts(
    coats: list[int],
    average: list[float] | None = None,
    ln_film: list[float] | None = None,
) -> Counts:
    """Counts of one colour, with what the order looks at."""
    middle = np.array([coats])
    mean = middle.astype(float) if average is None else np.array([average])
    return Counts(
        chance=np.zeros((1, len(coats), CAP)),
        coats=middle,
        low=middle,
        high=middle,
        average=mean,
        ln_film=np.zeros(middle.shape) if ln_film is None else np.array([ln_film]),
    )


def greys(*lightness: float) -> Shelf:
    return tuple(
        shadecore.undercoat(f"Grey {place}", (each, 0.0, 0.0))
        for place, each in enumerate(lightness)
    )


def order(these: Counts, lightness: float, shelf: Shelf) -> list[int]:
    return [int(i) for i in rank(these, np.array([lightness]), shelf)[0]]


FILMS_UM = 10.0 * np.arange(1, CAP + 1)
SURE = 1e-4
"""A loading as good as known: then a count is the film that hides, in whole coats."""


def of_films(films_um: list[float], weight: list[float]) -> Counts:
    """Counts of one colour over one undercoat, 10 um a coat."""
    ln_film = np.log(np.array(films_um, dtype=np.float64))[None, :, None]
    return count_coats(ln_film, np.array([weight]), SURE, FILMS_UM)


def test_counts_of_three_paints_by_hand() -> None:
    """Half hide at 15 um, three tenths at 25 um, and a fifth not in 120 um."""
    found = of_films([15.0, 25.0, 900.0], [0.5, 0.3, 0.2])
    assert found.cap == CAP
    np.testing.assert_allclose(found.chance[0, 0], [0.0, 0.5, *[0.8] * 10], atol=1e-6)
    assert (found.low[0, 0], found.coats[0, 0], found.high[0, 0]) == (2, 2, 13)
    # 0.5 x 2 + 0.3 x 3 + 0.2 x 13
    assert found.average[0, 0] == pytest.approx(4.5, abs=1e-5)
    expected = 0.5 * np.log(15.0) + 0.3 * np.log(25.0) + 0.2 * np.log(900.0)
    assert found.ln_film[0, 0] == pytest.approx(expected)
    # More than 2 coats in half, more than 3 in a fifth, more than none always.
    beyond = [float(found.beyond(n)[0, 0]) for n in (0, 2, 3, 40)]
    assert beyond == pytest.approx([1.0, 0.5, 0.2, 0.2], abs=1e-5)


def test_the_chance_is_the_normal_distribution_of_the_loading() -> None:
    """P(n coats hide) = sum of w Phi((ln(n x) - ln h) / s), by scipy."""
    films, weight, spread = [12.0, 47.0, 260.0], [0.2, 0.5, 0.3], 0.45
    ln_film = np.log(films)[None, :, None]
    found = count_coats(ln_film, np.array([weight]), spread, FILMS_UM)
    z = (np.log(FILMS_UM)[:, None] - np.log(films)) / spread
    np.testing.assert_allclose(found.chance[0, 0], ndtr(z) @ weight, atol=2e-6)


def test_the_middle_film_has_even_odds_and_falls_in_the_last_coat() -> None:
    rng = np.random.default_rng(3)
    ln_film = rng.normal(3.0, 0.8, (40, 5))
    weight = rng.dirichlet(np.ones(40))
    middle = middle_film(ln_film, weight, 0.3)
    odds = weight @ ndtr((middle - ln_film) / 0.3)
    np.testing.assert_allclose(odds, 0.5, atol=1e-5)
    found = count_coats(ln_film[None], weight[None], 0.3, FILMS_UM)
    expected = np.minimum(np.ceil(np.exp(middle) / 10.0), CAP + 1)
    assert found.coats[0].tolist() == expected.tolist()


@pytest.mark.parametrize(
    ("weight", "interval"),
    [
        ([0.01, 0.02, 0.94, 0.02, 0.01], (3, 3)),
        ([0.03, 0.05, 0.78, 0.09, 0.05], (2, 4)),
        ([0.04, 0.10, 0.81, 0.03, 0.02], (2, 3)),
        ([0.20, 0.20, 0.20, 0.20, 0.20], (1, 5)),
        # 0.89 is not enough, 0.91 is.
        ([0.02, 0.045, 0.89, 0.0, 0.045], (2, 3)),
        ([0.02, 0.025, 0.91, 0.0, 0.045], (3, 3)),
    ],
)
def test_the_interval_is_the_shortest_that_holds_enough(
    weight: list[float], interval: tuple[int, int]
) -> None:
    """Worked out by hand for a share of 0.90 over counts 1 to 5."""
    found = of_films([5.0, 15.0, 25.0, 35.0, 45.0], weight)
    assert (found.low[0, 0], found.high[0, 0]) == interval
    assert found.coats[0, 0] == 3


@given(
    st.lists(
        st.tuples(st.integers(1, CAP + 1), st.floats(0.01, 1.0)),
        min_size=1,
        max_size=30,
    )
)
@settings(derandomize=True, deadline=None)
def test_the_interval_holds_the_count_and_chance_only_rises(
    paints: list[tuple[int, float]],
) -> None:
    coats = np.array([each for each, _ in paints])
    weight = np.array([each for _, each in paints])
    weight /= weight.sum()
    found = of_films((10.0 * coats - 5.0).tolist(), weight.tolist())
    low, middle, high = found.low[0, 0], found.coats[0, 0], found.high[0, 0]
    assert coats.min() <= low <= middle <= high <= coats.max()
    assert np.all(np.diff(found.chance) >= 0.0)
    assert found.average[0, 0] == pytest.approx(float(weight @ coats), abs=1e-4)


def test_blocks_go_back_together_in_order() -> None:
    joined = join_counts([counts([1, 2]), counts([3, 4]), counts([5, 6])])
    assert joined.coats.tolist() == [[1, 2], [3, 4], [5, 6]]
    assert joined.chance.shape == (3, 2, CAP)
    assert joined.cap == CAP


def test_fewest_coats_come_first() -> None:
    shelf = greys(90.0, 50.0, 30.0)
    assert order(counts([3, 1, 2]), 90.0, shelf) == [1, 2, 0]


def test_of_equal_coats_the_lower_average() -> None:
    shelf = greys(90.0, 50.0, 30.0)
    assert order(counts([2, 2, 2], [2.4, 2.0, 2.2]), 90.0, shelf) == [1, 2, 0]


def test_averages_decide_however_close() -> None:
    shelf = greys(90.0, 50.0, 30.0)
    assert order(counts([2, 2, 2], [2.02, 2.01, 2.0]), 52.0, shelf) == [2, 1, 0]


def test_of_equal_averages_the_closer_lightness() -> None:
    shelf = greys(90.0, 50.0, 30.0)
    assert order(counts([2, 2, 2]), 52.0, shelf) == [1, 2, 0]


def test_of_equal_lightness_the_cheaper_and_a_price_before_none() -> None:
    shelf = tuple(
        shadecore.undercoat(name, (50.0, 0.0, 0.0), price=price)
        for name, price in (("unknown", None), ("dear", 40.0), ("cheap", 20.0))
    )
    assert order(counts([2, 2, 2]), 60.0, shelf) == [2, 1, 0]
    # The same answer from either side of the colour.
    shelf = tuple(
        shadecore.undercoat(f"{name} {level:g}", (level, 0.0, 0.0), price=price)
        for name, level, price in (("dear", 55.0, 40.0), ("cheap", 45.0, 20.0))
    )
    assert order(counts([2, 2]), 50.0, shelf) == [1, 0]


def test_each_tie_break_yields_to_the_one_before() -> None:
    shelf = tuple(
        shadecore.undercoat(str(level), (level, 0.0, 0.0), price=price)
        for level, price in ((30.0, 1.0), (50.0, 9.0))
    )
    # Cheaper against closer, closer against surer, surer against fewer coats.
    assert order(counts([2, 2]), 50.0, shelf) == [1, 0]
    assert order(counts([2, 2], [1.5, 2.0]), 50.0, shelf) == [0, 1]
    assert order(counts([3, 2], [2.6, 2.9]), 30.0, shelf) == [1, 0]


def test_where_nothing_hides_the_thinner_film_comes_first() -> None:
    shelf = greys(90.0, 50.0, 30.0)
    hopeless = counts([13, 13, 13], [13.0, 13.0, 13.0], [6.0, 5.5, 7.0])
    assert order(hopeless, 90.0, shelf) == [1, 0, 2]


@given(
    st.lists(st.integers(1, CAP + 1), min_size=4, max_size=4),
    st.lists(st.floats(0.0, 9.0), min_size=4, max_size=4),
    st.floats(0.0, 100.0),
)
@settings(derandomize=True, deadline=None, max_examples=50)
def test_the_order_names_each_undercoat_once_wherever_it_stands(
    coats: list[int], left: list[float], lightness: float
) -> None:
    shelf = greys(90.0, 70.5, 50.0, 21.5)
    first = order(counts(coats, ln_film=left), lightness, shelf)
    assert sorted(first) == [0, 1, 2, 3]
    gaps = [round(abs(lightness - each.lightness), 1) for each in shelf]
    distinct = len(set(gaps)) == len(gaps)
    for turned in itertools.islice(itertools.permutations(range(4)), 1, None, 7):
        moved = order(
            counts([coats[i] for i in turned], ln_film=[left[i] for i in turned]),
            lightness,
            tuple(shelf[i] for i in turned),
        )
        assert [coats[turned[i]] for i in moved] == sorted(coats)
        if distinct:
            assert [turned[i] for i in moved] == first


def test_the_closest_in_lightness_is_never_a_blend() -> None:
    white, dark = greys(90.0, 40.0)
    mixed = blend(white, dark, (1, 1))
    lightness = np.array([mixed.lightness, 89.0, 10.0])
    nearer = 0 if 90.0 - mixed.lightness < mixed.lightness - 40.0 else 1
    # Counted on the whole list, wherever the blend stands in it.
    assert closest_in_lightness(lightness, (white, dark, mixed)).tolist() == [
        nearer,
        0,
        1,
    ]
    assert closest_in_lightness(lightness, (mixed, white, dark)).tolist() == [
        nearer + 1,
        1,
        2,
    ]


def test_of_two_as_close_the_cheaper_is_named() -> None:
    shelf = (
        shadecore.undercoat("Dear", (60.0, 0.0, 0.0), price=30.0),
        shadecore.undercoat("Cheap", (40.0, 0.0, 0.0), price=20.0),
    )
    assert closest_in_lightness(np.array([50.0]), shelf).tolist() == [1]


@given(
    st.lists(st.floats(-50.0, 50.0), min_size=1, max_size=40),
    st.sampled_from([0.0, 0.05, 0.25, 0.5, 0.75, 0.95, 1.0]),
)
@settings(derandomize=True, deadline=None)
def test_equal_weights_give_the_quantile_of_numpy(
    values: list[float], share: float
) -> None:
    """The quantile that is always one of the values, ``inverted_cdf`` in numpy."""
    given_values = np.array(values)
    weight = np.full(len(values), 1.0 / len(values))
    ours = float(weighted_quantile(given_values, weight, share))
    assert ours == np.quantile(given_values, share, method="inverted_cdf")


def test_a_weight_counts_as_so_many_copies() -> None:
    rng = np.random.default_rng(4)
    values, copies = rng.normal(size=(3, 9)), rng.integers(1, 7, size=(3, 9))
    weight = copies / copies.sum(axis=1, keepdims=True)
    for share in (0.05, 0.5, 0.95):
        expected = [
            np.quantile(np.repeat(v, n), share, method="inverted_cdf")
            for v, n in zip(values, copies, strict=True)
        ]
        assert weighted_quantile(values, weight, share).tolist() == expected


def test_one_row_of_weights_serves_many_rows_of_values() -> None:
    values = np.array([[1.0, 2.0, 3.0], [30.0, 20.0, 10.0]])
    weight = np.array([0.1, 0.1, 0.8])
    assert weighted_quantile(values, weight, 0.5).tolist() == [3.0, 10.0]
