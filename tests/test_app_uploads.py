"""Files that visitors open are held together within bounds, and given back."""

from types import SimpleNamespace

import pytest
from streamlit.runtime.memory_uploaded_file_manager import MemoryUploadedFileManager
from streamlit.runtime.uploaded_file_manager import UploadedFileRec

from shadecore.screens import uploads

ME, OTHER = "me", "other"


@pytest.fixture
def said(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Warnings of the page, with small limits on what is held."""
    told: list[str] = []
    monkeypatch.setattr(uploads.say, "warning", told.append)
    monkeypatch.setattr(uploads.st, "session_state", {})
    monkeypatch.setattr(uploads, "MOST_BYTES", 100)
    monkeypatch.setattr(uploads, "MOST_BYTES_OF_ALL", 150)
    return told


@pytest.fixture
def files(monkeypatch: pytest.MonkeyPatch) -> MemoryUploadedFileManager:
    """What the server holds."""
    held = MemoryUploadedFileManager("/uploads")
    context = SimpleNamespace(uploaded_file_mgr=held, session_id=ME)
    monkeypatch.setattr(uploads, "get_script_run_ctx", lambda: context)
    return held


def give(
    files: MemoryUploadedFileManager, name: str, size: int, who: str = ME
) -> list[str]:
    """Open a file on the page, and name what is held then."""
    files.add_file(who, UploadedFileRec(name, name, "text/csv", b"x" * size))
    uploads.begin("pick")
    return list(files.file_storage[ME])


def test_files_are_held_together_up_to_a_limit(
    files: MemoryUploadedFileManager, said: list[str]
) -> None:
    give(files, "a", 60)
    assert give(files, "b", 39) == ["a", "b"]
    assert said == []
    assert give(files, "c", 2) == ["a", "b"]
    assert "let go" in said[0]


def test_files_of_others_count_as_well(
    files: MemoryUploadedFileManager, said: list[str]
) -> None:
    give(files, "x", 90, who=OTHER)
    assert give(files, "a", 60) == ["a"]
    assert give(files, "b", 1) == ["a"]
    assert list(files.file_storage[OTHER]) == ["x"]
    assert len(said) == 1


def test_a_page_that_is_left_gives_its_files_back(
    files: MemoryUploadedFileManager, said: list[str]
) -> None:
    give(files, "x", 10, who=OTHER)
    assert give(files, "a", 60) == ["a"]
    uploads.begin("photo")
    assert not files.file_storage.get(ME)
    assert list(files.file_storage[OTHER]) == ["x"]
    assert said == []
