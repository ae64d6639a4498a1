"""Times in which nobody works."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True)
class Break:
    """A time in which nobody works; paint dries on.

    Attributes
    ----------
    start, end : datetime
        In the shop's own time.
    """

    start: datetime
    end: datetime
