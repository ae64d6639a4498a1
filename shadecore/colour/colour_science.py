"""The colour-science package, loaded when a conversion first needs it.

Importing it takes about a second, and a Lab value under the working condition needs no
conversion.
"""

import importlib
import os
from typing import Any


def colour_science() -> Any:  # noqa: ANN401 - the package types its own functions
    """Load the package without its warning that plotting is not installed."""
    os.environ.setdefault("COLOUR_SCIENCE__FILTER_USAGE_WARNINGS", "True")
    return importlib.import_module("colour")
