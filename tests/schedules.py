"""Jobs to schedule, and the demo sheet's windows once more, for tests.

Times, windows and costs: common practice, no source; they are written out here, so that
a test does not ask the planner what it should have done.
"""

from collections.abc import Iterable
from datetime import datetime, timedelta

from shadecore.job.breaks import Break
from shadecore.job.schedule import Timed
from shadecore.job.steps import Step, job_steps
from shadecore.products.sheet_file import demo_sheet

MORNING = datetime(2026, 3, 2, 8, 0)  # noqa: DTZ001 - the shop's own time
MINUTE = timedelta(minutes=1)
REFERENCE_C = 21.0
# After the flash: 30 min at 120 F, and to warm and cool it; or 24 h.
COOL_MIN = 30
BAKE_MIN = 15 + 30 + COOL_MIN
FLASH_MIN = 5
# Hours from the end of one step until the next one must have started, and the cost.
WINDOWS = {
    ("etch_primer", "surfacer"): (24, "etch again", 90),
    ("sealer", "base_coat"): (8, "scuff", 20),
    ("base_coat", "clear_coat"): (24, "sand", 45),
}


def steps_of(
    coats: int = 3,
    *,
    bare_metal: bool = True,
    filler: bool = True,
    flattest: bool = True,
) -> tuple[Step, ...]:
    return job_steps(
        demo_sheet(),
        coats,
        "Grey N5",
        bare_metal=bare_metal,
        filler=filler,
        flattest=flattest,
    )


PLAIN = steps_of(bare_metal=False, filler=False, flattest=False)
FULL = steps_of()


def of(timed: Iterable[Timed], key: str) -> Timed:
    return next(each for each in timed if each.step.key == key)


def at(hour: int, minute: int = 0, day: int = 2) -> datetime:
    return datetime(2026, 3, day, hour, minute)  # noqa: DTZ001 - the shop's own time


def nights(days: int = 20, until: int = 8, since: int = 17) -> tuple[Break, ...]:
    evening = at(since, day=1)
    length = timedelta(hours=24 - since + until)
    starts = [evening + timedelta(days=day) for day in range(days)]
    return tuple(Break(start, start + length) for start in starts)
