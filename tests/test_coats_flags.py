"""Each warning can be raised and is not raised without its cause."""

import numpy as np
import pytest

import shadecore
from shadecore.coats.count import Counts, count_coats
from shadecore.coats.flags import FLAGS, raise_flags
from shadecore.coats.pick import pick
from shadecore.undercoats.shelf import Shelf

CAP = 12
SHELF = shadecore.demo_shelf()


def of_coats(coats: np.ndarray, weight: np.ndarray) -> Counts:
    """Counts of paints that hide in the last of some coats of 10 um."""
    ln_film = np.log(10.0 * np.asarray(coats, dtype=np.float64) - 5.0)
    return count_coats(ln_film, weight, 1e-4, 10.0 * np.arange(1, CAP + 1))


def sure(*coats: int) -> Counts:
    """Counts of one colour that every likely paint agrees on."""
    return of_coats(np.array([[coats]]), np.ones((1, 1)))


def unsure(*coats: int) -> Counts:
    """Counts over one undercoat and a second far worse one; paints equally likely."""
    each = np.array([[[n, CAP] for n in coats]])
    return of_coats(each, np.full((1, len(coats)), 1.0 / len(coats)))


def codes(
    counts: Counts,
    choice: int = 0,
    lightness: float = 50.0,
    nearest: float = 0.5,
    film_um: float = 10.0,
) -> list[str]:
    raised = raise_flags(
        counts,
        np.array([choice]),
        np.array([lightness]),
        np.array([nearest]),
        shadecore.Settings(film=shadecore.CoatFilm(film_um)),
    )
    assert len(raised) == 1
    return [flag.code for flag in raised[0]]


def test_an_ordinary_case_raises_nothing() -> None:
    assert codes(sure(3, 5, 7)) == []
    assert codes(sure(3, 5, 7), lightness=20.0) == []
    assert codes(sure(3, 5, 7), lightness=90.0) == []


@pytest.mark.parametrize(
    ("code", "raised", "not_raised"),
    [
        # More than four coats even over the best undercoat.
        ("hides-poorly", sure(5, 9), sure(4, 9)),
        # 7 coats of 10 um are more than 60 um, 6 are not.
        ("film-limit", sure(7, 9), sure(6, 9)),
        ("not-within-cap", sure(CAP + 1, 3), sure(CAP, 3)),
        # A plan can allow for 3 coats that become 7, not for 8.
        ("wide-interval", unsure(3, 3, 8), unsure(3, 3, 7)),
    ],
)
def test_each_flag_has_its_limit(code: str, raised: Counts, not_raised: Counts) -> None:
    assert code in codes(raised)
    assert code not in codes(not_raised)


def test_an_upper_end_beyond_the_cap_is_too_wide() -> None:
    assert "wide-interval" in codes(unsure(8, 8, CAP + 1))
    assert "wide-interval" not in codes(unsure(8, 8, CAP))


def test_a_thicker_film_reaches_the_limit_sooner() -> None:
    assert "film-limit" not in codes(sure(3, 5), film_um=20.0)
    assert "film-limit" in codes(sure(3, 5), film_um=20.1)


def test_a_coat_above_the_film_limit_hides_poorly() -> None:
    assert "hides-poorly" in codes(sure(1, 1), film_um=61.0)
    assert "hides-poorly" not in codes(sure(1, 1), film_um=59.0)


def test_the_usual_coats_are_a_setting() -> None:
    for usual, raised in ((2, True), (3, False)):
        settings = shadecore.Settings(usual_coats=usual)
        flags = raise_flags(
            sure(3, 9), np.array([0]), np.array([50.0]), np.array([0.0]), settings
        )[0]
        assert ("hides-poorly" in [flag.code for flag in flags]) is raised


def test_a_colour_no_recipe_resembles_is_flagged() -> None:
    assert "outside-recipes" in codes(sure(3, 5), nearest=3.1)
    assert "outside-recipes" not in codes(sure(3, 5), nearest=2.9)


@pytest.mark.parametrize(
    ("lightness", "code"),
    [
        (12.0, "too-dark-to-matter"),
        (50.0, "undercoats-alike"),
        (92.0, "too-light-to-matter"),
    ],
)
def test_undercoats_within_a_coat_of_each_other_do_not_matter(
    lightness: float, code: str
) -> None:
    alike = {"too-dark-to-matter", "undercoats-alike", "too-light-to-matter"}
    assert alike & set(codes(sure(1, 2, 2), lightness=lightness)) == {code}
    assert not alike & set(codes(sure(1, 2, 3), lightness=lightness))
    # One undercoat is not like any other.
    assert not alike & set(codes(sure(1), lightness=lightness))
    # Those that do not hide are not told apart, so nothing is said of them.
    assert not alike & set(codes(sure(CAP + 1, CAP + 1), lightness=lightness))


def test_flags_speak_of_the_undercoat_that_is_judged() -> None:
    mixed = sure(3, 9, CAP + 1)
    assert codes(mixed, choice=0) == []
    assert codes(mixed, choice=1) == ["film-limit"]
    assert "not-within-cap" in codes(mixed, choice=2)


def test_each_colour_gets_its_own_flags() -> None:
    counts = of_coats(np.array([[[3, 9]], [[9, 9]]]), np.ones((2, 1)))
    raised = raise_flags(
        counts,
        np.array([0, 1]),
        np.array([50.0, 50.0]),
        np.array([9.0, 0.0]),
        shadecore.Settings(),
    )
    assert "outside-recipes" in [flag.code for flag in raised[0]]
    assert "hides-poorly" not in [flag.code for flag in raised[0]]
    assert "outside-recipes" not in [flag.code for flag in raised[1]]
    assert "hides-poorly" in [flag.code for flag in raised[1]]


@pytest.mark.parametrize(
    ("text", "code", "shelf"),
    [
        ("9 0 -1", "too-dark-to-matter", SHELF),
        ("58 0 1", "undercoats-alike", SHELF[1:3]),
        ("99 90 90", "outside-recipes", SHELF),
        ("45 60 35", "hides-poorly", SHELF[-2:]),
        ("45 60 35", "film-limit", SHELF[-2:]),
        ("45 60 35", "wide-interval", SHELF[-2:]),
    ],
)
def test_the_engine_raises_them_for_real_colours(
    text: str, code: str, shelf: Shelf
) -> None:
    """Near-black, grey over greys, a colour no paint has, and red over dark greys."""
    answer = pick(
        shadecore.parse_topcoat(text), shelf, shadecore.Settings(tolerance=1.0)
    )
    assert code in [flag.code for flag in answer.flags]


def test_the_engine_raises_none_for_an_ordinary_green() -> None:
    answer = pick(shadecore.parse_topcoat("45 -30 15"), SHELF)
    raised = {flag.code for flag in answer.flags}
    assert not raised & {"hides-poorly", "film-limit", "not-within-cap"}
    assert "outside-recipes" not in raised


def test_codes_are_told_apart_and_fit_one_cell() -> None:
    assert len({flag.code for flag in FLAGS}) == len(FLAGS)
    for flag in FLAGS:
        assert not set(flag.code) & set(" ;,\"'")
