"""What the browser keeps: for each unit, in two windows, without room, when the issue changed."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from sequencer.model.assembly import Assembly
from sequencer.planning.results import Plan
from sequencer.sheets.tablet.page import tablet_html
from tests.tablet.browsing import Screen
from tests.tablet.working import Log, begin, model_of, show, told_by_a_tablet

pytestmark = pytest.mark.xdist_group("browser")


def test_each_unit_has_ticks_of_its_own(screen: Screen) -> None:
    begin(screen)
    screen.tap("#change-who")
    screen.type("#who-unit", "0017")
    assert screen.text("#progress") == "0 of 12 done"
    screen.tap("#change-who")
    screen.one("#who-unit").clear()
    screen.type("#who-unit", "")
    assert screen.text("#progress") == "1 of 12 done"


@contextmanager
def _changed_by(screen: Screen, page: Path, script: str) -> Iterator[None]:
    """Open a page of which a script has changed the browser before it starts, and leave it."""
    added = screen.driver.execute_cdp_cmd(
        "Page.addScriptToEvaluateOnNewDocument", {"source": script}
    )
    try:
        screen.driver.get(page.as_uri())
        yield
    finally:
        screen.driver.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", added)
        screen.driver.get("about:blank")


def test_a_browser_that_keeps_nothing_says_so(browser: Screen, page: Path) -> None:
    refusing = (
        "Object.defineProperty(window, 'localStorage', "
        "{ get() { throw new DOMException('no', 'SecurityError') } })"
    )
    with _changed_by(browser, page, refusing):
        browser.say_who()
        begin(browser)
        assert browser.is_done(1)
        assert browser.text("#not-kept").startswith("This browser keeps nothing ")


FULL = """
const { setItem } = Storage.prototype;
Storage.prototype.setItem = function (key, text) {
  if (text.length > 100) throw new DOMException("", "QuotaExceededError");
  setItem.call(this, key, text);
};
"""


def test_a_full_browser_says_so_and_loses_nothing_while_the_page_is_open(
    screen: Screen, page: Path
) -> None:
    with _changed_by(screen, page, FULL):
        _go_on_without_room(screen)


def _go_on_without_room(screen: Screen) -> None:
    begin(screen)
    screen.tick(3)
    screen.tap('#step-3 [data-act="anyway"]')
    assert screen.text("#not-kept") == (
        "This browser could not keep it: no room, or storage is off. "
        "Export before you close the page."
    )
    screen.tap("#change-who")
    screen.type("#who-unit", "0017")
    assert screen.text("#progress") == "0 of 12 done"
    screen.tap("#change-who")
    screen.one("#who-unit").clear()
    screen.type("#who-unit", "")
    assert screen.text("#progress") == "2 of 12 done"
    assert screen.text("#unexported") == "6 entries to export, 6 of them in no export yet."
    screen.saved()
    assert screen.text("#unexported") == "6 entries to export, all of them in an export."


def test_two_windows_show_what_was_ticked_in_either(screen: Screen, page: Path) -> None:
    begin(screen)
    first = screen.driver.current_window_handle
    screen.driver.switch_to.new_window("tab")
    try:
        screen.driver.get(page.as_uri())
        screen.tick(2)
        second = screen.driver.current_window_handle
        screen.driver.switch_to.window(first)
        screen.waits_for("#progress", "2 of 12 done")
        screen.tick(3)
        screen.driver.switch_to.window(second)
        screen.waits_for("#progress", "3 of 12 done")
        screen.driver.refresh()
        assert screen.text("#progress") == "3 of 12 done"
    finally:
        for handle in screen.driver.window_handles:
            if handle != first:
                screen.driver.switch_to.window(handle)
                screen.driver.close()
        screen.driver.switch_to.window(first)


def test_what_was_ticked_on_the_page_of_another_issue_is_told(
    screen: Screen, capstan: Assembly, capstan_plan: Plan, tmp_path: Path
) -> None:
    begin(screen)
    old = model_of(screen)
    newer = tmp_path / "capstan-D.html"
    changed = replace(capstan, issue="D")
    newer.write_text(tablet_html(changed, capstan_plan, fingerprint="0d0d·0d0d"), encoding="utf-8")
    screen.driver.get(newer.as_uri())
    screen.say_who()
    assert screen.text("#other-issues") == (
        "This browser holds what was recorded on another page of this job and is in no export "
        f"yet: 5 entries of issue C, model {old}, unit without a number. It is not shown here. "
        "Open that page, and export it."
    )
    assert screen.text("#progress") == "0 of 12 done"


def test_a_clock_that_was_put_back_is_told(screen: Screen) -> None:
    now = datetime.now().astimezone()
    show(screen, told_by_a_tablet(screen, {"bearing-in": now + timedelta(days=1)}))
    assert screen.text("#clocks li.late").endswith(": set the clock right.")
    assert (now + timedelta(days=1)).strftime("%Y-%m-%d %H:%M") in screen.text("#clocks li.late")


def test_what_two_tablets_recorded_is_told_in_the_order_of_its_times(screen: Screen) -> None:
    now = datetime.now().astimezone()
    screen.isolate()
    show(screen, told_by_a_tablet(screen, {"bearing-in": now - timedelta(minutes=9)}))
    screen.tap("#step-1 [data-undo] summary")
    screen.tap("#step-1 [data-act='undone']")
    # What comes from the other tablet was done before it came out again here.
    earlier = told_by_a_tablet(screen, {"bearing-in": now - timedelta(minutes=5)})
    show(screen, earlier.replace("of bearing-in", "once more"))
    assert screen.text("#imported") == "Read: 1 entry, 1 of them new here."
    assert not screen.is_done(1)


def test_what_was_typed_into_the_log_is_not_corrected_on_the_page(
    screen: Screen, tmp_path: Path
) -> None:
    log = Log(tmp_path)
    log.run("done", "bearing-in", "--by", "Ada", "--sheet", "none")
    log.run("skip", "clip-in", "--allowed-by", "C. Dee", "--sheet", "none", "--anyway")
    log.run("reading", "plug.go=no", "--by", "Ada")
    log.run("correct", "4", "--value", "yes", "--by", "Ada")
    show(screen, log.file.read_text(encoding="utf-8"))
    assert screen.text("#step-1 [data-recorded]").endswith(" Bore of the base, go: yes")
    for step in (1, 2):
        screen.tap(f"#step-{step} [data-undo] summary")
        assert not screen.one(f"#step-{step} [data-act='mistake']").is_displayed()
    screen.tap("#step-2 [data-act='undone']")
    assert screen.text("#progress") == "1 of 12 done"
    export = screen.saved()
    log.run("tablet", str(export))
    assert log.done == ["bearing-in"]
