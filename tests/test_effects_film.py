"""Films with flakes: geometry, conservation, closed cases and a simulation of rays."""

import numpy as np
import pytest
from check_values import numbers

from shadecore.colour.surface import internal_diffuse_reflectance
from shadecore.effects.films import EffectFilms
from shadecore.effects.first_reflection import first_reflection
from shadecore.effects.geometry import views
from shadecore.effects.layer import TO_VIEWS, read, reflection, solve_modes
from shadecore.effects.lobe import Lobe, film_directions
from shadecore.effects.optics import Flakes, LobeSet, Optics, lobe_set, optics
from shadecore.film.table import film_table

FLAT = Lobe(slope=1e-4, tail=0.0, tail_slope=1e-4)
USUAL = Lobe(slope=0.17, tail=0.1, tail_slope=0.5)
WORSE = Lobe(slope=0.30, tail=0.3, tail_slope=0.6)
CRITICAL = np.sqrt(1.0 - 1.0 / 1.5**2)


def paint(  # noqa: PLR0913, PLR0917
    area: float = 0.1,
    reflectance: float = 0.85,
    transmittance: float = 0.0,
    absorption: float = 1e-4,
    scattering: float = 1e-4,
    edges: float = 0.1,
    radius: float = 8.0,
) -> Optics:
    """One paint at one wavelength."""
    one = np.ones((1, 1))
    flakes = Flakes(
        area_per_um=area * one,
        reflectance=reflectance * one,
        transmittance=transmittance * one,
        edges=edges * one,
        radius_um=np.array([radius]),
        lobe=np.array([0]),
    )
    return optics(flakes, absorption * one, scattering * one)


def films(made: Optics, lobe: Lobe = USUAL) -> EffectFilms:
    return EffectFilms(made, lobe_set((lobe,)))


# Geometry -------------------------------------------------------------------------


@pytest.mark.parametrize("row", numbers("aspecular-geometry.csv"))
def test_views(row: np.ndarray) -> None:
    aspecular, in_air, in_film, tilt, path, passed, over_half = row
    assert 45.0 - aspecular == in_air
    seen = views((aspecular,))
    assert np.degrees(np.arctan(seen.tangent[0])) == pytest.approx(in_film, abs=0.01)
    assert np.degrees(np.arccos(seen.tilt_cosine[0])) == pytest.approx(tilt, abs=0.01)
    assert seen.path[0] == pytest.approx(path, abs=1e-4)
    assert seen.passed[0] == pytest.approx(passed, abs=1e-5)
    clear = seen.passed[0] * 0.5 / (1.0 - 0.5 * internal_diffuse_reflectance())
    assert clear == pytest.approx(over_half, abs=1e-4)


# Lobes ----------------------------------------------------------------------------


@pytest.mark.parametrize("lobe", [USUAL, WORSE, USUAL.repeated(3)])
def test_all_flakes_face_somewhere(lobe: Lobe) -> None:
    tilt = np.linspace(0.0, np.pi / 2.0 - 1e-4, 20_001)
    ring = 2.0 * np.pi * np.sin(tilt) * lobe.density(np.cos(tilt))
    assert np.trapezoid(ring, tilt) == pytest.approx(1.0, abs=1e-3)


def test_flat_flakes_show_their_area_to_upright_rays_and_more_to_grazing_ones() -> None:
    np.testing.assert_allclose(FLAT.area_shown(np.array([0.1, 0.5, 1.0])), 1.0)
    shown = WORSE.area_shown(np.array([1.0, 0.5, 0.1]))
    assert shown[0] < 1.0 < shown[2]


def test_area_shown_is_the_mean_of_the_cosine() -> None:
    """Against a plain Monte Carlo average over normals."""
    rng = np.random.default_rng(1)
    slope = np.where(rng.random(400_000) < WORSE.tail, WORSE.tail_slope, WORSE.slope)
    tilt = np.arctan(slope * np.sqrt(-np.log(rng.random(slope.size))))
    turn = 2.0 * np.pi * rng.random(slope.size)
    for cosine in (0.2, 0.6, 0.9):
        sine = np.sqrt(1.0 - cosine**2)
        facing = sine * np.sin(tilt) * np.cos(turn) + cosine * np.cos(tilt)
        expected = np.abs(facing).mean() / cosine
        assert WORSE.area_shown(np.array([cosine]))[0] == pytest.approx(
            expected, rel=5e-3
        )


