"""What every test needs before colour-science is imported."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from app_server import started
from hypothesis import HealthCheck, settings

# Its note about plotting would be an error here, and nothing plots.
os.environ.setdefault("COLOUR_SCIENCE__FILTER_USAGE_WARNINGS", "True")

# How fast a machine is, or how busy, says nothing of what is tested.
settings.register_profile(
    "untimed", deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("untimed")


@pytest.fixture(autouse=True)
def _own_book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each test has a book of its own, never the one of whoever runs it."""
    monkeypatch.setenv("SHADECORE_BOOK", str(tmp_path / "book.sqlite"))


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """The app as a browser reaches it, started once for a module's tests."""
    with started() as server:
        yield server.url
