"""A shop's own steps in the book: kept, used again, renamed, binned, carried."""

from pathlib import Path

import pytest
from book_commands import Captured, book, data, names, refused, run

from shadecore.book.book import open_book
from shadecore.book.errors import BookError
from shadecore.book.file_import import import_file
from shadecore.book.shop_records import BookSteps
from shadecore.book.step_sets import keep_steps
from shadecore.datafiles import data_file
from shadecore.job.job_file import parse_job
from shadecore.job.own_steps import MOST_TITLE, StepChange
from shadecore.job.step_files import parse_steps, write_steps
from shadecore.telling.set_up_words import changes_words

JOB = str(data_file("demo-job.toml"))
WAY = (
    StepChange("wash", drop=True),
    StepChange(
        "own",
        after="block_sand",
        title="Blow out the seams",
        work_min=25.0,
        wait_min=5.0,
        within_h=2.0,
        grits=(180, 320),
        check="No dust on a white cloth.",
    ),
)


@pytest.fixture
def way(tmp_path: Path) -> Path:
    """A set of steps as a file."""
    path = tmp_path / "way.toml"
    path.write_text(write_steps("Our way", WAY), "utf-8")
    return path


def test_a_set_is_kept_shown_renamed_binned_and_put_back(
    capsys: Captured, way: Path
) -> None:
    book(capsys, "add", "steps", "Our way", str(way), "--note", "since spring")
    assert "left out: Wash with" in book(capsys, "list", "steps")
    told = book(capsys, "show", "steps", "Our way")
    assert "left out: Wash with soap and water" in " ".join(told.split())
    assert "Blow out the seams" in " ".join(told.split())
    (shown,) = data(capsys, "book", "list", "steps")
    assert shown["kind"] == "set of steps"
    assert [each["key"] for each in shown["changes"]] == ["wash", "own"]
    assert "since spring" in book(capsys, "show", "steps", "our way")
    book(capsys, "rename", "steps", "Our way", "Hail damage")
    assert "called 'HAIL damage' already" in refused(
        capsys, "book", "add", "steps", "HAIL damage", str(way)
    )
    book(capsys, "remove", "steps", "Hail damage")
    assert names(capsys, "steps") == []
    book(capsys, "put-back", "steps", "Hail damage")
    assert names(capsys, "steps") == ["Hail damage"]


def test_a_job_is_planned_by_a_kept_set_and_its_steps_kept_again(
    capsys: Captured, way: Path, tmp_path: Path
) -> None:
    book(capsys, "add", "steps", "Our way", str(way))
    out = tmp_path / "job.toml"
    words = ("plan", JOB, "--steps", "kept:our WAY", "--out", str(out))
    run(capsys, *words, "--keep-steps", "Another")
    assert parse_job(out.read_text("utf-8"), "job").details.changes == WAY
    with open_book() as opened:
        assert opened.show(BookSteps, "Another").thing.changes == WAY
    # The same once more is no second one, and another one is not written over.
    run(capsys, *words, "--keep-steps", "Another")
    other = (*words, "--set", "re_clear", "--keep-steps", "Another")
    out.unlink()
    assert "another set of steps called 'Another'" in refused(capsys, *other)
    assert not out.exists()
    assert names(capsys, "steps") == ["Another", "Our way"]


def test_a_set_goes_out_and_comes_back(
    capsys: Captured, way: Path, tmp_path: Path
) -> None:
    book(capsys, "import", "steps", str(way), "--yes")
    out = tmp_path / "out.toml"
    book(capsys, "export", "steps", "Our way", "--out", str(out))
    assert parse_steps(out.read_text("utf-8"), "out") == ("Our way", WAY)
    again = data(capsys, "book", "import", "steps", str(out), "--yes")
    assert [each["reason"] for each in again["skip"]] == ["the book holds it already"]
    out.write_text(write_steps("our way", WAY[:1]), "utf-8")
    changed = data(capsys, "book", "import", "steps", str(out), "--yes")
    assert (changed["add"], changed["change"]) == ([], ["our way"])


def test_a_backup_holds_the_sets(capsys: Captured, way: Path, tmp_path: Path) -> None:
    book(capsys, "add", "steps", "Our way", str(way))
    backup = str(tmp_path / "backup.sqlite")
    book(capsys, "backup", backup)
    book(capsys, "remove", "steps", "Our way")
    book(capsys, "empty-bin", "--yes")
    book(capsys, "restore", backup)
    with open_book() as opened:
        assert opened.show(BookSteps, "Our way").thing.changes == WAY


def test_a_file_of_steps_is_told_from_a_job_and_a_product_sheet(way: Path) -> None:
    with open_book() as opened:
        brought = import_file(opened, way.read_bytes(), "anything.toml")
        assert brought.add == (BookSteps("Our way", WAY),)
        job = import_file(opened, Path(JOB).read_bytes(), "job.toml")
        assert [type(each).__name__ for each in job.add] == ["BookJob"]


def test_what_cannot_be_kept_is_said(capsys: Captured, tmp_path: Path) -> None:
    with open_book() as opened:
        opened.add(BookSteps("Our way", WAY))
        with pytest.raises(BookError, match="changes 0; change a step first"):
            keep_steps(opened, "Nothing", ())
        with pytest.raises(BookError, match=f"{MOST_TITLE} are the most"):
            keep_steps(opened, "x" * (MOST_TITLE + 1), WAY)
        with pytest.raises(BookError, match="is empty"):
            keep_steps(opened, " ", WAY)
        kept = keep_steps(opened, "OUR way", WAY[:1], over=True)
        assert opened.list(BookSteps) == (kept,)
        assert kept.thing == BookSteps("Our way", WAY[:1])
    words = ("plan", JOB, "--out", str(tmp_path / "job.toml"))
    assert "no set of steps called 'Nobody'" in refused(
        capsys, *words, "--steps", "kept:Nobody"
    )
    assert "change a step first" in refused(capsys, *words, "--keep-steps", "None")
    assert "Say which set of steps" in refused(
        capsys, "book", "export", "steps", "--out", "x.toml"
    )


def test_many_changes_are_told_in_brief() -> None:
    many = tuple(StepChange(f"own_{place}", title=f"Own {place}") for place in range(7))
    assert changes_words(many) == (
        "changed or added: Own 0, Own 1, Own 2, Own 3 and 3 more"
    )