@pytest.mark.parametrize("lobe", [FLAT, USUAL, WORSE])
def test_mirrors_send_all_light_somewhere(lobe: Lobe) -> None:
    """Summed over all directions out, in flux, whatever the direction in."""
    back, on = lobe.redistribution
    ways = film_directions()
    flux = np.sqrt(ways.weight * ways.cosine)
    sent = (back + on).T @ flux / flux
    np.testing.assert_allclose(sent, lobe.area_shown(ways.cosine), rtol=1e-9)


@pytest.mark.parametrize("lobe", [USUAL, WORSE])
def test_mirrors_are_reciprocal(lobe: Lobe) -> None:
    for matrix in lobe.redistribution:
        np.testing.assert_allclose(matrix, matrix.T, atol=1e-12)


def test_flat_mirrors_turn_each_direction_into_its_own() -> None:
    back, on = FLAT.redistribution
    np.testing.assert_allclose(back, np.eye(len(back)), atol=2e-3)
    np.testing.assert_allclose(on, 0.0, atol=1e-9)


# Layers ---------------------------------------------------------------------------


def bare(made: Optics, lobes: LobeSet, film: float) -> tuple[np.ndarray, np.ndarray]:
    """Reflection and transmission of a layer without a surface."""
    reflected, passed = reflection(solve_modes(made, lobes), np.array([film]))
    return reflected[0], passed[0]


@pytest.mark.parametrize(
    ("reflectance", "transmittance", "film"),
    [(0.88, 0.0, 7.0), (0.5, 0.0, 30.0), (0.3, 0.7, 14.0), (0.2, 0.6, 60.0)],
)
def test_flat_flakes_alone_obey_kubelka_munk(
    reflectance: float, transmittance: float, film: float
) -> None:
    """Kubelka 1948 with S = kappa rho and K = kappa (1 - rho - t), at every angle."""
    kappa = 0.1
    made = paint(kappa, reflectance, transmittance, 1e-12, 0.0, edges=0.0)
    reflected, passed = bare(made, lobe_set((FLAT,)), film)
    s, k = kappa * reflectance, kappa * (1.0 - reflectance - transmittance)
    a = 1.0 + k / s
    b = np.sqrt(a**2 - 1.0)
    if b == 0.0 or k < 1e-12:
        over_black, through = s * film / (1.0 + s * film), 1.0 / (1.0 + s * film)
    else:
        sinh, cosh = np.sinh(b * s * film), np.cosh(b * s * film)
        over_black = sinh / (a * sinh + b * cosh)
        through = b / (a * sinh + b * cosh)
    np.testing.assert_allclose(np.diag(reflected), over_black, rtol=2e-3)
    np.testing.assert_allclose(np.diag(passed), through, rtol=2e-3)


@pytest.mark.parametrize("lobe", [USUAL, WORSE])
@pytest.mark.parametrize("film", [0.5, 7.0, 60.0, 2000.0])
def test_no_light_is_lost_without_absorption(lobe: Lobe, film: float) -> None:
    made = paint(0.1, 0.3, 0.7, absorption=0.0, scattering=0.05, edges=0.2)
    reflected, passed = bare(made, lobe_set((lobe,)), film)
    ways = film_directions()
    flux = np.sqrt(ways.weight * ways.cosine)
    np.testing.assert_allclose((reflected + passed).T @ flux / flux, 1.0, atol=1e-6)


def test_light_is_lost_with_absorption() -> None:
    ways = film_directions()
    flux = np.sqrt(ways.weight * ways.cosine)
    left = []
    for absorption in (0.001, 0.01, 0.1):
        made = paint(0.1, 0.3, 0.7, absorption=absorption)
        reflected, passed = bare(made, lobe_set((USUAL,)), 14.0)
        left.append(((reflected + passed).T @ flux / flux).max())
    assert 1.0 > left[0] > left[1] > left[2] > 0.0


