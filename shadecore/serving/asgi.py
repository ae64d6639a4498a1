"""The app as it is served: Streamlit's, behind the gate, with the class's routes."""

import asyncio
import contextlib
import gc
import sys
from collections.abc import AsyncIterator, Mapping
from contextlib import asynccontextmanager
from functools import partial
from pathlib import Path
from typing import Any, Final

from starlette.middleware import Middleware
from streamlit import cli_util, config, file_util
from streamlit.runtime import get_instance
from streamlit.runtime.memory_uploaded_file_manager import MemoryUploadedFileManager
from streamlit.starlette import App

import shadecore.screens
from shadecore.serving.ahead import Ahead
from shadecore.serving.assets import Assets
from shadecore.serving.class_routes import class_routes
from shadecore.serving.door import keep_door
from shadecore.serving.middleware import Gate
from shadecore.serving.store import serving, turned_away
from shadecore.serving.uploads import UploadRoom, Uploads
from shadecore.telling.phone_words import not_ready, started

SCRIPT: Final = Path(shadecore.screens.__file__).with_name("start.py")
_LOOKS_EVERY_S: Final = 20.0
"""Between two looks at who has gone. [s]"""
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
    room = UploadRoom(_Sessions, turned_away)
    return {
        "routes": class_routes(serving),
        "middleware": [
            Middleware(Gate, serving=serving),
            Middleware(Ahead, scripts=FRAME_SCRIPTS),
            Middleware(Assets),
            Middleware(Uploads, room=room),
        ],
        "lifespan": partial(_running, room),
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
async def _running(room: UploadRoom, app: App) -> AsyncIterator[None]:
    """Keep the second door while the server runs, and open a browser at its start."""
    if SHARE in sys.argv[1:]:
        serving().share(on=True)
    port = int(config.get_option("server.port"))
    door = asyncio.create_task(keep_door(app, serving, port), name="keep door")
    here = f"http://localhost:{port}"
    sys.stderr.write(f"{started(here)}\n")
    ready = asyncio.create_task(asyncio.to_thread(_make_ready), name="make ready")
    back = asyncio.create_task(_give_back(room), name="give back")
    if not config.get_option("server.headless"):
        asyncio.get_running_loop().call_later(0.5, cli_util.open_browser, here)
    try:
        yield
    finally:
        for task in (door, ready, back):
            task.cancel()
            with contextlib.suppress(asyncio.CancelledError):
                await task


class _Sessions:
    """Streamlit's visitors: what they have opened, and whether they are there."""

    def held(self) -> dict[str, int]:
        """Bytes of files by visitor."""
        files = get_instance().uploaded_file_mgr
        if not isinstance(files, MemoryUploadedFileManager):
            return {}
        return {
            session: sum(len(each.data) for each in list(own.values()))
            for session, own in list(files.file_storage.items())
        }

    def is_here(self, visitor: str) -> bool:
        """Whether a visitor's page is open."""
        return get_instance().is_active_session(visitor)

    def end(self, visitor: str) -> None:
        """Forget everything that a visitor has opened."""
        get_instance().close_session(visitor)


async def _give_back(room: UploadRoom) -> None:
    """Forget, again and again, what those have opened who have gone."""
    while True:
        await asyncio.sleep(_LOOKS_EVERY_S)
        if room.give_back(asyncio.get_running_loop().time()):
            # A session that was ended is held by circles of references.
            gc.collect()


def _make_ready() -> None:
    """Load the pages and work the examples out before the first visitor has to wait.

    Streamlit looks through every object of the process for garbage after each run of a
    script, which is most of what a click costs. What was loaded here stays for as long
    as the server runs, so it is taken out of that search.
    """
    try:
        from shadecore.screens import start  # noqa: PLC0415 - loading takes seconds

        start.make_ready()
    except Exception as error:
        # Whatever it is, the pages are served, and say themselves what is wrong.
        sys.stderr.write(f"{not_ready(str(error))}\n")
    gc.collect()
    gc.freeze()


def _say_broken(_: Exception) -> bool:
    """Say one sentence where a page broke; the server's log has the rest."""
    from shadecore.screens import broken  # noqa: PLC0415 - only where it is needed

    broken.show()
    return True
