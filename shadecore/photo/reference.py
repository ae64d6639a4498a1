"""Neutral references: grey or white surfaces of known lightness beside the swatch."""

import math
from dataclasses import dataclass
from typing import Final

from shadecore.errors import PhotoError


@dataclass(frozen=True)
class Reference:
    """A neutral surface of known colour.

    Attributes
    ----------
    name : str
        What it is.
    lab : tuple of float
        L*, a*, b* under D65/10 degrees, 45/0.
    lightness_sd, opponent_sd : float
        Standard deviations of a piece of it from that, in L*, and in a* and b*.
    """

    name: str
    lab: tuple[float, float, float]
    lightness_sd: float
    opponent_sd: float

    @property
    def mark(self) -> str:
        """What its mark on a picture is called within a sentence."""
        first = self.name.partition(" (")[0].partition(",")[0]
        return first[0].lower() + first[1:]


_CARD_SD: Final = (0.7, 0.4)
"""Standard deviations of a card in L*, and in a* and b*; this tool's own assumption."""
_PAPER_SD: Final = (1.5, 1.2)
"""The same of paper, larger because brighteners make some papers bluish."""
REFERENCES: Final = {
    "grey card": Reference("Grey card (18 %)", (49.5, 0.0, 0.0), *_CARD_SD),
    "light grey card": Reference("Light grey card", (76.0, 0.0, 0.0), *_CARD_SD),
    "white paper": Reference("Matt white paper", (95.0, 0.0, 0.0), *_PAPER_SD),
}
"""References by what a painter calls them. A reflectance of 18 percent is L* 49.5 by
CIELAB; the other lightnesses are common practice, no source."""
LIGHTNESS_RANGE: Final = (20.0, 100.0)
"""Lowest and highest L* of a reference: a darker one is too noisy, a lighter one cannot
exist."""


def own_reference(lightness: float) -> Reference:
    """Neutral reference whose L* was measured or is printed on it.

    Parameters
    ----------
    lightness : float
        L*, 20 to 100.

    Raises
    ------
    PhotoError
        If the lightness is outside this range.
    """
    low, high = LIGHTNESS_RANGE
    if not (math.isfinite(lightness) and low <= lightness <= high):
        message = (
            f"The reference's L* must lie between {low:g} and {high:g}, not "
            f"{lightness:g}; use a grey card or matt white paper."
        )
        raise PhotoError(message)
    return Reference(f"Grey, L* {lightness:g}", (lightness, 0.0, 0.0), *_CARD_SD)
