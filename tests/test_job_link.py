"""The job in a link: it comes back as it was, and what is wrong with it is said."""

import base64
import zlib
from datetime import datetime, timedelta
from pathlib import Path
from urllib.parse import urlencode

import pytest
from hypothesis import HealthCheck, given, settings
from test_job_file import JOB

from shadecore.errors import JobError
from shadecore.job.breaks import Break
from shadecore.job.job_link import (
    PARAMETER,
    PRODUCTS,
    job_parameters,
    products_parameters,
    read_job_link,
    read_products_link,
)
from shadecore.job.request import JobRequest
from shadecore.products.sheet_file import demo_sheet
from shadecore.question.question import Question

SOME = settings(
    deadline=None,
    derandomize=True,
    max_examples=50,
    suppress_health_check=[HealthCheck.too_slow],
)
START = datetime.fromisoformat("2026-12-01T08:00")
SHEET = Path(__file__).resolve().parents[1] / "data" / "product-line.toml"
LONGEST_LINK = 2000
"""Characters that every browser and mail program takes; common practice, no source."""


@SOME
@given(JOB)
def test_a_job_comes_back_with_the_question_beside_it(job: JobRequest) -> None:
    assert read_job_link(job_parameters(job), job.question) == job


def test_a_plain_job_in_full() -> None:
    job = JobRequest(START, "Tür", Question("26 0 0", units="us"), (("hood", 2),))
    assert set(job_parameters(job)) == {PARAMETER}
    assert read_job_link(job_parameters(job), job.question) == job


def test_a_fortnight_of_nights_and_a_job_half_done_is_a_short_link() -> None:
    hours = timedelta(hours=1)
    nights = tuple(
        Break(START + (24 * day + 10) * hours, START + 24 * (day + 1) * hours)
        for day in range(14)
    )
    done = tuple((f"step_{n}", START + n * hours) for n in range(8))
    job = JobRequest(START, "Door", panels=(("hood", 1),), breaks=nights, done=done)
    assert len(urlencode(job_parameters(job))) < LONGEST_LINK
    assert read_job_link(job_parameters(job), job.question) == job


def test_a_link_of_the_pick_holds_no_job() -> None:
    assert read_job_link({"colour": "26 0 0"}, Question()) is None


def packed(text: str) -> str:
    return base64.urlsafe_b64encode(zlib.compress(text.encode())).decode()


WHOLE = str(job_parameters(JobRequest(START, "Door"))[PARAMETER])


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "cut off or changed"),
        ("%%%", "cut off or changed"),
        (WHOLE[:-12], "cut off or changed"),
        ("A" + WHOLE, "cut off or changed"),
        ("Ä" * 8, "cut off or changed"),
        (packed("# " + "x" * 2_000_000), "cut off or changed"),
        (packed("name = 1"), "start is missing"),
        (packed("start = 2026-12-01T08:00:00\nhue = 1"), "hue is not known"),
        (packed("start = 2026-12-01T08:00:00\ncure = 'sun'"), "cure must be one of"),
    ],
)
def test_a_job_that_cannot_be_read_is_told_in_one_sentence(
    text: str, said: str
) -> None:
    with pytest.raises(JobError, match=said) as caught:
        read_job_link({PARAMETER: text}, Question())
    assert str(caught.value).count(". ") == 0


def test_a_product_sheet_comes_back_from_a_link() -> None:
    query = products_parameters(SHEET.read_text("utf-8"))
    found = read_products_link(query)
    assert found is not None
    sheet, text = found
    assert sheet == demo_sheet()
    assert products_parameters(text) == query
    assert read_products_link({"colour": "26 0 0"}) is None


def test_a_product_sheet_that_is_too_long_stays_out_of_the_link() -> None:
    """8 kB of parameters are what web servers take; common practice, no source."""
    names = "".join(f"name_{n} = {n**9 % 999_983}\n" for n in range(1000))
    assert products_parameters(names) == {PRODUCTS: None}
    assert len(str(products_parameters(SHEET.read_text("utf-8"))[PRODUCTS])) < 8000


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
        read_products_link({PRODUCTS: text})
