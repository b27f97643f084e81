"""What is said besides ticks and readings: seen, signed, accepted, left out, spoiled, not there."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

import pytest

from sequencer.records.entries import Accept, Note, Sign
from sequencer.records.lines import kind_of
from tests.tablet.browsing import Screen
from tests.tablet.working import Log, show, told_by_a_tablet

pytestmark = pytest.mark.xdist_group("browser")

GAP = '#step-9 [data-check="gap"]'
PIECE = '#step-3 [data-part="shims"]'


def test_all_that_is_said_on_the_page_is_in_the_log(screen: Screen, tmp_path: Path) -> None:
    _isolate(screen)
    _miss_a_part(screen)
    _leave_a_step_out(screen)
    _spoil_a_part(screen)
    now = datetime.now().astimezone()
    steps = ("drum-in", "measure", "cover-on", "lip-clean", "paste-on")
    show(screen, told_by_a_tablet(screen, dict.fromkeys(steps, now)))
    _look_before_the_tick(screen)
    _use_as_it_is(screen)
    shown = _shown(screen)

    export = screen.saved()
    log = Log(tmp_path)
    said = log.run("tablet", str(export), "--anyway")
    assert "isolation" not in said.stderr  # no hold point, and yet known to the model
    assert [kind_of(entry) for entry in log.entries] == KINDS.split()
    assert [one.by for one in log.entries if isinstance(one.what, Sign | Accept)] == SIGNED
    status = json.loads(log.run("status", "--json").stdout)
    assert status["part_done"] == {"lid-on": {"pass": 1, "count": 2, "of": 1}}
    assert (status["skipped"], status["out"], status["spoiled"]) == (["clip-in"], [], [])
    notes = [one.what.text for one in log.entries if isinstance(one.what, Note)]
    assert notes == ["Worn: Gloves", "Seen at Lid of the sump: spout to the drum"]

    for telling in (export, log.file):  # another tablet shows the same, from the one or the other
        screen.run("localStorage.clear()")
        screen.driver.refresh()
        screen.say_who("EF")
        screen.one("#log-file").send_keys(str(telling))
        screen.tap("#import")
        screen.waits_for("#progress", "8 of 12 done")
        assert _shown(screen) == shown
    assert screen.complaints() == []


SIGNED = ["I. Lock", "I. Lock", "L. Ock", "F. Man"]
KINDS = """
start sign sign correct sign note reading reading done
short arrived fitted skip done spoiled undone done
done done done done done note part-done part-done reading accept
"""


def _shown(screen: Screen) -> list[str]:
    """Return what the page says of the steps, and which boxes are ticked."""
    states = [element.text for element in screen.all("[data-state], [data-verdict]")]
    boxes = screen.run(
        "return [...document.querySelectorAll('input[type=checkbox]')].map((box) => box.checked)"
    )
    return [*states, str(boxes)]


def _isolate(screen: Screen) -> None:
    """Nothing is begun before the isolation is signed for; who signs by mistake takes it back."""
    screen.tick(1)
    assert screen.text("#step-1 [data-refusal]") == (
        "Before its turn: not signed: isolation 1 (K-1): locked, isolation 1 (K-1): proved dead."
    )
    screen.isolate()
    screen.tap('[data-isolation$="locked"] [data-act="wrong"]')
    assert screen.driver.switch_to.active_element.get_attribute("id") == "isolation-1-1"
    screen.type("#isolation-1-1", "L. Ock")
    verdict = screen.text('[data-isolation$="locked"] [data-verdict]')
    assert verdict.startswith("Signed as locked ")
    assert verdict.endswith(" by L. Ock")
    screen.tap("[data-worn] input")
    screen.tap('#step-1 [data-place="go"] [data-value="yes"]')
    screen.tap('#step-1 [data-place="no_go"] [data-value="no"]')
    screen.tick(1)
    assert screen.is_done(1)


def _miss_a_part(screen: Screen) -> None:
    """A step that fits what is not there asks before it is ticked."""
    screen.tap("#step-3 details:has([data-part]) summary")
    screen.tap(f"{PIECE} [data-act='short']")
    assert screen.driver.switch_to.active_element.get_attribute("data-act") == "arrived"
    assert screen.text("#step-3 .about").endswith(" · awaited: Shims")
    screen.tick(3)
    assert screen.text("#step-3 [data-refusal]") == (
        "Before its turn: awaited: Shims; still open before it: step 2."
    )
    screen.tap(f"{PIECE} [data-act='arrived']")
    screen.one("#step-3-pack-1").send_keys("0.10+0.20")
    screen.tap(f"{PIECE} [type='submit']")
    assert screen.text("#step-3 [data-refusal]") == ""
    recorded = screen.text("#step-3 [data-recorded] li:last-child span")
    assert recorded.endswith(" Shims: pack 0.10+0.20")


def _leave_a_step_out(screen: Screen) -> None:
    """A step is left out by somebody with a name; its STOP line does not hold up the others."""
    screen.tap("#step-2 [data-leaving] summary")
    screen.type("#step-2-skip", "C. Dee")
    assert screen.text("#step-2 .about").endswith("left out, allowed by C. Dee")
    assert screen.text("#step-4 .stop label") == "Spring clip (step 2) – left out"
    assert screen.text("#progress") == "2 of 12 done"
    screen.tick(3)


def _spoil_a_part(screen: Screen) -> None:
    """What is spoiled where it is has to be done afresh, and asks before the next step."""
    screen.tap(f"{PIECE} [data-act='spoiled']")
    assert screen.text("#step-3 .about").endswith(
        " · spoiled: Shims; to be done afresh with a new one"
    )
    screen.tick(4)
    refusal = "Before its turn: spoiled in step 3: Shims."
    assert screen.text("#step-4 [data-refusal]") == refusal
    screen.tap("#step-3 [data-undo] summary")
    screen.tap("#step-3 [data-act='undone']")
    assert screen.driver.switch_to.active_element.get_attribute("data-act") == "done"
    screen.tick(3)
    assert "spoiled" not in screen.text("#step-3 .about")


def _look_before_the_tick(screen: Screen) -> None:
    """Which way round is ticked first, whoever is in a hurry; fasteners are counted in order."""
    screen.tick(9)
    assert screen.text("#step-9 [data-refusal]") == (
        "Not yet: first look, and tick in its box: Seen at Lid of the sump: spout to the drum."
    )
    assert not screen.one('#step-9 [data-act="anyway"]').is_displayed()
    screen.tap("#step-9 .facing")
    screen.tap("#step-9 .fasteners label:nth-of-type(3)")
    screen.tap("#step-9 .fasteners label:nth-of-type(3)")
    ticked = [box.is_selected() for box in screen.all("#step-9 .fasteners input")]
    assert ticked == [True, True, False]


def _use_as_it_is(screen: Screen) -> None:
    """A reading out of limit is used as it is only by the name of who may decide that."""
    assert not screen.one(f"{GAP} [data-accept]").is_displayed()
    screen.type("#step-9-check-1-1", "0.3")
    screen.type("#step-9-accept-1", "F. Man")
    assert screen.text(f"{GAP} [data-verdict]") == (
        "0.3 mm: above the limit (at most 0.10 mm) – used as it is, signed by F. Man"
    )
    assert screen.one(f"{GAP} [data-verdict]").get_attribute("class") == "verdict"
