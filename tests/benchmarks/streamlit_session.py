"""A browser's side of a Streamlit session, without the browser: WebSocket and protobuf.

It speaks as the page's own script does, so that a load script can open thirty sessions
on the machine that is measured.
"""

import asyncio
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

import websockets.asyncio.client as websocket_client
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from websockets.typing import Subprotocol

from shadecore.telling.phone_words import BROKEN

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
from app_server import Server

ANSWER_S = 180.0


@dataclass(frozen=True)
class Button:
    """A button that stands on the page.

    Attributes
    ----------
    name : str
        Its identity.
    label : str
        What stands on it.
    fragment : str
        The part of the page that a click runs again; empty for all of it.
    """

    name: str
    label: str
    fragment: str


@dataclass
class Session:
    """One session: its page, and the buttons on it.

    Attributes
    ----------
    server : Server
        Where it is.
    page : str
        Name of the page; empty for the first.
    query : str
        Parameters of its link.
    """

    server: Server
    page: str = ""
    query: str = ""
    buttons: tuple[Button, ...] = ()
    html: str = ""
    failures: list[str] = field(default_factory=list)
    _stream: websocket_client.ClientConnection | None = None
    _script: str = ""
    _kept: dict[str, ForwardMsg] = field(default_factory=dict)

    async def open(self) -> float:
        """Open the page.

        Returns
        -------
        float
            Seconds until it stood.
        """
        self._stream = await websocket_client.connect(
            f"{self.server.url.replace('http', 'ws', 1)}/_stcore/stream",
            subprotocols=[Subprotocol("streamlit")],
            origin=self.server.url,  # type: ignore[arg-type]
            max_size=None,
            open_timeout=ANSWER_S,
        )
        return await self._run(BackMsg())

    async def rerun(self) -> float:
        """Run the page again.

        Returns
        -------
        float
            Seconds until it stood again.
        """
        return await self._run(BackMsg())

    async def close(self) -> None:
        """Leave."""
        if self._stream is not None:
            await self._stream.close()

    async def click(self, button: Button) -> float:
        """Click a button.

        Parameters
        ----------
        button : Button
            One that stands on the page.

        Returns
        -------
        float
            Seconds until the page stood again.
        """
        asked = BackMsg()
        state = asked.rerun_script.widget_states.widgets.add()
        state.id, state.trigger_value = button.name, True
        asked.rerun_script.fragment_id = button.fragment
        return await self._run(asked)

    def find(self, part: str) -> Button | None:
        """The first button whose identity or label holds a text.

        Parameters
        ----------
        part : str
            The text.
        """
        for each in self.buttons:
            if part in each.name or part in each.label:
                return each
        return None

    async def _run(self, asked: BackMsg) -> float:
        if self._stream is None:
            message = "The session is not open."
            raise RuntimeError(message)
        state = asked.rerun_script
        state.query_string = self.query
        state.page_script_hash = self._script
        state.page_name = "" if self._script else self.page
        state.cached_message_hashes.extend(self._kept)
        start = time.perf_counter()
        await self._stream.send(asked.SerializeToString())
        await asyncio.wait_for(self._follow(state.fragment_id), ANSWER_S)
        return time.perf_counter() - start

    async def _follow(self, fragment: str) -> None:
        """Take in what the server sends until its script has ended."""
        seen: list[Button] = []
        self.html = ""
        while self._stream is not None:
            message = self._whole(await self._stream.recv())  # type: ignore[arg-type]
            kind = message.WhichOneof("type")
            if kind == "new_session":
                seen = []
            elif kind == "navigation":
                self._script = message.navigation.page_script_hash
            elif kind == "page_info_changed":
                self.query = message.page_info_changed.query_string
            elif kind == "delta":
                self._take(message, seen)
            elif kind == "script_finished" and (
                message.script_finished != ForwardMsg.FINISHED_EARLY_FOR_RERUN
            ):
                break
        others = [each for each in self.buttons if fragment != each.fragment]
        self.buttons = (*(others if fragment else ()), *seen)

    def _whole(self, coded: bytes) -> ForwardMsg:
        """A message; what was sent before is only named again."""
        message = ForwardMsg()
        message.ParseFromString(coded)
        if message.WhichOneof("type") == "ref_hash":
            return self._kept[message.ref_hash]
        if message.metadata.cacheable:
            self._kept[message.hash] = message
        return message

    def _take(self, message: ForwardMsg, seen: list[Button]) -> None:
        element = message.delta.new_element
        kind = element.WhichOneof("type")
        if kind == "button" and not element.button.disabled:
            button = element.button
            seen.append(Button(button.id, button.label, message.delta.fragment_id))
        elif kind == "exception":
            self.failures.append(element.exception.message)
        elif kind == "alert" and BROKEN in element.alert.body:
            self.failures.append(BROKEN)
        elif kind == "html":
            self.html += element.html.body
