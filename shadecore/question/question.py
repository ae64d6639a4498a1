"""What is asked: one record for screens, command line, links, files and prints."""

from dataclasses import dataclass, field
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from shadecore.card.reading import Card
from shadecore.coats.cost import Rates
from shadecore.coats.loading import Loading, default_loading
from shadecore.coats.seen import Seen
from shadecore.coats.settings import (
    DEFAULT_COAT_CAP,
    DEFAULT_FILM_LIMIT_UM,
    DEFAULT_TOLERANCE,
    DEFAULT_USUAL_COATS,
    Settings,
)
from shadecore.colour.angles import MIDDLE_DEG, AngleReadings, angle_readings
from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.kinds import NOT_SAID, OVER_A_GROUND, SOLID, flakes_of
from shadecore.colour.topcoat import Topcoat, parse_topcoat
from shadecore.film.build import (
    DEFAULT_DRY_FILM_UM,
    DEFAULT_OVERLAP,
    DEFAULT_TRANSFER_EFFICIENCY,
    DEFAULT_VOLUME_SOLIDS,
    DEFAULT_WET_PASS_UM,
    CoatFilm,
    coat_film,
    reduced_volume_solids,
)
from shadecore.undercoats.shelf import Shelf
from shadecore.undercoats.shelf_table import demo_shelf

EXAMPLE_COLOUR: Final = "45 60 35"
_PERCENT: Final = 100.0
_UPPER: Final = np.triu_indices(3)


@dataclass(frozen=True)
class FilmAsked:
    """The film of one coat: as given, or what it is worked out from.

    Attributes
    ----------
    dry_film_um : float
        Dry film of one coat, where it is given. [um]
    from_gun : bool
        Whether the film is worked out from the gun and the mix instead.
    paint_parts, reducer_parts : float
        The mix.
    solids_percent : float
        Volume solids of the paint as it comes. [%]
    wet_um : float
        Wet film of one pass. [um]
    overlap_percent : float
        Of the stroke before. [%]
    transfer_percent : float
        Paint that stays on the part. [%]
    """

    dry_film_um: float = DEFAULT_DRY_FILM_UM
    from_gun: bool = False
    paint_parts: float = 1.0
    reducer_parts: float = 1.0
    solids_percent: float = _PERCENT * DEFAULT_VOLUME_SOLIDS
    wet_um: float = DEFAULT_WET_PASS_UM
    overlap_percent: float = _PERCENT * DEFAULT_OVERLAP
    transfer_percent: float = _PERCENT * DEFAULT_TRANSFER_EFFICIENCY

    @cached_property
    def coat(self) -> CoatFilm:
        """The film that one coat leaves.

        Raises
        ------
        SettingError
            If a value is outside its range.
        """
        mix = (self.paint_parts, self.reducer_parts)
        solids = self.solids_percent / _PERCENT
        transfer = self.transfer_percent / _PERCENT
        if self.from_gun:
            overlap = self.overlap_percent / _PERCENT
            return coat_film(self.wet_um, overlap, solids, mix, transfer)
        thinned = reduced_volume_solids(solids, *mix)
        return CoatFilm(self.dry_film_um, thinned, transfer)


@dataclass(frozen=True)
class PhotoDoubt:
    """How far a colour read off a photo may be off.

    Attributes
    ----------
    spread : tuple of float
        The six variances and covariances of the errors in L*, a*, b*: the upper
        triangle of their matrix, row by row.
    """

    spread: tuple[float, ...]

    @property
    def covariance(self) -> NDArray[np.float64]:
        """The whole matrix, shape (3, 3)."""
        matrix = np.zeros((3, 3))
        matrix[_UPPER] = self.spread
        return matrix + np.triu(matrix, 1).T


def photo_doubt(covariance: NDArray[np.floating]) -> PhotoDoubt:
    """The doubt of a colour from the covariance of its errors.

    Parameters
    ----------
    covariance : array, shape (3, 3)
        Of the errors in L*, a*, b*.

    Returns
    -------
    PhotoDoubt
    """
    return PhotoDoubt(tuple(float(value) for value in covariance[_UPPER]))


