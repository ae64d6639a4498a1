"""An answer's state as a link: what was asked, and nothing that can be worked out."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Final, TypeVar

from shadecore.coats.cost import Rates
from shadecore.coats.settings import (
    DEFAULT_COAT_CAP,
    DEFAULT_FILM_LIMIT_UM,
    DEFAULT_TOLERANCE,
    LARGEST_CAP,
    TOLERANCE_RANGE,
)
from shadecore.colour.condition import ILLUMINANTS, OBSERVERS, SPECULAR
from shadecore.film.build import (
    DEFAULT_DRY_FILM_UM,
    DEFAULT_OVERLAP,
    DEFAULT_TRANSFER_EFFICIENCY,
    DEFAULT_VOLUME_SOLIDS,
    DEFAULT_WET_PASS_UM,
)

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

_State = TypeVar("_State", bound="DataclassInstance")

EXAMPLE_COLOUR: Final = "45 60 35"


@dataclass(frozen=True)
class PickState:
    """What the painter set on the pick's page.

    Attributes
    ----------
    colour : str
        As typed.
    illuminant, specular : str
        How Lab values were measured.
    observer : int
        [degrees]
    tolerance : float
        [CIEDE2000]
    film_um : float
        Dry film of one coat, where it is given. [um]
    from_gun : bool
        Whether the film is worked out from the gun and the mix instead.
    paint_parts, reducer_parts : float
        The mix.
    solids_percent, wet_um, overlap_percent, transfer_percent : float
        The paint and the gun.
    coat_cap : int
        Coats counted at most.
    film_limit_um : float
        Dry film that should not be exceeded. [um]
    blends : bool
        Whether two undercoats may be mixed.
    strength : float
        How strongly the darker one of a blend counts.
    units : str
        ``metric`` or ``us``.
    shelf : str
        The shelf as CSV; empty for the example shelf.
    card : str
        Readings of a test card as CSV; empty for none.
    photo : str
        Doubt of a colour read off a photo; see
        :mod:`shadecore.photo.photo_line`. Empty for none.
    areas : str
        Names of the undercoats that lie bare side by side, one a line.
    area_m2, topcoat_price_per_l, sealer_ml_per_m2 : float
        What things cost; see :class:`shadecore.coats.cost.Rates`.
    minutes_per_coat, hourly_rate : float
        The same.
    """

    colour: str = EXAMPLE_COLOUR
    illuminant: str = "D65"
    observer: int = 10
    specular: str = "excluded"
    tolerance: float = DEFAULT_TOLERANCE
    film_um: float = DEFAULT_DRY_FILM_UM
    from_gun: bool = False
    paint_parts: float = 1.0
    reducer_parts: float = 1.0
    solids_percent: float = 100.0 * DEFAULT_VOLUME_SOLIDS
    wet_um: float = DEFAULT_WET_PASS_UM
    overlap_percent: float = 100.0 * DEFAULT_OVERLAP
    transfer_percent: float = 100.0 * DEFAULT_TRANSFER_EFFICIENCY
    coat_cap: int = DEFAULT_COAT_CAP
    film_limit_um: float = DEFAULT_FILM_LIMIT_UM
    blends: bool = True
    strength: float = 1.0
    units: str = "metric"
    shelf: str = ""
    card: str = ""
    photo: str = ""
    areas: str = ""
    area_m2: float = Rates.area_m2
    topcoat_price_per_l: float = Rates.topcoat_price_per_l
    sealer_ml_per_m2: float = Rates.sealer_ml_per_m2
    minutes_per_coat: float = Rates.minutes_per_coat
    hourly_rate: float = Rates.hourly_rate


CHOICES: Final[dict[str, tuple[object, ...]]] = {
    "illuminant": ILLUMINANTS,
    "observer": OBSERVERS,
    "specular": SPECULAR,
    "units": ("metric", "us"),
}
"""What some fields may be."""
RANGES: Final[dict[str, tuple[float, float]]] = {
    "tolerance": TOLERANCE_RANGE,
    "film_um": (0.5, 200.0),
    "paint_parts": (0.1, 100.0),
    "reducer_parts": (0.0, 100.0),
    "solids_percent": (1.0, 100.0),
    "wet_um": (1.0, 500.0),
    "overlap_percent": (0.0, 95.0),
    "transfer_percent": (5.0, 100.0),
    "coat_cap": (1, LARGEST_CAP),
    "film_limit_um": (5.0, 1000.0),
    "strength": (0.05, 20.0),
    "area_m2": (0.01, 1000.0),
    "topcoat_price_per_l": (0.0, 10_000.0),
    "sealer_ml_per_m2": (0.0, 5000.0),
    "minutes_per_coat": (0.0, 600.0),
    "hourly_rate": (0.0, 10_000.0),
}
"""Between what the numbers may lie."""


def allowed(
    name: str, value: object, ranges: Mapping[str, tuple[float, float]] = RANGES
) -> bool:
    """Whether a field of the state may have a value.

    Parameters
    ----------
    name : str
        The field.
    value : object
        The value.
    ranges : mapping
        Between what numbers may lie.

    Returns
    -------
    bool
    """
    if name in CHOICES:
        return value in CHOICES[name]
    if name in ranges:
        low, high = ranges[name]
        return isinstance(value, int | float) and low <= value <= high
    return True


def to_query(state: "DataclassInstance") -> dict[str, str]:
    """Write a state as the parameters of a link; defaults are left out.

    Parameters
    ----------
    state : dataclass
        The state of a page, with a default for every field.

    Returns
    -------
    dict of str to str
    """
    query = {}
    for field in fields(state):
        value = getattr(state, field.name)
        if value != field.default:
            query[field.name] = f"{value:g}" if isinstance(value, float) else str(value)
    return query


def from_query(query: Mapping[str, str]) -> PickState:
    """Read a state from the parameters of a link; what cannot be read is left out.

    Parameters
    ----------
    query : mapping of str to str
        The parameters.

    Returns
    -------
    PickState
    """
    return read_state(query, PickState)


def read_state(
    query: Mapping[str, str],
    kind: type[_State],
    ranges: Mapping[str, tuple[float, float]] = RANGES,
) -> _State:
    """Read the state of a page; what cannot be read is left out.

    Parameters
    ----------
    query : mapping of str to str
        The parameters of a link.
    kind : type
        The dataclass of the state, with a default for every field.
    ranges : mapping
        Between what its numbers may lie.

    Returns
    -------
    object of that type
    """
    known = {}
    for field in fields(kind):
        if field.name in query:
            read = _READERS[type(field.default)]
            try:
                value = read(query[field.name])
            except ValueError:
                continue
            if allowed(field.name, value, ranges):
                known[field.name] = value
    return kind(**known)


def _read_bool(text: str) -> bool:
    if text not in {"True", "False"}:
        raise ValueError(text)
    return text == "True"


_READERS: Final[dict[type, Callable[[str], object]]] = {
    bool: _read_bool,
    int: int,
    float: float,
    str: str,
}
