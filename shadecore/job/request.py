"""What a painter says of a job."""

import re
from dataclasses import dataclass, field
from datetime import datetime
from typing import Final

from shadecore.errors import JobError
from shadecore.formats.echo import shown
from shadecore.job.breaks import Break
from shadecore.job.climate import CURES
from shadecore.job.details import Details
from shadecore.job.fade import USUAL_STEP_CM
from shadecore.job.kinds import KINDS, PANELS, PLACES
from shadecore.products.ranges import (
    AIR_C,
    AREA_M2,
    COATS,
    CUP_L,
    CUP_LOSS_L,
    HUMIDITY,
    PANEL_C,
    Range,
)
from shadecore.question.question import Question

MOST_PANELS: Final = 99
"""Panels of one kind in a job; this tool's own limit."""
DEFAULT_CUP_LOSS_L: Final = 0.05
"""Left in cup and gun after one filling; common practice, no source."""
MIDCOATS: Final = Range(1, 20)
"""Mid-coats or candy coats over a ground; this tool's own limit."""
LOOKED_AT: Final = Range(1, 50)
"""Coats of the colour after which somebody may look; this tool's own limit."""
DEFAULT_MIDCOATS: Final = 3
"""Common practice, no source; a let-down panel tells."""
AS_PICKED: Final = 0
"""Stands for as many coats as the pick counts."""
NO_SEALER: Final = "none"
"""Stands for no sealer: the colour goes over what else lies on top."""
MIX: Final = "mix"
"""Stands for the mix of two sealers that saves a coat."""
UNMEASURED: Final = 0.0
"""Stands for a clearance time that nobody has told."""
CLEARANCE_MIN: Final = Range(UNMEASURED, 240.0, "min")
SHARE: Final = Range(0.01, 0.99, "(0.5 is one half)")
SPOT_CM: Final = Range(1.0, 300.0, "cm")
REACH_CM: Final = Range(1.0, 200.0, "cm")
RANGES: Final[dict[str, Range]] = {
    "area_m2": AREA_M2,
    "air_c": AIR_C,
    "panel_c": PANEL_C,
    "humidity": HUMIDITY,
    "cup_loss_l": CUP_LOSS_L,
    "cup_l": CUP_L,
    "second_share": SHARE,
    "spot_cm": SPOT_CM,
    "sealer_reach_cm": REACH_CM,
    "fade_step_cm": REACH_CM,
    "booth_clearance_min": CLEARANCE_MIN,
}
"""Between what the numbers of a job may lie."""
_UUID: Final = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
"""A UUID as RFC 9562 writes it."""


