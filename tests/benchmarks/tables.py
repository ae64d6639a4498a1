"""Reading files of a size, beside the bare parsers of the standard library.

Run it by ``python tests/benchmarks/tables.py``. What the project's readers add is the
check of each cell and value, and the line of each fault.
"""

import csv
import io
import sys
import tomllib

from timing import seconds

from shadecore.colour.colour_table import parse_colours
from shadecore.datafiles import data_file
from shadecore.products.sheet_file import parse_sheet

ROWS = 100_000


def main() -> None:
    """Time each beside its peer."""
    table = "code,L,a,b\n" + "c,50.5,10.25,-3\n" * ROWS
    sheet = data_file("product-line.toml").read_text("utf-8")
    _tell(
        f"{ROWS} colours",
        seconds(lambda: parse_colours(table, "x")),
        seconds(lambda: sum(1 for _ in csv.reader(io.StringIO(table)))),
    )
    _tell(
        "a product sheet",
        seconds(lambda: parse_sheet(sheet, "x")),
        seconds(lambda: tomllib.loads(sheet)),
    )


def _tell(what: str, own: float, peer: float) -> None:
    sys.stdout.write(
        f"{what:20} {own:8.3f} s, bare parser {peer:8.3f} s, ratio {own / peer:5.1f}\n"
    )


if __name__ == "__main__":
    main()
