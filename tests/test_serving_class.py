"""A class: thirty phones, one answer each, results when the trainer says."""

from dataclasses import fields
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from starlette.applications import Starlette
from starlette.testclient import TestClient

from shadecore.lesson.guess import Exercise, ExerciseColour
from shadecore.serving.class_room import (
    MOST_PHONES,
    SILENT_S,
    ClassError,
    ClassFullError,
    ClassRoom,
    answered,
    heard,
    joined,
    next_colour,
    with_results,
)
from shadecore.serving.class_routes import class_routes
from shadecore.serving.state import Serving
from shadecore.undercoats.shelf_table import demo_shelf

EXERCISE = Exercise(
    1,
    demo_shelf(),
    (
        ExerciseColour((48.0, 62.0, 40.0), (2, 3, 4, 5, 13), 2, 12),
        ExerciseColour((32.0, 0.0, -34.0), (5, 4, 3, 2, 2), 3, 12),
    ),
)


def full() -> tuple[ClassRoom, list[str]]:
    room, signs = ClassRoom(EXERCISE), []
    for _ in range(MOST_PHONES):
        room, sign = joined(room, 0.0)
        signs.append(sign)
    return room, signs


@settings(max_examples=20, deadline=None)
@given(st.lists(st.integers(0, 4), min_size=MOST_PHONES, max_size=MOST_PHONES))
def test_every_answer_counts_once_and_the_last_one_counts(choices: list[int]) -> None:
    room, signs = full()
    for sign in signs:
        room = answered(room, sign, 0, 0)
    for sign, choice in zip(signs, choices, strict=True):
        room = answered(room, sign, 0, choice)
    assert room.tally == tuple(choices.count(place) for place in range(5))
    after = next_colour(room)
    assert (after.place, after.answers, after.tallies) == (1, (), (room.tally,))


def test_the_thirty_first_is_told_so_until_one_falls_silent() -> None:
    room, signs = full()
    for sign in signs[1:]:
        room = heard(room, sign, SILENT_S)
    with pytest.raises(ClassFullError, match="30 phones"):
        joined(room, SILENT_S - 1)
    room, sign = joined(room, SILENT_S)
    assert len(room.phones) == MOST_PHONES
    assert room.has(sign)
    assert not room.has(signs[0])


def test_answers_that_cannot_be_are_refused() -> None:
    room, sign = joined(ClassRoom(EXERCISE), 0.0)
    for wrong in ((sign, 1, 0), (sign, 0, 5), (sign, 0, -1), ("stranger", 0, 0)):
        with pytest.raises(ClassError):
            answered(room, *wrong)
    with pytest.raises(ClassError, match="closed"):
        answered(with_results(room), sign, 0, 0)
    end = next_colour(next_colour(room))
    assert end.question is None
    assert next_colour(end) == end
    with pytest.raises(ClassError, match="closed"):
        answered(end, sign, 2, 0)


def test_of_a_pupil_nothing_is_known_but_a_random_sign() -> None:
    known = {each.name for each in fields(ClassRoom)}
    assert known == {
        "exercise", "code", "place", "shown", "phones", "answers", "tallies"
    }  # fmt: skip
    _, signs = full()
    assert len(set(signs)) == MOST_PHONES
    assert min(map(len, signs)) > 20


@pytest.fixture
def serving(tmp_path: Path) -> Serving:
    return Serving(tmp_path / "keys.json")


def phone_of(serving: Serving, address: str = "192.168.7.20") -> TestClient:
    app = Starlette(routes=class_routes(lambda: serving))
    return TestClient(app, "http://192.168.7.9", client=(address, 1))


def test_a_phone_joins_answers_and_sees_the_results(serving: Serving) -> None:
    phone = phone_of(serving)
    assert "Join the class" in phone.get("/class").text
    assert "open now" in phone.get("/class/state").json()["out"]
    assert phone.post("/class/join", json={"code": "1"}).status_code == 404
    serving.start_class(EXERCISE)
    assert "give the class code" in phone.get("/class/state").json()["out"]
    room = serving.room
    assert room is not None
    assert phone.post("/class/join", json={"code": room.code}).status_code == 200
    state = phone.get("/class/state").json()
    assert [each["name"] for each in state["choices"]] == [
        each.name for each in demo_shelf()
    ]
    answer = {"place": 0, "choice": 1}
    assert phone.post("/class/answer", json=answer).json()["mine"] == 1
    # What each undercoat costs stays with the computer until the trainer shows it.
    assert not {"costs", "best", "tally", "told"} & set(state)
    serving.step_class(with_results)
    state = phone.get("/class/state").json()
    assert state["tally"] == [0, 1, 0, 0, 0]
    assert state["best"] == [0]
    assert state["costs"][0] == "2 coats"
    assert state["costs"][4] == "over 12 coats"
    assert phone.post("/class/answer", json=answer).status_code == 409
    serving.end_class()
    assert "out" in phone.get("/class/state").json()
    assert serving.room is None


def test_a_reload_takes_no_second_place(serving: Serving) -> None:
    serving.start_class(EXERCISE)
    phone = phone_of(serving)
    for _ in range(3):
        assert serving.room is not None
        phone.post("/class/join", json={"code": serving.room.code})
    assert len(serving.room.phones) == 1


def test_the_thirty_first_phone_reads_that_the_class_is_full(serving: Serving) -> None:
    serving.start_class(EXERCISE)
    assert serving.room is not None
    for _ in range(MOST_PHONES):
        serving.join_class("192.168.7.1", serving.room.code)
    answer = phone_of(serving).post("/class/join", json={"code": serving.room.code})
    assert answer.status_code == 409
    assert "full" in answer.json()["problem"]


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"[]",
        b'{"code": [1]}',
        b"[" * 5000,
        b"1" * 99_999,
        b'{"place": true}',
    ],
)
def test_a_body_that_means_nothing_gets_a_sentence(
    serving: Serving, body: bytes
) -> None:
    serving.start_class(EXERCISE)
    phone = phone_of(serving)
    for route in ("join", "answer"):
        answer = phone.post(f"/class/{route}", content=body)
        assert 400 <= answer.status_code < 500
        assert len(answer.json()["problem"]) < 200


def test_wrong_class_codes_are_slowed(serving: Serving) -> None:
    serving.start_class(EXERCISE)
    phone = phone_of(serving)
    found = [phone.post("/class/join", json={"code": "x"}) for _ in range(4)]
    assert [each.status_code for each in found] == [403, 403, 429, 429]
