"""Files that never change are read once and then sent from memory, whole."""

import asyncio
from pathlib import Path

import pytest
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route
from starlette.testclient import TestClient
from starlette.types import Message, Receive, Scope, Send

from shadecore.serving import assets
from shadecore.serving.assets import Assets

FOR_EVER = {"cache-control": "public, immutable, max-age=31536000"}


def client(folder: Path, headers: dict[str, str]) -> TestClient:
    """A server of one folder's files."""

    def answer(request: Request) -> Response:
        path = folder / request.path_params["name"]
        if not path.exists():
            return Response("no such file", 404, headers)
        return FileResponse(path, headers=headers)

    route = Route("/static/{name}", answer)
    return TestClient(Starlette(routes=[route], middleware=[Middleware(Assets)]))


def test_a_file_that_never_changes_is_read_once(tmp_path: Path) -> None:
    kept = tmp_path / "a.js"
    kept.write_bytes(b"x" * 200_000)
    with client(tmp_path, FOR_EVER) as visitor:
        first = visitor.get("/static/a.js")
        kept.unlink()
        again = visitor.get("/static/a.js")
        assert (again.content, again.headers) == (first.content, first.headers)
        assert visitor.get("/static/a.js", headers={"range": "bytes=0-9"}).is_error
        assert visitor.head("/static/a.js").is_error
        assert visitor.get("/static/b.js").is_error
        (tmp_path / "b.js").write_text("there now", "utf-8")
        assert visitor.get("/static/b.js").text == "there now"


def test_what_may_change_is_read_each_time(tmp_path: Path) -> None:
    kept = tmp_path / "index.js"
    with client(tmp_path, {"cache-control": "no-cache"}) as visitor:
        for text in ("old", "new"):
            kept.write_text(text, "utf-8")
            assert visitor.get("/static/index.js").text == text


def test_no_more_is_kept_than_the_limit(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(assets, "MOST_BYTES", 100)
    small, large = tmp_path / "small.js", tmp_path / "large.js"
    small.write_bytes(b"s" * 60)
    large.write_bytes(b"l" * 60)
    with client(tmp_path, FOR_EVER) as visitor:
        for path in (small, large):
            assert visitor.get(f"/static/{path.name}").content == path.read_bytes()
            path.unlink()
        assert visitor.get("/static/small.js").content == b"s" * 60
        assert visitor.get("/static/large.js").is_error


def test_a_file_that_broke_off_is_not_kept() -> None:
    sent = [b"whole" * 10, b"broken"]

    async def answer(_: Scope, __: Receive, send: Send) -> None:
        headers = [(b"content-length", b"50"), (b"cache-control", b"immutable")]
        await send({"type": "http.response.start", "status": 200, "headers": headers})
        await send({"type": "http.response.body", "body": sent.pop()})

    async def visited(server: Assets) -> bytes:
        heard: list[Message] = []

        async def send(message: Message) -> None:
            heard.append(message)

        async def receive() -> Message:
            return {"type": "http.request"}

        scope = {"type": "http", "method": "GET", "path": "/static/a", "headers": []}
        await server(scope, receive, send)
        return heard[-1]["body"]

    async def visits() -> list[bytes]:
        server = Assets(answer)
        return [await visited(server) for _ in range(4)]

    assert asyncio.run(visits()) == [b"broken", *[b"whole" * 10] * 3]
