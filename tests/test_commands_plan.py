"""The words of ``plan``: what they say stands in the job that comes out."""

import csv
import io
from datetime import date
from pathlib import Path

import pytest
from command_line import DEMO, Captured, refused

from shadecore.book.book import open_book
from shadecore.book.jobs import job_of
from shadecore.book.shop_records import BookJob
from shadecore.cli import main
from shadecore.datafiles import data_file
from shadecore.job.job_file import parse_job
from shadecore.job.own_steps import StepChange
from shadecore.job.request import JobRequest
from shadecore.job.shop_hours import hours_of
from shadecore.job.step_files import parse_steps, write_steps
from shadecore.job.step_sets import step_sets
from shadecore.job.substrates import substrates
from shadecore.job.trade_steps import trade_steps
from shadecore.screens.plan import book_job
from shadecore.undercoats.shelf_table import demo_shelf


def job(capsys: Captured, folder: Path, *words: str) -> JobRequest:
    """The job as it was planned with some words."""
    out = folder / "again.toml"
    assert main(["plan", DEMO, *words, "--out", str(out)]) == 0
    assert capsys.readouterr().out == ""
    return parse_job(out.read_text("utf-8"), out.name)


def test_every_word_stands_in_the_job(capsys: Captured, tmp_path: Path) -> None:
    own, days = tmp_path / "own.toml", tmp_path / "days.csv"
    mine = StepChange("mine", title="Mine", after="wash", work_min=5.0)
    own.write_text(write_steps("Mine", [mine]), "utf-8")
    days.write_text("date,air_c,humidity_percent\n2026-12-02,15,50\n", "utf-8")
    black, kept = demo_shelf()[-1].name, tmp_path / "kept.toml"
    found = job(
        capsys,
        tmp_path,
        *("--kind", "two_tone", "--second", "20 0 0", "--second-share", "30%"),
        *("--sealer", black, "--coats", "4", "--old-finish", "40 0 0"),
        *("--cure", "lamp", "--place", "open_shop"),
        *("--set", "spot_repair", "--steps", str(own), "--write-steps", str(kept)),
        *("--substrate", "front_door=steel+old_two_pack", "--days", str(days)),
        *("--weekends", "--holiday", "2026-12-03"),
        *("--done", "wash=2026-12-01T08:30", "--begun", "solvent_wipe=50%"),
    )
    assert (found.kind, found.cure, found.place) == ("two_tone", "lamp", "open_shop")
    assert found.second is not None
    assert (found.second.colour, found.second_share) == ("20 0 0", 0.3)
    assert (found.sealer, found.coats, found.old_finish) == (black, 4, "40 0 0")
    details = found.details
    assert details.changes == (*step_sets()["spot_repair"].changes, mine)
    assert parse_steps(kept.read_text("utf-8"), "kept")[1] == details.changes
    assert details.substrates == (("front_door", ("steel", "old_two_pack")),)
    assert [each.day for each in details.days] == [date(2026, 12, 2)]
    assert details.begun == (("solvent_wipe", 0.5),)
    assert [key for key, _ in found.done] == ["wash"]
    hours = hours_of(found.breaks)
    assert hours is not None
    assert hours.closed == {5, 6}
    assert hours.holidays == {date(2026, 12, 3)}


def test_a_clearance_time_and_a_surfacer_stand_in_the_job(
    capsys: Captured, tmp_path: Path
) -> None:
    words = ("--booth-clearance", "4", "--sealer", "none", "--surfacer", "60 0 0")
    found = job(capsys, tmp_path, *words)
    assert (found.booth_clearance_min, found.surfacer) == (4.0, "60 0 0")


