"""A plugin of pytest that spares hypothesis its search for the smallest failure."""

from __future__ import annotations

from hypothesis import Phase, settings


def pytest_configure() -> None:
    """Generate examples only, and as long as it takes."""
    settings.register_profile(
        "mutation", deadline=None, phases=(Phase.explicit, Phase.generate)
    )
    settings.load_profile("mutation")
