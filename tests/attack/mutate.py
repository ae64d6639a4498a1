"""Damage to texts and files, by a seed."""

import re
from collections.abc import Callable
from random import Random
from typing import Final

NASTY: Final = (
    *("nan", "inf", "-inf", "-0", "1e999", "-1e999", "1e-400", "1_000", "0x10", "1,5"),
    *("9" * 5000, "1" + "0" * 400, "-1", "0", "101", "1e15", "2147483648", "٣", "½"),
    *("", " ", "\t", '"', "'", "''", '"""', ",", ";", "#", "=", "[", "]", "{", "}"),
    *("=1+1", "@SUM(A1)", "+1-1", "-1+1", "\t=1+1", "\uff1d1+1", "'=1+1", " =1+1"),
    *("=HYPERLINK(0)", "-cmd", "--help", "-6e1", "kept:", "kept:x", "\\", "\\u0000"),
    *("\x00", "\r", "\r\n", "\n", "\x0b", "\u2028", "\u202e", "\ufeff", "\u0301" * 40),
    *("A" * 400, "x" * 20_000, "é", "🙂", "<b>x</b>", "<script>0</script>", "&amp;"),
    *("%s%n", "{0}", "${x}", "../../x", "/dev/null", "CON", "true", "false", "null"),
    *("1979-05-27", "25:61", "2026-02-30", "[[", "]]", "[" * 2000, "a = [" * 50),
)
"""Words that have broken readers of files somewhere."""
_WORD: Final = re.compile(r"[-+\w.*/%°]+|[^\w\s]|\s+")
_REPEATS: Final = (2, 10, 200)
_MOST: Final = 3_000_000
"""Characters that damage may grow an input to."""
_HARMS: Final = (1, 1, 1, 2, 3, 6)


def mutated(text: str, rng: Random) -> str:
    """A text with some harm done to it.

    Parameters
    ----------
    text : str
        What could be read.
    rng : random.Random
        Source of randomness.

    Returns
    -------
    str
    """
    for _ in range(rng.choice(_HARMS)):
        text = rng.choice(_TEXT)(text, rng)[:_MOST]
    return text


def mutated_bytes(content: bytes, rng: Random) -> bytes:
    """A file with some harm done to it, as text or to its bytes.

    Parameters
    ----------
    content : bytes
        What could be read.
    rng : random.Random
        Source of randomness.

    Returns
    -------
    bytes
    """
    if rng.random() < 0.75:
        text = mutated(content.decode("utf-8", "surrogateescape"), rng)
        encoding = rng.choice(("utf-8",) * 6 + ("utf-16", "latin-1", "utf-8-sig"))
        safe = "surrogateescape" if encoding == "utf-8" else "replace"
        return text.encode(encoding, safe)
    return harmed(content, rng)


def harmed(content: bytes, rng: Random) -> bytes:
    """A file with some harm done to its bytes.

    Parameters
    ----------
    content : bytes
        What could be read.
    rng : random.Random
        Source of randomness.

    Returns
    -------
    bytes
    """
    for _ in range(rng.choice(_HARMS)):
        content = rng.choice(_BYTES)(content, rng)[:_MOST]
    return content


def _some_word(text: str, rng: Random) -> tuple[int, int]:
    """Where a word lies, near a random place: not all of a long text is read."""
    start = rng.randrange(len(text) + 1)
    found = _WORD.search(text, start, start + 200)
    return found.span() if found else (start, start)


def _replace(text: str, rng: Random) -> str:
    start, end = _some_word(text, rng)
    return text[:start] + rng.choice(NASTY) + text[end:]


def _insert(text: str, rng: Random) -> str:
    start, _ = _some_word(text, rng)
    return text[:start] + rng.choice(NASTY) + text[start:]


def _drop_word(text: str, rng: Random) -> str:
    start, end = _some_word(text, rng)
    return text[:start] + text[end:]


def _double_word(text: str, rng: Random) -> str:
    start, end = _some_word(text, rng)
    return text[:start] + "".join(_repeated([text[start:end]], rng)) + text[end:]


def _drop_line(text: str, rng: Random) -> str:
    lines = text.split("\n")
    del lines[rng.randrange(len(lines))]
    return "\n".join(lines)


def _double_line(text: str, rng: Random) -> str:
    lines = text.split("\n")
    at = rng.randrange(len(lines))
    return "\n".join(lines[:at] + _repeated(lines[at : at + 1], rng) + lines[at:])


def _repeated(piece: list[str], rng: Random) -> list[str]:
    """A word or a line several times, and not more often than is kept of it."""
    times = rng.choice(_REPEATS)
    return piece * min(times, _MOST // max(len(piece[0]), 1) + 1)


def _swap_lines(text: str, rng: Random) -> str:
    lines = text.split("\n")
    one, two = rng.randrange(len(lines)), rng.randrange(len(lines))
    lines[one], lines[two] = lines[two], lines[one]
    return "\n".join(lines)


def _cut(text: str, rng: Random) -> str:
    return text[: rng.randrange(len(text) + 1)]


def _other_commas(text: str, rng: Random) -> str:
    return text.replace(",", rng.choice((";", "\t", " ", ",,", "")))


def _letter(text: str, rng: Random) -> str:
    at = rng.randrange(len(text) + 1)
    code = rng.choice((rng.randrange(32, 127), rng.randrange(0x2FFF)))
    return text[:at] + chr(code) + text[at + rng.choice((0, 1)) :]


def _all_of_it(text: str, rng: Random) -> str:  # noqa: ARG001 - as the others
    return rng.choice(NASTY) * rng.choice((1, 1, 10, 1000))


_TEXT: Final[tuple[Callable[[str, Random], str], ...]] = (
    *(_replace, _replace, _replace, _insert, _insert, _drop_word, _double_word),
    *(_drop_line, _double_line, _swap_lines, _cut, _other_commas, _letter, _all_of_it),
)


def _flip(content: bytes, rng: Random) -> bytes:
    changed = bytearray(content)
    for _ in range(rng.choice((1, 3, 30))):
        if changed:
            changed[rng.randrange(len(changed))] ^= 1 << rng.randrange(8)
    return bytes(changed)


def _cut_bytes(content: bytes, rng: Random) -> bytes:
    return content[: rng.randrange(len(content) + 1)]


def _move(content: bytes, rng: Random) -> bytes:
    start, end = sorted(rng.randrange(len(content) + 1) for _ in range(2))
    at = rng.randrange(len(content) + 1)
    return content[:at] + content[start:end] + content[at:]


def _fill(content: bytes, rng: Random) -> bytes:
    at, count = rng.randrange(len(content) + 1), rng.choice((1, 4, 64, 4096))
    new = rng.choice((b"\x00" * count, b"\xff" * count, rng.randbytes(count)))
    return content[:at] + new + content[at + rng.choice((0, count)) :]


_BYTES: Final[tuple[Callable[[bytes, Random], bytes], ...]] = (
    *(_flip, _flip, _cut_bytes, _move, _fill),
)
