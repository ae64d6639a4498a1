"""The simulated camera, where it has nothing to hide, gives colours back.

Decoded by colour-science (sRGB of IEC 61966-2-1) and by Pillow's littleCMS (profiles).
"""

from __future__ import annotations

import io
from dataclasses import replace
from itertools import product

import colour
import numpy as np
import pytest
from PIL import Image, ImageCms, ImageOps
from skimage.color import deltaE_ciede2000

from .camera import Shot, draw_scene, draw_subject, photograph
from .camera.cameras import Camera, cameras, fit_camera
from .camera.develop import ideal_development
from .camera.files import FileKind, profile
from .camera.photograph import Taking
from .camera.scene import IDEAL, Scene
from .camera.sensor import NOISELESS
from .camera.spectra import (
    chart_reflectance,
    lab_10,
    light,
    neutral,
    objects,
    observer_2,
    training_objects,
)
from .camera.subject import KINDS
from .truth import reflectance_to_lab

# A luminous mixture of the observer's bands, as a perfect camera would have.
MIXTURE = np.array([[0.9, -0.4, 0.1], [0.2, 1.1, -0.1], [0.0, 0.1, 0.8]])
PERFECT: Camera = fit_camera(observer_2() @ MIXTURE)
EXPOSURE = 0.6
STEP = 1.0 / 255.0


def _scene(seed: int, reference: str = "grey card") -> Scene:
    rng = np.random.default_rng(seed)
    drawn = draw_subject(rng, reference)
    # Greyed, so that every swatch lies inside sRGB.
    swatch = 0.6 * drawn.swatch + 0.4 * drawn.swatch.mean()
    subject = replace(drawn, camera=PERFECT, swatch=swatch)
    scene = draw_scene(rng, reference, IDEAL, subject)
    return replace(scene, light=light("D65"), light_name="D65")


def _shot(scene: Scene, kind: FileKind, space: str = "sRGB") -> Shot:
    development = replace(ideal_development(scene), space=space)
    taking = Taking(EXPOSURE, NOISELESS, development, kind)
    return photograph(scene, np.random.default_rng(0), taking)


def _upright(shot: Shot) -> Image.Image:
    return ImageOps.exif_transpose(Image.open(io.BytesIO(shot.content)))


def _mean(values: np.ndarray, box: tuple[float, ...]) -> np.ndarray:
    height, width = values.shape[:2]
    left, top, right, bottom = np.rint(np.array(box) * [width, height, width, height])
    part = values[int(top) : int(bottom), int(left) : int(right)]
    return part.reshape(-1, 3).mean(axis=0)


def _lab_2(reflectance: np.ndarray) -> np.ndarray:
    """CIELAB for D65 and 2 degrees, which sRGB encodes, by colour-science."""
    spectrum = colour.SpectralDistribution(reflectance, np.arange(400, 701, 10))
    white = colour.SpectralDistribution(np.ones(31), np.arange(400, 701, 10))
    with colour.utilities.suppress_warnings(colour_runtime_warnings=True):
        xyz, white_xyz = (
            colour.sd_to_XYZ(each, illuminant=colour.SDS_ILLUMINANTS["D65"])
            for each in (spectrum, white)
        )
    return np.asarray(
        colour.XYZ_to_Lab(xyz / white_xyz[1], colour.XYZ_to_xy(white_xyz))
    )


@pytest.mark.parametrize("seed", range(12))
def test_a_perfect_camera_gives_the_colour_back(seed: int) -> None:
    scene = _scene(seed)
    shot = _shot(scene, FileKind(".png"))
    encoded = _mean(np.asarray(_upright(shot)) / 255.0, shot.swatch)
    signs = np.array([(0, 0, 0), *product((-1, 1), repeat=3)])
    linear = colour.cctf_decoding(encoded + 0.5 * STEP * signs, function="sRGB")
    xyz = colour.RGB_to_XYZ(linear / EXPOSURE, "sRGB")
    lab = colour.XYZ_to_Lab(xyz, colour.RGB_COLOURSPACES["sRGB"].whitepoint)
    quantisation = deltaE_ciede2000(lab[0], lab[1:]).max()
    assert deltaE_ciede2000(lab[0], _lab_2(shot.reflectance)) < 0.3 + quantisation


