"""Memory of the server while its pages are opened and clicked many times.

Run it by ``python tests/benchmarks/soak.py [RERUNS]`` on Linux; 2 000 unless given.
Sessions are opened and left as visitors do. What still grows in the second half leaks.
"""

import asyncio
import sys
from pathlib import Path

from streamlit_session import Session

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from app_server import Server, started

RERUNS = 2_000
CLICKS = 19
PAGES = ("guess", "pick", "lesson", "plan", "handout", "")
PARTS = (
    "Next colour",
    "See the result",
    "guess_choice_1",
    "One coat more",
    "Start again",
)
"""Buttons that are clicked where they stand on a page."""


async def soak(server: Server, reruns: int) -> None:
    """Open, click, leave; print the memory ten times."""
    done, told, failed = 0, 0, 0
    while done < reruns:
        page = PAGES[(done // (CLICKS + 1)) % len(PAGES)]
        session = Session(server, page, f"seed={done % 7}" if page == "guess" else "")
        await session.open()
        done += 1
        for _ in range(CLICKS):
            found = (session.find(part) for part in PARTS)
            button = next((each for each in found if each is not None), None)
            # A page without such a button is run again as a whole.
            await (session.rerun() if button is None else session.click(button))
            done += 1
        failed += len(session.failures)
        await session.close()
        if done * 10 >= told * reruns:
            told += 1
            print(f"{done:6d} reruns {server.memory_mb():8.0f} MB {failed:4d} failed")  # noqa: T201


def main() -> None:
    """Measure and print."""
    reruns = int(sys.argv[1]) if len(sys.argv) > 1 else RERUNS
    with started() as server:
        asyncio.run(soak(server, reruns))


if __name__ == "__main__":
    main()
