"""Marks on a picture: the one widget that Streamlit does not have.

The script and the style beside this file are the browser's part of it; they load
nothing from elsewhere.
"""

import base64
import io
from collections.abc import Mapping
from pathlib import Path
from typing import Any, Final, NamedTuple

import numpy as np
import streamlit as st
from numpy.typing import NDArray
from PIL import Image

_HERE: Final = Path(__file__).parent
_QUALITY: Final = 88


class Mark(NamedTuple):
    """Something to mark.

    Attributes
    ----------
    key : str
        For the program.
    label : str
        For the painter.
    at : tuple of float
        Left, top, right, bottom of a box, or x and y of a corner, as shares of the
        picture's width and height.
    """

    key: str
    label: str
    at: tuple[float, ...]


class Placed(NamedTuple):
    """Where the marks are now, by their keys.

    Attributes
    ----------
    boxes, corners : mapping of str to tuple of float
        As :class:`Mark` has them.
    """

    boxes: dict[str, tuple[float, ...]]
    corners: dict[str, tuple[float, ...]]


def _component() -> Any:  # noqa: ANN401 - Streamlit's renderer has no public type
    return st.components.v2.component(
        "shadecore_marker",
        html='<div class="sc-marker"></div>',
        css=(_HERE / "marker.css").read_text("utf-8"),
        js=(_HERE / "marker.js").read_text("utf-8"),
    )


def ask_marks(
    image: NDArray[np.uint8],
    boxes: tuple[Mark, ...],
    corners: tuple[Mark, ...],
    edition: str,
    alt: str,
) -> Placed:
    """Show a picture with marks that can be moved.

    Parameters
    ----------
    image : array of uint8, shape (height, width, 3)
        sRGB.
    boxes, corners : tuple of Mark
        What to mark, and where the marks start.
    edition : str
        Another one starts the marks afresh.
    alt : str
        What the picture is, for those who cannot see it.

    Returns
    -------
    Placed
        Where the marks are; where they started, until one was moved.
    """
    data = {
        "image": _data_url(image),
        "alt": alt,
        "edition": edition,
        "boxes": [each._asdict() for each in boxes],
        "corners": [each._asdict() for each in corners],
    }
    result = _component()(
        data=data, key=f"marker_{edition}", on_marks_change=lambda: None
    )
    moved = getattr(result, "marks", None) or {}
    return Placed(
        _placed(boxes, moved.get("boxes", {})),
        _placed(corners, moved.get("corners", {})),
    )


def _placed(
    marks: tuple[Mark, ...], moved: Mapping[str, object]
) -> dict[str, tuple[float, ...]]:
    placed = {}
    for each in marks:
        at = moved.get(each.key)
        placed[each.key] = each.at
        if isinstance(at, list) and len(at) == len(each.at):
            placed[each.key] = tuple(float(value) for value in at)
    return placed


def _data_url(image: NDArray[np.uint8]) -> str:
    out = io.BytesIO()
    Image.fromarray(image).save(out, "JPEG", quality=_QUALITY)
    return f"data:image/jpeg;base64,{base64.b64encode(out.getvalue()).decode()}"
