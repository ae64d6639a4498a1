"""What the book holds of colours, what was seen, photos and the shop itself.

Where one thing belongs to another (a colour to a paint line), it holds the other's
``uid`` in the book, or an empty text.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Final

from shadecore.book import checks
from shadecore.book.errors import BookError
from shadecore.book.shelf_note import followed
from shadecore.card.reading import SPECTRUM, Card
from shadecore.colour.condition import WORKING, Condition
from shadecore.colour.kinds import KINDS, SOLID
from shadecore.undercoats.shelf import Shelf, Undercoat

Plain = str | bool | int | float
Lab = tuple[float, float, float]

SEEN_SOURCES: Final = ("data-sheet", "job", "check")
"""Where a count comes from: the product's data sheet, a job, or a black-and-white
check looked at by eye."""
MOST_COATS: Final = 50
_PHOTO_NUMBERS: Final = 6
"""Variances and covariances of three coordinates."""
MOST_ANGLES: Final = 36
_MOST_ITEMS: Final = 500
_FARTHEST: Final = 1000.0
"""No L*, a* or b* of a surface comes near it."""


def check_lab(lab: Lab, what: str) -> None:
    """Refuse coordinates that no colour has.

    Parameters
    ----------
    lab : tuple of float
        L*, a*, b*.
    what : str
        What to call it in a message.

    Raises
    ------
    BookError
        If they are not three numbers in reach.
    """
    checks.numbers(lab, what, (3,))
    for value in lab:
        checks.number(value, what, -_FARTHEST, _FARTHEST)


@dataclass(frozen=True)
class AngleReading:
    """A colour read at one angle.

    Attributes
    ----------
    aspecular_deg : float
        From the direction of the mirror reflection, -90 to 180. [degrees]
    lab : tuple of float
        L*, a*, b* under the working condition's illuminant and observer.
    reflectance : tuple of float
        At 400 to 700 nm by 10 nm; empty where there is none.
    """

    aspecular_deg: float
    lab: Lab
    reflectance: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        checks.number(self.aspecular_deg, "The angle", -90.0, 180.0)
        check_lab(self.lab, "The reading at an angle")
        checks.numbers(self.reflectance, "The spectrum at an angle", (0, SPECTRUM))


@dataclass(frozen=True)
class BookColour:
    """A topcoat colour.

    Attributes
    ----------
    name : str
        What the shop calls it.
    lab : tuple of float
        L*, a*, b* under the working condition, D65/10 degrees, 45/0.
    entered : str
        As it was given, in words that :func:`shadecore.parse_topcoat` reads under
        ``condition``; empty where only ``lab`` is known.
    condition : Condition
        How it was measured.
    reflectance : tuple of float
        At 400 to 700 nm by 10 nm, 45/0; empty where there is none.
    photo_spread : tuple of float
        Of a colour read off a photo the six variances and covariances of the errors
        in L*, a*, b*: the upper triangle of their matrix, row by row; else empty.
    angles : tuple of AngleReading
        Readings at several angles, for what looks different from each.
    kind : str
        One of :data:`shadecore.colour.kinds.KINDS`; empty where nobody said.
    code, car : str
        Paint code, and the car it is on.
    line, gun : str
        ``uid`` of the paint line and of the gun.
    who : str
        Who measured or kept it.
    measured : datetime or None
        When, in the shop's own time.
    note : str
        Anything else.
    question : mapping of str to str, bool, int or float
        The question it was asked in, as plain values; see
        :mod:`shadecore.question.plain`. Empty where it was only kept.
    """

    name: str
    lab: Lab
    entered: str = ""
    condition: Condition = WORKING
    reflectance: tuple[float, ...] = ()
    photo_spread: tuple[float, ...] = ()
    angles: tuple[AngleReading, ...] = ()
    kind: str = SOLID
    code: str = ""
    car: str = ""
    line: str = ""
    gun: str = ""
    who: str = ""
    measured: datetime | None = None
    note: str = ""
    question: Mapping[str, Plain] = field(default_factory=dict)

    def __post_init__(self) -> None:
        checks.name(self.name, "The colour's name", needed=True)
        for value, what in (
            (self.code, "The colour's code"),
            (self.car, "The colour's car"),
            (self.who, "The person who kept the colour"),
        ):
            checks.name(value, what)
        check_lab(self.lab, f"The colour {self.name!r}")
        checks.text(self.entered, "The colour as given")
        checks.text(self.note, "The colour's note")
        checks.numbers(self.reflectance, "The colour's spectrum", (0, SPECTRUM))
        checks.numbers(self.photo_spread, "The doubt of the photo", (0, _PHOTO_NUMBERS))
        if self.kind:
            checks.choice(self.kind, "The kind of colour", KINDS)
        if len(self.angles) > MOST_ANGLES:
            message = (
                f"The colour {self.name!r} has over {MOST_ANGLES} angles; leave some "
                "out."
            )
            raise BookError(message)
        check_plain(self.question, f"The question of {self.name!r}")


def check_plain(values: Mapping[str, Plain], what: str) -> None:
    """Refuse a question that is not made of plain values.

    Parameters
    ----------
    values : mapping of str to str, bool, int or float
        The question.
    what : str
        What to call it in a message.

    Raises
    ------
    BookError
        If a value is of another kind, not finite or too long.
    """
    for key, value in values.items():
        checks.name(key, f"A name in the question ({what})", needed=True)
        if isinstance(value, str):
            checks.text(value, f"{what}, {key!r},", checks.LONGEST_TEXT)
        else:
            checks.number(value, f"{what}, {key!r},", -1e15, 1e15)


@dataclass(frozen=True)
class Stocked:
    """An undercoat on a shelf.

    Attributes
    ----------
    undercoat : Undercoat
        With its colour, spectrum and price.
    stock : float or None
        How much is left, in the unit of the price; None where nobody said.
    """

    undercoat: Undercoat
    stock: float | None = None

    def __post_init__(self) -> None:
        _check_undercoat(self.undercoat)
        what = f"The stock of the sealer {self.undercoat.name!r}"
        checks.number(self.stock, what, 0.0, 1e9)


def _check_undercoat(undercoat: Undercoat) -> None:
    """Refuse an undercoat that cannot be kept."""
    checks.name(undercoat.name, "The sealer's name", needed=True)
    checks.name(undercoat.unit, "The sealer's unit")
    what = f"The sealer {undercoat.name!r}"
    check_lab(undercoat.lab, what)
    checks.numbers(undercoat.reflectance, what, (SPECTRUM,))
    checks.number(undercoat.price, f"The price of the u{what[5:]}", 0.0, 1e9)


@dataclass(frozen=True)
class BookShelf:
    """A shelf of undercoats.

    Attributes
    ----------
    name : str
        What the shop calls it.
    items : tuple of Stocked
        The undercoats, in order.
    note : str
        Anything else.
    """

    name: str
    items: tuple[Stocked, ...]
    note: str = ""

    def __post_init__(self) -> None:
        checks.name(self.name, "The shelf's name", needed=True)
        checks.text(self.note, "The shelf's note")
        if not 1 <= len(self.items) <= _MOST_ITEMS:
            message = (
                f"The shelf {self.name!r} holds {len(self.items)} sealers; it needs "
                f"1 to {_MOST_ITEMS}."
            )
            raise BookError(message)
        names = [each.undercoat.name for each in self.items]
        twice = next((each for each in names if names.count(each) > 1), None)
        if twice is not None:
            message = f"Two sealers are called {twice!r}; give each its own name."
            raise BookError(message)

    def with_items(self, items: tuple[Stocked, ...]) -> "BookShelf":
        """The shelf with other undercoats; its note follows them."""
        now = tuple(each.undercoat for each in items)
        return replace(self, items=items, note=followed(self.note, self.shelf, now))

    @property
    def shelf(self) -> Shelf:
        """The undercoats to pick from."""
        return tuple(each.undercoat for each in self.items)

    @property
    def stock(self) -> dict[str, float | None]:
        """How much is left of each undercoat, by its name; None where nobody said."""
        return {each.undercoat.name: each.stock for each in self.items}


@dataclass(frozen=True)
class BookCard:
    """Readings of a test card of one colour.

    Attributes
    ----------
    colour : str
        ``uid`` of the colour.
    card : Card
        The readings, under the working condition.
    film_um : float
        Dry film of one of its coats. [um]
    name : str
        What the shop calls it.
    sprayed : datetime or None
        When, in the shop's own time.
    note : str
        Anything else.
    """

    colour: str
    card: Card
    film_um: float
    name: str = ""
    sprayed: datetime | None = None
    note: str = ""

    def __post_init__(self) -> None:
        checks.name(self.colour, "The card's colour", needed=True)
        checks.name(self.name, "The card's name")
        checks.text(self.note, "The card's note")
        checks.number(self.film_um, "The card's dry film", 0.1, 1000.0)
        sizes = (1, 3, SPECTRUM)
        for step in self.card.steps:
            checks.number(step.coats, "The coats of a step", 1, 1000)
            checks.numbers(step.over_black, "A reading over black", sizes)
            checks.numbers(step.over_white, "A reading over white", sizes)
        if self.card.full is not None:
            checks.numbers(self.card.full, "The reading of the full colour", sizes)
        checks.numbers((self.card.black, self.card.white), "The bare card", (2,))


@dataclass(frozen=True)
class BookSeen:
    """How many coats of a colour somebody saw hide, or not hide.

    ``hid`` says that the first coat that hides lies in ``coats_low`` to
    ``coats_high``; where nobody ``looked`` after each coat, it lies anywhere up to
    ``coats_high``. Without ``hid``, ``coats_high`` coats did not hide.

    Attributes
    ----------
    colour : str
        ``uid`` of the colour.
    source : str
        One of ``SEEN_SOURCES``.
    coats_low : int
        1 or more.
    coats_high : int or None
        None for no upper end, where it hid.
    hid : bool
        Whether it hid.
    undercoat : Undercoat or None
        What was under it; None for whichever the data sheet meant.
    film_um : float or None
        Dry film of one coat as it was told; None for the question's. [um]
    tolerance : float or None
        Difference that counted as hidden; None for the question's. [CIEDE2000]
    looked : bool
        Whether somebody looked after each coat.
    line, gun, job : str
        ``uid`` of the paint line, the gun and the job.
    batch : str
        Batch of the paint line; empty where nobody said.
    who : str
        Who looked.
    when : datetime or None
        In the shop's own time.
    note : str
        Anything else.
    """

    colour: str
    source: str
    coats_low: int
    coats_high: int | None
    hid: bool = True
    undercoat: Undercoat | None = None
    film_um: float | None = None
    tolerance: float | None = None
    looked: bool = True
    line: str = ""
    gun: str = ""
    job: str = ""
    batch: str = ""
    who: str = ""
    when: datetime | None = None
    note: str = ""

    def __post_init__(self) -> None:
        checks.name(self.colour, "The colour of what was seen", needed=True)
        checks.choice(self.source, "The source of what was seen", SEEN_SOURCES)
        checks.number(self.coats_low, "The coats", 1, MOST_COATS)
        checks.number(self.coats_high, "The coats", self.coats_low, MOST_COATS)
        if self.coats_high is None and not self.hid:
            message = "A record of coats that did not hide needs their number."
            raise BookError(message)
        if self.undercoat is not None:
            _check_undercoat(self.undercoat)
        checks.number(self.film_um, "The dry film", 0.1, 1000.0)
        checks.number(self.tolerance, "The tolerance", 0.01, 100.0)
        checks.name(self.batch, "The batch")
        checks.name(self.who, "The person who looked")
        checks.text(self.note, "The note")


@dataclass(frozen=True)
class BookPhoto:
    """A photo of a colour, kept because somebody said so.

    Its picture is added and read apart; see :meth:`shadecore.book.book.Book.picture`.

    Attributes
    ----------
    colour : str
        ``uid`` of the colour.
    name : str
        What the shop calls it.
    note : str
        Anything else.
    """

    colour: str
    name: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        checks.name(self.colour, "The photo's colour", needed=True)
        checks.name(self.name, "The photo's name")
        checks.text(self.note, "The photo's note")
