"""Exit statuses of the command line."""

from typing import Final

ALL_WELL: Final = 0
SOME_ROWS_BAD: Final = 1
UNUSABLE: Final = 2
NOT_WRITTEN: Final = 3
INTERRUPTED: Final = 130
"""128 plus the number of the signal, as POSIX shells count."""
READER_GONE: Final = 141
"""The same for a reader that has closed the pipe."""
