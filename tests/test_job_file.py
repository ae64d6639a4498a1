"""Job files: they come back as they were, and say what is wrong with them."""

import re
import tomllib
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from questions import QUESTION, TEXT
from test_job_details import DETAILS

from shadecore.coats.cost import Rates
from shadecore.colour.condition import Condition
from shadecore.errors import JobError
from shadecore.job.breaks import Break
from shadecore.job.climate import CURES
from shadecore.job.job_file import VERSION, parse_job, write_job
from shadecore.job.kinds import KINDS, PLACES
from shadecore.job.request import JobRequest
from shadecore.question.plain import BY_NAME
from shadecore.question.question import FilmAsked, Mixing, Question
from shadecore.undercoats.shelf import undercoat

HERE = Path(__file__).resolve().parent
VERSION_1 = HERE / "data" / "job-version-1.toml"
DEMO = HERE.parent / "data" / "demo-job.toml"
SOME = settings(
    deadline=None,
    derandomize=True,
    max_examples=50,
    suppress_health_check=[HealthCheck.too_slow],
)
at = datetime.fromisoformat
START = at("2026-12-01T08:00")
HEAD = "version = 1\nstart = 2026-12-01T08:00:00\n"

MOMENT = st.datetimes(at("1900-01-01"), at("2200-01-01"))


BREAK = (
    st.tuples(MOMENT, MOMENT)
    .filter(lambda pair: pair[0] != pair[1])
    .map(lambda pair: Break(min(pair), max(pair)))
)


def pairs(values: st.SearchStrategy[object]) -> st.SearchStrategy[tuple[object, ...]]:
    """Named values, each name once."""
    return st.dictionaries(TEXT, values, max_size=4).map(lambda d: tuple(d.items()))


JOB = st.builds(
    JobRequest,
    start=MOMENT,
    name=TEXT,
    question=QUESTION,
    panels=pairs(st.integers(0, 99)),
    area_m2=st.floats(0.0, 1000.0),
    bare_metal=st.booleans(),
    filler=st.booleans(),
    flattest=st.booleans(),
    cure=st.sampled_from(CURES),
    air_c=st.floats(-20.0, 60.0),
    panel_c=st.floats(-20.0, 90.0),
    humidity=st.floats(0.01, 1.0),
    cup_loss_l=st.floats(0.0, 5.0),
    midcoats=st.integers(1, 20),
    breaks=st.lists(BREAK, max_size=3).map(tuple),
    done=pairs(MOMENT),
    mixed=pairs(MOMENT),
    sprayed=st.lists(MOMENT, max_size=3).map(sorted).map(tuple),
    looks=st.dictionaries(st.integers(1, 50), st.booleans(), max_size=4).map(
        lambda said: tuple(sorted(said.items()))
    ),
    uid=st.one_of(st.just(""), st.uuids().map(str)),
    kind=st.sampled_from(KINDS),
    place=st.sampled_from(PLACES),
    sealer=TEXT,
    coats=st.integers(0, 50),
    old_finish=TEXT,
    second=st.none() | QUESTION,
    second_share=st.floats(0.01, 0.99),
    spot_cm=st.floats(1.0, 300.0),
    sealer_reach_cm=st.floats(1.0, 200.0),
    fade_step_cm=st.floats(1.0, 200.0),
    details=DETAILS,
)


@SOME
@given(JOB)
def test_a_job_comes_back_as_it_was(job: JobRequest) -> None:
    assert parse_job(write_job(job), "job.toml") == job


@SOME
@given(JOB)
def test_the_file_is_toml_of_this_version(job: JobRequest) -> None:
    found = tomllib.loads(write_job(job))
    assert found["version"] == VERSION
    assert found["start"] == job.start
    assert set(found["pick"]) == set(BY_NAME)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "\n",
        '"""',
        "'''\n",
        "a\\\nb",
        '\n"""\n\\u0041',
        "tab\there",
        "\x00\x07\x7f",
        "old\rmac",
        "中文 ß É \N{SMILING FACE WITH SMILING EYES}",
        "e\N{COMBINING ACUTE ACCENT}",
        "line\N{LINE SEPARATOR}separator",
        "# no comment\n[no table]",
        " edges ",
    ],
)
def test_odd_texts(text: str) -> None:
    question = Question(colour=text)
    job = JobRequest(START, name=text, question=question, done=((text, START),))
    assert parse_job(write_job(job), "job.toml") == job


