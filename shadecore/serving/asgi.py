"""The app as it is served: Streamlit's, behind the gate, with the class's routes."""

import asyncio
import contextlib
import gc
import sys
from collections.abc import AsyncIterator, Mapping
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any, Final

from starlette.middleware import Middleware
from streamlit import cli_util, config, file_util
from streamlit.starlette import App

import shadecore.screens
from shadecore.errors import ShadecoreError
from shadecore.serving.ahead import Ahead
from shadecore.serving.assets import Assets
from shadecore.serving.class_routes import class_routes
from shadecore.serving.door import keep_door
from shadecore.serving.middleware import Gate
from shadecore.serving.store import serving
from shadecore.telling.phone_words import started

SCRIPT: Final = Path(shadecore.screens.__file__).with_name("start.py")
FRAME_SCRIPTS: Final = Path(file_util.get_static_dir()) / "static" / "js"
SHARE: Final = "--share"
"""Word on the command line that lets devices in from the start."""


def parts() -> dict[str, Any]:
    """What Streamlit's ``App`` is given beside its script.

    Returns
    -------
    dict
        Keyword arguments.
    """
    return {
        "routes": class_routes(serving),
        "middleware": [
            Middleware(Gate, serving=serving),
            Middleware(Ahead, scripts=FRAME_SCRIPTS),
            Middleware(Assets),
        ],
        "lifespan": _running,
        "on_script_error": _say_broken,
    }


def run(settings: Mapping[str, Any], *, share: bool) -> None:
    """Serve until stopped.

    Parameters
    ----------
    settings : mapping of str to object
        Streamlit's, by dotted names.
    share : bool
        Whether devices are let in from the start.
    """
    if share:
        serving().share(on=True)
    # Streamlit looks for modules beside whatever started it. After "python -m" that is
    # our package, whose room "colour" would hide the library of that name.
    sys.argv[0] = str(SCRIPT)
    App(SCRIPT, **parts()).run(config=dict(settings))


@asynccontextmanager
async def _running(app: App) -> AsyncIterator[None]:
    """Keep the second door while the server runs, and open a browser at its start."""
    if SHARE in sys.argv[1:]:
        serving().share(on=True)
    port = int(config.get_option("server.port"))
    door = asyncio.create_task(keep_door(app, serving, port), name="keep door")
    here = f"http://localhost:{port}"
    sys.stderr.write(f"{started(here)}\n")
    ready = asyncio.create_task(asyncio.to_thread(_make_ready), name="make ready")
    if not config.get_option("server.headless"):
        asyncio.get_running_loop().call_later(0.5, cli_util.open_browser, here)
    try:
        yield
    finally:
        for task in (door, ready):
            task.cancel()
            with contextlib.suppress(asyncio.CancelledError):
                await task


def _make_ready() -> None:
    """Load the pages and work the examples out before the first visitor has to wait.

    Streamlit looks through every object of the process for garbage after each run of a
    script, which is most of what a click costs. What was loaded here stays for as long
    as the server runs, so it is taken out of that search.
    """
    from shadecore.screens import start  # noqa: PLC0415 - loading takes seconds

    with contextlib.suppress(ShadecoreError):
        start.make_ready()
    gc.collect()
    gc.freeze()


def _say_broken(_: Exception) -> bool:
    """Say one sentence where a page broke; the server's log has the rest."""
    from shadecore.screens import broken  # noqa: PLC0415 - only where it is needed

    broken.show()
    return True
