"""The browser, started once for all tests of the page, and the pages that they look at."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from sequencer.model.assembly import Assembly
from sequencer.model.fingerprint import fingerprint
from sequencer.planning.mending import last_chances, with_forgetting
from sequencer.planning.plan import plan
from sequencer.planning.results import Plan
from sequencer.reading import read_file
from sequencer.sheets.tablet.page import tablet_html
from tests.tablet.browsing import Screen, started
from tests.tablet.working import CAPSTAN


@pytest.fixture(scope="session")
def capstan() -> Assembly:
    found = read_file(CAPSTAN).assembly
    assert found is not None
    return found


@pytest.fixture(scope="session")
def capstan_plan(capstan: Assembly) -> Plan:
    planned = plan(capstan)
    return with_forgetting(capstan, planned, last_chances(planned))


@pytest.fixture(scope="session")
def page(capstan: Assembly, capstan_plan: Plan, tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("page") / "capstan-C.html"
    html = tablet_html(capstan, capstan_plan, fingerprint=fingerprint(capstan))
    file.write_text(html, encoding="utf-8")
    return file


@pytest.fixture(scope="session")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Screen]:
    folder = tmp_path_factory.mktemp("browser")
    downloads = folder / "downloads"
    downloads.mkdir()
    driver = started(folder)
    allowed = {"behavior": "allow", "downloadPath": str(downloads)}
    driver.execute_cdp_cmd("Browser.setDownloadBehavior", allowed)
    yield Screen(driver, downloads)
    driver.quit()


@pytest.fixture
def screen(browser: Screen, page: Path) -> Screen:
    """The page as it is when somebody has said who they are."""
    browser.open(page, who="AB")
    return browser