def test_it_stands_a_way_through_a_file(tmp_path: Path) -> None:
    job = JobRequest(START, "Tür", Question(units="us"))
    path = tmp_path / "job.toml"
    path.write_bytes(write_job(job).encode())
    assert parse_job(path.read_bytes().decode(), "job.toml") == job


def test_a_file_of_version_1_opens() -> None:
    job = parse_job(VERSION_1.read_text("utf-8"), VERSION_1.name)
    question = Question(
        colour="lab 30 5 -20",
        condition=Condition("D50", 2, "included"),
        tolerance=1.0,
        film=FilmAsked(
            dry_film_um=12.0,
            from_gun=True,
            paint_parts=2.0,
            reducer_parts=1.0,
            solids_percent=30.0,
            wet_um=40.0,
            overlap_percent=60.0,
            transfer_percent=70.0,
        ),
        coat_cap=15,
        film_limit_um=70.0,
        mixing=Mixing(allowed=False, strength=1.5),
        units="us",
        shelf=(undercoat("Snow", (92.0, 0, 0)), undercoat("Slate", (35.0, 0, 0))),
        areas=("Snow", "Slate"),
        rates=Rates(4.0, 75.0, 140.0, 12.0, 65.0),
    )
    assert job.question == question
    assert job == JobRequest(
        start=at("2026-03-02T07:30"),
        name='Flügel links "A" <b>',
        question=question,
        panels=(("hood", 1), ("front_fender", 2)),
        area_m2=0.75,
        bare_metal=True,
        filler=False,
        flattest=True,
        cure="air",
        air_c=19.5,
        panel_c=18.0,
        humidity=0.4,
        cup_loss_l=0.08,
        breaks=(Break(at("2026-03-02T18:00"), at("2026-03-03T07:30")),),
        done=(("wash", at("2026-03-02T07:50")),),
    )
    assert isinstance(job.panel_c, float)


def test_what_is_left_out_takes_its_default() -> None:
    assert parse_job(HEAD, "job.toml") == JobRequest(START)
    found = parse_job(f"{HEAD}[pick]\nunits = 'us'\n", "job.toml")
    assert found == replace(JobRequest(START), question=Question(units="us"))
    assert parse_job(HEAD.split("\n", 1)[1], "job.toml") == JobRequest(START)


def test_the_demo_job() -> None:
    job = parse_job(DEMO.read_text("utf-8"), DEMO.name)
    assert dict(job.panels) == {"front_door": 1, "front_fender": 1}
    assert len(job.breaks) == 2
    assert parse_job(write_job(job), "again") == job


@pytest.mark.parametrize("version", ["2", "99", "0", "'1'"])
def test_another_version_is_refused(version: str) -> None:
    text = HEAD.replace("version = 1", f"version = {version}") + "new_key = 1\n"
    with pytest.raises(JobError, match=r"^new\.toml, line 1: version is not 1"):
        parse_job(text, "new.toml")


@pytest.mark.parametrize(
    "text",
    ["version = 1\n", "start = 'soon'\n", "start = 2026-12-01\n", "start = 08:00:00\n"],
)
def test_a_job_without_a_start(text: str) -> None:
    with pytest.raises(
        JobError,
        match=r"^old\.toml, line \d: start (is missing|must be a date and time)",
    ):
        parse_job(text, "old.toml")


