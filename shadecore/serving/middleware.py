"""The gate in front of every page, for HTTP and WebSocket."""

from collections.abc import Callable
from http import HTTPStatus
from typing import Final
from urllib.parse import parse_qs

from starlette.datastructures import MutableHeaders
from starlette.requests import HTTPConnection, Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from shadecore.serving.bodies import small_body
from shadecore.serving.gate import CODE_PATH, Verdict, Visit, verdict
from shadecore.serving.keys import COOKIE, COOKIE_S
from shadecore.serving.plain_page import ask_page, safe_way, sentence_page
from shadecore.serving.state import Serving
from shadecore.telling import phone_words as words

_REFUSED: Final = {
    Verdict.CLOSED: (words.CLOSED, HTTPStatus.FORBIDDEN),
    Verdict.MISDIRECTED: (words.MISDIRECTED, HTTPStatus.MISDIRECTED_REQUEST),
    Verdict.FOREIGN: (words.FOREIGN, HTTPStatus.FORBIDDEN),
}
_POLICY_VIOLATION: Final = 1008
_SAME_HOST: Final = b"localhost"


class Gate:
    """Lets a request through, asks for the device code, or refuses.

    Parameters
    ----------
    app : ASGI application
        What lies behind.
    serving : callable
        Gives what is shared now.
    """

    def __init__(self, app: ASGIApp, serving: Callable[[], Serving]) -> None:
        self._app = app
        self._serving = serving

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Handle one connection, as ASGI hands it over."""
        if scope["type"] not in {"http", "websocket"}:
            await self._app(scope, receive, send)
            return
        serving = self._serving()
        client = scope.get("client")
        address = str(client[0]) if client else None
        visit = Visit.of(scope["headers"], scope["path"], address)
        sharing = serving.sharing
        known = sharing.devices and serving.keys.knows(
            HTTPConnection(scope).cookies.get(COOKIE)
        )
        found = verdict(visit, sharing, known=known)
        if found is Verdict.PASS and visit.path == CODE_PATH:
            # The code was sent twice, or the page of the code was kept as a bookmark.
            await RedirectResponse("/", HTTPStatus.SEE_OTHER)(scope, receive, send)
        elif found in {Verdict.PASS, Verdict.CLASS}:
            await self._app(_as_seen_behind(scope), receive, _framed(send))
        elif scope["type"] == "websocket":
            await receive()
            await send({"type": "websocket.close", "code": _POLICY_VIOLATION})
        else:
            request = Request(scope, receive)
            answer = await _refuse(request, found, serving, address or "")
            await answer(scope, receive, send)


async def _refuse(
    request: Request, found: Verdict, serving: Serving, client: str
) -> Response:
    if found in _REFUSED:
        return sentence_page(*_REFUSED[found])
    if request.url.path == CODE_PATH and request.method == "POST":
        return await _take_code(request, serving, client)
    query = request.url.query
    return ask_page(f"{request.url.path}{'?' if query else ''}{query}")


async def _take_code(request: Request, serving: Serving, client: str) -> Response:
    body = await small_body(request)
    if body is None:
        return ask_page("/", words.TOO_LONG, HTTPStatus.REQUEST_ENTITY_TOO_LARGE)
    form = parse_qs(body.decode("utf-8", "replace"))
    way = safe_way(form.get("way", ["/"])[0])
    right, wait_s = serving.try_device_code(client, form.get("code", [""])[0])
    if not right:
        status = HTTPStatus.TOO_MANY_REQUESTS if wait_s else HTTPStatus.UNAUTHORIZED
        return ask_page(way, words.wrong_code_words(wait_s), status)
    answer = RedirectResponse(way, HTTPStatus.SEE_OTHER)
    answer.set_cookie(
        COOKIE, serving.keys.cookie(), COOKIE_S, httponly=True, samesite="lax"
    )
    return answer


def _as_seen_behind(scope: Scope) -> Scope:
    """A connection that passed, without what Streamlit would look up again.

    Streamlit asks a service elsewhere for its own outside address when an ``Origin`` is
    not among those it knows, and knows the hosts of its settings only. Both were looked
    at here, by stricter rules.
    """
    headers: list[tuple[bytes, bytes]] = [
        each for each in scope["headers"] if each[0] != b"origin"
    ]
    if scope["type"] == "websocket":
        headers = [
            (name, _SAME_HOST if name == b"host" else value) for name, value in headers
        ]
    return {**scope, "headers": headers}


def _framed(send: Send) -> Send:
    """Send on, saying that no page from elsewhere may show this one in a frame."""

    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            headers.setdefault("X-Frame-Options", "SAMEORIGIN")
        await send(message)

    return sent
