"""What all tests share: whole texts kept in files, and how they are renewed."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from xdist.remote import Producer
    from xdist.scheduler import LoadScopeScheduling

# What takes long to make is made once, if all tests that look at it stay on one core. (The marks
# that pytest-xdist has for this do nothing with pytest 9.2.)
_LOOK_AT = {
    "tests/tablet/": "the browser",
    "tests/sheets/test_hostile.py": "the hostile packet",
    "tests/sheets/test_numbers_in_print.py": "the packet of the mixer",
    "tests/sheets/test_pages.py": "the packet of the winch",
    "tests/sheets/test_tick_boxes.py": "the packet of the winch",
    "tests/sheets/test_drawn_axis.py::test_printed": "the packet of the winch",
    "tests/sheets/test_pdf.py::test_machine": "the packet of the winch",
}


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--update-golden",
        action="store_true",
        help="write the texts that golden tests compare with anew; look at the difference",
    )


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Producer) -> LoadScopeScheduling:
    """Hand the tests to the cores one by one, but together those that look at one thing."""
    from xdist.scheduler import LoadScopeScheduling

    class Together(LoadScopeScheduling):  # type: ignore[misc]  # it ships no type hints
        def _split_scope(self, nodeid: str) -> str:
            found = (thing for begin, thing in _LOOK_AT.items() if nodeid.startswith(begin))
            return next(found, nodeid)

    return Together(config, log)


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
