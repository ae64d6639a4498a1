"""The job in a link: it comes back as it was, and what is wrong with it is said."""

import base64
import zlib
from datetime import datetime, timedelta
from pathlib import Path
from urllib.parse import urlencode

import pytest
from hypothesis import given, settings
from test_storage_job_file import JOB

from shadecore.errors import JobError
from shadecore.job.job_link import (
    PARAMETER,
    PRODUCTS,
    from_job_query,
    from_products_query,
    to_job_query,
    to_products_query,
)
from shadecore.job.request import Break, JobRequest
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.link import PickState, from_query, to_query

SOME = settings(deadline=None, derandomize=True, max_examples=100)
START = datetime.fromisoformat("2026-12-01T08:00")
SHEET = Path(__file__).resolve().parents[1] / "data" / "product-line.toml"
LONGEST_LINK = 2000
"""Characters that every browser and mail program takes; common practice, no source."""


@SOME
@given(JOB)
def test_a_job_comes_back_but_for_rounded_settings_of_its_pick(job: JobRequest) -> None:
    query = to_job_query(job)
    found = from_job_query(query)
    assert found is not None
    assert found.pick == from_query(to_query(job.pick))
    assert {**vars(found), "pick": None} == {**vars(job), "pick": None}


def test_a_plain_job_in_full() -> None:
    job = JobRequest(START, "Tür", PickState("26 0 0", units="us"), (("hood", 2),))
    query = to_job_query(job)
    assert {name for name in query if name != PARAMETER} == {"colour", "units"}
    assert from_job_query(query) == job


def test_a_fortnight_of_nights_and_a_job_half_done_is_a_short_link() -> None:
    hours = timedelta(hours=1)
    nights = tuple(
        Break(START + (24 * day + 10) * hours, START + 24 * (day + 1) * hours)
        for day in range(14)
    )
    done = tuple((f"step_{n}", START + n * hours) for n in range(8))
    job = JobRequest(START, "Door", panels=(("hood", 1),), breaks=nights, done=done)
    assert len(urlencode(to_job_query(job))) < LONGEST_LINK
    assert from_job_query(to_job_query(job)) == job


def test_a_link_of_the_pick_holds_no_job() -> None:
    assert from_job_query({"colour": "26 0 0"}) is None


def packed(text: str) -> str:
    return base64.urlsafe_b64encode(zlib.compress(text.encode())).decode()


WHOLE = to_job_query(JobRequest(START, "Door"))[PARAMETER]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "cut off or changed"),
        ("%%%", "cut off or changed"),
        (WHOLE[:-12], "cut off or changed"),
        ("A" + WHOLE, "cut off or changed"),
        ("Ä" * 8, "cut off or changed"),
        (packed("# " + "x" * 2_000_000), "cut off or changed"),
        (packed("name = 1"), "has no start"),
        (packed("start = 2026-12-01T08:00:00\nhue = 1"), "'hue' is not part of"),
        (packed("start = 2026-12-01T08:00:00\ncure = 'sun'"), "neither bake nor air"),
    ],
)
def test_a_job_that_cannot_be_read_is_told_in_one_sentence(
    text: str, said: str
) -> None:
    with pytest.raises(JobError, match=said) as caught:
        from_job_query({PARAMETER: text})
    assert str(caught.value).count(". ") == 0


def test_a_product_sheet_comes_back_from_a_link() -> None:
    query = to_products_query(SHEET.read_text("utf-8"))
    found = from_products_query(query)
    assert found is not None
    sheet, text = found
    assert sheet == demo_sheet()
    assert to_products_query(text) == query
    assert from_products_query({"colour": "26 0 0"}) is None


def test_a_product_sheet_that_is_too_long_stays_out_of_the_link() -> None:
    """8 kB of parameters are what web servers take; common practice, no source."""
    names = "".join(f"name_{n} = {n**9 % 999_983}\n" for n in range(1000))
    assert to_products_query(names) == {}
    assert len(to_products_query(SHEET.read_text("utf-8"))[PRODUCTS]) < 8000


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("eNpLzs8FAAL", "The product sheet in the link is cut off or changed"),
        (packed("name = 'x'"), "The product sheet in the link, line 1"),
        (
            packed(SHEET.read_text("utf-8").replace("halving_k = 10", "halving_k = 1")),
            "halving_k",
        ),
    ],
)
def test_a_product_sheet_in_a_link_is_checked(text: str, said: str) -> None:
    with pytest.raises(JobError, match=said):
        from_products_query({PRODUCTS: text})
