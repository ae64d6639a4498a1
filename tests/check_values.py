"""What tests check against: tables in ``tests/data`` and the CIE's standard data.

One reference to a file; each file's heading names it.
"""

import csv
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from shadecore.colour.colour_science import colour_science

_FOLDER = Path(__file__).parent / "data"


def rows(name: str) -> list[dict[str, str]]:
    """Rows of a table as text, by the names in its heading."""
    text = (_FOLDER / name).read_text("utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


def numbers(name: str) -> NDArray[np.float64]:
    """Table of numbers, one row to a line."""
    return np.array([[float(cell) for cell in row.values()] for row in rows(name)])


def standard(illuminant: str, observer: int, step_nm: int = 1) -> tuple[Any, Any]:
    """Illuminant and observer of CIE 15 from colour-science, up to 780 nm.

    Most illuminants are tabulated every 5 nm, F11 from 380 nm.
    """
    colour = colour_science()
    shape = colour.SpectralShape(360 if step_nm == 1 else 380, 780, step_nm)
    lamp = colour.SDS_ILLUMINANTS["FL11" if illuminant == "F11" else illuminant]
    eye = colour.MSDS_CMFS[OBSERVER_NAMES[observer]]
    return lamp.copy().align(shape), eye.copy().align(shape)


def weights_of(illuminant: str, observer: int) -> NDArray[np.float64]:
    """Weights by ASTM E2022 at 400 to 700 nm by 10 nm, the tails folded in."""
    lamp, eye = standard(illuminant, observer)
    colour = colour_science()
    weights = colour.colorimetry.tristimulus_weighting_factors_ASTME2022(
        eye, lamp, colour.SpectralShape(360, 780, 10)
    )
    wavelength = np.arange(360, 781, 10)
    within = weights[(wavelength >= 400) & (wavelength <= 700)].copy()
    within[0] += weights[wavelength < 400].sum(axis=0)
    within[-1] += weights[wavelength > 700].sum(axis=0)
    return np.asarray(within)


OBSERVER_NAMES = {
    2: "CIE 1931 2 Degree Standard Observer",
    10: "CIE 1964 10 Degree Standard Observer",
}
