"""The scripts that a page needs are named in its head, with all that they import."""

import re
from pathlib import Path

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route
from starlette.testclient import TestClient

from shadecore.serving.ahead import PIECES, Ahead, scripts_of
from shadecore.serving.asgi import FRAME_SCRIPTS, parts


def test_a_piece_brings_all_that_it_imports(tmp_path: Path) -> None:
    for name, text in {
        "Box.a1.js": 'import{a}from"./edge.b2.js";import"./paint.c3.js";',
        "edge.b2.js": 'import{b}from"./paint.c3.js";import{c}from"./Box.a1.js";',
        "paint.c3.js": 'import{d}from"./gone.d4.js";',
        "BoxOfMany.e5.js": "",
    }.items():
        (tmp_path / name).write_text(text, "utf-8")
    assert scripts_of(["Box", "Unknown"], tmp_path) == (
        "Box.a1.js",
        "edge.b2.js",
        "paint.c3.js",
    )


def test_the_frame_in_use_has_each_piece() -> None:
    """A new version of the frame may call its parts by other names."""
    found = scripts_of(PIECES, FRAME_SCRIPTS)
    for piece in PIECES:
        assert any(name.startswith(f"{piece}.") for name in found)


def test_only_pages_of_the_frame_name_them() -> None:
    def page(_: Request) -> Response:
        return HTMLResponse("<p>here</p>")

    def data(_: Request) -> Response:
        return JSONResponse({})

    routes = [Route("/pick", page), Route("/class", page), Route("/data", data)]
    app = Starlette(
        routes=routes, middleware=[Middleware(Ahead, scripts=FRAME_SCRIPTS)]
    )
    with TestClient(app) as visitor:
        link = visitor.get("/pick").headers["link"]
        named = re.findall(r"</static/js/([^>]+)>; rel=modulepreload", link)
        assert tuple(named) == scripts_of(PIECES, FRAME_SCRIPTS)
        assert "link" not in visitor.get("/class").headers
        assert "link" not in visitor.get("/data").headers


def test_the_app_is_served_with_it() -> None:
    def page(_: Request) -> Response:
        return HTMLResponse("<p>here</p>")

    served = Starlette(routes=[Route("/", page)], middleware=parts()["middleware"])
    with TestClient(
        served, base_url="http://127.0.0.1", client=("127.0.0.1", 5000)
    ) as visitor:
        assert "/Button." in visitor.get("/").headers["link"]
