"""The files of the page's frame, sent from memory once they were read."""

from http import HTTPStatus
from typing import Final

from starlette.types import ASGIApp, Message, Receive, Scope, Send

_FOLDER: Final = "/static/"
_FOR_EVER: Final = b"immutable"
_PART_OF_IT: Final = {b"range", b"if-range", b"if-none-match", b"if-modified-since"}
MOST_BYTES: Final = 64 * 2**20
"""What is kept together; all files that the frame can ask for are less than half."""


class Assets:
    """Keep files that never change under their name, and send each in one piece.

    A first visit asks for about ninety of them. Read anew, each costs several changes
    of thread, which together is a third of what that visit waits.

    Parameters
    ----------
    app : ASGI application
        What lies behind.
    """

    def __init__(self, app: ASGIApp) -> None:
        self._app = app
        self._kept: dict[str, tuple[Message, Message]] = {}
        self._bytes = 0

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Handle one connection, as ASGI hands it over."""
        if not _asks_for_a_whole_file(scope):
            await self._app(scope, receive, send)
            return
        path = scope["path"]
        if path not in self._kept:
            heard: list[Message] = []

            async def noted(message: Message) -> None:
                heard.append(message)
                await send(message)

            await self._app(scope, receive, noted)
            self._keep(path, heard)
            return
        for message in self._kept[path]:
            # A copy, as who sends it on may change its headers.
            await send(dict(message))

    def _keep(self, path: str, heard: list[Message]) -> None:
        start, *bodies = heard or [{}]
        headers = dict(start.get("headers", ()))
        body = b"".join(each.get("body", b"") for each in bodies)
        for_ever = _FOR_EVER in headers.get(b"cache-control", b"")
        # A visitor may have left before the end of it.
        whole = headers.get(b"content-length") == str(len(body)).encode()
        found = start.get("status") == HTTPStatus.OK
        if found and for_ever and whole and self._bytes + len(body) <= MOST_BYTES:
            self._bytes += len(body)
            self._kept[path] = (start, {"type": "http.response.body", "body": body})


def _asks_for_a_whole_file(scope: Scope) -> bool:
    return (
        scope["type"] == "http"
        and scope["method"] == "GET"
        and scope["path"].startswith(_FOLDER)
        and not any(name in _PART_OF_IT for name, _ in scope["headers"])
    )
