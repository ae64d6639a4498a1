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
    said: list[str] = []
    away = {ME, OTHER}
    monkeypatch.setattr(uploads.say, "warning", said.append)
    monkeypatch.setattr(uploads, "turned_away", lambda: away)
    for count in (1, 2):
        uploads.begin("pick")
        assert list(files.file_storage[ME]) == ["a"]
        assert len(said) == count
    assert "were not taken" in said[0]
    uploads.begin("photo")
    assert not files.file_storage.get(ME)
    assert (away, len(said)) == ({OTHER}, 2)
    assert list(files.file_storage[OTHER]) == ["a"]
