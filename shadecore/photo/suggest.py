"""Suggested marks on a picture: what is probably the swatch and the reference."""

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from shadecore.photo.area import CLIPPED_FROM, SHARE_SPOILED, Area
from shadecore.photo.chart import chart_on_preview
from shadecore.photo.corners import Corners, chart_outline
from shadecore.photo.picture import Picture, preview
from shadecore.photo.surfaces import Surface, even_surfaces, smoothed

_SMALLEST_SHARE: Final = 0.004
"""Share of the picture that a surface must take to be suggested."""
_NEUTRAL_BELOW: Final = 14.0
"""C* below which a surface may be a grey card, in light that is not quite white."""
_DARK_BELOW: Final = 35.0
"""L* below which a surface is not suggested as a reference."""
_CHROMA_WORTH: Final = 40.0
"""C* that makes a surface as likely a swatch as its lying in the middle of the picture.
These four are this tool's own choices."""
_FALLBACK: Final = Area(0.35, 0.35, 0.65, 0.65)


class Suggestion(NamedTuple):
    """Suggested marks.

    Attributes
    ----------
    swatch : Area
        The swatch; the middle of the picture where nothing even was found.
    reference : Area or None
        A neutral surface.
    chart : tuple of (float, float) or None
        Corners of a 24-patch chart.
    """

    swatch: Area
    reference: Area | None
    chart: Corners | None


def suggest_marks(picture: Picture) -> Suggestion:
    """Suggest where the swatch, a reference and a chart are on a picture."""
    small = preview(picture)
    looked_at = smoothed(small)
    chart = chart_on_preview(small, looked_at)
    surfaces = list(even_surfaces(looked_at, _SMALLEST_SHARE))
    if chart is not None:
        outline = chart_outline(chart)
        surfaces = [each for each in surfaces if not _inside(each, outline)]
    reference = _reference(surfaces, small)
    others = [each for each in surfaces if each is not reference]
    swatch = max(others, key=_swatch_worth, default=None)
    return Suggestion(
        _FALLBACK if swatch is None else swatch.area,
        None if reference is None else reference.area,
        chart,
    )


def _inside(surface: Surface, outline: Area) -> bool:
    x, y = surface.area.centre
    return outline.left <= x <= outline.right and outline.top <= y <= outline.bottom


def _chroma(surface: Surface) -> float:
    return float(np.hypot(surface.lab[1], surface.lab[2]))


def _is_clipped(surface: Surface, small: NDArray[np.uint8]) -> bool:
    """Whether a surface is burnt out in a channel, so that its colour is not known."""
    height, width = small.shape[:2]
    area = surface.area
    levels = small[
        int(area.top * height) : int(np.ceil(area.bottom * height)),
        int(area.left * width) : int(np.ceil(area.right * width)),
    ]
    burnt = levels >= CLIPPED_FROM * np.iinfo(small.dtype).max
    return bool(burnt.mean(axis=(0, 1)).max() > SHARE_SPOILED)


def _reference(surfaces: list[Surface], small: NDArray[np.uint8]) -> Surface | None:
    """The lightest neutral surface, if there is another one for the swatch."""
    grey = [
        each
        for each in surfaces
        if _chroma(each) < _NEUTRAL_BELOW
        and each.lab[0] > _DARK_BELOW
        and not _is_clipped(each, small)
    ]
    if len(surfaces) <= 1 or not grey:
        return None
    return max(grey, key=lambda each: each.lab[0] - _chroma(each))


def _swatch_worth(surface: Surface) -> float:
    """How likely a surface is the swatch: best large, in the middle, and coloured."""
    x, y = surface.area.centre
    middle = 1.0 - np.hypot(x - 0.5, y - 0.5)
    across, down = surface.area.extent
    return float(np.sqrt(across * down) * (middle + _chroma(surface) / _CHROMA_WORTH))
