"""The main job on measured colours: chart spectra and Munsell renotation chips.

Both are carried by colour-science: the averaged spectra of a 24-patch chart, and the
real chips of the renotation data (Newhall, Nickerson and Judd, 1943).
"""

import numpy as np
import pytest

import shadecore
from shadecore.coats.pick import pick
from shadecore.coats.pick_many import pick_many
from shadecore.colour.appearance import WAVELENGTHS_NM
from shadecore.colour.colour_science import colour_science
from shadecore.colour.convert import lab_from_yxy
from shadecore.colour.topcoat import topcoat_from_spectrum

LIGHT = 70.0
SHELF = shadecore.demo_shelf()
LIGHTNESS = np.array([each.lightness for each in SHELF])


def _chart() -> dict[str, np.ndarray]:
    """Spectra of the 24-patch chart at the engine's wavelengths."""
    patches = next(iter(colour_science().SDS_COLOURCHECKERS.values()))
    return {
        name: np.array([float(patch[nm]) for nm in WAVELENGTHS_NM])
        for name, patch in patches.items()
    }


CHART = _chart()


def _pick(spectrum: np.ndarray) -> shadecore.Answer:
    rows = "\n".join(
        f"{nm},{value}" for nm, value in zip(WAVELENGTHS_NM, spectrum, strict=True)
    )
    return pick(topcoat_from_spectrum(rows), SHELF)


@pytest.mark.parametrize("name", CHART)
def test_a_measured_patch_gets_an_answer_that_is_no_worse(name: str) -> None:
    answer = _pick(CHART[name])
    cap = answer.settings.coat_cap + 1
    best, closest = answer.recommended.coats, answer.closest.coats
    assert (best or cap) <= (closest or cap)
    assert answer.hiding.rating in {"good", "fair", "poor"}


@pytest.mark.parametrize("name", ["red", "orange yellow", "yellow", "orange"])
def test_measured_reds_and_yellows_want_a_light_undercoat(name: str) -> None:
    """Common practice, no source."""
    assert _pick(CHART[name]).recommended.undercoat.lightness >= LIGHT


@pytest.mark.parametrize("name", [n for n in CHART if n.startswith("neutral")])
def test_measured_greys_want_their_own_lightness(name: str) -> None:
    answer = _pick(CHART[name])
    gaps = np.sort(np.abs(LIGHTNESS - answer.topcoat.lab[0]))
    assert answer.recommended.lightness_gap <= gaps[1]


def _real_chips() -> tuple[list[tuple[str, float, float]], np.ndarray]:
    chips = colour_science().MUNSELL_COLOURS["Munsell Colours Real"]
    names = [name for name, _ in chips]
    xyy = np.array([value for _, value in chips])
    yxy = np.column_stack([xyy[:, 2], xyy[:, 0], xyy[:, 1]])
    # The renotation's Y is relative to magnesium oxide, 102.57 on our scale.
    yxy[:, 0] /= 1.0257
    return names, lab_from_yxy(yxy, shadecore.Condition("C", 2))


def test_every_real_chip_gets_an_answer() -> None:
    names, every = _real_chips()
    lab = every[::3]
    picks = pick_many(lab, SHELF)
    best = picks.counts.coats[np.arange(len(lab)), picks.recommended]
    closest = picks.counts.coats[np.arange(len(lab)), picks.closest]
    assert len(names) > 2500
    assert np.all(best <= closest)
    # Lightness fails often enough on real colours to be worth an engine.
    assert np.mean(best < closest) > 0.1


def test_strong_red_and_yellow_chips_want_a_light_undercoat() -> None:
    """Common practice, no source."""
    names, lab = _real_chips()
    strong = np.array(
        [
            name[0] in {"5R", "7.5R", "2.5YR", "5Y", "10YR"}
            and name[1] >= 4
            and name[2] >= 12
            for name in names
        ]
    )
    assert strong.sum() > 20
    picks = pick_many(lab[strong], SHELF)
    assert np.mean(LIGHTNESS[picks.recommended] >= LIGHT) > 0.95
