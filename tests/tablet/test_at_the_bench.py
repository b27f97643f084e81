"""What a person does at the bench, in a real browser: tick, read, stop, sign, export, come back."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from datetime import datetime, timedelta
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from sequencer.model.assembly import Assembly
from sequencer.model.fingerprint import fingerprint
from sequencer.problem import Path as ModelPath
from sequencer.records.lines import kind_of
from sequencer.sheets.photos import Photo
from sequencer.sheets.tablet.page import SCRIPTS, tablet_html
from tests.sheets.test_hostile import JOB, NASTY, PLAN
from tests.tablet.browsing import Screen
from tests.tablet.working import Log, begin, model_of, show, told_by_a_tablet

FLOAT = '#step-5 [data-check="float"]'


def test_a_job_goes_from_the_page_into_the_log_and_back(screen: Screen, tmp_path: Path) -> None:
    begin(screen)
    _forget_a_step(screen)
    _read_out_of_limit(screen)
    _tighten(screen)
    _close_and_open(screen)
    _sign_and_take_back(screen)

    export = screen.saved()
    assert re.fullmatch(r"capstan-C-[0-9T_-]+\.tablet\.jsonl", export.name)
    assert screen.one("#lines").get_attribute("value") == export.read_text(encoding="utf-8")
    log = Log(tmp_path)
    log.run("tablet", str(export), "--anyway")
    done = "bearing-in shims-in clip-in drum-in measure cover-on lip-clean"
    assert log.done == done.split()
    assert json.loads(log.run("status", "--json").stdout)["out"] == []
    _is_in_the_log(log, model_of(screen))

    # Read again it changes nothing; what the page adds later comes in alone.
    nothing = f"nothing new in {export}: 26 entries are recorded already\n"
    assert log.run("tablet", str(export)).output == nothing
    screen.tick(8)
    later = screen.saved()
    told = f"ok: entry 28 in {log.file}: 1 entry of {later}, 26 recorded before\n"
    assert log.run("tablet", str(later)).output == told

    _show_the_log_afresh(screen, log)
    assert screen.complaints() == []
    assert screen.requests() <= {"file", "data", "blob"}


def _forget_a_step(screen: Screen) -> None:
    """Step 2 is forgotten: the next one asks, and none can be ticked behind the STOP line."""
    gauges = "no: accept (plug 20.00 goes in and plug 20.05 does not go in)"
    assert screen.text('#step-1 [data-place="no_go"] [data-verdict]') == gauges
    screen.tick(3)
    assert screen.text("#step-3 [data-refusal]") == "Before its turn: still open before it: step 2."
    screen.tap('#step-3 [data-act="anyway"]')
    screen.tick(4)
    screen.tick(5)
    stopped = "Not yet: the STOP line of step 4 has to be ticked first."
    assert screen.text("#step-4 [data-refusal]") == stopped
    assert screen.text("#step-5 [data-refusal]") == stopped
    screen.tick(2)
    screen.tap("#step-4 .stop input")
    screen.tick(4)
    assert _done(screen) == [1, 2, 3, 4]


def _done(screen: Screen) -> list[int]:
    return [number for number in range(1, 13) if screen.is_done(number)]


def _read_out_of_limit(screen: Screen) -> None:
    """Read out of limit, which is told with what follows, and read anew in the next round."""
    screen.type(f"{FLOAT} input", "0,08")
    out = "0,08 mm: above the limit (0.02 to 0.06 mm): again; do not go on: change the shims, then "
    assert screen.text(f"{FLOAT} [data-verdict]") == f"{out}start again from step 3"
    screen.type("#step-5-check-2-1", "5.02")
    screen.type("#step-5-check-2-2", "5.00")
    assert screen.text('#step-5 [data-place="low"] [data-verdict]').startswith("5.00: accept (")
    screen.tick(5)
    screen.tick(6)
    assert screen.text("#step-6 [data-refusal]") == (
        "Before its turn: the check of step 5 is not good: above the limit (0.02 to 0.06 mm); "
        "do not go on: change the shims, then start again from step 3."
    )
    screen.tap(f"{FLOAT} [data-round] option[value='2']")
    screen.type(f"{FLOAT} input", "0,04")
    assert screen.text(f"{FLOAT} [data-verdict]") == "0,04 mm: accept (0.02 to 0.06 mm)"


def _tighten(screen: Screen) -> None:
    """Go through the passes, each in its turn, and record what was reached."""
    screen.tap('#step-6 [data-pass="2"]')
    assert screen.text("#step-6 [data-refusal]").startswith("Pass 1 comes first: ")
    for number in (1, 2, 3):
        screen.tap(f'#step-6 [data-pass="{number}"]')
    screen.one("#step-6-wrench-1").send_keys("W-12")
    screen.type("#step-6-torque-1", "25")
    assert screen.text("#step-6 [data-torque] [data-verdict]") == (
        "25 N·m: above the figure (20 to 24 N·m): out of limit; do not back it off: ask"
    )
    screen.type("#step-6-check-1-1", "0.12 mm")
    screen.type("#step-6-check-1-2", "0.13 mm")


def _close_and_open(screen: Screen) -> None:
    """Come back to the page: all of it is still there."""
    screen.driver.refresh()
    assert _done(screen) == [1, 2, 3, 4, 5]
    assert screen.text(f"{FLOAT} [data-verdict]") == "0,04 mm: accept (0.02 to 0.06 mm)"
    assert all(box.is_selected() for box in screen.all("#step-6 [data-pass]"))
    assert screen.one(f"{FLOAT} [data-round]").get_attribute("value") == "2"
    assert screen.text("#who-shown") == "AB"


def _sign_and_take_back(screen: Screen) -> None:
    """Have the hold point signed; take a wrong tick back, which leaves its trace; write a note."""
    screen.type("#step-6-hold", "C. Dee")
    early = "Tick the step first: who signs does so for what is done."
    assert screen.text("#step-6 [data-refusal]") == early
    screen.tick(6)
    screen.tick(7)
    assert screen.text("#step-7 [data-refusal]") == (
        "Before its turn: the hold point of step 6 is not signed: inspector."
    )
    screen.type("#step-6-hold", "")
    screen.tick(7)
    assert screen.is_done(7)
    screen.tick(8)
    screen.tap("#step-8 [data-undo] summary")
    screen.tap('#step-8 [data-act="mistake"]')
    assert not screen.is_done(8)
    screen.tap("#step-7 details:has([data-note]) summary")
    screen.one("#step-7-note").send_keys("Lip was scratched </script>")
    screen.tap("#step-7 [data-note] button")


KINDS = """
start sign sign reading reading done done done note done reading reading reading done reading
part-done part-done part-done torque reading reading done sign done done correct note
"""


def _is_in_the_log(log: Log, model: str) -> None:
    """Everything is in the log as it was done: when, by whom, from which page, against what."""
    assert [kind_of(entry) for entry in log.entries] == KINDS.split()
    assert {entry.sheet for entry in log.entries[1:]} == {model}
    assert all(entry.at <= entry.time for entry in log.entries[1:])
    signed = [entry for entry in log.entries if kind_of(entry) == "sign"]
    assert [entry.by for entry in signed] == ["I. Lock", "I. Lock", "C. Dee"]
    asked = next(entry for entry in log.entries if entry.despite)
    assert asked.despite[0] == "still open before it: step 2"


def _show_the_log_afresh(screen: Screen, log: Log) -> None:
    """Show what the log tells on a page that knows nothing."""
    screen.run("localStorage.clear()")
    screen.driver.refresh()
    screen.say_who("EF")
    assert screen.text("#progress") == "0 of 12 done"
    screen.one("#log-file").send_keys(str(log.file))
    screen.tap("#import")
    screen.waits_for("#imported", "Read: 27 entries, 27 of them new here.")
    assert screen.text("#progress") == "8 of 12 done"
    assert screen.text(f"{FLOAT} [data-verdict]") == "0,04 mm: accept (0.02 to 0.06 mm)"
    assert screen.text("#step-6 [data-sign] [data-verdict]").endswith("by C. Dee")
    assert screen.text("#unexported") == "Nothing to export yet."


def test_clocks_run_from_the_tick_and_are_there_after_a_reload(screen: Screen) -> None:
    now = datetime.now().astimezone().replace(microsecond=0)
    pasted, shut = now - timedelta(minutes=5), now - timedelta(minutes=4)
    show(screen, told_by_a_tablet(screen, {"drum-in": pasted, "paste-on": pasted}))
    due = (pasted + timedelta(minutes=15)).strftime("%H:%M")
    [clock] = [item.text for item in screen.all("#clocks li")]
    assert re.fullmatch(rf"Sealing paste: finish step 9 by {due}, (9|10) min left", clock), clock
    screen.driver.refresh()
    assert screen.text("#clocks li").startswith(f"Sealing paste: finish step 9 by {due}, ")

    show(screen, told_by_a_tablet(screen, {"lid-on": shut}))
    over = shut + timedelta(hours=2)
    ready = (over.replace(second=0) + timedelta(minutes=1 if over.second else 0)).strftime("%H:%M")
    assert ready in screen.text("#step-10 [data-waits]")
    screen.tick(10)
    assert f"not before {ready}: 2 h after step 9" in screen.text("#step-10 [data-refusal]")
    screen.run("Bar.showClocks(Page.bench, new Date(Date.now() + 2 * 3600e3))")
    assert screen.run("return document.getElementById('told').textContent") == (
        "step 10 may begin now"
    )


def test_what_was_open_too_long_is_said_to_be_done_afresh(screen: Screen) -> None:
    now = datetime.now().astimezone()
    pasted = now - timedelta(minutes=40, seconds=5)
    show(screen, told_by_a_tablet(screen, {"drum-in": pasted, "paste-on": pasted}))
    clock = screen.text("#clocks li.late")
    assert clock.endswith(": 25 min too late. Do step 8 afresh."), clock
    screen.tap("#step-9 .facing")
    screen.tick(9)
    assert "; too late, by 25 min: do step 8 afresh." in screen.text("#step-9 [data-refusal]")


def test_everything_can_be_done_from_the_keyboard(browser: Screen, page: Path) -> None:
    browser.open(page)
    browser.keys("KB", Keys.ENTER)  # the dialog has the focus
    assert browser.text("#who-shown") == "KB"
    _signed_by_keys(browser)
    reached = _tabbed_to(browser, '#step-1 [data-place="go"] [data-value="yes"]')
    browser.keys(Keys.SPACE)
    _tabbed_to(browser, '#step-1 [data-place="no_go"] [data-value="no"]')
    browser.keys(Keys.ENTER)
    _tabbed_to(browser, "#step-1 .tick")
    browser.keys(Keys.ENTER)
    assert browser.is_done(1)
    assert reached  # what was passed on the way had a mark of its own
    _tabbed_to(browser, "#step-3 .tick")
    browser.keys(Keys.SPACE)
    focused = browser.driver.switch_to.active_element
    assert focused.get_attribute("data-act") == "anyway"
    browser.keys(Keys.SPACE)
    assert browser.is_done(3)
    _tabbed_to(browser, "#step-4 .stop input")
    browser.keys(Keys.SPACE)
    _tabbed_to(browser, "#step-4 .tick")
    browser.keys(Keys.ENTER)
    browser.keys(Keys.ENTER)  # the offer to tick it all the same has the focus now
    assert browser.is_done(4)
    _tabbed_to(browser, f"{FLOAT} input")
    browser.keys("0.05", Keys.ENTER)
    assert browser.text(f"{FLOAT} [data-verdict]") == "0.05 mm: accept (0.02 to 0.06 mm)"
    _tabbed_to(browser, "#export")
    browser.keys(Keys.ENTER)
    assert browser.driver.switch_to.active_element.get_attribute("id") == "download"


def _signed_by_keys(screen: Screen) -> None:
    for stage in (1, 2):
        _tabbed_to(screen, f"#isolation-1-{stage}")
        screen.keys("I. Lock", Keys.ENTER)


def _tabbed_to(screen: Screen, selector: str) -> int:
    """Press Tab until something has the focus; each stop on the way must be seen to have it."""
    wanted = screen.one(selector)
    for count in range(1, 200):
        screen.keys(Keys.TAB)
        element = screen.driver.switch_to.active_element
        outline = element.value_of_css_property("outline-style")
        assert outline != "none", element.get_attribute("outerHTML")
        if element == wanted:
            return count
    raise AssertionError(f"{selector} cannot be reached by Tab")


def test_every_control_has_a_name_and_is_large_enough(screen: Screen) -> None:
    screen.run("for (const one of document.querySelectorAll('details')) one.open = true")
    begin(screen)
    controls = screen.controls()
    assert len(controls) > 60
    assert [role for role, name in controls if not name.strip()] == []
    buttons = [name for role, name in controls if role == "button"]
    assert len(buttons) == len(set(buttons)), "two buttons are called the same"
    small = screen.run(
        """return [...document.querySelectorAll("button, input, select, textarea, summary")]
        .map((one) => one.type === "checkbox" ? one.closest("label") : one)
        .filter((one) => one.offsetParent !== null && one.getBoundingClientRect().height < 48)
        .map((one) => one.outerHTML)"""
    )
    assert small == []
    headings = [heading.text for heading in screen.all("h1, h2")]
    assert headings[0] == 'Anchor capstan "No. 2" <test>, rebuild'
    assert {one.tag_name for one in screen.all("header, nav, main, section, h1")} >= {
        "header", "nav", "main", "section", "h1",
    }  # fmt: skip
    assert screen.one("html").get_attribute("lang") == "en"


@pytest.mark.parametrize(("width", "height"), [(400, 800), (800, 1280), (1280, 800)])
def test_nothing_reaches_over_the_edge_of_a_screen(screen: Screen, width: int, height: int) -> None:
    size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": True}
    screen.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    try:
        wide = screen.run("return document.documentElement.scrollWidth")
    finally:
        screen.driver.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    assert wide <= width


STRANGE = [
    ("", "There is nothing to read."),
    ("no lines of a log", "Line 1 is torn: it is no entry."),
    ('{"kind": "done"}', "This is neither a log nor an export: its first line is missing."),
    (
        '{"tablet": 1, "fingerprint": "0000·0000", "unit": ""}',
        "It is of model 0000·0000, and this page is of model {model}. Make the page anew.",
    ),
    (
        '{"tablet": 1, "fingerprint": "{model}", "unit": "7"}',
        "It is of unit 7, and this page shows unit without a number: “Change”, at the top, says "
        "which unit it is.",
    ),
    (
        '{"tablet": 1, "fingerprint": "{model}"}\n{"kind": "done", "id": "a"}',
        "Entry 1 lacks what belongs to it.",
    ),
]


def test_what_is_no_log_of_this_job_is_refused(screen: Screen) -> None:
    model = model_of(screen)
    for text, told in STRANGE:
        show(screen, text.replace("{model}", model))
        said = told.replace("{model}", model)
        assert screen.text("#imported") == f"Nothing was read. {said}"
    assert screen.text("#progress") == "0 of 12 done"


# Names that every object of the browser's language has, where those of the model are looked up.
INBORN = """
{"tablet": 1, "fingerprint": "{model}", "unit": ""}
{"id": "a", "at": "{at}", "kind": "constructor", "step": "clip-in"}
{"id": "b", "at": "{at}", "kind": "reading", "check": "constructor", "value": "1 mm"}
{"id": "c", "at": "{at}", "kind": "torque", "joint": "toString", "value": "1 N·m"}
{"id": "d", "at": "{at}", "kind": "spoiled", "part": "__proto__"}
{"id": "e", "at": "{at}", "kind": "done", "steps": ["constructor", "clip-in"]}
"""


def test_odd_names_in_an_export_hurt_nothing(screen: Screen) -> None:
    text = INBORN.replace("{model}", model_of(screen)).replace("{at}", "2031-05-02T14:05:09Z")
    show(screen, text)
    assert screen.text("#imported") == "Read: 5 entries, 5 of them new here."
    screen.driver.refresh()
    assert screen.text("#progress") == "1 of 12 done"
    assert screen.all("#step-2 [data-recorded] li") == []
    assert screen.complaints() == []


def test_whatever_an_author_or_a_person_types_is_shown_as_typed(
    screen: Screen, capstan: Assembly
) -> None:
    nasty = "</script><img src=x onerror=alert(1)> &lt; {{ 7*7 }}"
    assert screen.text("#step-2 h3").endswith("Hook the spring clip on its post <inside> & tug it.")
    screen.tap("#step-1 details:has([data-note]) summary")
    screen.one("#step-1-note").send_keys(nasty)
    screen.tap("#step-1 [data-note] button")
    assert nasty in screen.text("#step-1 [data-recorded]")
    screen.driver.refresh()
    assert nasty in screen.text("#step-1 [data-recorded]")
    assert screen.all("img") == []
    assert screen.complaints() == []
    assert model_of(screen) == fingerprint(capstan)


def test_a_hostile_model_runs_nothing_and_can_be_ticked(browser: Screen, tmp_path: Path) -> None:
    page = tmp_path / "hostile.html"
    first = replace(JOB.steps[0], picture=NASTY)
    photos: dict[ModelPath, Photo] = {("steps", first.id, "picture"): _photo(1400, 700)}
    model = replace(JOB, steps=(first, *JOB.steps[1:]))
    html = tablet_html(model, PLAN, fingerprint="0000·0000", photos=photos)
    page.write_text(html, encoding="utf-8")
    browser.open(page)
    browser.say_who()
    shown = browser.run("return document.querySelector('#step-1 .do').textContent")
    assert " ".join(NASTY.split()) in " ".join(shown.split())
    assert browser.run("return [document.scripts.length, document.images.length]") == [
        len(SCRIPTS) + 1,
        1,
    ]
    image = browser.one("img")  # shown whole, and no wider than the page
    assert browser.run("return arguments[0].naturalWidth", image) == 1400
    assert image.size["width"] <= browser.one("main").size["width"]
    browser.run("for (const one of document.querySelectorAll('details')) one.open = true")
    browser.tick(1)
    browser.tap('#step-1 [data-act="anyway"]')
    assert browser.is_done(1)
    assert browser.complaints() == []


def _photo(width: int, height: int) -> Photo:
    file = BytesIO()
    Image.new("L", (width, height), "gray").save(file, "PNG")
    return Photo(NASTY, width, height, "image/png", file.getvalue())


def test_the_policy_of_the_page_lets_nothing_else_run(screen: Screen) -> None:
    screen.run(
        """const script = document.createElement("script");
        script.textContent = "window.ran = true";
        document.body.append(script);"""
    )
    assert screen.run("return window.ran === undefined")
    [complaint] = screen.complaints()
    assert "Content Security Policy" in complaint


def test_printed_the_page_says_to_print_the_packet(screen: Screen) -> None:
    screen.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    try:
        body = screen.driver.find_element(By.TAG_NAME, "body").text
    finally:
        screen.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
    assert body == (
        "This page is for a tablet. For paper print the PDF: sequencer packet without --html."
    )
