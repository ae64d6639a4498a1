"""The second place where the server listens: for the shop's network, when asked."""

import asyncio
import errno
import os
import socket
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Final

import uvicorn
from starlette.types import ASGIApp

from shadecore.serving.addresses import own_addresses
from shadecore.serving.state import Door, Serving, Wanted
from shadecore.telling import phone_words as words

_LOOK_S: Final = 0.25
_MOST_CONNECTIONS: Final = 200
_LET_GO_S: Final = 3
_BACKLOG: Final = 64
_PING_S: Final = 20.0
_NEXT_PORTS: Final = 10


class _Listener(uvicorn.Server):
    """A server beside the one that owns the process and its signals."""

    @contextmanager
    def capture_signals(self) -> Iterator[None]:
        yield


async def keep_door(app: ASGIApp, serving: Callable[[], Serving], port: int) -> None:
    """Open and close the door as the pages want it, until cancelled.

    Parameters
    ----------
    app : ASGI application
        What is served.
    serving : callable
        Gives what is shared now.
    port : int
        The port; one of the next where it is taken.
    """
    is_now = Wanted()
    listener: tuple[_Listener, asyncio.Task[None]] | None = None
    try:
        while True:
            wanted = serving().wanted
            if wanted != is_now:
                await _close(listener)
                listener = None
                serving().moved(Door())
                if wanted.open:
                    listener, door = await _opened(app, wanted, port)
                    serving().moved(door)
                is_now = wanted
            await asyncio.sleep(_LOOK_S)
    finally:
        await _close(listener)


async def _opened(
    app: ASGIApp, wanted: Wanted, port: int
) -> tuple[tuple[_Listener, asyncio.Task[None]] | None, Door]:
    known = own_addresses()
    address = wanted.address if wanted.address in known else (known or ("",))[0]
    if not address:
        return None, Door(problem=words.NO_NETWORK)
    try:
        opened = _bound(address, port)
    except OSError as error:
        reason = os.strerror(error.errno or 0).lower()
        return None, Door(problem=words.not_listening(address, port, reason))
    settings = uvicorn.Config(
        app,
        log_config=None,
        access_log=False,
        lifespan="off",
        # What a proxy says of somebody's address is never believed.
        proxy_headers=False,
        server_header=False,
        limit_concurrency=_MOST_CONNECTIONS,
        timeout_graceful_shutdown=_LET_GO_S,
        ws_ping_interval=_PING_S,
        ws_ping_timeout=_PING_S,
    )
    listener = _Listener(settings)
    task = asyncio.create_task(listener.serve([opened]), name="door")
    return (listener, task), Door(address, opened.getsockname()[1])


def _bound(address: str, port: int) -> socket.socket:
    """A listening socket at the port, or at one of the next where that is taken."""
    for each in range(port, port + _NEXT_PORTS):
        # Named as TCP, it is told to send small pieces at once.
        opened = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        try:
            if os.name != "nt":
                opened.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            opened.bind((address, each))
            opened.listen(_BACKLOG)
            opened.settimeout(0)
        except OSError as error:
            opened.close()
            taken = error.errno in {errno.EADDRINUSE, errno.EACCES}
            if not taken or each == port + _NEXT_PORTS - 1:
                raise
        else:
            return opened
    raise OSError(errno.EADDRINUSE, os.strerror(errno.EADDRINUSE))


async def _close(listener: tuple[_Listener, asyncio.Task[None]] | None) -> None:
    if listener is None:
        return
    server, task = listener
    server.should_exit = True
    # Who waits here may be cancelled; that ends the waiting and not the listener, and
    # is passed on.
    await asyncio.wait([task])
