"""What a phone sends, read with a limit."""

from typing import Final

from starlette.requests import Request

_MOST_BYTES: Final = 8192


async def small_body(request: Request) -> bytes | None:
    """The body of a request.

    Parameters
    ----------
    request : starlette.requests.Request
        The request.

    Returns
    -------
    bytes or None
        None where it is longer than any that is meant; the rest is not read.
    """
    read = b""
    async for part in request.stream():
        read += part
        if len(read) > _MOST_BYTES:
            return None
    return read