def test_a_layer_of_any_depth_is_two_of_half_the_depth() -> None:
    """The adding equations (van de Hulst 1980)."""
    made, lobes = paint(absorption=0.01, scattering=0.03), lobe_set((WORSE,))
    reflected, passed = bare(made, lobes, 10.0)
    bounced = np.linalg.inv(np.eye(len(reflected)) - reflected @ reflected)
    whole, through = bare(made, lobes, 20.0)
    twice = reflected + passed @ bounced @ reflected @ passed
    np.testing.assert_allclose(whole, twice, atol=1e-10)
    np.testing.assert_allclose(through, passed @ bounced @ passed, atol=1e-10)


def test_mirrors_only_reflect_less_than_mirrors_and_pigment() -> None:
    made, lobes = paint(scattering=0.05), lobe_set((USUAL,))
    depth = np.array([20.0])
    both = read(*reflection(solve_modes(made, lobes), depth)).rising
    mirrors = solve_modes(made, lobes, mirrors_only=True)
    assert np.all(read(*reflection(mirrors, depth)).rising < both)


# Readings -------------------------------------------------------------------------


@pytest.mark.parametrize("film", [3.0, 10.0, 30.0])
@pytest.mark.parametrize(
    ("absorption", "scattering"), [(0.02, 0.2), (0.2, 0.1), (0.005, 0.4)]
)
def test_no_flakes_give_the_solid_engine_at_45(
    absorption: float, scattering: float, film: float
) -> None:
    """Within what fewer directions cost: 2 percent of the reading."""
    made = paint(0.0, 0.5, 0.0, absorption / 2.0, scattering * 4.0 / 3.0)
    found = films(made).terms(np.array([film]))
    k, s = np.array([[absorption]]), np.array([[scattering]])
    solid = film_table().terms(k, s, np.array([film]))
    for backing in (0.0, 0.1, 0.5, 0.8):
        expected = float(solid.over(backing)[0, 0, 0])
        here = float(found.over(backing)[0, 0, 2, 0])
        assert here == pytest.approx(expected, rel=0.02, abs=2e-4)
    endless = float(film_table().masstone(k, s)[0, 0])
    assert films(made).masstone()[0, 2, 0] == pytest.approx(endless, rel=0.02)


def test_no_film_is_a_clear_skin() -> None:
    terms = films(paint(area=0.1)).terms(np.array([1e-5]))
    np.testing.assert_allclose(terms.through[0, 0, :, 0], views().passed, rtol=2e-3)
    np.testing.assert_allclose(
        terms.below[0, 0, :, 0], internal_diffuse_reflectance(), atol=7e-3
    )
    np.testing.assert_allclose(terms.over_black, 0.0, atol=1e-4)


def test_the_leak_is_the_same_at_15_to_75() -> None:
    """Of flakes too small to share gaps, against the clear film's own ways out."""
    made = paint(0.08, 0.8, 0.0, 0.005, 0.005, radius=0.05)
    terms = films(made).terms(np.array([7.0, 14.0, 21.0]))
    share = terms.through[0, :, :4, 0] / views().passed[:4]
    np.testing.assert_allclose(share / share[:, 2:3], 1.0, atol=0.04)


def test_larger_flakes_leak_more_where_the_ways_in_and_out_are_close() -> None:
    small, large = (
        films(paint(radius=radius, reflectance=0.02)).terms(np.array([7.0]))
        for radius in (0.05, 10.0)
    )
    gain = large.through[0, 0, :, 0] / small.through[0, 0, :, 0]
    assert np.all(gain > 1.0)
    # The ways of 75 and 110 degrees lie closest to the light's own.
    assert gain[3] > gain[4] > gain[2] > gain[1] > gain[0]


def test_thicker_films_show_less_of_the_backing_and_end_at_the_masstone() -> None:
    made = films(paint(absorption=0.005, scattering=0.01))
    thick = np.geomspace(1.0, 600.0, 40)
    terms = made.terms(thick)
    assert np.all(np.diff(terms.through, axis=1) <= 1e-12)
    for backing in (0.0, 0.8):
        np.testing.assert_allclose(
            terms.over(backing)[0, -1], made.masstone()[0], rtol=2e-3
        )


def test_films_between_the_solved_ones_are_as_if_solved() -> None:
    made = paint(0.06, 0.7, 0.0, 0.02, 0.03)
    whole = films(made)
    thick = np.array([1.7, 5.3, 11.0, 37.0])
    terms = whole.terms(thick)
    full = solve_modes(made, lobe_set((USUAL,)))
    for place, film in enumerate(thick):
        solved = read(*reflection(full, np.array([film])))
        assert terms.below[0, place, 2, 0] == pytest.approx(solved.below[0], abs=4e-3)


