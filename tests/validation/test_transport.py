"""The film solver against adding-doubling, closed limits and conservation laws."""

from __future__ import annotations

import iadpython
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from .transport import (
    FloatArray,
    Geometry,
    _eigenmodes,
    _slab,
    fresnel,
    inside_reflectance,
    quadrature,
    solve,
)

GEOMETRIES: tuple[Geometry, ...] = ("45/0", "d/8")
FINE = quadrature(32, 12, 12)

# albedo, optical depth; from a thin stain to an almost conservative white
FILMS = (
    (0.3, 1.0),
    (0.5, 0.2),
    (0.8, 10.0),
    (0.95, 2.0),
    (0.99, 2.0),
    (0.99, 10.0),
    (0.999, 10.0),
    (0.9999, 30.0),
)


def two_flux(albedo: float) -> tuple[float, float]:
    """Return the K and S (1/um) of a material with unit extinction."""
    absorbed = 1.0 - albedo
    return 2.0 * absorbed, 0.75 * albedo - absorbed / 4.0


def adding_doubling(
    albedo: float, depth: float, backing: float
) -> dict[Geometry, float]:
    """Solve one film with iadpython, by doubling thin layers."""
    count = 48
    sample = iadpython.Sample(
        a=albedo, b=depth, g=0, n=1.5, n_above=1, n_below=1, quad_pts=count
    )
    sample.nu_0 = np.sqrt(0.5)
    sample.update_quadrature()
    reflect, transmit = iadpython.simple_layer_matrices(sample)
    base = np.full_like(reflect, backing)
    nothing = np.zeros_like(reflect)
    backed, *_ = iadpython.add_layers(
        sample, reflect, reflect, transmit, transmit, base, base, nothing, nothing
    )
    surface = iadpython.boundary_layer(sample, top=True)
    total, _, through, _ = iadpython.add_slide_above(
        sample, *surface, backed, backed, nothing, nothing
    )
    oblique = 2 * (count // 3) - 1
    return {
        "45/0": float(total[-1, oblique]) / 1.5**2,
        "d/8": float(sample.UX1_and_UXU(total, through)[0]) - 0.04,
    }


@pytest.mark.parametrize(("albedo", "depth"), FILMS)
@pytest.mark.parametrize("backing", [0.0, 0.2, 0.8, 1.0])
def test_agrees_with_adding_doubling(
    albedo: float, depth: float, backing: float
) -> None:
    expected = adding_doubling(albedo, depth, backing)
    absorption, scattering = two_flux(albedo)
    coarse = solve(absorption, scattering, [depth])
    fine = solve(absorption, scattering, [depth], FINE)
    for geometry in GEOMETRIES:
        assert coarse[geometry].over(backing)[0] == pytest.approx(
            expected[geometry], abs=2e-4
        )
        # iadpython puts its own nodes less well at the critical angle.
        assert fine[geometry].over(backing)[0] == pytest.approx(
            expected[geometry], abs=6e-5
        )


@pytest.mark.parametrize("scattering", [0.0, 1e-8, 0.2, 10.0])
def test_without_absorption_no_light_is_lost(scattering: float) -> None:
    film = solve(0.0, scattering, [0.0, 1.0, 50.0, 1000.0])["d/8"]
    np.testing.assert_allclose(film.over(1.0), 0.96, atol=1e-9)


def test_an_almost_conservative_film_loses_almost_nothing() -> None:
    absorption, scattering = two_flux(1.0 - 1e-6)
    film = solve(absorption, scattering, [1.0, 100.0])["d/8"]
    loss = 0.96 - film.over(1.0)
    # Diffuse light travels 4 n^2 times the thickness before it leaves again by the
    # one open face (S. Blanco and R. Fournier, Europhys. Lett. 61, 168, 2003, from
    # memory); a beam along the normal somewhat further.
    assert np.all(loss > 0.0)
    assert loss[1] == pytest.approx(1e-6 * 100.0 * 4.0 * 1.5**2, rel=0.3)


@pytest.mark.parametrize("geometry", GEOMETRIES)
def test_a_zero_film_is_a_clear_skin(geometry: Geometry) -> None:
    empty = solve(0.3, 0.1, [0.0])[geometry]
    nothing = solve(0.0, 0.0, [25.0])[geometry]
    measured = np.array([0.05, 0.2, 0.7])
    inside = inside_reflectance(measured, geometry)
    for film in (empty, nothing):
        assert film.black[0] == pytest.approx(0.0, abs=1e-12)
        np.testing.assert_allclose(film.over(inside), measured, rtol=1e-10)


@pytest.mark.parametrize(
    ("backing", "expected"), [(0.2, 0.12801), (0.5, 0.31610), (0.8, 0.63286), (1, 1)]
)
def test_clear_skin_values(backing: float, expected: float) -> None:
    """Check values computed independently by adding-doubling, 32 directions."""
    film = solve(0.0, 0.0, [0.0], FINE)["d/8"]
    assert film.over(backing)[0] + 0.04 == pytest.approx(expected, abs=2e-4)


def test_surface_constants() -> None:
    """Fresnel constants of n = 1.5, computed independently."""
    skin = solve(0.0, 0.0, [0.0], FINE)
    assert float(fresnel(1.0)) == pytest.approx(0.04)
    assert float(fresnel(np.sqrt(0.5))) == pytest.approx(0.05024, abs=5e-6)
    assert skin["d/8"].back[0] == pytest.approx(0.59635, abs=1e-5)
    beam = 0.96 * (1.0 - 0.05024) / 2.25
    assert skin["45/0"].through[0] == pytest.approx(beam, abs=1e-5)


@pytest.mark.parametrize("geometry", GEOMETRIES)
def test_a_hiding_film_ignores_its_backing(geometry: Geometry) -> None:
    film = solve([0.01, 1.0, 0.5], [0.5, 0.2, 0.0], [3e3, 1e4])[geometry]
    np.testing.assert_allclose(film.over(1.0), film.over(0.0), atol=1e-8)
    np.testing.assert_allclose(film.black[:, 0], film.black[:, 1], atol=1e-8)


def test_an_absorbing_film_obeys_the_law_of_beer() -> None:
    """Without scattering, a beam through and back is attenuated along its slant."""
    rule = quadrature(trapped=12, grazing=6, steep=4)
    absorption = 0.1
    thickness = np.array([5.0, 20.0])
    # The conversion attributes some scattering to absorption; cancel it.
    film = solve(absorption, -absorption / 8.0, thickness, rule)["45/0"]
    depth = 0.5 * absorption * thickness
    slant = np.sqrt(1.0 - 0.5 / 2.25)
    beam = 0.96 * (1.0 - 0.05024) / 2.25
    expected = beam * np.exp(-depth * (1.0 + 1.0 / slant))
    np.testing.assert_allclose(film.through, expected, rtol=1e-4)
    np.testing.assert_allclose(film.black, 0.0, atol=1e-12)


def test_reciprocity_and_passivity_of_the_layer() -> None:
    rule = quadrature()
    albedo = np.array([0.0, 0.2, 0.9, 0.9999, 1.0])
    rate, modes = _eigenmodes(albedo, rule)
    reflection, transmission = _slab(rate, modes, np.full(5, 3.0), rule)
    for matrix in (reflection, transmission):
        np.testing.assert_allclose(matrix, matrix.swapaxes(-1, -2), atol=1e-12)
    diffuse = np.sqrt(2.0 * rule.cosine * rule.weight)
    share = ((reflection + transmission) @ diffuse) @ diffuse / (diffuse @ diffuse)
    assert np.all(np.diff(share) > 0.0)
    assert share[-1] == pytest.approx(1.0, abs=1e-9)


def test_matched_thin_layers_stack_to_the_whole_film() -> None:
    """Two layers added by the textbook rule equal one of their joint depth."""
    rule = quadrature()
    rate, modes = _eigenmodes(np.full(2, 0.97), rule)
    reflection, transmission = _slab(rate, modes, np.array([1.5, 3.0]), rule)
    half, through = reflection[0], transmission[0]
    between = np.linalg.inv(np.eye(half.shape[0]) - half @ half)
    np.testing.assert_allclose(
        half + through @ between @ half @ through, reflection[1], atol=1e-11
    )
    np.testing.assert_allclose(through @ between @ through, transmission[1], atol=1e-11)


@settings(max_examples=60, deadline=None)
@given(
    log_absorption=st.floats(-9.0, 2.0),
    log_scattering=st.floats(-9.0, 1.0),
    log_thickness=st.floats(-2.0, 4.0),
)
def test_any_film_is_passive_and_brighter_over_white(
    log_absorption: float, log_scattering: float, log_thickness: float
) -> None:
    films = solve(10**log_absorption, 10**log_scattering, [10**log_thickness])
    for film in films.values():
        values: FloatArray = film.over(np.array([0.0, 0.5, 1.0]))
        assert np.all(np.isfinite(values))
        assert np.all(values >= -1e-9)
        assert np.all(np.diff(values) >= -1e-9)
    assert float(films["d/8"].over(1.0)[0]) <= 0.96 + 1e-9