def test_the_commands_and_the_screens_keep_the_same_product_sheet(
    capsys: Captured, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SHADECORE_BOOK", str(tmp_path / "book.sqlite"))
    usual = data_file("product-line.toml").read_text("utf-8")
    sheets = [usual.replace("Solvent base coat", name) for name in ("Mine", "Other")]
    own = tmp_path / "own.toml"
    own.write_text(sheets[0], "utf-8")
    assert main(["plan", DEMO, "--products", str(own), "--keep", "Door"]) == 0
    with open_book() as book:
        kept = book.show(BookJob, "Door")
        assert kept.thing.sheet == sheets[0]
        kept = book_job.write(book, job_of(book, kept), sheets[1], kept)
        assert kept.thing.sheet == sheets[1]
    capsys.readouterr()
    assert main(["plan", "kept:Door"]) == 0
    said = capsys.readouterr().out
    assert "Other" in said
    assert "Mine" not in said
    with open_book() as book:
        kept = book_job.write(book, job_of(book, kept), None, kept)
        assert kept.thing.sheet == ""


def test_the_times_for_the_accounts(capsys: Captured, tmp_path: Path) -> None:
    out = tmp_path / "times.csv"
    assert main(["plan", DEMO, "--out", str(out)]) == 0
    assert capsys.readouterr() == ("", "")
    rows = list(csv.DictReader(io.StringIO(out.read_text("utf-8"))))
    first, base = rows[0], next(row for row in rows if row["step"] == "base_coat")
    assert first["start"] == "2026-12-01 08:00"
    assert first["end"] == "2026-12-01 08:20"
    assert float(first["hands_on_min"]) == 20.0
    # Ten to mix, ten a coat, and the demo sheet's ten minutes between three coats.
    assert int(base["coats"]) == 3
    assert float(base["hands_on_min"]) == 10.0 + 3 * 10.0 + 2 * 10.0


def test_as_text_to_the_terminal(capsys: Captured) -> None:
    assert main(["plan", DEMO, "--old-finish", "40 0 0", "--coats", "4"]) == 0
    said = capsys.readouterr().out
    assert "May the sealer be left out?" in said
    assert "Planned with White N 9" in " ".join(said.split())
    assert max(map(len, said.splitlines())) <= 79


def test_what_there_is_to_choose_from(capsys: Captured) -> None:
    words = ["--list-steps", "--list-substrates", "--list-sets"]
    assert main(["plan", *words]) == 0
    said = capsys.readouterr().out
    for key in (*trade_steps(), *substrates(), *step_sets(), "base_coat"):
        assert f"\n{key} " in f"\n{said}"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "plan takes a job file; data/demo-job.toml shows"),
        ([DEMO, "--out", "x.doc"], "neither .pdf, .html, .ics, .csv nor .toml"),
        ([DEMO, "--set", "spot"], "no set of steps 'spot'; take one of"),
        ([DEMO, "--substrate", "hood"], "--substrate takes a name, = and a value"),
        ([DEMO, "--substrate", "hood=tin"], "There is no substrate 'tin'; take one"),
        ([DEMO, "--substrate", "wing=steel"], "There is no panel 'wing'"),
        ([DEMO, "--begun", "wash=much"], "--begun takes a share such as 50%"),
        ([DEMO, "--begun", "wash=150%"], "a share from 0 to 100 percent"),
        ([DEMO, "--done", "wash=soon"], "the time 'soon' is none; write it as"),
        ([DEMO, "--holiday", "24.12."], "The holiday '24.12.' is no date"),
        ([DEMO, "--sealer", "Pink"], "sealer 'Pink' is not on the shelf"),
        ([DEMO, "--second", "20 0 0"], "--second is for a job in two colours"),
        ([DEMO, "--second-share", "30%"], "--second-share is for a job in two"),
        ([DEMO, "--begun", "nosuch=50%"], "--begun 'nosuch': this job has no such"),
        (
            [DEMO, "--done", "wash=2026-12-01T08:30", "--begun", "wash=50%"],
            "--begun 'wash': this job has no such step that is not done",
        ),
        ([DEMO, "--substrate", "roof=steel"], "--substrate 'roof': the job has no"),
        ([DEMO, "--surfacer", "60 0 0"], "--surfacer is for a job without a sealer"),
        *(
            ([DEMO, "--kind", "re_clear", word, value], f"{word} is for a job with")
            for word, value in (
                ("--sealer", "none"),
                ("--coats", "4"),
                ("--old-finish", "40 0 0"),
                ("--surfacer", "60 0 0"),
            )
        ),
        ([DEMO, "--holiday", "2025-12-24"], "lies before the job, which starts on"),
        ([DEMO, "--write-steps", "x.toml"], "the job has no steps of the shop's own"),
        (
            [DEMO, "--place", "open_shop", "--cure", "lamp", "--booth-m3", "90"],
            "--booth-m3 is for the sheet of a job in a booth",
        ),
        (
            [DEMO, "--estimate", "--hour-rate", "60", "--booth-clearance", "3"],
            "--booth-clearance is for the sheet of a job in a booth",
        ),
        ([DEMO, "--out", "x.ics", "--booth-m3", "90"], "--booth-m3 is for a sheet"),
        (
            [DEMO, "--out", "x.csv", "--estimate", "--hour-rate", "60"],
            "--estimate is for a sheet, and .csv holds none",
        ),
        ([DEMO, "--kind", "two_tone"], "A two-tone needs a second colour"),
        ([DEMO, "--days", "none.csv"], "none.csv"),
    ],
)
def test_words_that_cannot_be_used(
    capsys: Captured, words: list[str], said: str
) -> None:
    assert said in refused(capsys, "plan", *words)
