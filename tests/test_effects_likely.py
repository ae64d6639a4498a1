"""Plausible effect paints, the library of them, and what readings may mean."""

import pickle
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

from shadecore.colour.angles import STANDARD_ANGLES_DEG, AngleReadings, angle_readings
from shadecore.colour.appearance import colour_difference, neutral_reflectance
from shadecore.colour.surface import directional
from shadecore.effects import stored
from shadecore.effects.films import EffectFilms
from shadecore.effects.held_films import HeldFilms
from shadecore.effects.library import (
    EffectLibrary,
    Progress,
    _Held,
    build_library,
    effect_library,
    effect_library_is_ready,
    evenly,
    library_key,
    prepare_library,
)
from shadecore.effects.likely import (
    _HELD,
    _MOST_BYTES,
    EffectPaints,
    likely_effect_paints,
)
from shadecore.effects.loading import hiding_film_um
from shadecore.effects.recipes import ALUMINIUM, MIXED, PEARL, draw_effects, pearl
from shadecore.errors import ColourError
from shadecore.film.two_flux import FilmTerms
from shadecore.kept import FOLDER_VARIABLE, content_key

GREYS = directional().inside(neutral_reflectance(np.array([90.0, 50.0, 25.0])))
BACKINGS = np.repeat(GREYS[:, None], 31, axis=1)
FILMS = np.array([7.0, 14.0, 28.0, 1e6])


@pytest.fixture(scope="module")
def library() -> EffectLibrary:
    return build_library(per_lobe=150, lobes=4, seed=3)


def reading_of(library: EffectLibrary, place: int) -> AngleReadings:
    lab = library.lab[place]
    return angle_readings(
        (angle, tuple(each))
        for angle, each in zip(STANDARD_ANGLES_DEG, lab, strict=True)
    )


@pytest.fixture(scope="module")
def paints(library: EffectLibrary) -> EffectPaints:
    place = int(np.flatnonzero(library.kind == ALUMINIUM)[0])
    return likely_effect_paints(reading_of(library, place), library=library)


# Recipes --------------------------------------------------------------------------


def test_flakes_and_pigments_lose_no_more_than_there_is() -> None:
    drawn = draw_effects(300, 3, np.random.default_rng(1))
    optics = drawn.optics
    assert np.all(optics.mirrored <= optics.area + 1e-12)
    for each in (optics.area, optics.mirrored, optics.absorption, optics.scattering):
        assert np.all(each >= 0.0)
        assert np.all(np.isfinite(each))
    assert set(drawn.kind) == {ALUMINIUM, PEARL, MIXED}


def test_pearls_pass_what_they_do_not_reflect_unless_iron_absorbs() -> None:
    back, on = pearl(400, np.random.default_rng(2))
    total = back + on
    assert total.max() <= 1.0 + 1e-12
    clear = np.isclose(total.min(axis=1), 1.0)
    assert 0.5 < clear.mean() < 0.9
    # Titania in a binder of 1.5, both sides: 0.36 at most (computed by the Airy sum).
    assert back.max() == pytest.approx(0.36, abs=0.02)


def test_same_seed_same_paints_whatever_the_workers(library: EffectLibrary) -> None:
    again = build_library(per_lobe=150, lobes=4, seed=3)
    np.testing.assert_array_equal(again.lab, library.lab)
    other = build_library(per_lobe=150, lobes=4, seed=4)
    assert not np.array_equal(other.lab, library.lab)


def test_twice_the_loading_hides_in_half_the_film() -> None:
    drawn = draw_effects(40, 1, np.random.default_rng(5)).optics
    lobes = build_library(per_lobe=30, lobes=1, seed=5).lobes
    full = EffectFilms(drawn, lobes).masstone()
    once = hiding_film_um(drawn, full)
    twice = hiding_film_um(drawn.loaded(np.full(40, 2.0)), full)
    within = (once > 4.0) & (once < 400.0)
    np.testing.assert_allclose(twice[within], once[within] / 2.0, rtol=0.15)


def test_progress_is_told_up_to_the_end() -> None:
    told: list[float] = []
    build_library(per_lobe=70, lobes=2, seed=1, progress=told.append)
    assert told == sorted(told)
    assert told[-1] == 1.0
    assert len(told) > 1


# The library ----------------------------------------------------------------------


