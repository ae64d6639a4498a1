"""From reflectance to CIELAB: weights, white points and the formula's two branches."""

import numpy as np
import pytest
from check_values import OBSERVER_NAMES, numbers, rows, standard, weights_of
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.colour.appearance import (
    WAVELENGTHS_NM,
    colour_difference,
    lab_from_reflectance,
    neutral_reflectance,
    tristimulus_weights,
)
from shadecore.colour.colour_science import colour_science
from shadecore.colour.condition import (
    ILLUMINANTS,
    OBSERVERS,
    WHITE_POINTS,
    WORKING,
    Condition,
)
from shadecore.colour.convert import lab_from_xyz
from shadecore.errors import SettingError


def test_weights_are_those_of_astm_e2022() -> None:
    """The method of ASTM E2022 on CIE 15 data, both as in colour-science."""
    np.testing.assert_allclose(tristimulus_weights(), weights_of("D65", 10), atol=1e-6)


def test_weights_sum_to_the_working_white() -> None:
    """D65/10 degrees: 94.811, 100, 107.304 in a textbook's printed table."""
    np.testing.assert_allclose(
        tristimulus_weights().sum(axis=0), [94.811, 100.0, 107.304], atol=0.01
    )


@pytest.mark.parametrize("illuminant", ILLUMINANTS)
@pytest.mark.parametrize("observer", OBSERVERS)
def test_white_points_are_sums_over_wavelength(illuminant: str, observer: int) -> None:
    lamp, eye = standard(illuminant, observer, 1 if illuminant == "D65" else 5)
    sums = lamp.values @ eye.values
    np.testing.assert_allclose(
        WHITE_POINTS[illuminant, observer], 100.0 * sums / sums[1], atol=6e-4
    )


@pytest.mark.parametrize(
    "row",
    rows("cie-white-points.csv"),
    ids=lambda row: f"{row['illuminant']}/{row['observer']}",
)
def test_white_points_are_near_printed_tables(row: dict[str, str]) -> None:
    """Sources in the table; they differ among each other by up to 0.02."""
    x, y, z = WHITE_POINTS[row["illuminant"], int(row["observer"])]
    assert x == pytest.approx(float(row["X"]), abs=0.015)
    assert y == 100.0
    assert z == pytest.approx(float(row["Z"]), abs=0.015)


@pytest.mark.parametrize("illuminant", ILLUMINANTS)
@pytest.mark.parametrize("observer", OBSERVERS)
def test_white_points_have_the_published_chromaticity(
    illuminant: str, observer: int
) -> None:
    """CIE 15 chromaticities as colour-science carries them."""
    name = "FL11" if illuminant == "F11" else illuminant
    published = colour_science().CCS_ILLUMINANTS[OBSERVER_NAMES[observer]][name]
    white = np.array(WHITE_POINTS[illuminant, observer])
    np.testing.assert_allclose(white[:2] / white.sum(), published, atol=1.5e-4)


@pytest.mark.parametrize("row", numbers("xyz-lab-luo-2001.csv"))
def test_printed_tristimulus_values(row: np.ndarray) -> None:
    """Luo, Cui, Rigg (2001) as a textbook prints them, against Sharma et al. (2005).

    The dark pair lies on the straight part of ISO/CIE 11664-4.
    """
    np.testing.assert_allclose(lab_from_xyz(row[:3]), row[3:6], atol=1.5e-3)


def test_printed_tristimulus_values_give_the_printed_differences() -> None:
    """The whole chain from XYZ to CIEDE2000, four printed decimals."""
    table = numbers("xyz-lab-luo-2001.csv")
    lab = lab_from_xyz(table[:, :3])
    np.testing.assert_allclose(
        colour_difference(lab[::2], lab[1::2]), table[::2, 6], atol=1e-4
    )


# colour-science says which wavelengths it extends or cuts on the way.
@pytest.mark.filterwarnings("ignore:Trimming", "ignore:.*could not be honoured")
def test_agrees_with_colour_science() -> None:
    """ASTM E308 on random smooth spectra, which extends them as constants."""
    colour = colour_science()
    rng = np.random.default_rng(30)
    angle = np.linspace(0.0, np.pi, WAVELENGTHS_NM.size)
    wave = np.cos(angle * np.arange(8)[:, None])
    spectra = 1.0 / (1.0 + np.exp(-rng.normal(0.0, 1.2, (40, 8)) @ wave))
    white = colour.XYZ_to_xy(WORKING.white / 100.0)
    lamp, eye = standard("D65", 10)
    expected = [
        colour.XYZ_to_Lab(
            colour.sd_to_XYZ(
                colour.SpectralDistribution(spectrum, WAVELENGTHS_NM),
                eye,
                lamp,
                method="ASTM E308",
            )
            / 100.0,
            white,
        )
        for spectrum in spectra
    ]
    np.testing.assert_allclose(lab_from_reflectance(spectra), expected, atol=1e-3)


@pytest.mark.parametrize("row", rows("chart-patches-d65-10deg.csv"))
def test_measured_chart_patches(row: dict[str, str]) -> None:
    """Measured spectra carried by colour-science; Lab computed independently."""
    colour = colour_science()
    spectrum = colour.SDS_COLOURCHECKERS["BabelColor Average"][row["patch"]]
    wanted = colour.SpectralShape(400, 700, 10)
    lab = lab_from_reflectance(spectrum.copy().align(wanted).values)
    expected = [float(row[axis]) for axis in "Lab"]
    np.testing.assert_allclose(lab, expected, atol=0.05)


def test_flat_greys_by_the_formula() -> None:
    """ISO/CIE 11664-4: kappa = 24389 / 27 below (6/29)^3, a cube root above."""
    dark = 0.005
    grey = ((50.0 + 16.0) / 116.0) ** 3
    lab = lab_from_reflectance(np.outer([0.0, dark, grey, 1.0], np.ones(31)))
    np.testing.assert_allclose(
        lab[:, 0], [0.0, dark * 24389.0 / 27.0, 50.0, 100.0], atol=1e-9
    )
    np.testing.assert_allclose(lab[:, 1:], 0.0, atol=1e-9)


def test_single_precision_stays_single_and_close() -> None:
    rng = np.random.default_rng(31)
    spectra = rng.uniform(0.0, 1.0, (500, 31))
    single = lab_from_reflectance(spectra.astype(np.float32))
    assert single.dtype == np.float32
    np.testing.assert_allclose(single, lab_from_reflectance(spectra), atol=2e-3)


@settings(deadline=None, derandomize=True, max_examples=100)
@given(st.floats(0.0, 100.0))
def test_a_neutral_reflectance_has_its_lightness(lightness: float) -> None:
    spectrum = np.full(31, neutral_reflectance(lightness))
    assert lab_from_reflectance(spectrum)[0] == pytest.approx(lightness, abs=1e-9)


def test_neutral_reflectance_of_middle_grey() -> None:
    """18.42 percent at L* = 50, computed independently; 0 and 1 at the ends."""
    np.testing.assert_allclose(
        neutral_reflectance([0.0, 50.0, 100.0]), [0.0, 0.184187, 1.0], atol=1e-6
    )


@pytest.mark.parametrize(
    ("condition", "named"),
    [
        ({"illuminant": "D99"}, "D99"),
        ({"observer": 5}, "5"),
        ({"specular": "perhaps"}, "perhaps"),
    ],
)
def test_unknown_conditions_are_refused(
    condition: dict[str, str | int], named: str
) -> None:
    with pytest.raises(SettingError, match=named):
        Condition(**condition)  # type: ignore[arg-type]
