"""Damaged picture files: each is opened or refused in one sentence, whatever it is.

The files are made here from small valid ones and opened in processes of their own, so
that a decoder that crashes or hangs is seen. ``python tests/test_photo_fuzz.py 17 18``
opens the seventeenth file alone.
"""

from __future__ import annotations

import io
import os
import struct
import subprocess
import sys
import warnings
import zlib
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from itertools import pairwise
from pathlib import Path
from typing import TypeVar

import numpy as np
import pytest
import tifffile
from PIL import Image, ImageCms

from shadecore.errors import PhotoError
from shadecore.photo.area import Area
from shadecore.photo.measure import Marks, measure_swatch
from shadecore.photo.picture import open_picture, preview

FILES = 250
PROCESSES = 2
SEED = 9
TIMEOUT_S = 300.0
SIZE = (56, 40)
LONGEST_SENTENCE = 250

Random = np.random.Generator
Result = TypeVar("Result")


def test_damaged_files_are_opened_or_refused(tmp_path: Path) -> None:
    work, temp = tmp_path / "work", tmp_path / "temp"
    work.mkdir()
    temp.mkdir()
    edges = np.linspace(0, FILES, PROCESSES + 1).astype(int)
    with ThreadPoolExecutor(PROCESSES) as threads:
        said = "".join(
            threads.map(lambda span: _checked(*span, work, temp), pairwise(edges))
        )
    # Most damage is seen, and some files stay readable: both ways are tried.
    opened = said.count(" opened\n")
    assert said.count("\n") == FILES
    assert FILES * 0.1 < opened < FILES * 0.9
    assert list(work.iterdir()) == []
    assert list(temp.iterdir()) == []


def _checked(first: int, last: int, work: Path, temp: Path) -> str:
    """Check some files in a process of their own; return what it said of them."""
    try:
        done = subprocess.run(
            [sys.executable, __file__, str(first), str(last)],
            cwd=work,
            env={**os.environ, "TMPDIR": str(temp), "TEMP": str(temp)},
            capture_output=True,
            text=True,
            timeout=TIMEOUT_S,
            check=False,
        )
    except subprocess.TimeoutExpired as late:
        said = (late.stdout or b"").decode()
        pytest.fail(f"no end to file {said.splitlines()[-1:]}")
    last_file = done.stdout.splitlines()[-1:]
    assert done.returncode == 0, f"at file {last_file}: {done.stderr[-2000:]}"
    return done.stdout


def test_undamaged_files_are_opened() -> None:
    """So that what is damaged is not refused for another reason."""
    for name, content in _valid_files().items():
        if name in _REFUSED:
            continue
        width, height = open_picture(content, name).size
        assert {width, height} == set(SIZE), name


def check(content: bytes, name: str) -> bool:
    """Open, show and measure a file; return whether it could be opened.

    Parameters
    ----------
    content : bytes
        The file.
    name : str
        Its name.

    Returns
    -------
    bool

    Raises
    ------
    AssertionError
        If it warns, or is refused in other than one sentence.
    """
    with warnings.catch_warnings(record=True) as warned:
        warnings.simplefilter("always")
        picture = _or_refusal(lambda: open_picture(content, name))
        if picture is not None:
            assert picture.levels.ndim == 3
            assert picture.levels.dtype in (np.uint8, np.uint16)
            _or_refusal(lambda: preview(picture))
            marks = Marks(Area(0.1, 0.1, 0.9, 0.9))
            colour = _or_refusal(lambda: measure_swatch(picture, marks))
            if colour is not None:
                assert np.isfinite([*colour.lab, *colour.interval]).all()
                assert 0.0 <= colour.lab[0] <= 100.0
    assert not warned, [str(each.message) for each in warned]
    return picture is not None


def _or_refusal(work: Callable[[], Result]) -> Result | None:
    try:
        return work()
    except PhotoError as refusal:
        text = str(refusal)
        assert text[:1].strip(), text
        assert text.endswith("."), text
        assert len(text) <= LONGEST_SENTENCE, text
        assert "\n" not in text, text
        assert ". " not in text.replace("e.g. ", ""), text
        return None


def damaged(number: int) -> tuple[bytes, str]:
    """One damaged file and its name; the same number gives the same file."""
    rng = np.random.default_rng([SEED, number])
    files = _valid_files(rng)
    name = str(rng.choice(list(files)))
    content = files[name]
    for _ in range(int(rng.integers(1, 4))):
        way = _WAYS[int(rng.integers(len(_WAYS)))]
        content = way(content, rng)
    if rng.random() < 0.1:
        name = str(rng.choice(["a.jpg", "b.png", "c.heic", "d.tif", "e", "f.webp"]))
    return content, name


