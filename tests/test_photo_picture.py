"""Pictures opened: formats, orientation, profiles, and files that are none."""

import io

import colour
import imagecodecs
import numpy as np
import pillow_heif
import pytest
import tifffile
from PIL import Image, ImageCms, ImageOps

from shadecore.errors import PhotoError
from shadecore.photo import picture as module
from shadecore.photo.light import (
    DISPLAY_P3_PROFILE,
    SRGB_PROFILE,
    linear_from_levels,
)
from shadecore.photo.picture import Picture, open_picture, preview

RNG = np.random.default_rng(7)
LEVELS = RNG.integers(0, 256, (40, 64, 3), dtype=np.uint8)
DEEP = RNG.integers(0, 65536, (40, 64, 3), dtype=np.uint16)
IMAGE = Image.fromarray(LEVELS)
ALL_LEVELS = np.stack([np.arange(256, dtype=np.uint8)] * 3, axis=-1)[None]


def saved(kind: str, image: Image.Image = IMAGE, **options: object) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


@pytest.mark.parametrize(
    ("kind", "options"),
    [
        ("PNG", {}),
        ("TIFF", {}),
        ("TIFF", {"compression": "tiff_lzw"}),
        ("WEBP", {"lossless": True}),
    ],
)
def test_lossless_files_keep_each_level(kind: str, options: dict[str, object]) -> None:
    content = saved(kind, **options)
    assert np.array_equal(open_picture(content, "a").levels, LEVELS)


def test_jpeg_is_what_pillow_decodes() -> None:
    content = saved("JPEG", quality=90)
    decoded = np.asarray(Image.open(io.BytesIO(content)))
    assert np.array_equal(open_picture(content, "a").levels, decoded)


def test_sixteen_bits_stay_sixteen() -> None:
    assert np.array_equal(open_picture(imagecodecs.png_encode(DEEP), "a").levels, DEEP)
    out = io.BytesIO()
    tifffile.imwrite(out, DEEP, photometric="rgb", compression="zlib")
    assert np.array_equal(open_picture(out.getvalue(), "a").levels, DEEP)


def test_heic_is_opened() -> None:
    smooth = np.tile(np.arange(64, dtype=np.uint8)[None, :, None] * 2, (64, 1, 3))
    out = io.BytesIO()
    pillow_heif.from_pillow(Image.fromarray(smooth)).save(out, quality=-1)
    found = open_picture(out.getvalue(), "a.heic").levels
    assert found.shape == smooth.shape
    assert np.abs(found.astype(int) - smooth).max() <= 3


@pytest.mark.parametrize("orientation", range(10))
def test_a_picture_is_turned_as_the_camera_was_held(orientation: int) -> None:
    """Pillow's exif_transpose is the reference; 0 and 9 are no orientations."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    content = saved("PNG", exif=exif)
    upright = ImageOps.exif_transpose(Image.open(io.BytesIO(content)))
    assert np.array_equal(open_picture(content, "a").levels, np.asarray(upright))


def test_a_second_view_behind_the_picture_does_not_matter() -> None:
    content = saved("MPO", save_all=True, append_images=[IMAGE.rotate(180)])
    first = np.asarray(Image.open(io.BytesIO(content)).convert("RGB"))
    assert np.array_equal(open_picture(content, "a").levels, first)


def test_without_a_profile_a_picture_is_srgb() -> None:
    """Linear light by colour-science's IEC 61966-2-1."""
    linear = linear_from_levels(ALL_LEVELS, SRGB_PROFILE)
    wanted = colour.models.eotf_sRGB(np.arange(256) / 255.0)
    assert np.allclose(linear[0], wanted[:, None], atol=2e-5)


def test_an_embedded_profile_is_followed() -> None:
    """Display P3 by colour-science; its colours outside sRGB are not clipped."""
    levels = RNG.integers(0, 256, (1, 500, 3), dtype=np.uint8)
    spaces = colour.RGB_COLOURSPACES
    wanted = colour.RGB_to_RGB(
        levels / 255.0,
        spaces["Display P3"],
        spaces["sRGB"],
        apply_cctf_decoding=True,
        chromatic_adaptation_transform=None,
    )
    found = linear_from_levels(levels, DISPLAY_P3_PROFILE)
    assert wanted.min() < -0.05
    assert np.abs(found - wanted).max() < 1e-3


