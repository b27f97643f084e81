"""What all tests share: whole texts kept in files, and how they are renewed."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update-golden",
        action="store_true",
        help="write the texts that golden tests compare with anew; look at the difference",
    )


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[Path, str], None]:
    """Return what compares a text with the one kept in a file, or writes it there."""
    update = request.config.getoption("--update-golden")

    def compare(kept: Path, text: str) -> None:
        if update:
            kept.write_text(text, encoding="utf-8", newline="")
        assert kept.exists(), f"{kept.name} is missing: run pytest with --update-golden"
        assert text == kept.read_text(encoding="utf-8")

    return compare


# In CI every run tries the same examples, so that a change is judged by what it changes; a
# developer's run tries new ones each time.
settings.register_profile("untimed", deadline=None)
settings.register_profile("ci", derandomize=True, database=None, deadline=None)
settings.load_profile("untimed")
if os.environ.get("CI"):
    settings.load_profile("ci")
