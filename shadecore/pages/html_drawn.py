"""Drawings of a document as HTML: strokes of the gun, lines to write on."""

from html import escape
from typing import Final

from shadecore.pages.blocks import ByHand, Strokes

BY_HAND_STYLE: Final = """
.by-hand {display: flex; flex-wrap: wrap; gap: .5em 1em; margin: .4em 0;}
.by-hand span {flex: 1 1 9em; display: flex; gap: .4em;}
.by-hand i {flex: 1; border-bottom: 1px solid currentColor; min-height: 1.5em;}
"""
"""Of lines to write on, for a print and for the page alike."""
_PANEL_CM: Final = 100.0
"""Width of the panel that is drawn; only its height is told."""
_SIDE_CM: Final = 12.0
"""What a stroke goes past the panel's edge."""
_LINE_CM: Final = 0.8
_TEXT_CM: Final = 8.5
_ABREAST: Final = 3
"""Numbers of strokes stand so many columns apart, for strokes lie closer than lines."""
_COLUMN_CM: Final = 12.0


def strokes_html(block: Strokes) -> str:
    """Strokes as a drawing with its words.

    Parameters
    ----------
    block : Strokes
        The content.

    Returns
    -------
    str
    """
    half = block.fan_cm / 2.0
    wide = _PANEL_CM + 2.0 * _SIDE_CM
    tall = block.height_cm + block.fan_cm
    bands = "".join(
        f'<rect x="0" y="{place:.1f}" width="{wide:g}" height="{block.fan_cm:g}" '
        'fill="#000" fill-opacity="0.14"/>'
        f'<line x1="0" x2="{wide:g}" y1="{place + half:.1f}" y2="{place + half:.1f}" '
        f'stroke="#000" stroke-width="{_LINE_CM}" stroke-dasharray="4 2"/>'
        f'<text x="{1.0 + (number - 1) % _ABREAST * _COLUMN_CM:g}" '
        f'y="{place + half + _TEXT_CM / 3.0:.1f}" font-size="{_TEXT_CM}">'
        f"{number}</text>"
        for number, place in enumerate(block.places_cm, start=1)
    )
    return (
        '<figure class="strokes"><svg role="img" '
        f'aria-label="Strokes across a panel" viewBox="0 0 {wide:g} {tall:g}">'
        f'{bands}<rect x="{_SIDE_CM:g}" y="{half:g}" width="{_PANEL_CM:g}" '
        f'height="{block.height_cm:g}" fill="none" stroke="#000" '
        f'stroke-width="{2 * _LINE_CM}"/></svg>'
        f"<figcaption>{escape(block.text)}</figcaption></figure>"
    )


def by_hand_html(block: ByHand) -> str:
    """Lines to write on.

    Parameters
    ----------
    block : ByHand
        The content.

    Returns
    -------
    str
    """
    lines = "".join(f"<span>{escape(each)}<i></i></span>" for each in block.labels)
    return f'<div class="by-hand">{lines}</div>'