@dataclass(frozen=True)
class Mixing:
    """Whether two sealers may be mixed.

    Attributes
    ----------
    allowed : bool
        Whether a mix is looked for.
    strength : float
        Times the darker one counts against its parts; 1 unless a mix was measured.
    """

    allowed: bool = True
    strength: float = 1.0


@dataclass(frozen=True)
class Question:
    """Everything an answer depends on, and how it is to be shown.

    Attributes
    ----------
    colour : str
        The topcoat as it was given: numbers, a code, or a line with a spectrum.
    kind : str
        One of :data:`shadecore.colour.kinds.KINDS`; empty where nobody said.
    angles : AngleReadings or None
        The colour at several angles, in the place of ``colour``.
    condition : Condition
        How that colour was measured. The shelf and the card are kept as they are
        under the working condition.
    photo : PhotoDoubt or None
        Where the colour was read off a photo, how far it may be off.
    tolerance : float
        Difference that counts as hidden. [CIEDE2000]
    film : FilmAsked
        The film of one coat.
    coat_cap : int
        Coats counted at most.
    film_limit_um : float
        Dry film that should not be exceeded. [um]
    usual_coats : int
        Coats beyond which a colour is said to hide poorly.
    shelf : tuple of Undercoat
        What there is to choose from; the invented greys unless given.
    mixing : Mixing
        Whether two of them may be mixed.
    card : Card or None
        Readings of a test card sprayed with this paint.
    seen : tuple of Seen
        What the shop has seen of this paint, or its data sheet says.
    loading : Loading
        How heavily paints of this line and gun are loaded, as earlier jobs tell;
        unless given, what holds of any paint.
    areas : tuple of str
        Names of the undercoats that lie bare side by side on the panel.
    rates : Rates
        What things cost.
    units : str
        ``metric`` or ``us``.
    """

    colour: str = EXAMPLE_COLOUR
    kind: str = NOT_SAID
    angles: AngleReadings | None = None
    condition: Condition = WORKING
    photo: PhotoDoubt | None = None
    tolerance: float = DEFAULT_TOLERANCE
    film: FilmAsked = field(default_factory=FilmAsked)
    coat_cap: int = DEFAULT_COAT_CAP
    film_limit_um: float = DEFAULT_FILM_LIMIT_UM
    usual_coats: int = DEFAULT_USUAL_COATS
    shelf: Shelf = field(default_factory=demo_shelf)
    mixing: Mixing = field(default_factory=Mixing)
    card: Card | None = None
    seen: tuple[Seen, ...] = ()
    loading: Loading = field(default_factory=default_loading)
    areas: tuple[str, ...] = ()
    rates: Rates = field(default_factory=Rates)
    units: str = "metric"

    @cached_property
    def topcoat(self) -> Topcoat:
        """The colour under the working condition.

        Raises
        ------
        ShadecoreError
            If it cannot be read or cannot exist.
        """
        if self.angles is None:
            return parse_topcoat(self.colour, self.condition)
        spectra = self.angles.reflectance
        middle = self.angles.angles.index(MIDDLE_DEG)
        return Topcoat(
            self.angles.lab[middle],
            f"{len(self.angles.angles)} angles",
            spectra[middle] if spectra is not None and self.kind == SOLID else None,
        )

    @cached_property
    def flakes(self) -> tuple[str, ...]:
        """Kinds of flakes that the paint may hold; none for a solid colour."""
        return flakes_of(self.kind, turned=self.angles is not None)

    @property
    def over_a_ground(self) -> bool:
        """Whether what is asked about is the ground of a colour that shows it."""
        return self.kind in OVER_A_GROUND

    @cached_property
    def readings(self) -> AngleReadings:
        """The colour at the angles that are known: one where only one was given.

        Raises
        ------
        ShadecoreError
            If the colour cannot be read or cannot exist.
        """
        if self.angles is not None:
            return self.angles
        return angle_readings([(MIDDLE_DEG, self.topcoat.lab)])

    @cached_property
    def settings(self) -> Settings:
        """Tolerance, film and limits.

        Raises
        ------
        SettingError
            If one is outside its range.
        """
        return Settings(
            tolerance=self.tolerance,
            film=self.film.coat,
            coat_cap=self.coat_cap,
            film_limit_um=self.film_limit_um,
            usual_coats=self.usual_coats,
        )
