"""How a colour was measured: illuminant, observer and geometry."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.errors import SettingError
from shadecore.formats.echo import shown

WHITE_POINTS: Final[dict[tuple[str, int], tuple[float, float, float]]] = {
    ("A", 2): (109.849, 100.0, 35.583),
    ("C", 2): (98.072, 100.0, 118.225),
    ("D50", 2): (96.420, 100.0, 82.512),
    ("D65", 2): (95.047, 100.0, 108.883),
    ("F11", 2): (100.961, 100.0, 64.351),
    ("A", 10): (111.144, 100.0, 35.200),
    ("C", 10): (97.285, 100.0, 116.145),
    ("D50", 10): (96.720, 100.0, 81.427),
    ("D65", 10): (94.811, 100.0, 107.305),
    ("F11", 10): (103.864, 100.0, 65.609),
}
"""X, Y, Z of a perfect diffuser by illuminant and observer, from CIE 15 data summed at
the 5 nm of its tables. D65, the working illuminant, is summed at 1 nm, so that it
agrees with the weights of ASTM E308."""

ILLUMINANTS: Final = ("D65", "D50", "A", "C", "F11")
OBSERVERS: Final = (10, 2)
SPECULAR: Final = ("excluded", "included")


@dataclass(frozen=True)
class Condition:
    """The condition a colour was measured under.

    Attributes
    ----------
    illuminant : str
        One of ``ILLUMINANTS``.
    observer : int
        2 or 10. [degrees]
    specular : str
        ``"excluded"`` for a 45/0 instrument, ``"included"`` for a sphere instrument
        that takes the mirror reflection in.

    Raises
    ------
    SettingError
        If one of them is not known.
    """

    illuminant: str = "D65"
    observer: int = 10
    specular: str = "excluded"

    def __post_init__(self) -> None:
        _one_of("illuminant", self.illuminant, ILLUMINANTS)
        _one_of("observer", self.observer, OBSERVERS)
        _one_of("specular", self.specular, SPECULAR)

    @property
    def white(self) -> NDArray[np.float64]:
        """X, Y, Z of a perfect diffuser, Y = 100."""
        return np.array(WHITE_POINTS[self.illuminant, self.observer])

    def __str__(self) -> str:
        """Short name, as shown beside a colour."""
        return f"{self.illuminant}/{self.observer}°, specular {self.specular}"


def _one_of(name: str, value: object, known: tuple[object, ...]) -> None:
    if value not in known:
        choices = ", ".join(str(choice) for choice in known)
        message = f"The {name} {shown(value)} is not known; use one of {choices}."
        raise SettingError(message)


WORKING: Final = Condition()
"""D65, 10 degrees, specular excluded: every colour is converted to this condition."""
