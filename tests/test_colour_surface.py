"""The smooth surface: Fresnel, Saunderson and the 45/0 reading."""

import numpy as np
import pytest
from check_values import numbers
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from shadecore.colour.surface import (
    REFRACTIVE_INDEX,
    Surface,
    cosine_inside,
    directional,
    external_diffuse_reflectance,
    fresnel_reflectance,
    internal_diffuse_reflectance,
    saunderson,
    sphere_specular_included,
)


@pytest.mark.parametrize("row", numbers("fresnel-surfaces.csv"))
def test_surface_reflectances(row: np.ndarray) -> None:
    """Computed independently, five decimals."""
    index, normal, at_45, external, internal = (float(value) for value in row)
    assert float(fresnel_reflectance(1.0, index)) == pytest.approx(normal, abs=6e-6)
    oblique = float(fresnel_reflectance(np.cos(np.pi / 4), index))
    assert oblique == pytest.approx(at_45, abs=6e-6)
    assert external_diffuse_reflectance(index) == pytest.approx(external, abs=6e-6)
    assert internal_diffuse_reflectance(index) == pytest.approx(internal, abs=6e-6)


def test_fresnel_in_closed_cases() -> None:
    """((n - 1) / (n + 1))^2 upright, 1 grazing, half of it at Brewster's angle."""
    index = 1.6
    upright = ((index - 1.0) / (index + 1.0)) ** 2
    assert float(fresnel_reflectance(1.0, index)) == pytest.approx(upright)
    assert float(fresnel_reflectance(0.0, index)) == pytest.approx(1.0)
    assert float(fresnel_reflectance(0.3, 1.0)) == pytest.approx(0.0)
    # At tan(angle) = n only one polarisation is reflected: ((n^2-1) / (n^2+1))^2.
    brewster = float(fresnel_reflectance(np.cos(np.arctan(index)), index))
    lone = ((index**2 - 1.0) / (index**2 + 1.0)) ** 2
    assert brewster == pytest.approx(lone / 2.0)


def test_snell() -> None:
    """Snell's law at 45 degrees; grazing light goes in at the critical angle."""
    inside = np.arccos(float(cosine_inside(np.cos(np.pi / 4), 1.5)))
    assert 1.5 * np.sin(inside) == pytest.approx(np.sin(np.pi / 4))
    assert float(cosine_inside(0.0, 1.5)) == pytest.approx(np.sqrt(1 - 1 / 1.5**2))
    assert float(cosine_inside(1.0, 1.5)) == 1.0


def test_internal_reflectance_integrated_from_inside() -> None:
    """The other way round: total reflection plus Fresnel within the cone."""
    index = 1.5
    critical = np.sqrt(1.0 - 1.0 / index**2)

    def escaping(inside: float) -> float:
        outside = np.sqrt(max(1.0 - index**2 * (1.0 - inside**2), 0.0))
        return 2.0 * inside * float(fresnel_reflectance(outside, index))

    total = critical**2 + quad(escaping, critical, 1.0, limit=200)[0]
    assert internal_diffuse_reflectance(index) == pytest.approx(total, abs=1e-6)


@pytest.mark.parametrize("row", numbers("saunderson.csv"))
def test_saunderson_readings(row: np.ndarray) -> None:
    """Saunderson (1942), computed independently, six decimals."""
    surface = saunderson(row[0], row[1], specular_included=True)
    inside = [0.0, 0.05, 0.2, 0.5, 0.8, 0.9, 1.0]
    np.testing.assert_allclose(surface.measured(inside), row[2:9], atol=1e-6)
    assert float(surface.inside(0.5)) == pytest.approx(row[9], abs=1e-6)
    without = saunderson(row[0], row[1], specular_included=False)
    np.testing.assert_allclose(without.measured(inside), row[2:9] - row[0], atol=1e-6)


@pytest.mark.parametrize("row", numbers("clear-skin.csv"))
def test_sphere_reading_of_a_clear_skin(row: np.ndarray) -> None:
    """Exact transport, computed independently; light inside is Lambertian there."""
    reading = sphere_specular_included().measured(row[0])
    assert float(reading) == pytest.approx(row[1], abs=2e-4)


def test_directional_surface() -> None:
    """(1 - r(45)) (1 - r(0)) / n^2 of Fresnel constants computed independently."""
    surface = directional()
    assert surface.mirror == 0.0
    expected = (1.0 - 0.05024) * (1.0 - 0.04000) / 1.5**2
    assert surface.through == pytest.approx(expected, abs=1e-5)
    assert surface.returned == pytest.approx(0.59635, abs=1e-5)
    # A white base under a skin reads about as a perfect diffuser in air does.
    assert float(surface.measured(1.0)) == pytest.approx(1.0, abs=0.01)


def test_an_index_of_one_is_no_surface() -> None:
    bare = directional(1.0)
    inside = np.linspace(0.0, 1.0, 5)
    np.testing.assert_allclose(bare.measured(inside), inside, atol=1e-9)
    np.testing.assert_allclose(bare.inside(inside), inside, atol=1e-9)


@settings(deadline=None, derandomize=True, max_examples=200)
@given(
    st.floats(0.0, 1.0),
    st.floats(0.0, 0.2),
    st.floats(0.0, 0.95),
    st.booleans(),
)
def test_the_inverse_undoes_the_reading(
    inside: float,
    k1: float,
    k2: float,
    included: bool,  # noqa: FBT001 - hypothesis gives it by position
) -> None:
    surface = saunderson(k1, k2, specular_included=included)
    reading = surface.measured(inside)
    assert float(surface.inside(reading)) == pytest.approx(inside, abs=1e-9)


@settings(deadline=None, derandomize=True, max_examples=25)
@given(st.floats(0.0, 1.0), st.floats(1.0, 2.0))
def test_the_45_0_inverse_undoes_the_reading(inside: float, index: float) -> None:
    surface = directional(index)
    assert float(surface.inside(surface.measured(inside))) == pytest.approx(
        inside, abs=1e-9
    )


def test_readings_rise_with_what_is_inside() -> None:
    for surface in (directional(), sphere_specular_included()):
        assert np.all(np.diff(surface.measured(np.linspace(0.0, 1.0, 50))) > 0.0)


def test_readings_out_of_reach_are_kept_within_limits() -> None:
    surface = Surface(mirror=0.04, through=0.4, returned=0.6)
    np.testing.assert_array_equal(surface.inside([0.0, 0.04, 1.2]), [0.0, 0.0, 1.0])


def test_the_default_index_is_that_of_a_binder() -> None:
    """References take 1.48 to 1.55 (common practice)."""
    assert 1.48 <= REFRACTIVE_INDEX <= 1.55
