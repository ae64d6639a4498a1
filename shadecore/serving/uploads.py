"""Files that visitors open: how much is taken in, and given back when they have gone.

Streamlit limits each file by itself, and keeps the files and pictures of whoever closed
the browser until somebody else does the same.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from http import HTTPStatus
from typing import Final, Protocol

from starlette.requests import Request
from starlette.responses import Response
from starlette.types import ASGIApp, Receive, Scope, Send

MOST_BYTES: Final = 200_000_000
"""Of one visitor's files together: several photos of the largest size that is read."""
MOST_BYTES_OF_ALL: Final = 600_000_000
"""Of all visitors' files together."""
GONE_S: Final = 150.0
"""Whoever lost the connection may come back for two minutes, by Streamlit's own rule;
after this they have gone. [s]"""
_PATH: Final = "/_stcore/upload_file/"
_LENGTH: Final = b"content-length"


class Visitors(Protocol):
    """Who has opened what, as the server knows it."""

    def held(self) -> Mapping[str, int]:
        """Bytes of files by visitor."""

    def is_here(self, visitor: str) -> bool:
        """Whether a visitor's page is open."""

    def end(self, visitor: str) -> None:
        """Forget everything that a visitor has opened."""


class UploadRoom:
    """How much room there is, and who takes some of it.

    Parameters
    ----------
    visitors : callable
        Gives who is there now.
    turned_away : callable
        Gives the set of those of whose files one was not taken in.
    """

    def __init__(
        self,
        visitors: Callable[[], Visitors],
        turned_away: Callable[[], set[str]],
    ) -> None:
        self._visitors = visitors
        self._turned_away = turned_away
        self._coming: Counter[str] = Counter()
        self._seen_s: dict[str, float] = {}

    def has_room(self, visitor: str, size: int) -> bool:
        """Whether a file may be taken in.

        Parameters
        ----------
        visitor : str
            Whose it is.
        size : int
            Of the file. [bytes]

        Returns
        -------
        bool
        """
        taken = Counter(self._visitors().held()) + self._coming
        return (
            taken[visitor] + size <= MOST_BYTES
            and taken.total() + size <= MOST_BYTES_OF_ALL
        )

    def turn_away(self, visitor: str) -> None:
        """Note that a visitor's page has to say that a file was not taken in.

        Parameters
        ----------
        visitor : str
            Whose it was.
        """
        self._turned_away().add(visitor)

    @contextmanager
    def coming(self, visitor: str, size: int) -> Iterator[None]:
        """Count a file while it is on its way.

        Parameters
        ----------
        visitor : str
            Whose it is.
        size : int
            Of the file. [bytes]
        """
        self._coming[visitor] += size
        self._seen_s.setdefault(visitor, 0.0)
        try:
            yield
        finally:
            self._coming[visitor] -= size

    def give_back(self, now_s: float) -> int:
        """Forget what those have opened who have gone.

        Parameters
        ----------
        now_s : float
            Of a clock that only goes on. [s]

        Returns
        -------
        int
            How many have gone.
        """
        visitors, gone = self._visitors(), 0
        for each, seen_s in list(self._seen_s.items()):
            if visitors.is_here(each) or not seen_s:
                self._seen_s[each] = now_s
            elif now_s - seen_s > GONE_S:
                visitors.end(each)
                self._turned_away().discard(each)
                del self._seen_s[each], self._coming[each]
                gone += 1
        return gone


class Uploads:
    """Holds no file for which there is no room, and has the page say so.

    Parameters
    ----------
    app : ASGI application
        What lies behind.
    room : UploadRoom
        How much there is.
    """

    def __init__(self, app: ASGIApp, room: UploadRoom) -> None:
        self._app = app
        self._room = room

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Handle one connection, as ASGI hands it over."""
        if not _gives_a_file(scope):
            await self._app(scope, receive, send)
            return
        visitor = scope["path"].removeprefix(_PATH).partition("/")[0]
        size = _size(scope)
        if size is not None and self._room.has_room(visitor, size):
            with self._room.coming(visitor, size):
                await self._app(scope, receive, send)
            return
        self._room.turn_away(visitor)
        # It is read to its end, as a browser hears an answer only then. A refusal would
        # stand beside the file in Streamlit's words: the page says it in ours.
        async for _ in Request(scope, receive).stream():
            pass
        await Response(status_code=HTTPStatus.NO_CONTENT)(scope, receive, send)


def _gives_a_file(scope: Scope) -> bool:
    if scope["type"] != "http":
        return False
    path: str = scope["path"]
    return scope["method"] == "PUT" and path.startswith(_PATH)


def _size(scope: Scope) -> int | None:
    """What a request says of its own length; every browser says it."""
    text = dict(scope["headers"]).get(_LENGTH, b"")
    return int(text) if text.isdigit() else None
