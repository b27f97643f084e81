"""The page for a tablet as it is written: whole, from one file, with nothing let out or in."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from pathlib import Path
from typing import Any

import pytest

from sequencer.sheets.packet import LayoutFault
from sequencer.sheets.tablet.page import SCRIPTS, tablet_html
from sequencer.shipped import shipped_folder
from tests.sheets.sample import FINGERPRINT, winch, winch_plan
from tests.sheets.test_hostile import JOB, PLAN


@pytest.fixture(scope="module")
def page() -> str:
    return tablet_html(winch(), winch_plan(), fingerprint=FINGERPRINT)


def _data(page: str) -> Any:
    return json.loads(page.partition('id="job">')[2].partition("</script>")[0])


def test_every_script_that_ships_is_on_the_page_in_its_turn(page: str) -> None:
    assert {file.name for file in (shipped_folder("layouts") / "tablet").glob("*.js")} == set(
        SCRIPTS
    )
    openings = [
        (shipped_folder("layouts") / "tablet" / name).read_text(encoding="utf-8")
        for name in SCRIPTS
    ]
    places = [page.find(text) for text in openings]
    assert min(places) > 0
    assert places == sorted(places)


def test_the_policy_names_each_script_and_the_style_by_its_hash(page: str) -> None:
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', page)
    assert policy is not None
    told = policy[1].replace("&#39;", "'")
    pieces = re.findall(r"<(script|style)>(.*?)</\1>", page, re.DOTALL)
    assert len(pieces) == len(SCRIPTS) + 1
    for _, text in pieces:
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        assert f"'sha256-{digest}'" in told
    assert told.startswith("default-src 'none'; ")
    assert "unsafe" not in told


def test_nothing_on_the_page_is_anywhere_else(page: str) -> None:
    without_scripts = re.sub(r"<script\b.*?</script>", "", page, flags=re.DOTALL)
    asked = re.findall(r"""\b(?:src|href|url)\s*[=(]\s*["']?([^"'\s)>]*)""", without_scripts)
    assert asked
    assert all(one.startswith(("#", "data:")) for one in asked)
    assert set(re.findall(r"https?://[^\s\"'<]*", page)) <= {"http://www.w3.org/2000/svg"}


def test_the_same_job_gives_the_same_page(page: str) -> None:
    assert tablet_html(winch(), winch_plan(), fingerprint=FINGERPRINT) == page


def test_the_page_is_small_enough_to_be_mailed(page: str) -> None:
    assert len(page.encode()) < 500_000


def test_cautions_stand_before_the_action_and_the_tick_behind_all(page: str) -> None:
    for card in re.findall(r"<article class=\"card.*?</article>", page, re.DOTALL):
        signals = [found.end() for found in re.finditer(r'class="signal', card)]
        action, tick = card.index('class="do"'), card.index('data-act="done"')
        assert all(place < action for place in signals)
        assert action < tick
        for block in ("torque", "check", "stop"):
            places = [found.start() for found in re.finditer(rf'class="[a-z ]*\b{block}\b', card)]
            assert all(place < tick for place in places)


def test_blanks_for_a_pen_are_not_on_the_page(page: str) -> None:
    assert "__" not in re.sub(r"<(script|style)\b.*?</\1>", "", page, flags=re.DOTALL)


def test_whatever_an_author_writes_stays_text() -> None:
    page = tablet_html(JOB, PLAN, fingerprint=FINGERPRINT)
    assert page.count("<script") == len(SCRIPTS) + 1
    assert page.count("</script>") == len(SCRIPTS) + 1
    assert page.count("</style>") == 1
    assert "<img" not in page.partition("<script")[0]
    nasty = _data(page)["steps"][0]
    assert nasty["hold"].startswith("</style><script>x</script> <M8> AT&T &copy;")


def test_a_layout_of_the_users_own_stands_in(tmp_path: Path) -> None:
    own = tmp_path / "tablet"
    own.mkdir()
    (own / "style.css").write_text("body { color: olive }", encoding="utf-8")
    page = tablet_html(winch(), winch_plan(), fingerprint=FINGERPRINT, layouts=tmp_path)
    assert "olive" in page
    (own / "exact.js").write_text("/* </script> */", encoding="utf-8")
    with pytest.raises(LayoutFault, match=r"^layout tablet/exact.js ends the tag that it stands"):
        tablet_html(winch(), winch_plan(), fingerprint=FINGERPRINT, layouts=tmp_path)