def test_a_paint_of_the_library_is_found_again(library: EffectLibrary) -> None:
    for place in (3, 200, 555):
        readings = reading_of(library, place)
        found = likely_effect_paints(readings, library=library)
        assert found.nearest == pytest.approx(0.0, abs=1e-6)
        assert found.weight.sum() == pytest.approx(1.0)
        assert found.weight[0] == found.weight.max()


def test_kinds_keep_apart(library: EffectLibrary) -> None:
    readings = np.array(reading_of(library, 10).lab)
    every = np.arange(5)
    for kinds in ((ALUMINIUM, MIXED), (PEARL, MIXED)):
        near = library.near(readings, every, kinds)
        assert set(library.kind[near.index]) <= set(kinds)


def test_an_unknown_kind_is_refused(library: EffectLibrary) -> None:
    with pytest.raises(ColourError, match="metallic, pearl or both"):
        likely_effect_paints(reading_of(library, 0), ("chrome",), library)
    with pytest.raises(ColourError, match="metallic, pearl or both"):
        likely_effect_paints(reading_of(library, 0), (), library)


def test_one_angle_is_worth_asking_and_says_so(library: EffectLibrary) -> None:
    whole = reading_of(library, 30)
    alone = angle_readings([(45.0, whole.at(45.0))])
    found = likely_effect_paints(alone, library=library)
    assert (found.basis, found.angles) == ("colour", STANDARD_ANGLES_DEG)
    three = angle_readings((a, whole.at(a)) for a in (15.0, 45.0, 110.0))
    assert likely_effect_paints(three, library=library).basis == "angles"
    completed = found.completed(alone)
    np.testing.assert_allclose(completed[2], whole.at(45.0))
    assert completed[0, 0] > completed[-1, 0]


def test_even_distances_are_roughly_ciede2000() -> None:
    """Within a half for small steps of neutrals, against ISO/CIE 11664-6."""
    for lightness in (8.0, 20.0, 50.0, 80.0, 110.0, 140.0):
        pair = np.array([[lightness, 0.0, 0.0], [lightness + 1.0, 0.0, 0.0]])
        exact = float(colour_difference(pair[0], pair[1]))
        plain = float(np.linalg.norm(np.diff(evenly(pair), axis=0)))
        assert plain == pytest.approx(exact, rel=0.3)


# Films ----------------------------------------------------------------------------


def test_shapes_of_films(paints: EffectPaints) -> None:
    count = paints.weight.size
    assert paints.full_lab().shape == (count, 5, 3)
    assert paints.lab_over(BACKINGS, FILMS).shape == (count, 3, 4, 5, 3)


def test_films_are_given_in_the_order_asked_for(paints: EffectPaints) -> None:
    shuffled = FILMS[[2, 0, 3, 1, 1]]
    expected = paints.lab_over(BACKINGS, FILMS)[:, :, [2, 0, 3, 1, 1]]
    np.testing.assert_allclose(paints.lab_over(BACKINGS, shuffled), expected, atol=2e-3)


def test_thick_films_reach_the_full_colour_over_every_undercoat(
    paints: EffectPaints,
) -> None:
    left = colour_difference(
        paints.lab_over(BACKINGS, FILMS), paints.full_lab()[:, None, None]
    ).max(axis=-1)
    assert np.all(left[:, :, -1] < 0.05)
    assert np.all(left[:, :, 0].max(axis=1) > left[:, :, -1].max(axis=1))


def test_a_light_undercoat_lightens_the_flop_most(paints: EffectPaints) -> None:
    lab = paints.lab_over(BACKINGS, FILMS)[..., 0]
    rise = lab[:, 0, 1] - lab[:, 2, 1]
    assert np.all(rise[:, 4] > rise[:, 0])


def test_paints_remembered_for_long_hold_no_films(paints: EffectPaints) -> None:
    # An answer is remembered with its paints; 256 of them once took 5 GB.
    paints.full_lab()
    before = len(pickle.dumps(paints))
    paints.lab_over(BACKINGS, FILMS)
    assert len(pickle.dumps(paints)) == before
    assert 0 < _HELD.taken_bytes <= _MOST_BYTES


