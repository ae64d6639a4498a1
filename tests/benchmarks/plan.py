"""A plan of 60 panels and some 300 steps beside one of the usual steps alone.

Run it by ``python tests/benchmarks/plan.py``. The peer is the same planner on the usual
steps: were each step looked at once, the ratio would be that of the steps.
"""

import sys
import time
from dataclasses import replace
from datetime import date, datetime, timedelta
from datetime import time as clock

from shadecore.coats.pick import pick
from shadecore.colour.topcoat import parse_topcoat
from shadecore.job.days import DayWeather
from shadecore.job.details import Details
from shadecore.job.own_steps import StepChange
from shadecore.job.plan import plan_job
from shadecore.job.request import JobRequest
from shadecore.job.shop_hours import ShopHours, breaks_of
from shadecore.products.materials import panels
from shadecore.products.sheet_file import demo_sheet
from shadecore.undercoats.shelf_table import demo_shelf

MONDAY = date(2026, 3, 2)
DAY = timedelta(days=1)
HOURS = ShopHours(clock(8), clock(17), (clock(12), clock(13)), frozenset({5, 6}))
OWN = tuple(
    StepChange(f"own_{n}", title=f"Own {n}", after="wash", work_min=30, wait_min=15)
    for n in range(285)
)
DAYS = tuple(
    DayWeather(MONDAY + n * DAY, 18.0 + n % 7, 18.0 + n % 7, 50.0, 8.0 + n % 5)
    for n in range(60)
)
REPEATS = 5


def main() -> None:
    """Time both."""
    answer = pick(parse_topcoat("45 60 35"), demo_shelf())
    request = JobRequest(
        datetime.combine(MONDAY, HOURS.opens),
        panels=tuple((each.key, 5) for each in panels()),
        breaks=breaks_of(HOURS, MONDAY, MONDAY + 120 * DAY),
        bare_metal=True,
        filler=True,
        flattest=True,
    )
    sheet = demo_sheet()

    def seconds(details: Details) -> tuple[float, int]:
        times = []
        for _ in range(REPEATS):
            start = time.perf_counter()
            plan = plan_job(replace(request, details=details), sheet, answer)
            times.append(time.perf_counter() - start)
        return min(times), len(plan.timeline)

    large, many = seconds(Details(changes=OWN, days=DAYS))
    usual, few = seconds(Details())
    sys.stdout.write(
        f"{many} steps, 60 panels, 60 days of weather {large:8.3f} s\n"
        f"{few} steps, 60 panels                     {usual:8.3f} s\n"
        f"time over time {large / usual:8.1f}, steps over steps {many / few:8.1f}\n"
    )


if __name__ == "__main__":
    main()
