"""A class of thirty on one server, beside a trivial app in the same run.

Run it by ``python tests/benchmarks/class_of_30.py [SESSIONS [ROUNDS]]`` on Linux. Three
ways are measured: phones of a class (HTTP), sessions of the exercise's page that click
every 3 seconds (WebSocket), and as many sessions of an app of one button. Aims on two
idle cores, for 30 sessions: 0.3 s median, 1 s at the 95th percentile, 0.05 s of
processor a click, none failed. Seconds vary from machine to machine; what a click costs
beside the trivial app is what to read.
"""

import asyncio
import random
import re
import sys
import tempfile
import time
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from pathlib import Path

import httpx2 as httpx
import numpy as np
from streamlit_session import Session

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from app_server import Server, started

SESSIONS, ROUNDS = 30, 10
EVERY_S = 3.0
POLL_S = 1.5
TRIVIAL = """
import streamlit as st
st.session_state.setdefault("count", 0)
def more():
    st.session_state["count"] += 1
st.button("guess_choice_ more", on_click=more)
st.write(st.session_state["count"])
"""


@dataclass
class Taken:
    """Seconds that answers took, and what failed."""

    seconds: list[float] = field(default_factory=list)
    failed: list[str] = field(default_factory=list)


def told(name: str, taken: Taken, processor_s: float) -> None:
    """Print one line of the table."""
    median, high = np.percentile(taken.seconds, [50, 95])
    count = len(taken.seconds)
    print(  # noqa: T201 - what this script is for
        f"{name:34s} {count:6d} {median:8.3f} {high:8.3f} {processor_s / count:10.4f} "
        f"{len(taken.failed):7d}"
    )
    for each in taken.failed[:3]:
        print("   ", each)  # noqa: T201


async def measured(
    name: str, server: Server, work: Callable[[Taken], Awaitable[None]]
) -> None:
    """Do some work and print what it took."""
    taken, before = Taken(), server.processor_s()
    await work(taken)
    told(name, taken, server.processor_s() - before)


async def clicking(
    session: Session, rounds: int, number: random.Random, taken: Taken
) -> None:
    """Click through the exercise as a pupil would, every three seconds."""
    await asyncio.sleep(number.uniform(0, EVERY_S))
    for _ in range(rounds):
        start = time.perf_counter()
        button = (
            session.find("Next colour")
            or session.find("See the result")
            or session.find(f"guess_choice_{number.randrange(5)}")
            or session.find("guess_choice_")
            or session.find("Start again")
        )
        try:
            if button is None:
                taken.failed.append("no button to click")
                return
            taken.seconds.append(await session.click(button))
        except (OSError, TimeoutError) as error:
            taken.failed.append(repr(error))
        await asyncio.sleep(max(0.0, EVERY_S - (time.perf_counter() - start)))
    taken.failed += session.failures


async def sessions(server: Server, page: str, count: int, rounds: int) -> None:
    """Open sessions one by one, then let all of them click."""
    opened = [Session(server, page, f"seed={1 + i % 4}") for i in range(count)]
    opening = Taken()
    before = server.processor_s()
    for each in opened:
        opening.seconds.append(await each.open())
    name = page or "trivial app"
    told(f"{name}: opening a session", opening, server.processor_s() - before)

    async def work(taken: Taken) -> None:
        await asyncio.gather(
            *(
                clicking(each, rounds, random.Random(place), taken)  # noqa: S311
                for place, each in enumerate(opened)
            )
        )

    await measured(f"{name}: a click", server, work)
    await asyncio.gather(*(each.close() for each in opened))


async def phone(
    server: Server, code: str, rounds: int, number: random.Random, taken: Taken
) -> None:
    """One phone of a class: it joins, asks how it stands, and changes its answer."""
    async with httpx.AsyncClient(base_url=server.url, timeout=30) as client:
        await asyncio.sleep(number.uniform(0, POLL_S))
        joined = await client.post("/class/join", json={"code": code})
        if joined.status_code != 200:
            taken.failed.append(joined.text)
            return
        for place in range(rounds):
            state = (await client.get("/class/state")).json()
            start = time.perf_counter()
            answer = {"place": state["place"], "choice": place % 5}
            found = await client.post("/class/answer", json=answer)
            taken.seconds.append(time.perf_counter() - start)
            if found.status_code != 200:
                taken.failed.append(found.text)
            await asyncio.sleep(POLL_S)


async def phones(server: Server, count: int, rounds: int) -> None:
    """Start a class from the trainer's page and let the phones answer."""
    trainer = Session(server, "guess")
    await trainer.open()
    start = trainer.find("Let the class answer")
    if start is None:
        message = "The trainer's page offers no class."
        raise RuntimeError(message)
    await trainer.click(start)
    found = re.search(r'data-code="class">([\d ]+)<', trainer.html)
    if found is None:
        message = "The trainer's page shows no class code."
        raise RuntimeError(message)
    code = found[1]

    async def work(taken: Taken) -> None:
        await asyncio.gather(
            *(
                phone(server, code, rounds, random.Random(place), taken)  # noqa: S311
                for place in range(count)
            )
        )

    await measured("class by phone: an answer", server, work)
    end = trainer.find("End the class")
    if end is not None:
        await trainer.click(end)
    await trainer.close()


def main() -> None:
    """Measure and print."""
    count, rounds = (int(each) for each in (*sys.argv[1:], SESSIONS, ROUNDS)[:2])
    print(  # noqa: T201
        f"{count} at once\n{'':34s}  count  median      95%  processor  failed"
    )
    with tempfile.TemporaryDirectory() as folder:
        script = Path(folder) / "trivial.py"
        script.write_text(TRIVIAL)
        with started(script) as server:
            asyncio.run(sessions(server, "", count, rounds))
    with started() as server:
        asyncio.run(sessions(server, "guess", count, rounds))
        asyncio.run(phones(server, count, rounds))


if __name__ == "__main__":
    main()
