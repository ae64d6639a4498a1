"""The class's own routes: join, see the colour, answer, see the results.

They are light pages without a Streamlit session: thirty phones that ask every other
second how the exercise stands cost the computer next to nothing.
"""

import json
from collections.abc import Callable
from functools import cache, lru_cache
from http import HTTPStatus
from pathlib import Path
from typing import Any, Final

from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response
from starlette.routing import Route

from shadecore.errors import ShadecoreError
from shadecore.lesson.colours import shown
from shadecore.lesson.guess import Exercise, ExerciseColour
from shadecore.serving.bodies import small_body
from shadecore.serving.class_room import ClassRoom
from shadecore.serving.gate import CLASS_PATH
from shadecore.serving.plain_page import plain_page
from shadecore.serving.state import Serving
from shadecore.telling import phone_words as words
from shadecore.telling.exercise_words import question_words

COOKIE: Final = "shadecore_class"
_HERE: Final = Path(__file__).parent
_KEPT: Final = 64
_NO_STORE: Final = {"Cache-Control": "no-store"}


def class_routes(serving: Callable[[], Serving]) -> list[Route]:
    """The routes.

    Parameters
    ----------
    serving : callable
        Gives what is shared now.

    Returns
    -------
    list of starlette.routing.Route
    """

    async def look(_: Request) -> Response:
        return _page()

    async def join(request: Request) -> Response:
        return await _join(request, serving())

    async def state(request: Request) -> Response:
        sign = request.cookies.get(COOKIE)
        room = serving().look(sign)
        if room is None or sign is None:
            # No error: each phone asks before it has joined.
            return JSONResponse({"out": _why_not(serving())}, headers=_NO_STORE)
        return JSONResponse(state_of(room, sign), headers=_NO_STORE)

    async def answer(request: Request) -> Response:
        return await _answer(request, serving())

    return [
        Route(CLASS_PATH, look),
        Route(f"{CLASS_PATH}/join", join, methods=["POST"]),
        Route(f"{CLASS_PATH}/state", state),
        Route(f"{CLASS_PATH}/answer", answer, methods=["POST"]),
    ]


async def _join(request: Request, serving: Serving) -> Response:
    body = await small_body(request)
    given = _object(body)
    client = request.client.host if request.client else ""
    code = given.get("code", "")
    sign = request.cookies.get(COOKIE)
    if serving.look(sign) is not None:
        return JSONResponse({}, headers=_NO_STORE)
    try:
        joined, wait_s = serving.join_class(client, str(code))
    except ShadecoreError as error:
        return _told(str(error), HTTPStatus.CONFLICT)
    if joined is None:
        if serving.room is None:
            return _told(words.NO_CLASS, HTTPStatus.NOT_FOUND)
        status = HTTPStatus.TOO_MANY_REQUESTS if wait_s else HTTPStatus.FORBIDDEN
        return _told(words.wrong_code_words(wait_s), status)
    answer = JSONResponse({}, headers=_NO_STORE)
    # Without an age the browser forgets it when it is closed.
    answer.set_cookie(COOKIE, joined, path=CLASS_PATH, httponly=True, samesite="lax")
    return answer


async def _answer(request: Request, serving: Serving) -> Response:
    given = _object(await small_body(request))
    place, choice = given.get("place"), given.get("choice")
    sign = request.cookies.get(COOKIE)
    if type(place) is not int or type(choice) is not int or sign is None:
        return _told(words.NOT_JOINED, HTTPStatus.BAD_REQUEST)
    try:
        serving.answer(sign, place, choice)
    except ShadecoreError as error:
        return _told(str(error), HTTPStatus.CONFLICT)
    room = serving.look(sign)
    if room is None:
        return _told(_why_not(serving), HTTPStatus.UNAUTHORIZED)
    return JSONResponse(state_of(room, sign), headers=_NO_STORE)


def state_of(room: ClassRoom, sign: str) -> dict[str, Any]:
    """What a phone shows.

    Parameters
    ----------
    room : ClassRoom
        The class.
    sign : str
        The phone's sign.

    Returns
    -------
    dict
        Of plain values. What each undercoat costs is in it only once it is shown.
    """
    question = room.question
    if question is None:
        return {"end": True}
    exercise = room.exercise
    colour, choices = _drawn(exercise, question)
    mine = room.answer_of(sign)
    state: dict[str, Any] = {
        "end": False,
        "place": room.place,
        "asked": question_words(exercise, room.place),
        "colour": colour,
        "choices": choices,
        "mine": mine,
        "shown": room.shown,
    }
    if room.shown:
        state["told"] = words.result_words(question, exercise.undercoats, mine)
        state["costs"] = words.costs_words(question)
        state["best"] = sorted(question.best)
        state["tally"] = room.tally
    return state


@lru_cache(maxsize=_KEPT)
def _drawn(
    exercise: Exercise, question: ExerciseColour
) -> tuple[str, list[dict[str, str]]]:
    """The colour and the choices as a phone draws them; the same for all phones."""
    (colour,) = shown([question.lab])
    swatches = shown([each.lab for each in exercise.undercoats])
    return colour.hex, [
        {"name": each.name, "back": swatch.hex, "ink": swatch.letters}
        for each, swatch in zip(exercise.undercoats, swatches, strict=True)
    ]


def _page() -> HTMLResponse:
    body, script, style = _parts()
    return plain_page("Class", body, script=script, style=style)


@cache
def _parts() -> tuple[str, str, str]:
    body, script, style = (
        (_HERE / f"class.{kind}").read_text("utf-8") for kind in ("html", "js", "css")
    )
    return body, script, style


def _object(body: bytes | None) -> dict[str, Any]:
    try:
        found = json.loads(body or b"{}")
    except (ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def _why_not(serving: Serving) -> str:
    return words.NOT_JOINED if serving.room is not None else words.NO_CLASS


def _told(sentence: str, status: HTTPStatus) -> JSONResponse:
    return JSONResponse({"problem": sentence}, status, headers=_NO_STORE)
