"""Files are there whole or not at all."""

import os
import stat
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shadecore.errors import TableError
from shadecore.formats.whole import part_of, write_whole

OLD, NEW = b"what was there", b"what comes"
KILLED = """
import os, pathlib, signal, sys
from shadecore.formats import whole
pathlib.Path.replace = lambda *_: os.kill(os.getpid(), signal.SIGKILL)
whole.write_whole(pathlib.Path(sys.argv[1]), b"half")
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "sheet.pdf"


def test_a_new_file(path: Path) -> None:
    write_whole(path, NEW)
    assert path.read_bytes() == NEW
    assert [each.name for each in path.parent.iterdir()] == [path.name]


@settings(
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(st.binary(max_size=200), st.binary(max_size=200))
def test_the_content_to_the_byte(path: Path, first: bytes, second: bytes) -> None:
    for content in (first, second):
        write_whole(path, content)
        assert path.read_bytes() == content


def test_a_file_keeps_who_may_read_it(path: Path) -> None:
    path.write_bytes(OLD)
    path.chmod(0o640)
    write_whole(path, NEW)
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
    assert path.read_bytes() == NEW


def test_a_private_file_is_never_readable_by_others(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path.write_bytes(OLD)
    path.chmod(0o644)
    write = Path.write_bytes
    modes = []

    def looked_at(part: Path, content: bytes) -> int:
        modes.append(stat.S_IMODE(part.stat().st_mode))
        return write(part, content)

    monkeypatch.setattr(Path, "write_bytes", looked_at)
    write_whole(path, NEW, private=True)
    assert [*modes, stat.S_IMODE(path.stat().st_mode)] == [0o600, 0o600]


def test_a_link_stays_a_link(path: Path) -> None:
    path.write_bytes(OLD)
    link = path.with_name("link.pdf")
    link.symlink_to(path)
    write_whole(link, NEW)
    assert link.is_symlink()
    assert path.read_bytes() == NEW


@pytest.mark.parametrize("method", ["write_bytes", "replace"])
def test_a_failure_leaves_what_was_there(
    path: Path, monkeypatch: pytest.MonkeyPatch, method: str
) -> None:
    """A disk that fills up half way must not cost the old file."""
    path.write_bytes(OLD)

    def full(part: Path, content: bytes | Path) -> None:
        if isinstance(content, bytes):
            with part.open("wb") as file:
                file.write(content[:3])
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, method, full)
    with pytest.raises(TableError, match="no space left on device; choose another"):
        write_whole(path, NEW)
    assert path.read_bytes() == OLD
    assert [each.name for each in path.parent.iterdir()] == [path.name]


def test_a_failure_leaves_no_new_file(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(part: Path, _content: bytes) -> None:
        part.touch()
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(TableError, match="cannot be written"):
        write_whole(path, NEW)
    assert list(path.parent.iterdir()) == []


def test_a_folder_that_is_not_there_is_told(path: Path) -> None:
    with pytest.raises(TableError, match="no such file or directory"):
        write_whole(path.parent / "missing" / "sheet.pdf", NEW)
    assert list(path.parent.iterdir()) == []


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    with pytest.raises(TableError, match="is a directory"):
        write_whole(tmp_path, NEW)
    assert list(tmp_path.iterdir()) == []


def test_a_pipe_takes_what_it_is_given(path: Path) -> None:
    os.mkfifo(path)
    read: list[bytes] = []
    reader = threading.Thread(target=lambda: read.append(path.read_bytes()))
    reader.start()
    write_whole(path, NEW)
    reader.join()
    assert read == [NEW]
    assert path.is_fifo()


def test_parts_of_writers_that_were_killed_are_removed(path: Path) -> None:
    """A process is killed between the writing of the part and its renaming."""
    ended = subprocess.run(
        [sys.executable, "-c", KILLED, str(path)], check=False, env=os.environ
    )
    assert ended.returncode == -9
    (left,) = path.parent.iterdir()
    assert left.name.endswith(".part")
    for beside in ("-journal", "-wal", "-shm"):
        left.with_name(f"{left.name}{beside}").touch()
    other = path.with_name(".other.pdf.1.part")
    other.touch()
    write_whole(path, NEW)
    # The part of another file is not its own.
    assert {each.name for each in path.parent.iterdir()} == {path.name, other.name}


def test_a_folder_is_written_like_a_file(tmp_path: Path) -> None:
    """Whole or not at all; the half of a killed writer goes with the next write."""
    folder = tmp_path / "arrays"
    with part_of(folder) as part:
        part.mkdir()
    # Above the highest number that Linux gives a process, 2**22 by proc(5).
    half = tmp_path / ".arrays.999999999-1.part"
    half.mkdir()
    (half / "some").touch()
    (folder / "first").touch()
    with pytest.raises(OSError, match="not empty"), part_of(folder) as second:
        second.mkdir()
    assert [each.name for each in tmp_path.rglob("*")] == ["arrays", "first"]


def test_parts_of_writers_at_work_stay(path: Path) -> None:
    mine = path.with_name(f".{path.name}.{os.getpid()}-1.part")
    mine.touch()
    write_whole(path, NEW)
    assert mine.exists()
    an_hour_ago = time.time() - 3601.0
    os.utime(mine, (an_hour_ago, an_hour_ago))
    write_whole(path, NEW)
    assert not mine.exists()


def test_threads_that_write_the_same_file(path: Path) -> None:
    contents = [bytes([each]) * 200_000 for each in range(8)]
    threads = [
        threading.Thread(target=write_whole, args=(path, content))
        for content in contents
    ]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert path.read_bytes() in contents
    assert [each.name for each in path.parent.iterdir()] == [path.name]


def test_a_name_that_no_file_can_have(tmp_path: Path) -> None:
    for name in ("a\0b", "n" * 300):
        with pytest.raises(TableError, match=r"cannot be written: .*; choose another"):
            write_whole(tmp_path / name, NEW)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_only_be_read(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    with pytest.raises(TableError, match="permission denied; choose another place"):
        write_whole(tmp_path / "sheet.pdf", NEW)