def test_films_used_last_are_held() -> None:
    def films() -> FilmTerms:
        solved.append(1)
        return FilmTerms(np.zeros(10), np.zeros(10), np.zeros(10))

    solved: list[int] = []
    held = HeldFilms(2 * 3 * 10 * 8)
    for key in ("a", "b", "a", "c", "a"):
        held.of(key, films)
    assert len(solved) == 3
    held.of("b", films)
    assert len(solved) == 4
    assert held.taken_bytes == 2 * 3 * 10 * 8


# Kept on the disk -----------------------------------------------------------------


def count_builds(times: list[int]) -> dict[str, np.ndarray]:
    times.append(1)
    return {"numbers": np.arange(5.0)}


def test_arrays_are_built_once(tmp_path: Path) -> None:
    built: list[int] = []
    for _ in range(3):
        found = stored.stored_arrays("a", "k", lambda: count_builds(built), tmp_path)
        np.testing.assert_array_equal(found["numbers"], np.arange(5.0))
    assert len(built) == 1
    assert [each.name for each in tmp_path.iterdir()] == ["a-k"]


def test_another_key_replaces_what_was_kept(tmp_path: Path) -> None:
    built: list[int] = []
    for key in ("one", "two"):
        # A writer with this key was killed.
        (tmp_path / f".a-{key}.999999999-1.part").mkdir()
    for key in ("one", "two"):
        stored.stored_arrays("a", key, lambda: count_builds(built), tmp_path)
    assert len(built) == 2
    assert [each.name for each in tmp_path.iterdir()] == ["a-two"]


def test_a_folder_that_cannot_be_written_costs_only_time(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("no folder")
    built: list[int] = []
    for _ in range(2):
        found = stored.stored_arrays("a", "k", lambda: count_builds(built), blocked)
        assert found["numbers"].size == 5
    assert len(built) == 2


def test_a_spoilt_file_is_built_again(tmp_path: Path) -> None:
    built: list[int] = []
    stored.stored_arrays("a", "k", lambda: count_builds(built), tmp_path)
    (tmp_path / "a-k" / "numbers.npy").write_bytes(b"spoilt")
    found = stored.stored_arrays("a", "k", lambda: count_builds(built), tmp_path)
    np.testing.assert_array_equal(found["numbers"], np.arange(5.0))
    stored.stored_arrays("a", "k", lambda: count_builds(built), tmp_path)
    assert len(built) == 2


def test_the_folder_is_the_one_that_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As for the arrays of solid paints; an empty name keeps nothing."""
    built: list[int] = []
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path))
    stored.stored_arrays("a", "k", lambda: count_builds(built))
    assert [each.name for each in tmp_path.iterdir()] == ["a-k"]
    monkeypatch.setenv(FOLDER_VARIABLE, "")
    stored.stored_arrays("a", "k", lambda: count_builds(built))
    assert len(built) == 2


def test_the_key_follows_content(tmp_path: Path) -> None:
    file = tmp_path / "code.py"
    file.write_text("1")
    first = content_key([file])
    assert content_key([file]) == first
    file.write_text("2")
    assert content_key([file]) != first
    assert library_key() == library_key()


def test_the_library_comes_back_from_the_disk(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, library: EffectLibrary
) -> None:
    monkeypatch.setattr("shadecore.effects.library.build_library", lambda **_: library)
    for _ in range(2):
        found = prepare_library(None, tmp_path)
        np.testing.assert_array_equal(found.lab, library.lab)
        np.testing.assert_array_equal(found.optics.area, library.optics.area)
        np.testing.assert_array_equal(found.lobes.density, library.lobes.density)


def test_without_a_cache_folder_it_is_built_once_for_all_who_ask(
    monkeypatch: pytest.MonkeyPatch, library: EffectLibrary
) -> None:
    built: list[bool] = []

    def build(progress: Progress | None) -> EffectLibrary:
        built.append(progress is not None)
        return library

    monkeypatch.setenv("SHADECORE_CACHE", "")
    monkeypatch.setattr("shadecore.effects.library._HELD", _Held())
    monkeypatch.setattr("shadecore.effects.library.build_library", build)
    assert not effect_library_is_ready()
    with ThreadPoolExecutor(2) as pool:
        asked = [pool.submit(effect_library, each) for each in (print, None, None)]
    assert {id(each.result()) for each in asked} == {id(effect_library())}
    assert effect_library_is_ready()
    assert len(built) == 1
