"""Families of pigments: complete, apart from each other, and found in paints."""

from __future__ import annotations

from itertools import chain

import numpy as np
import pytest

from .families import (
    FAMILIES,
    MEMBERS,
    Family,
    family_share,
    paints_containing,
)
from .paints import Paints, draw_paints, pigments


def mixed(*recipes: dict[str, float]) -> Paints:
    """Return paints of stated shares by Colour Index name."""
    known = pigments()
    amounts = np.array(
        [[recipe.get(name, 0.0) for name in known.names] for recipe in recipes]
    )
    return Paints(amounts, amounts @ known.absorption, amounts @ known.scattering)


def test_every_chromatic_pigment_is_in_just_one_family() -> None:
    known = pigments()
    chromatic = [known.names[index] for index in known.having("chromatic")]
    assert tuple(MEMBERS) == FAMILIES
    assert sorted(chain.from_iterable(MEMBERS.values())) == sorted(chromatic)


def test_the_maroon_is_nearest_to_the_family_it_is_in() -> None:
    known = pigments()
    shape = np.log(known.absorption / known.scattering)
    maroon = known.names.index("PR179")
    apart = np.abs(shape - shape[maroon]).mean(axis=1)
    nearest = [known.names[index] for index in apart.argsort()[1:3]]
    assert set(nearest) <= set(MEMBERS["magenta"])


def test_shares_leave_white_and_black_out() -> None:
    paints = mixed(
        {"PW6": 0.9, "PR254": 0.06, "PV19": 0.04},
        {"PW6": 0.5, "PBk7": 0.4, "PB15": 0.1},
        {"PW6": 0.7, "PBk9": 0.3},
        {"PO73": 0.5, "PR254": 0.25, "PY42": 0.25},
    )
    np.testing.assert_allclose(
        family_share(paints, "orange_red"), [0.6, 0.0, 0.0, 0.75]
    )
    np.testing.assert_allclose(
        family_share(paints, "phthalo_blue"), [0.0, 1.0, 0.0, 0.0]
    )
    np.testing.assert_allclose(
        family_share(paints, "iron_oxide"), [0.0, 0.0, 0.0, 0.25]
    )


@pytest.mark.parametrize(
    ("family", "share", "expected"),
    [
        ("orange_red", 0.5, [True, False]),
        ("orange_red", 0.7, [True, False]),  # on the limit is in
        ("orange_red", 0.71, [False, False]),
        ("magenta", 0.3, [True, False]),
        ("mineral_blue", 1.0, [False, True]),
        ("violet", 1e-6, [False, False]),
    ],
)
def test_paints_that_contain_a_family(
    family: Family,
    share: float,
    expected: list[bool],
) -> None:
    paints = mixed(
        {"PW6": 0.5, "PR254": 0.2, "PO20": 0.15, "PR122": 0.15},
        {"PBk7": 0.1, "PB28": 0.2, "PB29": 0.7},
    )
    assert paints_containing(paints, family, share).tolist() == expected


@pytest.mark.parametrize("share", [0.0, -0.1, 1.01, float("nan")])
def test_a_share_is_a_part_of_the_whole(share: float) -> None:
    with pytest.raises(ValueError, match="a share is above 0"):
        paints_containing(mixed({"PB15": 1.0}), "phthalo_blue", share)


def test_the_families_share_out_all_colour_and_all_occur() -> None:
    paints = draw_paints(300, np.random.default_rng(29))
    shares = np.stack([family_share(paints, family) for family in FAMILIES])
    np.testing.assert_allclose(shares.sum(axis=0), 1.0)
    mostly = np.stack([paints_containing(paints, family, 0.6) for family in FAMILIES])
    assert mostly.any(axis=1).all()
    assert mostly.sum(axis=0).max() == 1