def test_the_profile_of_a_file_is_kept() -> None:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    assert open_picture(saved("JPEG", icc_profile=profile), "a").profile == profile


def test_a_damaged_profile_is_said() -> None:
    picture = Picture("a", LEVELS, b"not a profile")
    with pytest.raises(PhotoError, match="colour profile is damaged"):
        linear_from_levels(picture.levels, picture.profile)


@pytest.mark.parametrize(
    "profile",
    [
        b"garbage",
        ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes(),
    ],
)
def test_a_file_with_an_unusable_profile_is_refused(profile: bytes) -> None:
    with pytest.raises(PhotoError, match=r"a\.png: The picture's colour profile"):
        open_picture(saved("PNG", icc_profile=profile), "a.png")


def test_a_tiff_stored_plane_by_plane_is_opened() -> None:
    out = io.BytesIO()
    planes = np.moveaxis(DEEP, -1, 0)
    tifffile.imwrite(out, planes, photometric="rgb", planarconfig="separate")
    assert np.array_equal(open_picture(out.getvalue(), "a").levels, DEEP)


def test_nothing_but_pixels_and_profile_is_kept() -> None:
    exif = Image.Exif()
    exif.get_ifd(0x8825)[2] = (52.0, 31.0, 12.0)
    opened = open_picture(saved("JPEG", exif=exif), "a")
    assert set(vars(opened)) == {"name", "levels", "profile"}
    assert b"Exif" not in opened.profile


ANIMATION = {"save_all": True, "append_images": [IMAGE.rotate(180)]}


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "is empty"),
        (b"%PDF-1.7 and so on", "is not a picture this tool reads"),
        (b"just words", "is not a picture this tool reads"),
        (saved("JPEG")[:400], "is damaged"),
        (saved("PNG")[:300], "is damaged"),
        (saved("GIF"), "is not a picture this tool reads"),
        (saved("PNG", **ANIMATION), "several pictures or an animation"),
        (saved("WEBP", **ANIMATION), "several pictures or an animation"),
        (saved("TIFF", **ANIMATION), "several pictures or an animation"),
        (saved("JPEG", IMAGE.convert("L")), "is black and white"),
        (saved("JPEG", IMAGE.convert("CMYK")), "not in colours for a screen"),
        (saved("PNG", IMAGE.resize((8, 8))), "smaller than 16 pixels"),
    ],
)
def test_what_is_no_picture_is_refused_in_one_sentence(
    content: bytes, said: str
) -> None:
    with pytest.raises(PhotoError, match=said) as caught:
        open_picture(content, "swatch.jpg")
    message = str(caught.value)
    assert message.startswith("swatch.jpg ")
    assert message.endswith(".")
    assert "\n" not in message


def test_a_decompression_bomb_is_refused_before_it_is_decoded() -> None:
    # A PNG whose header claims 30 000 x 30 000 pixels, with its checksum right.
    content = bytearray(saved("PNG"))
    content[16:24] = (30_000).to_bytes(4, "big") * 2
    content[29:33] = np.uint32(
        int(imagecodecs.zlib_crc32(bytes(content[12:29])))
    ).tobytes()[::-1]
    with pytest.raises(PhotoError, match="more than 50 megapixels"):
        open_picture(bytes(content), "a.png")


def test_a_large_jpeg_is_halved_while_it_is_decoded(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    smooth = np.tile(
        np.linspace(40, 200, 128).astype(np.uint8)[None, :, None], (96, 1, 3)
    )
    content = saved("JPEG", Image.fromarray(smooth), quality=95)
    monkeypatch.setattr(module, "MOST_PIXELS", 5000)
    found = open_picture(content, "a")
    assert found.size == (64, 48)
    whole = smooth.reshape(48, 2, 64, 2, 3).mean(axis=(1, 3))
    assert np.abs(found.levels - whole).max() < 3
    with pytest.raises(PhotoError, match="megapixels"):
        open_picture(saved("PNG", Image.fromarray(smooth)), "a")


def test_the_preview_shows_the_picture_small() -> None:
    colours = np.zeros((900, 1800, 3), dtype=np.uint8)
    colours[:, :900] = (200, 40, 50)
    small = preview(Picture("a", colours), 300)
    assert small.shape == (150, 300, 3)
    assert tuple(small[75, 30]) == (200, 40, 50)
    assert tuple(small[75, 270]) == (0, 0, 0)
