"""What the book holds of paint lines, guns, jobs, and how the shop works."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from shadecore.book import checks
from shadecore.book.errors import BookError
from shadecore.book.records import MOST_COATS
from shadecore.job.estimate import ShopRates
from shadecore.job.own_steps import MOST_STEPS, MOST_TITLE, StepChange
from shadecore.job.shop_hours import ShopHours
from shadecore.products.left_overs import LeftOver

JOB_STATES: Final = ("planned", "started", "done", "abandoned")
UNITS: Final = ("metric", "us")
PAPERS: Final = ("A4", "Letter")


@dataclass(frozen=True)
class BookSheet:
    """A product sheet.

    Attributes
    ----------
    name : str
        What the shop calls it.
    text : str
        TOML, as :mod:`shadecore.products.sheet_file` reads it.
    note : str
        Anything else.
    """

    name: str
    text: str
    note: str = ""

    def __post_init__(self) -> None:
        checks.name(self.name, "The product sheet's name", needed=True)
        checks.text(self.text, "The product sheet", checks.LONGEST_TEXT)
        checks.text(self.note, "The product sheet's note")


@dataclass(frozen=True)
class BookSteps:
    """A set of the shop's own steps, to be used in any job.

    Attributes
    ----------
    name : str
        What the shop calls it.
    changes : tuple of StepChange
        What is done otherwise than usual; at least one.
    note : str
        Anything else.
    """

    name: str
    changes: tuple[StepChange, ...]
    note: str = ""

    def __post_init__(self) -> None:
        # A name of this length can be written into a file and read back.
        what = "The name of the set of steps"
        checks.name(self.name, what, needed=True, most=MOST_TITLE)
        checks.text(self.note, "The note of the set of steps")
        if not 1 <= len(self.changes) <= MOST_STEPS:
            message = (
                f"A set of steps changes 1 to {MOST_STEPS} steps, and this one changes "
                f"{len(self.changes)}; change a step first."
            )
            raise BookError(message)


@dataclass(frozen=True)
class PaintLine:
    """A line of paint, of which colours share how strongly they are loaded.

    Attributes
    ----------
    name : str
        What the shop calls it.
    sheet : str
        ``uid`` of its product sheet.
    batch : str
        The batch in use; another one widens what was learned.
    note : str
        Anything else.
    forgotten : datetime or None
        Until when what was learned of it is forgotten, in UTC; None for not at all.
    """

    name: str
    sheet: str = ""
    batch: str = ""
    note: str = ""
    forgotten: datetime | None = None

    def __post_init__(self) -> None:
        checks.name(self.name, "The paint line's name", needed=True)
        checks.name(self.batch, "The paint line's batch")
        checks.text(self.note, "The paint line's note")


@dataclass(frozen=True)
class SprayGun:
    """A spray gun with its settings, which lays down a film of its own.

    Attributes
    ----------
    name : str
        What the shop calls it; whoever sprays with it may be part of the name.
    note : str
        Tip, pressure, anything else.
    forgotten : datetime or None
        Until when what was learned of it is forgotten, in UTC; None for not at all.
    """

    name: str
    note: str = ""
    forgotten: datetime | None = None

    def __post_init__(self) -> None:
        checks.name(self.name, "The gun's name", needed=True)
        checks.text(self.note, "The gun's note")


@dataclass(frozen=True)
class BookJob:
    """A job.

    Attributes
    ----------
    name : str
        What the shop calls it.
    text : str
        The job file, as :func:`shadecore.job.job_file.write_job` writes it: the
        request, the steps done and when.
    state : str
        One of ``JOB_STATES``.
    step : str
        Where it stands, for a list; empty where nobody said.
    code, car : str
        Paint code, and the car.
    colour, line, gun : str
        ``uid`` of the colour, the paint line and the gun.
    coats_sprayed : int or None
        Coats of the topcoat so far.
    took_coats : int or None
        Coats it took in the end.
    took_ml, took_minutes : float or None
        Ready-to-spray paint and working time it took in the end.
    started, finished : datetime or None
        In the shop's own time.
    who : str
        Who does it.
    note : str
        Anything else.
    plate, customer : str
        Number plate of the car and whose it is: for the shop's own eyes, so they stand
        in no job file and no link.
    request : str
        ``uid`` of the job's request, by which its file or link is known again.
    sheet : str
        The product sheet it is planned from, as TOML; empty for the invented one.
    """

    name: str
    text: str
    state: str = "planned"
    step: str = ""
    code: str = ""
    car: str = ""
    colour: str = ""
    line: str = ""
    gun: str = ""
    coats_sprayed: int | None = None
    took_coats: int | None = None
    took_ml: float | None = None
    took_minutes: float | None = None
    started: datetime | None = None
    finished: datetime | None = None
    who: str = ""
    note: str = ""
    plate: str = ""
    customer: str = ""
    request: str = ""
    sheet: str = ""

    def __post_init__(self) -> None:
        checks.name(self.name, "The job's name", needed=True)
        checks.text(self.text, "The job file", checks.LONGEST_TEXT)
        checks.choice(self.state, "The job's state", JOB_STATES)
        for value, what in (
            (self.step, "The job's step"),
            (self.code, "The job's code"),
            (self.car, "The job's car"),
            (self.who, "The person who does the job"),
            (self.plate, "The job's number plate"),
            (self.customer, "The job's customer"),
            (self.request, "The uid of the job's request"),
        ):
            checks.name(value, what)
        checks.text(self.note, "The job's note")
        checks.text(self.sheet, "The job's product sheet", checks.LONGEST_TEXT)
        checks.number(self.coats_sprayed, "The coats sprayed", 0, MOST_COATS)
        checks.number(self.took_coats, "The coats it took", 0, MOST_COATS)
        checks.number(self.took_ml, "The paint it took", 0.0, 1e7)
        checks.number(self.took_minutes, "The time it took", 0.0, 1e7)


@dataclass(frozen=True)
class BookLeftOver:
    """Paint that a job left over.

    Attributes
    ----------
    name : str
        What the shop calls it, such as the product and its colour.
    left : LeftOver
        Which product, how much, since when and of which batch.
    colour, line : str
        ``uid`` of the colour and of the paint line.
    note : str
        Where it stands, anything else.
    """

    name: str
    left: LeftOver
    colour: str = ""
    line: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        checks.name(self.name, "The left-over's name", needed=True)
        checks.text(self.note, "The left-over's note")


@dataclass(frozen=True)
class ShopSettings:
    """How the shop works.

    Attributes
    ----------
    units : str
        ``metric`` or ``us``.
    paper : str
        ``A4`` or ``Letter``; empty where nobody said, and the units decide.
    shop : str
        The shop's name, for prints.
    hours : ShopHours or None
        When somebody works.
    shelf, line, gun : str
        ``uid`` of the shelf, the paint line and the gun in use.
    keep_photos : bool
        Whether photos are kept beside their colours.
    rates : ShopRates or None
        What an estimate begins with, in the currency of its product sheet; None where
        nobody said.
    """

    units: str = "metric"
    paper: str = ""
    shop: str = ""
    hours: ShopHours | None = None
    shelf: str = ""
    line: str = ""
    gun: str = ""
    keep_photos: bool = False
    rates: ShopRates | None = None

    def __post_init__(self) -> None:
        checks.choice(self.units, "The units", UNITS)
        checks.choice(self.paper, "The paper", ("", *PAPERS))
        checks.name(self.shop, "The shop's name")
        if self.hours is not None and self.hours.opens.tzinfo is not None:
            message = "The shop's hours are its own time; write them without a zone."
            raise BookError(message)