def test_true_colours_are_those_of_the_other_simulator() -> None:
    for reflectance in objects()[::20]:
        np.testing.assert_allclose(
            lab_10(reflectance), reflectance_to_lab(reflectance[::2]), atol=1e-6
        )


def test_a_neutral_gets_the_lab_asked_for() -> None:
    wanted = np.array([95.3, 0.7, -1.9])
    found = neutral(wanted, np.linspace(0.8, 0.9, 61))
    np.testing.assert_allclose(lab_10(found), wanted, atol=1e-6)


def test_references_scatter_as_stated() -> None:
    rng = np.random.default_rng(2)
    drawn = np.array(
        [lab_10(draw_subject(rng, "grey card").neutrals[0]) for _ in range(400)]
    )
    kind = KINDS["grey card"]
    # Three standard errors of a mean and of a standard deviation.
    np.testing.assert_allclose(
        drawn.mean(axis=0), kind.lab, atol=3.0 * max(kind.spread) / 20.0
    )
    np.testing.assert_allclose(drawn.std(axis=0), kind.spread, rtol=3.0 / 28.0)


def test_no_swatch_is_a_patch_of_the_chart_or_a_colour_the_cameras_know() -> None:
    known = np.concatenate([chart_reflectance(), training_objects()])
    apart = np.abs(objects()[:, None] - known[None]).max(axis=-1).min(axis=-1)
    assert np.median(apart) > 0.02
    assert apart.min() > 0.001


def test_cameras_differ_and_keep_white_white() -> None:
    white = light("D65") @ observer_2()
    assert len(cameras()) >= 8
    seen = np.stack([each.sensitivities for each in cameras()])
    for place, camera in enumerate(cameras()):
        np.testing.assert_allclose(
            camera.matrix(4000.0).sum(axis=1), white / white[1], rtol=1e-9
        )
        others = np.delete(seen, place, axis=0)
        assert np.abs(others - camera.sensitivities).max(axis=(1, 2)).min() > 0.01


def test_a_perfect_camera_needs_no_fit() -> None:
    """The matrix of one whose bands are the observer's is their inverse mixture."""
    white = light("D65") @ observer_2()
    balance = np.diag(white @ MIXTURE) / white[1]
    expected = np.linalg.inv(MIXTURE).T @ balance
    np.testing.assert_allclose(PERFECT.at_daylight, expected, atol=1e-6)


@pytest.mark.parametrize("suffix", [".png", ".tif"])
def test_sixteen_bits_say_the_same_as_eight(suffix: str) -> None:
    import imageio.v3 as iio  # noqa: PLC0415
    import tifffile  # noqa: PLC0415

    scene = _scene(3)
    eight = np.asarray(_upright(_shot(scene, FileKind(".png")))) / 255.0
    content = _shot(scene, FileKind(suffix, bits=16)).content
    if suffix == ".tif":
        deep = tifffile.imread(io.BytesIO(content)) / 65535.0
        np.testing.assert_allclose(deep, eight, atol=0.51 / 255.0)
        return
    # Pillow reads 16 bit colour as 8.
    shallow = iio.imread(content, extension=".png") / 255.0
    np.testing.assert_allclose(shallow, eight, atol=1.01 / 255.0)


def test_a_wide_profile_leads_back_to_srgb() -> None:
    scene = _scene(4)
    plain, wide = (
        _shot(scene, FileKind(".png"), space) for space in ("sRGB", "Display P3")
    )
    shown = ImageCms.profileToProfile(
        _upright(wide),
        ImageCms.ImageCmsProfile(
            io.BytesIO(Image.open(io.BytesIO(wide.content)).info["icc_profile"])
        ),
        ImageCms.createProfile("sRGB"),
        renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
    )
    first, second = (
        _mean(np.asarray(each, dtype=np.float64), plain.swatch)
        for each in (_upright(plain), shown)
    )
    assert plain.content != wide.content
    np.testing.assert_allclose(first, second, atol=2.0)


def test_profiles_can_be_told_apart() -> None:
    assert b"\0P\0003" in profile("Display P3")
    assert profile("sRGB") != profile("Display P3")
