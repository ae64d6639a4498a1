"""What visitors gave the app to read is held in memory: how much, and for how long.

Streamlit limits each file by itself and holds all of them until the session ends.
"""

from typing import Final

import streamlit as st
from streamlit.runtime.memory_uploaded_file_manager import MemoryUploadedFileManager
from streamlit.runtime.scriptrunner import get_script_run_ctx

from shadecore.screens import say

MOST_BYTES: Final = 200_000_000
"""Of one visitor's files together: several photos of the largest size that is read."""
MOST_BYTES_OF_ALL: Final = 600_000_000
"""Of all visitors' files together."""
_PAGE: Final = "uploads_page"


def begin(page: str) -> None:
    """Give back the files of a page that was left, and keep the rest within bounds.

    Parameters
    ----------
    page : str
        Address of the page that is about to be shown.
    """
    context = get_script_run_ctx()
    if context is None or not isinstance(
        context.uploaded_file_mgr, MemoryUploadedFileManager
    ):
        return
    files, session = context.uploaded_file_mgr, context.session_id
    if st.session_state.setdefault(_PAGE, page) != page:
        st.session_state[_PAGE] = page
        files.remove_session_files(session)
        return
    own = files.file_storage.get(session, {})
    let_go = _beyond(
        {name: len(file.data) for name, file in own.items()},
        MOST_BYTES_OF_ALL - _held_by_others(files, session),
    )
    for name in let_go:
        files.remove_file(session, name)
    if let_go:
        say.warning(
            "Too many large files are open at once; the last ones were let go. Open "
            "fewer at a time, or smaller ones."
        )


def _held_by_others(files: MemoryUploadedFileManager, session: str) -> int:
    return sum(
        len(file.data)
        for each, held in list(files.file_storage.items())
        if each != session
        for file in list(held.values())
    )


def _beyond(sizes: dict[str, int], room: int) -> list[str]:
    """Files that find no room, those that came last."""
    most, held, found = min(room, MOST_BYTES), 0, []
    for name, size in sizes.items():
        if held + size > most:
            found.append(name)
        else:
            held += size
    return found