def test_heavier_loading_is_a_thicker_film() -> None:
    made = paint(absorption=0.01, scattering=0.02, radius=8.0)
    twice = made.loaded(np.array([2.0]))
    # Flakes must shrink alike for the films to be the same.
    alike = Optics(**{**vars(twice), "radius_um": twice.radius_um / 2.0})
    np.testing.assert_allclose(
        films(alike).terms(np.array([7.0])).over(0.4),
        films(made).terms(np.array([14.0])).over(0.4),
        rtol=1e-9,
    )


def test_the_face_is_bright_and_the_flop_dark() -> None:
    reading = films(paint()).masstone()[0, :, 0]
    assert reading[0] > 1.0 > reading[-1]
    assert np.all(np.diff(reading) < 0.0)


# Rays -----------------------------------------------------------------------------


def seen_by_both(
    area: float, radius: float, depth: np.ndarray, tangent: tuple[float, float]
) -> np.ndarray:
    """Share of places in a film from which the light's and a view's way are free.

    Discs at random in a box that repeats itself; no equation of the engine.
    """
    rng = np.random.default_rng(7)
    box, places = 12.0 * radius, 6000
    free = np.zeros(depth.size)
    rounds = 12
    for _ in range(rounds):
        count = rng.poisson(area * depth[-1] * box**2 / (np.pi * radius**2))
        disc = rng.random((count, 2)) * box
        height = rng.random(count) * depth[-1]
        for at, below in enumerate(depth):
            place = rng.random((places // rounds, 1, 2)) * box
            up = np.maximum(below - height, 0.0)
            clear = np.ones(len(place), dtype=bool)
            for lean in tangent:
                way = np.stack([up * lean, np.zeros(count)], axis=-1)
                apart = place + way - disc
                apart -= box * np.round(apart / box)
                met = ((apart**2).sum(axis=-1) < radius**2) & (height < below)
                clear &= ~met.any(axis=1)
            free[at] += clear.mean() / rounds
    return free


@pytest.mark.parametrize("radius", [3.0, 10.0])
def test_first_reflection_against_rays_among_discs(radius: float) -> None:
    """Flakes that pass nothing, 0.1 per um: light in, one mirror, light out."""
    area, film = 0.1, 14.0
    lobes = lobe_set((FLAT,))
    made = paint(area, 0.8, 0.0, 1e-12, 0.0, edges=0.0, radius=radius)
    lobes = LobeSet(**{**vars(lobes), "density": np.ones((1, 5))})
    found = first_reflection(made, lobes, np.array([film]))[0, 0, 0]
    depth = np.linspace(0.0, film, 22)
    seen = views()
    for view in range(5):
        ways = (seen.lit_tangent, float(seen.tangent[view]))
        free = seen_by_both(area, radius, depth, ways)
        # Each flake turns rho D / (4 mu_in mu_out) of the light into the view.
        per_flake = 0.8 * np.pi * seen.passed[view]
        per_flake /= 4.0 * seen.lit_cosine * seen.cosine[view]
        expected = area * per_flake * np.trapezoid(free, depth)
        assert found[view] == pytest.approx(expected, rel=0.03)


def test_the_leak_between_black_discs_against_rays() -> None:
    area, film, radius = 0.1, 10.0, 8.0
    made = paint(area, 1e-6, 0.0, 1e-9, 0.0, edges=0.0, radius=radius)
    through = films(made, FLAT).terms(np.array([film])).through[0, 0, :, 0]
    seen = views()
    for view in range(5):
        ways = (seen.lit_tangent, float(seen.tangent[view]))
        free = seen_by_both(area, radius, np.array([0.0, film]), ways)[-1]
        expected = seen.passed[view] * free
        assert through[view] == pytest.approx(expected, rel=0.08)


def test_views_are_read_between_directions_that_escape() -> None:
    np.testing.assert_allclose(TO_VIEWS.sum(axis=1), 1.0)
    trapped = film_directions().cosine < CRITICAL
    np.testing.assert_array_equal(TO_VIEWS[:, trapped], 0.0)
