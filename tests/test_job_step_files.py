"""Steps of a shop's own in a file, and back."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import JobError
from shadecore.job.own_steps import StepChange
from shadecore.job.step_files import change_values, parse_steps, write_steps
from shadecore.job.step_places import FIRST
from shadecore.job.steps import USUAL_KEYS

SOME = settings(deadline=None, derandomize=True, max_examples=150)


FULL_CHANGES = st.builds(
    StepChange,
    key=st.from_regex(r"[a-z][a-z0-9_]{0,10}", fullmatch=True),
    drop=st.booleans(),
    after=st.none() | st.just(FIRST) | st.sampled_from(USUAL_KEYS),
    title=st.none() | st.sampled_from(["Own", "Größe 5 \"x\" 'y'", "= #[1]"]),
    purpose=st.none() | st.just("") | st.just("Why, \\ though."),
    check=st.none() | st.text(st.characters(codec="ascii", categories=("L",))),
    work_min=st.none() | st.floats(0.0, 6000.0),
    wait_min=st.none() | st.floats(0.0, 129_600.0),
    within_h=st.none() | st.floats(0.1, 8760.0),
    grits=st.none() | st.sampled_from([(), (80,), (120, 220)]),
    product=st.none() | st.just("") | st.just("sealer"),
    coats=st.none() | st.integers(1, 50),
)


@SOME
@given(st.lists(FULL_CHANGES, max_size=6).map(tuple))
def test_a_set_is_read_back_as_it_was(changes: tuple[StepChange, ...]) -> None:
    assert parse_steps(write_steps("Mine", changes), "x") == ("Mine", changes)


def test_what_stays_as_it_is_is_not_written() -> None:
    assert change_values(StepChange("wash", title="Hose")) == {
        "key": "wash",
        "title": "Hose",
    }


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('name = "x"\n[[steps]]\nkey = "Wash"\n', "x, line 3: steps[1].key cannot be"),
        ('name = "x"\n[[steps]]\nkey = "a"\ncoats = 51\n', "line 4: steps[1].coats"),
        ('name = "x"\n[[steps]]\nkey = "a"\ncolour = 1\n', "line 4: steps[1].colour"),
        ("steps = []\n", "line 1: name is missing"),
    ],
)
def test_a_set_that_cannot_be_read(text: str, said: str) -> None:
    with pytest.raises(JobError) as caught:
        parse_steps(text, "x")
    assert said in str(caught.value)
