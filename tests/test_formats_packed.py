"""Text in a link: it comes back as it was, and never more of it than may be."""

import base64
import tracemalloc
import zlib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shadecore.errors import JobError, TableError
from shadecore.formats.packed import MOST_PACKED, pack, unpack

SOME = settings(deadline=None, derandomize=True, max_examples=200)
CHANGED = "The job is cut off or changed; open the file that it came from."


def packed(content: bytes) -> str:
    return base64.urlsafe_b64encode(zlib.compress(content, 9)).decode().rstrip("=")


@SOME
@given(st.text(st.characters()))
def test_any_text_comes_back(text: str) -> None:
    link = pack(text)
    assert unpack(link, "The job") == text
    assert link.replace("-", "a").replace("_", "a").isalnum()


@SOME
@given(st.text(alphabet="abAB01-_=+/. \u00e9\U0001f600"))
def test_any_link_is_a_text_or_a_sentence(link: str) -> None:
    try:
        unpack(link, "The job", JobError)
    except JobError as error:
        said = str(error)
    else:
        said = CHANGED
    assert said == CHANGED


@SOME
@given(st.text(min_size=1), st.data())
def test_a_link_cut_off_is_refused(text: str, data: st.DataObject) -> None:
    link = pack(text)
    short = link[: data.draw(st.integers(0, len(link) - 1))]
    with pytest.raises(TableError, match="cut off or changed"):
        unpack(short, "The job")


def test_a_link_that_is_too_long_is_not_unpacked(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def never(_text: object, **_kinds: object) -> bytes:
        pytest.fail("it was unpacked")

    monkeypatch.setattr(base64, "b64decode", never)
    with pytest.raises(JobError, match=r"longer than the 16,000 characters"):
        unpack("a" * (MOST_PACKED + 1), "The job", JobError)
    with pytest.raises(JobError, match=r"longer than the 10 characters"):
        unpack("a" * 11, "The job", JobError, most_packed=10)


def test_a_bomb_is_unpacked_no_further_than_a_text_may_go() -> None:
    """Forty megabytes of zeros are 40 kB: a link of twice the usual length."""
    bomb = packed(bytes(40_000_000))
    tracemalloc.start()
    try:
        with pytest.raises(TableError) as caught:
            unpack(bomb, "The job", most_packed=100_000)
        most = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert str(caught.value) == CHANGED
    assert most < 12_000_000


def test_the_longest_text_that_may_be() -> None:
    for text in ("a" * 1000, "\U0001f600" * 1000):
        assert unpack(pack(text), "The job", most_characters=1000) == text
        with pytest.raises(TableError, match="cut off or changed"):
            unpack(pack(text + "a"), "The job", most_characters=1000)


@pytest.mark.parametrize(
    "link",
    [
        packed(b"\xff\xfe"),
        packed(b"a") + "AAAA",
        "a",
        "",
        base64.urlsafe_b64encode(b"a = 1").decode(),
    ],
)
def test_what_was_never_packed_is_refused(link: str) -> None:
    with pytest.raises(TableError) as caught:
        unpack(link, "The job")
    assert str(caught.value) == CHANGED
