"""Spectra as instruments export them."""

from collections.abc import Callable

import numpy as np
import pytest

from shadecore.colour.appearance import WAVELENGTHS_NM, colour_difference
from shadecore.colour.appearance import lab_from_reflectance as lab_of
from shadecore.colour.colour_science import colour_science
from shadecore.colour.spectrum import parse_spectrum, resample
from shadecore.errors import ColourError, SpectrumError

VALUES = 0.05 + 0.6 / (1.0 + np.exp(-(WAVELENGTHS_NM - 590.0) / 15.0))
FINE = tuple(WAVELENGTHS_NM.tolist())


def written(
    line: Callable[[int, float], str] = lambda nm, r: f"{nm},{r:.6f}",
    heading: str = "",
    end: str = "\n",
) -> str:
    """Write the spectrum with one line for each wavelength."""
    pairs = zip(FINE, VALUES.tolist(), strict=True)
    return heading + end.join(line(nm, r) for nm, r in pairs)


def with_comma(line: str) -> str:
    return line.replace(".", ",")


@pytest.mark.parametrize(
    "text",
    [
        written(),
        written() + "\n\n",
        written(end="\r\n"),
        written(end="\n\n"),
        written(lambda nm, r: f"{nm}, {r:.6f}"),
        written(lambda nm, r: f"{nm};{r:.6f}"),
        written(lambda nm, r: f"{nm}\t{r:.6f}"),
        written(lambda nm, r: f"  {nm}   {r:.6f}  "),
        written(lambda nm, r: f"{nm}.0,{r:.6f}"),
        written(lambda nm, r: f"{nm},{r:.6e}"),
        written(lambda nm, r: f'"{nm}","{r:.6f}"'),
        written(lambda nm, r: f"{nm},{r:.6f},0.002"),
        written(lambda nm, r: with_comma(f"{nm};{r:.6f}")),
        written(lambda nm, r: with_comma(f"{nm}\t{r:.6f}")),
        written(lambda nm, r: with_comma(f"{nm};{100 * r:.4f};")),
        written(lambda nm, r: f"{nm},{100 * r:.4f}"),
        written(heading="wavelength,reflectance\n"),
        written(heading="Panel 7\nmeasured twice\n\nwavelength,reflectance\n"),
        written(heading="# 45/0, averaged\n"),
        written(heading="\ufeffwavelength;reflectance\n").replace(",", ";"),
        written(heading="\ufeff"),
        written(lambda nm, r: f"{nm},{100 * r:.4f}", heading="nm,R %\n"),
        "\n".join(reversed(written().splitlines())),
    ],
)
def test_ways_of_writing_a_spectrum(text: str) -> None:
    np.testing.assert_allclose(parse_spectrum(text), VALUES, atol=2e-6)


def test_a_black_in_percent_is_told_by_its_heading() -> None:
    lines = "\n".join(f"{nm},0.6" for nm in FINE)
    np.testing.assert_allclose(parse_spectrum("nm,R %\n" + lines), 0.006)
    np.testing.assert_allclose(parse_spectrum("nm;percent\n" + lines), 0.006)
    np.testing.assert_allclose(parse_spectrum("nm,R\n" + lines), 0.6)


def test_wavelengths_beyond_the_visible_are_left_out() -> None:
    wide = np.arange(360, 741, 10)
    values = np.where((wide < 400) | (wide > 700), 0.9, 0.3)
    text = "\n".join(f"{nm},{r}" for nm, r in zip(wide, values, strict=True))
    np.testing.assert_allclose(parse_spectrum(text), 0.3, atol=1e-9)


def chart() -> np.ndarray:
    """Measured spectra of a 24-patch chart, carried by colour-science."""
    colour = colour_science()
    shape = colour.SpectralShape(400, 700, 10)
    patches = colour.SDS_COLOURCHECKERS["BabelColor Average"].values()
    return np.array([patch.copy().align(shape).values for patch in patches])


def test_every_second_wavelength_is_nearly_enough() -> None:
    """Colours of measured patches from 20 nm and from 10 nm."""
    spectra = chart()
    coarse = np.array([resample(WAVELENGTHS_NM[::2], row[::2]) for row in spectra])
    np.testing.assert_allclose(coarse[:, ::2], spectra[:, ::2], atol=1e-12)
    off = colour_difference(lab_of(coarse), lab_of(spectra))
    assert off.mean() < 0.15
    assert off.max() < 0.6


def test_specular_included_spectra_become_45_0() -> None:
    """Saunderson (1942) with Fresnel's constants for n = 1.5, computed independently.

    k1 = 0.04, k2 = 0.59635, r(45) = 0.05024.
    """
    inside = np.linspace(0.02, 0.9, 31)
    returned = inside / (1.0 - 0.59635 * inside)
    sphere = 0.04 + 0.96 * (1.0 - 0.59635) * returned
    directional = 0.96 * (1.0 - 0.05024) / 2.25 * returned
    text = "\n".join(f"{nm},{r:.7f}" for nm, r in zip(FINE, sphere, strict=True))
    np.testing.assert_allclose(parse_spectrum(text, "included"), directional, atol=2e-5)
    np.testing.assert_allclose(parse_spectrum(text, "excluded"), sphere, atol=1e-6)


def test_noise_about_the_mirror_reflection_is_black() -> None:
    text = "\n".join(f"{nm},{0.037 + 0.001 * (nm % 20)}" for nm in FINE)
    black = parse_spectrum(text, "included")
    assert np.all(black >= 0.0)
    assert black.min() == 0.0


def test_darker_than_the_mirror_is_refused() -> None:
    text = "\n".join(f"{nm},0.02" for nm in FINE)
    with pytest.raises(ColourError, match="specular"):
        parse_spectrum(text, "included")


def changed(row: int, line: str) -> str:
    lines = written().splitlines()
    lines[row] = line
    return "\n".join(lines)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "no pairs"),
        ("wavelength,reflectance\n", "no pairs"),
        ("400,0.1", "no pairs"),
        ("hello\nworld", "no pairs"),
        ("\n".join(written().splitlines()[:20]), "covers 400 to 590 nm"),
        ("\n".join(written().splitlines()[1:]), "covers 410 to 700 nm"),
        ("\n".join(written().splitlines()[:9] + written().splitlines()[10:]), "steps"),
        (changed(9, "480,0.1"), "steps"),
        ("\n".join(f"{nm},0.2" for nm in range(400, 701, 5)), "steps"),
        ("\n".join(f"{nm},0.2" for nm in range(400, 701)), "steps"),
        ("\n".join(f"{nm},0.2" for nm in range(400, 701, 30)), "steps"),
        (changed(5, "450,-0.01"), "between 0 and 1"),
        (changed(5, "450,1.3"), "between 0 and 1"),
        ("\n".join(f"{nm},130" for nm in FINE), "percent"),
        (changed(5, "450,nan"), "not a number"),
        (changed(5, "450,inf"), "not a number"),
        (changed(0, "nan,0.1"), "not a number"),
        (changed(5, "450,none"), "Line 6"),
        (changed(5, "450"), "Line 6"),
        (written() + "\nend of export", "Line 32"),
    ],
)
def test_spectra_that_cannot_be_used(text: str, said: str) -> None:
    with pytest.raises(SpectrumError, match=said) as caught:
        parse_spectrum(text)
    assert str(caught.value).endswith(".")


def test_the_line_number_counts_the_heading() -> None:
    text = "Panel 7\nnm,R\n" + changed(3, "430,x")
    with pytest.raises(SpectrumError, match=r"Line 6 .*'430,x'"):
        parse_spectrum(text)
