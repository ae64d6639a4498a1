"""The second place where the server listens opens, closes and ends."""

import asyncio
from pathlib import Path

import httpx2
import pytest
from starlette.types import Receive, Scope, Send

from shadecore.serving import door
from shadecore.serving.state import Serving

HERE = "127.0.0.1"
SECONDS = 30.0


@pytest.fixture
def serving(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Serving:
    monkeypatch.setattr(door, "own_addresses", lambda: (HERE,))
    return Serving(tmp_path / "keys.json")


async def _until_open(serving: Serving, *, is_open: bool) -> None:
    while bool(serving.door.url) != is_open:
        await asyncio.sleep(0.02)


def test_the_server_ends_while_a_phone_is_still_being_let_go(serving: Serving) -> None:
    """Ending the app right after a class, with an answer under way."""
    asked = asyncio.Event()

    async def slow(_: Scope, _receive: Receive, _send: Send) -> None:
        asked.set()
        await asyncio.sleep(SECONDS)

    async def end_in_the_middle() -> None:
        kept = asyncio.create_task(door.keep_door(slow, lambda: serving, 0))
        serving.share(on=True)
        await _until_open(serving, is_open=True)
        async with httpx2.AsyncClient() as phone:
            waiting = asyncio.create_task(phone.get(serving.door.url))
            await asked.wait()
            serving.share(on=False)
            # The door looks four times a second, and lets phones go for three.
            await asyncio.sleep(1.0)
            kept.cancel()
            await asyncio.wait([kept], timeout=SECONDS / 3.0)
            assert kept.cancelled()
            assert (await waiting).is_server_error

    asyncio.run(end_in_the_middle())
