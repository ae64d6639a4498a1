"""A script served for a test or a measurement, with a book of its own."""

import os
import socket
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

ROOT = Path(__file__).resolve().parents[1]
START_SECONDS = 60
NOTHING_MORE: Mapping[str, str] = MappingProxyType({})
HOOK = """
import sys, os

def note(event, told):
    if event in ("socket.connect", "socket.sendto", "socket.getaddrinfo",
                 "socket.gethostbyname"):
        with open(os.environ["NOTES"], "a") as notes:
            notes.write(f"{event} {told[-1] if 'connect' in event else told[:2]}\\n")

sys.addaudithook(note)
note("socket.connect", ["/begun"])
"""
"""Python's own audit events (PEP 578) tell of every connection that is tried."""
HERE = ("127.0.0.1", "localhost", "::1", "0.0.0.0", "None", "/")  # noqa: S104


@dataclass(frozen=True)
class Server:
    """A server that was started.

    Attributes
    ----------
    url : str
        Its address on this computer.
    process : int
        Its number.
    """

    url: str
    process: int

    def processor_s(self) -> float:
        """Processor time it has used, in seconds; Linux only."""
        text = Path(f"/proc/{self.process}/stat").read_text()
        words = text.rpartition(")")[2].split()
        return (int(words[11]) + int(words[12])) / os.sysconf("SC_CLK_TCK")

    def memory_mb(self) -> float:
        """Memory that it holds now, in MB; Linux only."""
        for line in Path(f"/proc/{self.process}/status").read_text().splitlines():
            if line.startswith("VmRSS:"):
                return int(line.split()[1]) / 1024
        return 0.0


def noting(folder: Path) -> dict[str, str]:
    """Environment of a process that notes each address it looks up or connects to."""
    (folder / "sitecustomize.py").write_text(HOOK)
    paths = [str(folder), *filter(None, [os.environ.get("PYTHONPATH")])]
    return {"NOTES": str(folder / "notes"), "PYTHONPATH": os.pathsep.join(paths)}


def strangers(folder: Path) -> list[str]:
    """What was noted of addresses that are not this computer's own."""
    noted = (folder / "notes").read_text().splitlines()
    assert "socket.connect /begun" in noted
    return [line for line in noted if not any(each in line for each in HERE)]


@contextmanager
def started(
    script: Path | str = ROOT / "app.py", more: Mapping[str, str] = NOTHING_MORE
) -> Iterator[Server]:
    """The app, started as the README says, or another script; more environment."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "-m", "streamlit", "run", str(script)]
    options = ["--server.port", str(port), "--server.headless", "true"]
    folder = tempfile.TemporaryDirectory()
    book = Path(folder.name) / "book.sqlite"
    own = {**os.environ, "SHADECORE_BOOK": str(book), **more}
    process = subprocess.Popen([*command, *options], cwd=ROOT, env=own)
    try:
        url = f"http://127.0.0.1:{port}"
        _wait(f"{url}/_stcore/health")
        yield Server(url, process.pid)
    finally:
        process.terminate()
        process.wait()
        folder.cleanup()


def _wait(url: str) -> None:
    end = time.monotonic() + START_SECONDS
    while True:
        try:
            urllib.request.urlopen(url).close()  # noqa: S310 - our own server
        except urllib.error.URLError:
            if time.monotonic() > end:
                raise
            time.sleep(0.2)
        else:
            return
