"""How long something takes."""

import time
from collections.abc import Callable

REPEATS = 3


def seconds(work: Callable[[], object]) -> float:
    """Best of some runs, after one that does not count.

    Parameters
    ----------
    work : callable
        What to time.

    Returns
    -------
    float
    """
    work()
    times = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)
