"""The app looks nothing up outside: shown where there is no way out at all.

Streamlit's own server asks a service elsewhere for its outside address when a page from
another place connects (`net_util.get_external_ip`). The app is started in a network
namespace that has nothing but the machine itself, and every address that it looks up or
connects to is noted.
"""

import http.client
import os
import shutil
import socket
import struct
import subprocess
import sys
import time
from pathlib import Path

import pytest
from app_server import noting, strangers

fcntl = pytest.importorskip("fcntl", reason="needs Linux")
PORT = 8765
SECONDS = 120.0
FOREIGN = "http://elsewhere.example"
SIOCGIFFLAGS, SIOCSIFFLAGS, IFF_UP = 0x8913, 0x8914, 0x1
"""Of Linux's <net/if.h> and <linux/sockios.h>."""


def test_a_page_from_elsewhere_makes_the_server_look_nothing_up(tmp_path: Path) -> None:
    pytest.importorskip("shadecore.serving.asgi", reason="served by Streamlit alone")
    alone = ["unshare", "--map-root-user", "--net"]
    if not shutil.which("unshare") or subprocess.call([*alone, "true"]):
        pytest.skip("needs the right to make a network namespace")
    words = [*alone, sys.executable, __file__, str(tmp_path)]
    said = subprocess.check_output(words, text=True, timeout=2 * SECONDS)
    own, foreign = said.split()
    assert own == "101"
    assert foreign == "403"
    assert strangers(tmp_path) == []


def main(folder: Path) -> None:
    """Start the app where there is no way out, and connect to it."""
    _bring_up_loopback()
    book = str(folder / "book.sqlite")
    known = {**os.environ, **noting(folder), "SHADECORE_BOOK": book}
    server = subprocess.Popen(
        [sys.executable, "-m", "shadecore", "app", "--headless", "--port", str(PORT)],
        env=known,
        stdout=subprocess.DEVNULL,
    )
    try:
        _wait(server)
        for origin in (f"http://localhost:{PORT}", FOREIGN):
            sys.stdout.write(f"{_handshake(origin)}\n")
        # What is looked up in another thread is begun by then.
        time.sleep(3.0)
    finally:
        server.terminate()
        server.wait(30)


def _bring_up_loopback() -> None:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        asked = struct.pack("16sh14x", b"lo", 0)
        known = struct.unpack("16sh14x", fcntl.ioctl(probe, SIOCGIFFLAGS, asked))[1]
        up = struct.pack("16sh14x", b"lo", known | IFF_UP)
        fcntl.ioctl(probe, SIOCSIFFLAGS, up)


def _wait(server: "subprocess.Popen[bytes]") -> None:
    until = time.monotonic() + SECONDS
    while time.monotonic() < until and server.poll() is None:
        try:
            socket.create_connection(("127.0.0.1", PORT), 1.0).close()
        except OSError:
            time.sleep(0.2)
        else:
            return
    message = "the app did not start"
    raise TimeoutError(message)


def _handshake(origin: str) -> int:
    """Ask for a WebSocket as a page of some origin; the status (RFC 6455)."""
    asked = http.client.HTTPConnection("127.0.0.1", PORT, timeout=SECONDS)
    headers = {
        "Host": f"localhost:{PORT}",
        "Upgrade": "websocket",
        "Connection": "Upgrade",
        "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==",
        "Sec-WebSocket-Version": "13",
        "Sec-WebSocket-Protocol": "streamlit",
        "Origin": origin,
    }
    asked.request("GET", "/_stcore/stream", headers=headers)
    return asked.getresponse().status


if __name__ == "__main__":
    main(Path(sys.argv[1]))
