"""The colour-science package, loaded when a conversion first needs it.

It takes about a second to import, which a Lab value under the working condition has
no need to wait for.
"""

import importlib
import os
from typing import Any


def colour_science() -> Any:  # noqa: ANN401 - the package types its own functions
    """Load colour-science without its note about plotting.

    Returns
    -------
    module
    """
    os.environ.setdefault("COLOUR_SCIENCE__FILTER_USAGE_WARNINGS", "True")
    return importlib.import_module("colour")
