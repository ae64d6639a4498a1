"""A small matrix profile by ICC.1:2022, for pictures in a wide colour space."""

from __future__ import annotations

import struct

import colour
import numpy as np

_HEADER_BYTES = 128
_D50 = (0.9642, 1.0, 0.8249)
"""White of the profile connection space."""


def matrix_profile(space: str) -> bytes:
    """Profile of an RGB space of colour-science that is encoded by the curve of sRGB.

    Parameters
    ----------
    space : str
        Name of the space.

    Returns
    -------
    bytes
    """
    known = colour.RGB_COLOURSPACES[space]
    white = colour.xy_to_XYZ(known.whitepoint)
    adaptation = colour.adaptation.matrix_chromatic_adaptation_VonKries(
        white, np.array(_D50), transform="Bradford"
    )
    columns = (adaptation @ known.matrix_RGB_to_XYZ).T
    curve = _curve()
    tags = [
        (b"desc", _text(space)),
        (b"cprt", _text("No copyright")),
        (b"wtpt", _xyz(np.array(_D50))),
        (b"chad", b"sf32" + bytes(4) + _fixed(adaptation.ravel())),
        *((name, _xyz(each)) for name, each in zip(_COLUMNS, columns, strict=True)),
        *((name, curve) for name in (b"rTRC", b"gTRC", b"bTRC")),
    ]
    return _joined(tags)


_COLUMNS = (b"rXYZ", b"gXYZ", b"bXYZ")


def _joined(tags: list[tuple[bytes, bytes]]) -> bytes:
    table, body = b"", b""
    start = _HEADER_BYTES + 4 + 12 * len(tags)
    for name, data in tags:
        table += struct.pack(">4sII", name, start + len(body), len(data))
        body += data + bytes(-len(data) % 4)
    size = start + len(body)
    header = struct.pack(
        ">I4sI4s4s4s", size, bytes(4), 0x04400000, b"mntr", b"RGB ", b"XYZ "
    )
    header += struct.pack(">6H4s", 2027, 1, 1, 0, 0, 0, b"acsp")
    header = header.ljust(68, b"\0") + _fixed(np.array(_D50))
    return (
        header.ljust(_HEADER_BYTES, b"\0") + struct.pack(">I", len(tags)) + table + body
    )


def _fixed(values: np.ndarray) -> bytes:
    return np.rint(np.asarray(values) * 65536.0).astype(">i4").tobytes()


def _xyz(values: np.ndarray) -> bytes:
    return b"XYZ " + bytes(4) + _fixed(values)


def _curve() -> bytes:
    """Parametric curve of type 3: that of IEC 61966-2-1."""
    numbers = np.array([2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045])
    return b"para" + bytes(4) + struct.pack(">HH", 3, 0) + _fixed(numbers)


def _text(text: str) -> bytes:
    encoded = text.encode("utf-16-be")
    return (
        b"mluc"
        + bytes(4)
        + struct.pack(">II2s2sII", 1, 12, b"en", b"US", len(encoded), 28)
        + encoded
    )