@pytest.mark.parametrize(
    ("line", "named"),
    [
        ("colour = '45 60 35'", "line 3: colour is not known"),
        ("area_m2 = 'much'", "area_m2 must be a number from 0 to 1000 m2, not 'much'"),
        ("area_m2 = true", "area_m2 must be a number from 0 to 1000 m2, not true"),
        ("name = 3", "name must be text .* not 3"),
        ("filler = 1", "filler must be true or false, not 1"),
        ("filler = 'yes'", "filler must be true or false, not 'yes'"),
        ("panels = ['hood']", "panels must be a table"),
        ("panels = {hood = 1.5}", "panels.hood must be a whole number"),
        ("panels = {hood = true}", "panels.hood must be a whole number"),
        ("panels = {hood = 100}", "panels.hood must be a whole number from 0 to 99"),
        ("done = {wash = 'now'}", "done.wash must be a date and time"),
        ("done = 3", "done must be a table"),
        ("sprayed = 3", "sprayed must be a list"),
        ("[[looks]]\ncoat = 0\ncovered = true", "coat must be .* from 1 to 50, not 0"),
        ("[[looks]]\ncoat = 2\ncovered = 1", "covered must be true or false"),
        ("sprayed = ['now']", r"sprayed\[1\] must be a date and time .* not 'now'"),
        ("breaks = {}", "breaks must be a list of tables"),
        ("breaks = [1]", "breaks must be a list of tables"),
        ("breaks = [{start = 2026-12-01T08:00:00}]", r"breaks\[1\].end is missing"),
        ("breaks = [{start = 'a', end = 'b'}]", r"breaks\[1\].start must be a date"),
        ("pick = 'red'", "pick must be a table"),
        ("cure = 'sun'", 'cure must be one of "bake", "air", "lamp", not \'sun\''),
        ("midcoats = 0", "midcoats must be a whole number from 1 to 20, not 0"),
        ("midcoats = 2.5", "midcoats must be a whole number from 1 to 20, not 2.5"),
        ("humidity = 55", "humidity must be a number from 0.01 to 1, not 55"),
        ("[pick]\nhue = 3", "line 4: pick.hue is not known"),
        ("[pick]\nobserver = '10'", "pick.observer must be one of 10, 2, not '10'"),
        ("[pick]\nobserver = 10.0", "pick.observer must be one of 10, 2, not 10.0"),
        ("[pick]\nblends = 0", "line 4: pick.blends must be true or false, not 0"),
        ("[pick]\ntolerance = 'wide'", "pick.tolerance must be a number from 0.1"),
        ("[pick]\ntolerance = 99", "pick.tolerance must be a number from 0.1 to 20"),
        ("[pick]\ncolour = 45", "pick.colour must be text in quotes, not 45"),
        ("[pick]\nshelf = 'name,L'", "pick cannot be used: shelf"),
    ],
)
def test_what_is_wrong_is_named_with_its_line_and_key(line: str, named: str) -> None:
    with pytest.raises(JobError, match=named) as caught:
        parse_job(f"{HEAD}{line}\n", "job.toml")
    said = str(caught.value)
    assert said.startswith("job.toml, line ")
    assert len(said) <= 300
    assert not re.search(r"\b(str|int|bool|float|dict|NoneType)\b", said)


@pytest.mark.parametrize(
    ("text", "line"), [(f"{HEAD}name =\n", 3), ("a, b\n1, 2\n", 1), (HEAD * 2, 3)]
)
def test_what_is_no_toml_is_told_with_its_line(text: str, line: int) -> None:
    with pytest.raises(JobError, match=rf"^x\.toml, line {line}: .*TOML"):
        parse_job(text, "x.toml")


@pytest.mark.parametrize(
    "text",
    [f"a = {'[' * 1000}", f"{HEAD}area_m2 = {'9' * 5000}", f"{HEAD}{'x = [' * 300}"],
)
def test_what_would_take_a_reader_down_is_one_sentence(text: str) -> None:
    with pytest.raises(JobError, match=r"^x\.toml, line ") as caught:
        parse_job(text, "x.toml")
    assert len(str(caught.value)) <= 300


def test_coats_out_of_order_are_refused() -> None:
    coats = "sprayed = [2026-12-01T08:05:00, 2026-12-01T08:00:00]"
    with pytest.raises(JobError, match="A coat of the job ends before the one under"):
        parse_job(f"{HEAD}{coats}\n", "job.toml")
