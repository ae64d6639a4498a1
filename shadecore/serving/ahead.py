"""What a page will need soon is named as it is sent, so that a browser asks at once."""

import re
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from shadecore.serving.gate import CLASS_PATH

PIECES: Final = ("Button", "ButtonGroup", "Html", "Selectbox", "TextInput")
"""Parts of the frame that the first page and the pick are made of."""
_IMPORTED: Final = re.compile(r'from"\./([^"/]+\.js)"|import"\./([^"/]+\.js)"')


def scripts_of(pieces: Iterable[str], folder: Path) -> tuple[str, ...]:
    """Files of parts of the frame, with all that they import.

    Parameters
    ----------
    pieces : iterable of str
        Names of parts; one that the frame does not have is left out.
    folder : path
        Where the frame's scripts lie.

    Returns
    -------
    tuple of str
        File names, sorted.
    """
    found: set[str] = set()
    waiting = [each.name for name in pieces for each in folder.glob(f"{name}.*.js")]
    while waiting:
        name = waiting.pop()
        script = folder / name
        if name in found or not script.is_file():
            continue
        found.add(name)
        imported = _IMPORTED.findall(script.read_text("utf-8"))
        waiting += [plain or bare for plain, bare in imported]
    return tuple(sorted(found))


class Ahead:
    """Name the scripts of a page's parts in the head of the page.

    The frame asks for the script of a button once it is told to draw one: late, one
    after another, and while the server works on the page. Named in a ``Link`` header
    (RFC 8288), they come along with the frame.

    Parameters
    ----------
    app : ASGI application
        What lies behind.
    scripts : path
        Where the frame's scripts lie.
    """

    def __init__(self, app: ASGIApp, *, scripts: Path) -> None:
        self._app = app
        self._link = ", ".join(
            f"</static/js/{name}>; rel=modulepreload"
            for name in scripts_of(PIECES, scripts)
        ).encode("latin-1")

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Handle one connection, as ASGI hands it over."""
        # Pages of the class do without the frame.
        if scope["type"] != "http" or scope["path"].startswith(CLASS_PATH):
            await self._app(scope, receive, send)
            return

        async def told(message: Message) -> None:
            if message["type"] == "http.response.start" and _is_page(message):
                headers = [*message["headers"], (b"link", self._link)]
                message = {**message, "headers": headers}
            await send(message)

        await self._app(scope, receive, told)


def _is_page(message: Message) -> bool:
    kind = dict(message.get("headers", ())).get(b"content-type", b"")
    return bytes(kind).startswith(b"text/html")
