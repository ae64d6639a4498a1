"""Files that visitors open are taken in within bounds, and given back."""

from collections.abc import Iterator

import pytest
from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route
from starlette.testclient import TestClient

from shadecore.serving import uploads
from shadecore.serving.uploads import GONE_S, UploadRoom, Uploads

PATH = "/_stcore/upload_file/{session}/{file}"


class Held:
    """Visitors who have opened something."""

    def __init__(self) -> None:
        self.sizes: dict[str, int] = {}
        self.here: set[str] = {"me", "other"}
        self.ended: list[str] = []
        self.turned_away: set[str] = set()

    def held(self) -> dict[str, int]:
        """Bytes by visitor."""
        return dict(self.sizes)

    def is_here(self, visitor: str) -> bool:
        """Whether somebody is connected."""
        return visitor in self.here

    def end(self, visitor: str) -> None:
        """Note who is forgotten."""
        self.ended.append(visitor)
        self.sizes.pop(visitor, None)


@pytest.fixture
def held(monkeypatch: pytest.MonkeyPatch) -> Held:
    monkeypatch.setattr(uploads, "MOST_BYTES", 100)
    monkeypatch.setattr(uploads, "MOST_BYTES_OF_ALL", 150)
    return Held()


@pytest.fixture
def room(held: Held) -> UploadRoom:
    return UploadRoom(lambda: held, lambda: held.turned_away)


@pytest.fixture
def client(held: Held, room: UploadRoom) -> Iterator[TestClient]:
    """A server that holds what it is sent, as Streamlit's does."""

    async def take(request: Request) -> Response:
        session = request.path_params["session"]
        held.sizes[session] = held.sizes.get(session, 0) + len(await request.body())
        return Response(status_code=204)

    route = Route(PATH, take, methods=["PUT"])
    app = Starlette(routes=[route], middleware=[Middleware(Uploads, room=room)])
    with TestClient(app) as found:
        yield found


def give(client: TestClient, who: str, size: int) -> int:
    path = PATH.format(session=who, file="a")
    return client.put(path, content=b"x" * size).status_code


def test_files_are_taken_in_together_up_to_a_limit(
    client: TestClient, held: Held
) -> None:
    for size in (60, 41, 40):
        assert give(client, "me", size) == 204
    assert held.sizes == {"me": 100}
    assert held.turned_away == {"me"}
    give(client, "other", 51)
    assert held.turned_away == {"me", "other"}
    give(client, "other", 50)
    assert held.sizes == {"me": 100, "other": 50}


def test_a_file_of_unknown_length_is_not_taken(client: TestClient, held: Held) -> None:
    path = PATH.format(session="me", file="a")
    client.put(path, content=iter([b"x"]))
    assert held.sizes == {}
    assert held.turned_away == {"me"}


def test_what_is_on_its_way_counts(room: UploadRoom) -> None:
    with room.coming("me", 90):
        assert not room.has_room("me", 11)
        assert room.has_room("other", 60)
        assert not room.has_room("other", 61)
    assert room.has_room("me", 100)


def test_who_has_gone_is_forgotten_but_not_who_may_come_back(
    client: TestClient, held: Held, room: UploadRoom
) -> None:
    give(client, "me", 60)
    give(client, "other", 10)
    give(client, "me", 90)
    start = 1000.0
    assert room.give_back(start) == 0
    held.here.remove("me")
    assert room.give_back(start + GONE_S) == 0
    held.here.add("me")
    assert room.give_back(start + 2 * GONE_S) == 0
    held.here.remove("me")
    assert room.give_back(start + 4 * GONE_S) == 1
    assert held.ended == ["me"]
    assert not held.turned_away
    assert held.sizes == {"other": 10}
    assert room.give_back(start + 9 * GONE_S) == 0