@dataclass(frozen=True)
class JobRequest:
    """A job.

    Attributes
    ----------
    start : datetime
        When work starts, in the shop's own time.
    name : str
        What the job is called.
    question : Question
        Colour, shelf, film, tolerance and units.
    panels : tuple of (str, int)
        Panels by name and how many of each; see ``data/panels.csv``.
    area_m2 : float
        Area beside the panels. [m2]
    bare_metal, filler, flattest : bool
        Whether there is bare metal, filler, and the flattest finish is wanted.
    cure : str
        One of :data:`shadecore.job.climate.CURES`.
    air_c, panel_c : float
        Temperatures of air and panel. [degrees C]
    humidity : float
        Relative, 0..1.
    cup_loss_l : float
        Paint left in cup and lines when a gun is emptied. [L]
    cup_l : float
        Size of the cup that is mixed in; 0 where it is as large as it takes. [L]
    midcoats : int
        Mid-coats or candy coats over the ground; a whole number, and of no other kind
        of colour.
    breaks : tuple of Break
        Nights, meals.
    done : tuple of (str, datetime)
        Steps that are done, by key, and when they ended.
    sprayed : tuple of datetime
        When the coats ended that the coming step has so far, the first one first.
    looks : tuple of (int, bool)
        Coats of the colour after which somebody looked, and whether it was covered;
        each coat once, the first one first.
    mixed : tuple of (str, datetime)
        Steps whose paint was mixed, by key, and when that was last.
    uid : str
        A UUID that tells the job from all others, also where they share its name;
        empty where nobody gave it one.
    kind : str
        What kind of job it is, one of :data:`shadecore.job.kinds.KINDS`; a colour of
        three stages is a kind of colour and stands in the question.
    place : str
        Where it is sprayed, one of :data:`shadecore.job.kinds.PLACES`.
    sealer : str
        Undercoat to take in the place of the recommended one: its name on the shelf,
        ``MIX`` or ``NO_SEALER``; empty for the recommended one.
    coats : int
        Coats of colour; ``AS_PICKED`` for as many as the pick counts.
    old_finish : str
        Colour of the finish that is there, in any notation that a topcoat may have;
        empty where nobody said.
    surfacer : str
        Colour of the surfacer, which lies on top where no sealer is sprayed: the name
        of a grey on the shelf, or any notation that a topcoat may have; empty where
        nobody said.
    second : Question or None
        The second colour of a two-tone, which goes on after the first.
    second_share : float
        Share of the area that it covers, 0..1.
    spot_cm : float
        Across the repaired spot of a repair that fades out. [cm]
    sealer_reach_cm, fade_step_cm : float
        How far its sealer reaches from the edge of the spot, and each coat of colour
        past the last. [cm]
    booth_clearance_min : float
        Measured clearance time of the booth, through which supplied air stays on;
        ``UNMEASURED`` where nobody told it. [min]
    details : Details
        What the shop says beyond the usual: substrates, own steps, weather by day,
        steps that are half done.

    Raises
    ------
    JobError
        If one of them cannot be planned from.
    """

    start: datetime
    name: str = "Job"
    question: Question = field(default_factory=Question)
    panels: tuple[tuple[str, int], ...] = ()
    area_m2: float = 0.0
    bare_metal: bool = False
    filler: bool = False
    flattest: bool = False
    cure: str = "bake"
    air_c: float = 21.0
    panel_c: float = 21.0
    humidity: float = 0.5
    cup_loss_l: float = DEFAULT_CUP_LOSS_L
    cup_l: float = 0.0
    midcoats: int = DEFAULT_MIDCOATS
    breaks: tuple[Break, ...] = ()
    done: tuple[tuple[str, datetime], ...] = ()
    sprayed: tuple[datetime, ...] = ()
    looks: tuple[tuple[int, bool], ...] = ()
    mixed: tuple[tuple[str, datetime], ...] = ()
    uid: str = ""
    kind: str = PANELS
    place: str = PLACES[0]
    sealer: str = ""
    coats: int = AS_PICKED
    old_finish: str = ""
    surfacer: str = ""
    second: Question | None = None
    second_share: float = 0.5
    spot_cm: float = 20.0
    sealer_reach_cm: float = USUAL_STEP_CM
    fade_step_cm: float = USUAL_STEP_CM
    booth_clearance_min: float = UNMEASURED
    details: Details = field(default_factory=Details)

    def __post_init__(self) -> None:
        self._check_moments()
        for name, known in (("cure", CURES), ("kind", KINDS), ("place", PLACES)):
            value = getattr(self, name)
            if value not in known:
                message = (
                    f"The {name} {shown(value)} is none; take one of "
                    f"{', '.join(known)}."
                )
                raise JobError(message)
        if self.coats != AS_PICKED:
            COATS.check(self.coats, "The job's coats")
        for name, ends in RANGES.items():
            ends.check(getattr(self, name), f"The job's {name}")
        MIDCOATS.check(self.midcoats, "The job's midcoats")
        self._check_looks()
        if self.uid and not _UUID.fullmatch(self.uid):
            message = f"The job's uid {self.uid!r} is not a UUID; leave it out."
            raise JobError(message)
        if any(not 0 <= count <= MOST_PANELS for _, count in self.panels):
            message = (
                f"A panel of the job is counted less than zero or over {MOST_PANELS} "
                "times; correct its number."
            )
            raise JobError(message)

    def _check_looks(self) -> None:
        coats = [coat for coat, _ in self.looks]
        for coat in coats:
            LOOKED_AT.check(coat, "A coat of the job that somebody looked at")
        if coats != sorted(set(coats)):
            message = (
                "The job's looks name a coat twice or are not in order; name each coat "
                "once, the first one first."
            )
            raise JobError(message)

    def _check_moments(self) -> None:
        moments = [self.start, *(moment for _, moment in self.done), *self.sprayed]
        moments += [moment for _, moment in self.mixed]
        moments += [moment for each in self.breaks for moment in (each.start, each.end)]
        if any(moment.tzinfo is not None for moment in moments):
            message = "The job's times are the shop's own; write them without a zone."
            raise JobError(message)
        if list(self.sprayed) != sorted(self.sprayed):
            message = (
                "A coat of the job ends before the one under it; swap their times."
            )
            raise JobError(message)
        if any(each.end <= each.start for each in self.breaks):
            message = "A break of the job ends before it starts; swap its times."
            raise JobError(message)
