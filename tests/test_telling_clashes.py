"""What was changed at two places is named in words, whichever field it is."""

from dataclasses import fields

import pytest

from shadecore.job.details import Details
from shadecore.job.request import JobRequest
from shadecore.telling.clash_words import clash_words

NOT_TYPED = {"uid", "details"}
"""Fields that nobody fills in, so that no two can differ about them."""


@pytest.mark.parametrize(
    "name",
    sorted(
        {each.name for kind in (JobRequest, Details) for each in fields(kind)}
        - NOT_TYPED
    ),
)
def test_each_field_of_a_job_has_a_name_of_its_own(name: str) -> None:
    said = clash_words(name, 1, 2)
    assert said.endswith(": here 1, elsewhere 2")
    assert said[0].isupper()
    assert "_" not in said
