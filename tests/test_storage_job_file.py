"""Job files: they come back as they were, and say what is wrong with them."""

import tomllib
from dataclasses import fields, replace
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import JobError
from shadecore.job.job_file import VERSION, parse_job, write_job
from shadecore.job.request import Break, JobRequest
from shadecore.question.link import CHOICES, RANGES, PickState

HERE = Path(__file__).resolve().parent
VERSION_1 = HERE / "data" / "job-version-1.toml"
DEMO = HERE.parent / "data" / "demo-job.toml"
SOME = settings(deadline=None, derandomize=True, max_examples=100)
at = datetime.fromisoformat
START = at("2026-12-01T08:00")
HEAD = "version = 1\nstart = 2026-12-01T08:00:00\n"

TEXT = st.text(st.characters(exclude_categories=["Cs"]))
MOMENT = st.datetimes(at("1900-01-01"), at("2200-01-01"))
NUMBER = st.floats(allow_nan=False, allow_infinity=False)
KIND = {str: TEXT, float: NUMBER, bool: st.booleans()}


def values_of(name: str, kind: type) -> st.SearchStrategy[object]:
    """Values that a field of the pick may have."""
    if name in CHOICES:
        return st.sampled_from(CHOICES[name])
    if name not in RANGES:
        return KIND[kind]
    low, high = RANGES[name]
    return st.integers(int(low), int(high)) if kind is int else st.floats(low, high)


PICK = st.builds(
    PickState,
    **{f.name: values_of(f.name, type(f.default)) for f in fields(PickState)},
)
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
    pick=PICK,
    panels=pairs(st.integers(0, 99)),
    area_m2=st.floats(0.0, 1000.0),
    bare_metal=st.booleans(),
    filler=st.booleans(),
    flattest=st.booleans(),
    cure=st.sampled_from(["bake", "air"]),
    air_c=st.floats(-20.0, 60.0),
    panel_c=st.floats(-20.0, 90.0),
    humidity=st.floats(0.0, 1.0),
    cup_loss_l=st.floats(0.0, 5.0),
    breaks=st.lists(BREAK, max_size=3).map(tuple),
    done=pairs(MOMENT),
    sprayed=st.lists(MOMENT, max_size=3).map(sorted).map(tuple),
    uid=st.one_of(st.just(""), st.uuids().map(str)),
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
    assert set(found["pick"]) == {field.name for field in fields(PickState)}


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
    state = PickState(colour=text, shelf=text, card=text, areas=text)
    job = JobRequest(START, name=text, pick=state, done=((text, START),))
    assert parse_job(write_job(job), "job.toml") == job


def test_it_stands_a_way_through_a_file(tmp_path: Path) -> None:
    job = JobRequest(START, "Tür", PickState(card="area,coats\nblack,2\n"))
    path = tmp_path / "job.toml"
    path.write_bytes(write_job(job).encode())
    assert parse_job(path.read_bytes().decode(), "job.toml") == job