def _valid_files(rng: Random | None = None) -> dict[str, bytes]:
    """Small files of each kind; with a generator their profile and Exif are damaged."""
    icc = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    exif = _exif()
    if rng is not None and rng.random() < 0.4:
        icc = _flip(icc, rng) if rng.random() < 0.8 else _cut(icc, rng)
    if rng is not None and rng.random() < 0.4:
        exif = b"Exif\0\0" + _flip(exif[6:], rng)
    picture = _picture()
    image = Image.fromarray(picture)
    tags = {"icc_profile": icc, "exif": exif}
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        files = {
            "plain.jpg": _saved(image, "JPEG", quality=85, **tags),
            "progressive.jpg": _saved(image, "JPEG", progressive=True, **tags),
            "print.jpg": _saved(image.convert("CMYK"), "JPEG"),
            "views.mpo": _saved(
                image, "MPO", save_all=True, append_images=[image], exif=exif
            ),
            "eight.png": _saved(image, "PNG", **tags),
            "palette.png": _saved(image.convert("P"), "PNG"),
            "clear.png": _saved(image.convert("RGBA"), "PNG"),
            "sixteen.png": _png_16(picture, icc),
            "eight.tif": _saved(image, "TIFF", icc_profile=icc),
            "packed.tif": _saved(image, "TIFF", compression="tiff_lzw"),
            "sixteen.tif": _tiff_16(picture, icc),
            "deflated.tif": _tiff_16(picture, icc, "zlib"),
            "lossy.webp": _saved(image, "WEBP", quality=80, **tags),
            "lossless.webp": _saved(image, "WEBP", lossless=True),
            "moving.gif": _saved(
                image, "GIF", save_all=True, append_images=[image.rotate(90)]
            ),
            "moving.png": _saved(
                image, "PNG", save_all=True, append_images=[image.rotate(90)]
            ),
            "bitmap.bmp": _saved(image, "BMP"),
            "renamed.jpg": b"%PDF-1.7\n1 0 obj\n<< /Type /Catalog >>\nendobj\n" * 9,
            "notes.png": b"Lab 45 60 35, two coats over white\n" * 20,
            "empty.jpg": b"",
        }
        files.update(_heic(image, icc, exif))
    return files


_REFUSED = (
    "print.jpg",
    "moving.gif",
    "moving.png",
    "bitmap.bmp",
    "renamed.jpg",
    "notes.png",
    "empty.jpg",
)
"""What is no single RGB picture of a format that is read."""


def _picture() -> np.ndarray:
    width, height = SIZE
    ramp = np.linspace(90, 120, width)[None, :, None] * np.ones((height, 1, 3))
    return np.rint(ramp * [1.2, 0.9, 0.7]).astype(np.uint8)


def _exif() -> bytes:
    exif = Image.Exif()
    exif[0x0112] = 6
    exif[0x010F] = "made up"
    return exif.tobytes()


def _saved(image: Image.Image, kind: str, **options: object) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def _heic(image: Image.Image, icc: bytes, exif: bytes) -> dict[str, bytes]:
    import pillow_heif  # noqa: PLC0415

    out = io.BytesIO()
    heif = pillow_heif.from_pillow(image)
    heif.save(out, quality=70, icc_profile=icc, exif=exif)
    return {"phone.heic": out.getvalue()}


def _png_16(picture: np.ndarray, icc: bytes) -> bytes:
    height, width, _ = picture.shape
    rows = (picture.astype(">u2") * 257).reshape(height, -1).view(np.uint8)
    lines = np.concatenate([np.zeros((height, 1), np.uint8), rows], axis=1)
    return b"".join(
        [
            b"\x89PNG\r\n\x1a\n",
            _chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 16, 2, 0, 0, 0)),
            _chunk(b"iCCP", b"p\0\0" + zlib.compress(icc)),
            _chunk(b"IDAT", zlib.compress(lines.tobytes())),
            _chunk(b"IEND", b""),
        ]
    )


def _chunk(name: bytes, data: bytes) -> bytes:
    return (
        struct.pack(">I", len(data))
        + name
        + data
        + struct.pack(">I", zlib.crc32(name + data))
    )


