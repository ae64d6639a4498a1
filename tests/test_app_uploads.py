"""Files that visitors open are given back when they leave the page."""

from types import SimpleNamespace

import pytest
from streamlit.runtime.memory_uploaded_file_manager import MemoryUploadedFileManager
from streamlit.runtime.uploaded_file_manager import UploadedFileRec

from shadecore.screens import uploads

ME, OTHER = "me", "other"


def test_a_page_that_is_left_gives_its_files_back(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    files = MemoryUploadedFileManager("/uploads")
    context = SimpleNamespace(uploaded_file_mgr=files, session_id=ME)
    monkeypatch.setattr(uploads, "get_script_run_ctx", lambda: context)
    monkeypatch.setattr(uploads.st, "session_state", {})
    for who in (ME, OTHER):
        files.add_file(who, UploadedFileRec("a", "a", "text/csv", b"x"))
    for _ in range(2):
        uploads.begin("pick")
        assert list(files.file_storage[ME]) == ["a"]
    uploads.begin("photo")
    assert not files.file_storage.get(ME)
    assert list(files.file_storage[OTHER]) == ["a"]
