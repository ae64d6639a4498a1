"""Arrays kept between runs: there when they can be, never needed, never wrong."""

import os
import stat
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from shadecore import kept
from shadecore.kept import FOLDER_VARIABLE, keep_array, kept_array, kept_folder

ARRAY = np.arange(12, dtype=np.float32).reshape(3, 4)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path))
    found = kept_folder()
    assert found is not None
    assert found.parent == tmp_path
    return found


def test_what_was_kept_comes_back(folder: Path) -> None:
    assert kept_array("some", (3, 4)) is None
    keep_array("some", ARRAY)
    found = kept_array("some", (3, 4))
    assert found is not None
    np.testing.assert_array_equal(found, ARRAY)
    assert [each.name for each in folder.iterdir()] == ["some.npy"]


def test_changes_stay_in_memory(folder: Path) -> None:
    keep_array("some", ARRAY)
    found = kept_array("some", (3, 4))
    assert found is not None
    found[0, 0] = 99.0
    again = kept_array("some", (3, 4))
    assert again is not None
    assert again[0, 0] == 0.0
    assert folder.is_dir()


def test_another_shape_or_a_damaged_file_counts_as_none(folder: Path) -> None:
    keep_array("some", ARRAY)
    assert kept_array("some", (4, 3)) is None
    path = folder / "some.npy"
    whole = path.read_bytes()
    for damaged in (whole[:40], whole[:-8], b"", b"no array at all" * 9):
        path.write_bytes(damaged)
        assert kept_array("some", (3, 4)) is None
    keep_array("some", ARRAY)
    assert kept_array("some", (3, 4)) is not None


def test_nothing_is_kept_where_that_is_asked_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv(FOLDER_VARIABLE, "")
    assert kept_folder() is None
    keep_array("some", ARRAY)
    assert kept_array("some", (3, 4)) is None


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_cannot_be_written_is_no_error(folder: Path) -> None:
    folder.parent.chmod(stat.S_IRUSR | stat.S_IXUSR)
    keep_array("some", ARRAY)
    assert not folder.exists()
    folder.parent.chmod(stat.S_IRWXU)


def test_a_file_where_the_folder_should_be_is_no_error(folder: Path) -> None:
    folder.write_text("in the way")
    keep_array("some", ARRAY)
    assert kept_array("some", (3, 4)) is None


def test_a_full_disk_leaves_nothing_behind(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keep_array("some", ARRAY)

    def full(*_: object, **__: object) -> None:
        message = "No space left on device"
        raise OSError(28, message)

    monkeypatch.setattr(kept.np, "save", full)
    keep_array("some", ARRAY + 1.0)
    keep_array("other", ARRAY)
    assert [each.name for each in folder.iterdir()] == ["some.npy"]
    found = kept_array("some", (3, 4))
    assert found is not None
    np.testing.assert_array_equal(found, ARRAY)


def test_the_half_of_a_killed_writer_goes_with_the_next_write(folder: Path) -> None:
    folder.mkdir()
    # Above the highest number that Linux gives a process, 2**22 by proc(5).
    (folder / ".some.npy.999999999-1.part").write_bytes(b"half")
    keep_array("some", ARRAY)
    assert [each.name for each in folder.iterdir()] == ["some.npy"]


def test_two_processes_at_once_leave_one_whole_array(folder: Path) -> None:
    """Each writes its own many times while the other reads."""
    program = (
        "import sys, numpy as np\n"
        "from shadecore.kept import keep_array, kept_array\n"
        "own = np.full((200, 200), float(sys.argv[1]), np.float32)\n"
        "for _ in range(30):\n"
        "    keep_array('shared', own)\n"
        "    found = kept_array('shared', (200, 200))\n"
        "    assert found is None or np.ptp(found) == 0.0\n"
    )
    # Both are our own interpreter on our own program.
    running = [
        subprocess.Popen([sys.executable, "-c", program, each]) for each in ("1", "2")
    ]
    assert [each.wait(120) for each in running] == [0, 0]
    found = kept_array("shared", (200, 200))
    assert found is not None
    assert np.ptp(found) == 0.0
    assert [each.name for each in folder.iterdir()] == ["shared.npy"]


def test_old_versions_are_forgotten(folder: Path) -> None:
    old = [folder.parent / f"{place:016x}" for place in range(4)]
    for age, each in enumerate(old):
        each.mkdir()
        os.utime(each, (1_000_000 + age, 1_000_000 + age))
    other = folder.parent / "not ours"
    other.mkdir()
    keep_array("some", ARRAY)
    left = {each.name for each in folder.parent.iterdir()}
    assert left == {folder.name, old[-1].name, other.name}
