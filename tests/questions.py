"""Questions of every kind, for tests that draw them."""

from functools import cache

import numpy as np
from hypothesis import strategies as st

from shadecore.card.reading import Card, Step
from shadecore.coats.cost import Rates
from shadecore.coats.loading import LEARNED_OF, Loading
from shadecore.coats.seen import Seen
from shadecore.colour.condition import ILLUMINANTS, OBSERVERS, SPECULAR, Condition
from shadecore.question.plain import RANGES
from shadecore.question.question import (
    FilmAsked,
    Mixing,
    PhotoDoubt,
    Question,
    photo_doubt,
)
from shadecore.undercoats.shelf import (
    FINISHES,
    Undercoat,
    undercoat,
    undercoat_from_reflectance,
)
from shadecore.undercoats.shelf_table import demo_shelf

TEXT = st.text(st.characters(exclude_categories=["Cs"]))
NAME = st.text(
    st.characters(exclude_categories=["Cs", "Cc", "Zl", "Zp"]), min_size=1, max_size=20
).map(lambda name: " ".join(name.split()))


def number(name: str) -> st.SearchStrategy[float]:
    low, high = RANGES[name]
    return st.floats(low, high)


@cache
def coloured() -> tuple[Undercoat, ...]:
    """Undercoats known by a colour alone: their spectrum takes long to work out."""
    labs = ((60.0, 20.0, 30.0), (40.0, -15.0, 5.0))
    return tuple(undercoat(f"c{i}", lab) for i, lab in enumerate(labs))


def _named(name: str, kind: int, values: list[float], price: float | None) -> Undercoat:
    unit = "" if price is None else "L"
    if kind == 0:
        return undercoat(name, (100.0 * values[0], 0.0, 0.0), price=price, unit=unit)
    if kind == 1:
        spectrum = np.interp(np.arange(31), np.linspace(0, 30, len(values)), values)
        return undercoat_from_reflectance(name, spectrum, price=price, unit=unit)
    source = coloured()[int(values[0] > 0.5)]
    finish = FINISHES[int(3 * values[1]) % 3]
    return Undercoat(name, source.lab, source.reflectance, price, unit, (), finish)


SHELF = st.one_of(
    st.just(demo_shelf()),
    st.lists(
        st.builds(
            _named,
            NAME.filter(bool),
            st.integers(0, 2),
            st.lists(st.floats(0.02, 0.95), min_size=4, max_size=4),
            st.none() | st.floats(0.0, 1e4),
        ),
        min_size=1,
        max_size=4,
        unique_by=lambda each: each.name,
    ).map(tuple),
)


def _photo(root: list[float]) -> PhotoDoubt:
    lower = np.zeros((3, 3))
    lower[np.tril_indices(3)] = root
    return photo_doubt(lower @ lower.T + 0.01 * np.eye(3))


PHOTO = st.none() | st.lists(st.floats(-20.0, 20.0), min_size=6, max_size=6).map(_photo)


def _card(
    lightness: list[float], full: float | None, bare: tuple[float, float]
) -> Card:
    low, high = sorted(lightness)
    step = Step(2, (low, 1.25, -0.5), (high, 2.0, 0.1))
    return Card((step,), *bare, None if full is None else (full, 0.0, 3.0))


CARD = st.none() | st.builds(
    _card,
    st.lists(st.floats(30.0, 70.0), min_size=2, max_size=2),
    st.none() | st.floats(20.0, 90.0),
    st.tuples(st.floats(0.0, 0.02), st.floats(0.75, 1.0)),
)
SEEN = st.builds(
    Seen,
    source=st.sampled_from(["data-sheet", "job", "check"]),
    coats_low=st.just(1),
    coats_high=st.integers(1, 12),
    hid=st.booleans(),
    undercoat=st.none() | SHELF.map(lambda shelf: shelf[0]),
    film_um=st.none() | number("film_um"),
    tolerance=st.none() | number("tolerance"),
    looked=st.booleans(),
)
FILM = st.builds(
    FilmAsked,
    dry_film_um=number("film_um"),
    from_gun=st.booleans(),
    paint_parts=number("paint_parts"),
    reducer_parts=number("reducer_parts"),
    solids_percent=number("solids_percent"),
    wet_um=number("wet_um"),
    overlap_percent=number("overlap_percent"),
    transfer_percent=number("transfer_percent"),
)
QUESTION = st.builds(
    Question,
    colour=TEXT,
    condition=st.builds(
        Condition,
        st.sampled_from(ILLUMINANTS),
        st.sampled_from(OBSERVERS),
        st.sampled_from(SPECULAR),
    ),
    photo=PHOTO,
    tolerance=number("tolerance"),
    film=FILM,
    coat_cap=st.integers(*map(int, RANGES["coat_cap"])),
    film_limit_um=number("film_limit_um"),
    shelf=SHELF,
    mixing=st.builds(Mixing, st.booleans(), number("strength")),
    card=CARD,
    seen=st.lists(SEEN, max_size=3).map(tuple),
    loading=st.builds(
        Loading,
        st.floats(-5.0, 5.0),
        st.floats(0.001, 3.0),
        st.integers(0, 1000),
        st.sampled_from(LEARNED_OF),
    ),
    usual_coats=st.integers(1, 12),
    areas=st.lists(NAME.filter(bool), max_size=3).map(tuple),
    rates=st.builds(Rates, **{name: number(name) for name in Rates.__annotations__}),
    units=st.sampled_from(["metric", "us"]),
)
