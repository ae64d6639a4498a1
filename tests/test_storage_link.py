"""Links: what was set comes back, and nonsense is passed over."""

from dataclasses import fields
from urllib.parse import parse_qsl, urlencode

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.question.link import CHOICES, RANGES, PickState, from_query, to_query

SOME = settings(deadline=None, derandomize=True, max_examples=100)
TEXT = st.text(st.characters(exclude_categories=["Cs"]))


def allowed(name: str, default: object) -> st.SearchStrategy[object]:
    """Values that a field may have, numbers as a hand types them."""
    if name in CHOICES:
        return st.sampled_from(CHOICES[name])
    if isinstance(default, bool):
        return st.booleans()
    if isinstance(default, str):
        return TEXT
    low, high = RANGES[name]
    if isinstance(default, int):
        return st.integers(int(low), int(high))
    return st.floats(low, high).map(lambda value: float(f"{value:.6g}"))


STATE = st.builds(
    PickState,
    **{field.name: allowed(field.name, field.default) for field in fields(PickState)},
)


@SOME
@given(STATE)
def test_a_state_comes_back(state: PickState) -> None:
    assert from_query(to_query(state)) == state


@SOME
@given(STATE)
def test_it_comes_back_through_an_address(state: PickState) -> None:
    address = urlencode(to_query(state))
    assert from_query(dict(parse_qsl(address, keep_blank_values=True))) == state


def test_only_what_differs_is_in_the_link() -> None:
    assert to_query(PickState()) == {}
    state = PickState(colour="#ffffff", film_um=12.5, from_gun=True, observer=2)
    assert to_query(state) == {
        "colour": "#ffffff",
        "film_um": "12.5",
        "from_gun": "True",
        "observer": "2",
    }


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("tolerance", "wide"),
        ("tolerance", ""),
        ("tolerance", "0"),
        ("tolerance", "-2"),
        ("tolerance", "20.001"),
        ("tolerance", "nan"),
        ("tolerance", "inf"),
        ("film_um", "0.4"),
        ("film_um", "1e400"),
        ("coat_cap", "0"),
        ("coat_cap", "51"),
        ("coat_cap", "3.5"),
        ("coat_cap", "nan"),
        ("observer", "5"),
        ("observer", "ten"),
        ("illuminant", "moon"),
        ("illuminant", ""),
        ("specular", "perhaps"),
        ("units", "furlong"),
        ("blends", "no"),
        ("blends", "1"),
        ("from_gun", "true"),
        ("strength", "-1"),
        ("hourly_rate", "1e9"),
        ("no_such_thing", "1"),
        ("__class__", "1"),
    ],
)
def test_nonsense_is_passed_over_and_the_rest_kept(name: str, value: str) -> None:
    assert from_query({name: value, "colour": "1 2 3"}) == PickState(colour="1 2 3")


@SOME
@given(st.dictionaries(st.sampled_from([f.name for f in fields(PickState)]), TEXT))
def test_whatever_a_link_says_the_state_can_be_used(query: dict[str, str]) -> None:
    state = from_query(query)
    for name, choices in CHOICES.items():
        assert getattr(state, name) in choices
    for name, (low, high) in RANGES.items():
        assert low <= getattr(state, name) <= high
    for field in fields(PickState):
        assert type(getattr(state, field.name)) is type(field.default)


def test_every_default_is_allowed() -> None:
    state = PickState()
    numbers = {
        field.name for field in fields(state) if type(field.default) in {int, float}
    }
    assert numbers <= set(RANGES) | set(CHOICES)
    for name, (low, high) in RANGES.items():
        assert low <= getattr(state, name) <= high


@pytest.mark.parametrize("name", sorted(RANGES))
def test_both_ends_of_a_range_come_back(name: str) -> None:
    for end in RANGES[name]:
        value = type(getattr(PickState(), name))(end)
        state = PickState(**{name: value})
        assert from_query(to_query(state)) == state
