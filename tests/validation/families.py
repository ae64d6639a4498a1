"""Families of the simulated pigments, for figures with one family left out."""

from __future__ import annotations

from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from .paints import Paints, pigments

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

Family = Literal[
    "yellow",
    "orange_red",
    "iron_oxide",
    "magenta",
    "violet",
    "mineral_blue",
    "phthalo_blue",
    "phthalo_green",
]

FAMILIES: tuple[Family, ...] = get_args(Family)
"""All families, in the order of their hues from yellow."""

MEMBERS: dict[Family, tuple[str, ...]] = {
    "yellow": ("PY74", "PY83", "PY110", "PY184"),
    "orange_red": ("PO36", "PO20", "PO73", "PR108", "PR254"),
    "iron_oxide": ("PY42", "PR101"),
    # A perylene is no quinacridone, but the curve of the maroon, with its weak violet
    # and its slow fall into the red, is nearer to theirs than to any red's.
    "magenta": ("PR179", "PV19", "PR122"),
    "violet": ("PV23",),
    "mineral_blue": ("PB28", "PB29"),
    "phthalo_blue": ("PB15",),
    "phthalo_green": ("PG7", "PG36"),
}
"""Colour Index names of the chromatic pigments of each family."""

ROUNDING = 1e-9
"""Shortfall that still counts as the share asked for, which sums may round off."""


def family_share(paints: Paints, family: Family) -> FloatArray:
    """Return how much of the chromatic pigment of paints is from a family.

    Parameters
    ----------
    paints : Paints
        Simulated paints.
    family : Family
        One of `FAMILIES`.

    Returns
    -------
    FloatArray
        Share of the dry chromatic pigment, 0 to 1, shape (paints,); 0 for paints of
        white and black alone. White and black do not count, so a barely tinted white
        may be all of one family.
    """
    known = pigments()
    members = np.isin(known.names, MEMBERS[family])
    chromatic = paints.amounts[:, known.having("chromatic")].sum(axis=1)
    part = paints.amounts[:, members].sum(axis=1)
    share = np.divide(part, chromatic, out=np.zeros_like(part), where=chromatic > 0.0)
    return np.asarray(share)


def paints_containing(paints: Paints, family: Family, share: float) -> BoolArray:
    """Return which paints owe at least a share of their colour to a family.

    Parameters
    ----------
    paints : Paints
        Simulated paints.
    family : Family
        One of `FAMILIES`.
    share : float
        Least share of the dry chromatic pigment, above 0 and up to 1.

    Returns
    -------
    BoolArray
        Shape (paints,).

    Raises
    ------
    ValueError
        If `share` is not above 0 or exceeds 1.
    """
    if not 0.0 < share <= 1.0:
        message = f"a share is above 0 and up to 1, not {share:g}"
        raise ValueError(message)
    return np.asarray(family_share(paints, family) >= share - ROUNDING)
