"""Lines that were entered one after another: each is used once, or comes back."""

from shadecore.errors import ShelfError
from shadecore.screens.entry import Line, Used, use_lines


def _use(before: Used, *lines: Line) -> tuple[list[str], Used]:
    found: list[str] = []

    def use(text: str) -> None:
        if text.startswith("bad"):
            message = f"{text} is no grey"
            raise ShelfError(message)
        found.append(text)

    return found, use_lines(before, lines, use)


def test_refused_lines_wait_in_order_until_each_is_put_right() -> None:
    entered = [Line("1", "white"), Line("2", "bad A"), Line("3", "bad B")]
    found, used = _use(Used(), *entered)
    assert found == ["white"]
    assert used.back == entered[1]
    assert used.trouble == "bad A is no grey"

    entered.append(Line("4", "dark"))
    found, used = _use(used, *entered)
    assert found == ["dark"]
    assert used.back == entered[1], "a later line that is right mends no other"

    entered.append(Line("5", "bad C", mends="2"))
    found, used = _use(used, *entered)
    assert (found, used.back) == ([], entered[4]), "the same line, still to be mended"

    entered.append(Line("6", "grey", mends="5"))
    found, used = _use(used, *entered)
    assert (found, used.back) == (["grey"], entered[2])

    entered.append(Line("7", "black", mends="3"))
    found, used = _use(used, *entered)
    assert (found, used.back, used.trouble) == (["black"], None, "")