def _tiff_16(picture: np.ndarray, icc: bytes, packing: str | None = None) -> bytes:
    out = io.BytesIO()
    tifffile.imwrite(
        out,
        picture.astype(np.uint16) * 257,
        photometric="rgb",
        metadata=None,
        compression=packing,
        extratags=[(34675, "B", len(icc), icc, True)],
    )
    return out.getvalue()


def _cut(content: bytes, rng: Random) -> bytes:
    return content[: int(rng.integers(0, len(content) + 1))]


def _flip(content: bytes, rng: Random) -> bytes:
    """Flip some bits."""
    out = bytearray(content)
    for _ in range(int(2 ** rng.uniform(0.0, 6.0))):
        if out:
            out[int(rng.integers(len(out)))] ^= 1 << int(rng.integers(8))
    return bytes(out)


def _fill(content: bytes, rng: Random) -> bytes:
    """Overwrite a stretch with one value."""
    start = int(rng.integers(0, len(content) + 1))
    length = int(rng.integers(1, 64))
    value = bytes([int(rng.choice([0, 1, 127, 128, 255]))])
    return content[:start] + value * length + content[start + length :]


def _shuffle(content: bytes, rng: Random) -> bytes:
    """Cut into pieces and put them together in another order."""
    size = int(rng.choice([4, 16, 64, 256]))
    pieces = [content[at : at + size] for at in range(0, len(content), size)]
    first = int(rng.integers(0, 3))
    rest = [pieces[place + first] for place in rng.permutation(len(pieces[first:]))]
    return b"".join(pieces[:first] + rest)


def _huge(content: bytes, rng: Random) -> bytes:
    """Put a large number where a header may keep a size."""
    number = int(rng.choice([0, 1, 0x7FFF, 0xFFFF, 0x7FFFFFFF, 0xFFFFFFFF, 60_000]))
    form = str(rng.choice([">I", "<I", ">H", "<H"]))
    number &= 0xFFFF if form.endswith("H") else 0xFFFFFFFF
    packed = struct.pack(form, number)
    at = int(rng.integers(0, max(1, min(len(content), 200))))
    return content[:at] + packed + content[at + len(packed) :]


def _jpeg_size(content: bytes, rng: Random) -> bytes:
    """Change height and width in the frame header (ITU-T T.81, B.2.2)."""
    for marker in (b"\xff\xc0\x00\x11", b"\xff\xc2\x00\x11"):
        at = content.find(marker)
        if at >= 0:
            sides = struct.pack(
                ">HH", *map(int, rng.choice([0, 1, 17, 8000, 65535], 2))
            )
            return content[: at + 5] + sides + content[at + 9 :]
    return content


def _png_chunks(content: bytes, rng: Random) -> bytes:
    """Damage the chunks of a PNG and make their checks right again."""
    if not content.startswith(b"\x89PNG"):
        return _flip(content, rng)
    chunks, at = [], 8
    while at + 12 <= len(content):
        length = int.from_bytes(content[at : at + 4], "big")
        chunks.append((content[at + 4 : at + 8], content[at + 8 : at + 8 + length]))
        at += 12 + length
    if not chunks:
        return content
    place = int(rng.integers(len(chunks)))
    name, data = chunks[place]
    way = int(rng.integers(4))
    if way == 0:
        chunks[place] = (name, _flip(data, rng))
    elif way == 1:
        chunks[place] = (name, _huge(data, rng))
    elif way == 2:
        chunks.insert(place, (name, data))
    else:
        del chunks[place]
    return content[:8] + b"".join(_chunk(*each) for each in chunks)


def _noise(content: bytes, rng: Random) -> bytes:
    """Insert random bytes."""
    at = int(rng.integers(0, len(content) + 1))
    return content[:at] + rng.bytes(int(rng.integers(1, 300))) + content[at:]


def _whole(content: bytes, rng: Random) -> bytes:  # noqa: ARG001
    return content


_WAYS = (
    _cut,
    _flip,
    _flip,
    _fill,
    _shuffle,
    _huge,
    _huge,
    _jpeg_size,
    _png_chunks,
    _noise,
    _whole,
)


def main() -> None:
    """Check the files with the numbers given, naming each before it is opened."""
    first, last = map(int, sys.argv[1:3])
    for number in range(first, last):
        content, name = damaged(number)
        sys.stdout.write(f"{number} {name}")
        sys.stdout.flush()
        sys.stdout.write(" opened\n" if check(content, name) else " refused\n")


if __name__ == "__main__":
    main()