def test_a_file_of_version_1_opens() -> None:
    job = parse_job(VERSION_1.read_text("utf-8"), VERSION_1.name)
    pick = PickState(
        colour="lab 30 5 -20",
        illuminant="D50",
        observer=2,
        specular="included",
        tolerance=1.0,
        film_um=12.0,
        from_gun=True,
        paint_parts=2.0,
        reducer_parts=1.0,
        solids_percent=30.0,
        wet_um=40.0,
        overlap_percent=60.0,
        transfer_percent=70.0,
        coat_cap=15,
        film_limit_um=70.0,
        blends=False,
        strength=1.5,
        units="us",
        shelf="name,L\nSnow,92\nSlate,35\n",
        card="",
        areas="Snow\nSlate",
        area_m2=4.0,
        topcoat_price_per_l=75.0,
        sealer_ml_per_m2=140.0,
        minutes_per_coat=12.0,
        hourly_rate=65.0,
    )
    assert job.pick == pick
    assert job == JobRequest(
        start=at("2026-03-02T07:30"),
        name='Flügel links "A" <b>',
        pick=pick,
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
    assert found == replace(JobRequest(START), pick=PickState(units="us"))
    assert parse_job(HEAD.split("\n", 1)[1], "job.toml") == JobRequest(START)


def test_the_demo_job() -> None:
    job = parse_job(DEMO.read_text("utf-8"), DEMO.name)
    assert dict(job.panels) == {"front_door": 1, "front_fender": 1}
    assert len(job.breaks) == 2
    assert parse_job(write_job(job), "again") == job


@pytest.mark.parametrize("version", ["2", "99", "0", "'1'"])
def test_another_version_is_refused(version: str) -> None:
    text = HEAD.replace("version = 1", f"version = {version}") + "new_key = 1\n"
    with pytest.raises(JobError, match=r"^new\.toml is a job file of version"):
        parse_job(text, "new.toml")


@pytest.mark.parametrize(
    "text",
    ["version = 1\n", "start = 'soon'\n", "start = 2026-12-01\n", "start = 08:00:00\n"],
)
def test_a_job_without_a_start(text: str) -> None:
    with pytest.raises(JobError, match=r"^old\.toml has no start"):
        parse_job(text, "old.toml")


@pytest.mark.parametrize(
    ("line", "named"),
    [
        ("colour = '45 60 35'", "'colour' is not part"),
        ("area_m2 = 'much'", "'area_m2' is 'much', which is not a float"),
        ("area_m2 = true", "'area_m2' is True, which is not a float"),
        ("name = 3", "'name' is 3, which is not a str"),
        ("filler = 1", "'filler' is 1, which is not a bool"),
        ("filler = 'yes'", "'filler' is 'yes'"),
        ("panels = ['hood']", "'panels' is not part of a job file, or not of its kind"),
        ("panels = {hood = 1.5}", "'panels'"),
        ("panels = {hood = true}", "'panels'"),
        ("done = {wash = 'now'}", "'done'"),
        ("done = 3", "'done'"),
        ("sprayed = 3", "'sprayed'"),
        ("sprayed = ['now']", "a coat sprayed needs its date and time, not 'now'"),
        ("breaks = {}", "'breaks'"),
        ("breaks = [1]", "a break needs a start and an end"),
        ("breaks = [{start = 2026-12-01T08:00:00}]", "a break needs a start"),
        ("breaks = [{start = 'a', end = 'b'}]", "a break needs a start"),
        ("pick = 'red'", "'pick'"),
        ("[pick]\nhue = 3", r"'pick\.hue' is not part of a job file"),
        ("[pick]\nobserver = '10'", r"'pick\.observer' is '10', which is not a int"),
        ("[pick]\nobserver = 10.0", r"'pick\.observer' is 10\.0"),
        ("[pick]\nblends = 0", r"'pick\.blends' is 0, which is not a bool"),
        ("[pick]\ntolerance = 'wide'", r"'pick\.tolerance'"),
        ("[pick]\ncolour = 45", r"'pick\.colour' is 45"),
    ],
)
def test_wrong_kinds_and_unknown_keys_are_named(line: str, named: str) -> None:
    with pytest.raises(JobError, match=named) as caught:
        parse_job(f"{HEAD}{line}\n", "job.toml")
    assert str(caught.value).startswith("job.toml: ")


@pytest.mark.parametrize(
    ("text", "line"), [(f"{HEAD}name =\n", 3), ("a, b\n1, 2\n", 1), (HEAD * 2, 3)]
)
def test_what_is_no_toml_is_told_with_its_line(text: str, line: int) -> None:
    with pytest.raises(JobError, match=rf"^x\.toml is not a job file.*line {line}"):
        parse_job(text, "x.toml")


def test_a_job_out_of_range_is_refused() -> None:
    with pytest.raises(JobError, match="humidity must lie between 0 and 1"):
        parse_job(f"{HEAD}humidity = 55\n", "job.toml")


def test_coats_out_of_order_are_refused() -> None:
    coats = "sprayed = [2026-12-01T08:05:00, 2026-12-01T08:00:00]"
    with pytest.raises(JobError, match="A coat of the job ends before the one under"):
        parse_job(f"{HEAD}{coats}\n", "job.toml")
