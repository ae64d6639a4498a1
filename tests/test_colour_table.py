"""Colour lists as CSV: good rows, bad rows, and other measuring conditions."""

import math
import tracemalloc
from pathlib import Path

import numpy as np
import pytest

import shadecore
from shadecore.colour.colour_table import parse_colours
from shadecore.errors import TableError
from shadecore.formats.text_file import open_text

TWO = "code,L,a,b\nRed,45,60,35\nBlue,30,2,-38\n"


def test_codes_and_numbers_in_the_order_of_the_file() -> None:
    colours = parse_colours(TWO, "the list")
    assert colours.codes == ("Red", "Blue")
    assert colours.lab.tolist() == [[45.0, 60.0, 35.0], [30.0, 2.0, -38.0]]
    assert colours.bad == ()


def test_columns_in_any_order_and_others_passed_over() -> None:
    text = "remark;B;A;L;Code\nold;35,5;60;45;Red\n"
    colours = parse_colours(text, "the list")
    assert colours.codes == ("Red",)
    assert colours.lab.tolist() == [[45.0, 60.0, 35.5]]


@pytest.mark.parametrize(
    ("row", "reason"),
    [
        ("x,abc,0,0", "'l' holds 'abc'"),
        ("x,50,,0", "'a' is empty"),
        ("x,50", "'a' is empty"),
        (",50,0,0", "'code' is empty"),
        ("x,120,0,0", "L* must lie between 0"),
        ("x,-1,0,0", "L* must lie between 0"),
        ("x,50,400,0", "a* and b* must lie between"),
        ("x,nan,0,0", "not a number"),
        ("x,50,inf,0", "not a number"),
    ],
)
def test_a_bad_row_costs_only_itself(row: str, reason: str) -> None:
    text = f"# mine\n\ncode,L,a,b\nRed,45,60,35\n\n# odd\n{row}\nBlue,30,2,-38\n"
    colours = parse_colours(text, "the list")
    assert colours.codes == ("Red", "Blue")
    assert colours.lab.shape == (2, 3)
    assert [each.line for each in colours.bad] == [7]
    assert reason in colours.bad[0].reason
    assert colours.bad[0].reason.endswith(".")


def test_bad_rows_of_both_kinds_come_in_the_order_of_the_file() -> None:
    """Not numbers and impossible colours are found at different times."""
    text = "code,L,a,b\nw,x,0,0\nx,150,0,0\nok,50,0,0\ny,,0,0\nz,50,0,-250\n"
    assert [each.line for each in parse_colours(text, "the list").bad] == [2, 3, 5, 6]


def test_the_same_code_twice_is_two_colours() -> None:
    colours = parse_colours("code,L,a,b\nRed,45,60,35\nRed,46,60,35\n", "the list")
    assert colours.codes == ("Red", "Red")


def test_no_possible_colour_says_which_row_and_why() -> None:
    with pytest.raises(TableError, match=r"the list holds no colour.*line 2.*L\*"):
        parse_colours("code,L,a,b\nx,150,0,0\n", "the list")


@pytest.mark.parametrize("text", ["", "# nothing\n", "code,L,a\nx,1,2\n", "just text"])
def test_what_is_no_list_is_refused(text: str) -> None:
    with pytest.raises(TableError, match="the list") as caught:
        parse_colours(text, "the list")
    assert "code, L, a, b" in str(caught.value)


@pytest.mark.parametrize(("illuminant", "observer"), [("A", 2), ("D50", 2), ("C", 10)])
def test_colours_under_another_light_are_carried_over(
    illuminant: str, observer: int
) -> None:
    """Greys stay greys; a red under tungsten light does not keep its numbers."""
    condition = shadecore.Condition(illuminant, observer)
    text = "code,L,a,b\nGrey,50,0,0\nRed,45,60,35\n"
    colours = parse_colours(text, "the list", condition)
    assert colours.lab[0] == pytest.approx([50.0, 0.0, 0.0], abs=0.02)
    assert math.dist(colours.lab[1], (45.0, 60.0, 35.0)) > 0.3
    one = shadecore.parse_topcoat("45 60 35", condition)
    assert colours.lab[1] == pytest.approx(one.lab)


def test_a_colour_impossible_under_its_light_costs_only_its_row() -> None:
    condition = shadecore.Condition("A", 2)
    text = "code,L,a,b\nRed,45,60,35\nNone,2,0,60\nGrey,50,0,0\n"
    colours = parse_colours(text, "the list", condition)
    assert colours.codes == ("Red", "Grey")
    assert [each.line for each in colours.bad] == [3]
    assert "No surface" in colours.bad[0].reason


def test_twenty_thousand_rows_with_a_few_bad_ones() -> None:
    rng = np.random.default_rng(9)
    lab = np.column_stack([rng.uniform(5, 95, 20_000), rng.normal(0, 15, (20_000, 2))])
    rows = [f"c{i},{x:.3f},{a:.3f},{b:.3f}" for i, (x, a, b) in enumerate(lab)]
    rows[7] = "c7,bright,0,0"
    rows[19_999] = "c4999,150,0,0"
    colours = parse_colours("\n".join(["code,L,a,b", *rows]), "the list")
    assert len(colours.codes) == len(colours.lab) == 19_998
    # Line 1 is the heading.
    assert [each.line for each in colours.bad] == [9, 20_001]
    assert (colours.codes[6], colours.codes[7]) == ("c6", "c8")
    np.testing.assert_allclose(colours.lab[7], lab[8], atol=6e-4)


def test_a_large_list_costs_its_numbers_and_codes_only(tmp_path: Path) -> None:
    """Half of the rows are bad, each in one of the two ways."""
    path = tmp_path / "large.csv"
    with path.open("w") as file:
        file.write("code,L,a,b\n")
        file.writelines(
            f"c{n},{n % 90},0,0\nx{n},{150 if n % 2 else 'x'},0,0\n"
            for n in range(5_000)
        )
    tracemalloc.start()
    try:
        colours = parse_colours(open_text(path), "large.csv")
        held, most = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert colours.lab[:, 0].tolist() == [float(n % 90) for n in range(5_000)]
    assert colours.codes[-1] == "c4999"
    assert len(colours.bad) == 21
    assert "4,980 more rows" in str(colours.bad[-1])
    # The result, once more while its parts are joined, and blocks of the file.
    assert most < 2.0 * held + 6e6
