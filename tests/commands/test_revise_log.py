"""`sequencer revise` by the build log: what it takes from the log and from the changed model."""

from __future__ import annotations

import io
import json
import re
import shlex
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from click.testing import CliRunner
from pypdf import PdfReader

from sequencer.commands import main
from sequencer.sheets.glyphs import missing_glyphs
from sequencer.sheets.packet import document_html
from tests.sheets.pages import Printed, holds

if TYPE_CHECKING:
    from collections.abc import Callable

    from click.testing import Result

GOLDEN = Path(__file__).resolve().parent.parent / "golden" / "revise"

UNIT = """\
assembly: feed-head
title: Feed head of a bench mill
issue: B
notice: Invented for a test.
defaults: {source: our drawing, money: EUR}
parts:
  shaft: {name: Feed shaft, number: 31-02, mass: 18 kg}
  shims: {name: Shim pack, number: 31-05}
  cap: {name: End cap, number: 31-04}
  gasket: {name: Cover gasket, number: 31-07, price: 4}
  cover: {name: Cover, number: 31-06}
  plate: {name: Name plate, number: 31-09}
joints:
  cap-screws: {name: Cap screws, thread: M8, grade: "8.8", count: 4, torque: 22 N·m}
  cover-screws: {name: Cover screws, thread: M6, grade: "8.8", count: 6, torque: 8 N·m}
checks:
  float:
    measure: End float of the shaft
    limit: 0.05 to 0.12 mm
    else: {again_from: pack-laid, change: the shim pack}
steps:
  shaft-in: {do: Slide the shaft in., fits: shaft, time: 6 min}
  pack-laid: {do: Lay the shim pack on the cap., fits: shims, after: shaft-in, time: 2 min}
  cap-tight:
    do: Set the cap on and tighten its screws crosswise.
    fits: cap
    onto: shims
    tighten: cap-screws
    caution: Keep the fingers out of the bore.
    time: 8 min
    undo: {time: 4 min, do: Loosen the cap screws and pull the cap off with its pack.}
  float-read: {do: Read the end float., after: cap-tight, check: float, time: 5 min}
  faces-wiped: {do: Wipe both faces with solvent., after: float-read, time: 4 min}
  gasket-laid:
    do: Lay the gasket on.
    fits: gasket
    after: {step: faces-wiped, wait: 15 min}
    time: 2 min
    undo: {again: faces-wiped, do: Scrape the rest of the gasket off.}
  cover-tight:
    do: Set the cover on and tighten its screws.
    fits: cover
    onto: gasket
    tighten: cover-screws
    hold: inspector
    time: 7 min
    undo: {spoils: gasket}
  plate-on: {do: Rivet the name plate on., fits: plate, after: cover-tight, time: 3 min}
"""
TORN = (
    "log done 1-4 --sheet none --by Ada",
    "log reading float=0.08",
    "log done 5-7",
    "log sign inspector --by Eve",
    "log spoiled gasket",
)


@dataclass
class Shop:
    """A folder with a model and its log; keeps what every call says."""

    folder: Path
    said: list[str] = field(default_factory=list)

    def run(self, line: str, exit_code: int = 0) -> Result:
        result = CliRunner().invoke(main, shlex.split(line), input="")
        assert result.exit_code == exit_code, result.output
        self.said.append(f"$ sequencer {line}\n{result.stderr}{result.stdout}")
        return result

    def runs(self, *lines: str) -> None:
        for line in lines:
            self.run(line)

    def json(self, line: str, exit_code: int = 0) -> dict[str, Any]:
        loaded: dict[str, Any] = json.loads(self.run(f"{line} --json", exit_code).stdout)
        return loaded

    def change(self, old: str, new: str) -> None:
        model = self.folder / "unit.yaml"
        text = model.read_text(encoding="utf-8")
        assert old in text
        model.write_text(text.replace(old, new), encoding="utf-8")

    @property
    def told(self) -> str:
        """All that was said, with names for fingerprints, which change with the file format."""
        found: dict[str, str] = {}

        def mask(match: re.Match[str]) -> str:
            return found.setdefault(match[0], f"model-{len(found) + 1}")

        return re.sub(r"\b[0-9a-f]{4}·[0-9a-f]{4}\b", mask, "\n".join(self.said))


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "unit.yaml").write_text(UNIT, encoding="utf-8")
    shop = Shop(tmp_path)
    shop.run("log start unit.yaml --unit 0042")
    return shop


def test_torn_gasket_comes_out_by_itself_and_voids_the_signature(
    shop: Shop, golden: Callable[[Path, str], None]
) -> None:
    shop.runs(*TORN, "revise --log unit.log.jsonl")
    golden(GOLDEN / "a-torn-gasket.expected", shop.told)
    told = shop.json("revise")
    assert (told["undo"][-1], told["void"]) == ("faces-wiped", ["cover-tight"])
    assert told["log"]["redo"] == {"gasket-laid": "`gasket` was spoiled (entry 6)"}


def test_only_what_was_signed_loses_its_signature(shop: Shop) -> None:
    shop.runs(*(line for line in TORN if "sign" not in line))
    assert shop.json("revise")["void"] == []


def test_raised_torque_is_done_afresh_where_it_is(
    shop: Shop, golden: Callable[[Path, str], None]
) -> None:
    shop.runs(*TORN[:4])
    shop.change("torque: 8 N·m", "torque: 9 N·m")
    shop.runs("log status", "revise", "revise unit.yaml")
    golden(GOLDEN / "a-raised-torque.expected", shop.told)
    told = shop.json("revise")
    assert (told["undo"], told["in_place"]) == ([], ["cover-tight"])
    assert told["void"] == ["cover-tight"], "done afresh, it has to be signed afresh"


def test_lowered_torque_is_asked_of_the_maker(
    shop: Shop, golden: Callable[[Path, str], None]
) -> None:
    shop.runs(*TORN[:4])
    shop.change("torque: 8 N·m", "torque: 7 N·m")
    shop.runs("revise", "revise --again cover-tight")
    golden(GOLDEN / "a-lowered-torque.expected", shop.told)


def test_change_is_found_after_the_new_issue_was_taken_over(shop: Shop) -> None:
    shop.runs(*TORN[:4])
    shop.change("torque: 8 N·m", "torque: 9 N·m")
    shop.runs("log issue unit.yaml --anyway")
    assert shop.json("revise")["in_place"] == ["cover-tight"]
    shop.runs("log done cover-tight --sheet none --anyway")
    assert shop.json("revise")["in_place"] == []


def test_step_that_the_model_has_no_more_is_told_with_what_comes_out_with_it(
    shop: Shop, golden: Callable[[Path, str], None]
) -> None:
    shop.runs(*TORN[:4], "log done 8")
    begin, end = UNIT.index("  faces-wiped"), UNIT.index("  cover-tight")
    shop.change(UNIT[begin:end], "  sealant-on: {do: Run a bead round., after: float-read}\n")
    shop.change("onto: gasket", "after: sealant-on")
    shop.change("{spoils: gasket}", "{time: 5 min}")
    shop.change("  gasket: {name: Cover gasket, number: 31-07, price: 4}\n", "")
    shop.runs("revise")
    golden(GOLDEN / "a-step-gone.expected", shop.told)


def test_failed_check_goes_back_to_where_it_starts_again(
    shop: Shop, golden: Callable[[Path, str], None]
) -> None:
    shop.runs(TORN[0], "log reading float=0.02", "revise")
    golden(GOLDEN / "a-failed-check.expected", shop.told)
    shop.runs("log undone 4,3,2 --sheet none", "log done 2-4")
    shop.runs("log reading float=0.07")
    assert shop.json("revise")["undo"] == []


def test_part_that_has_not_come_holds_up_its_step(
    shop: Shop, golden: Callable[[Path, str], None]
) -> None:
    shop.runs(*TORN[:2], "log short gasket --until 2031-05-12", "revise")
    golden(GOLDEN / "a-part-not-delivered.expected", shop.told)


def test_step_left_out_with_leave_pulls_nothing_out(shop: Shop) -> None:
    shop.runs("log done 1-2 --sheet none", "log skip 3 --allowed-by Eve --anyway")
    shop.runs("log done 4-5 --anyway")
    told = shop.json("revise")
    assert (told["undo"], told["log"]["skipped"]) == ([], ["cap-tight"])
    assert "cap-tight" not in told["do"]
    told = shop.json("revise --redo cap-tight")
    assert told["log"]["skipped"] == []
    assert "cap-tight" in told["do"], "to name it takes the leave back"


def test_step_begun_is_told(shop: Shop) -> None:
    shop.runs("log done 1-2 --sheet none", "log part-done 3 --pass 1 --count 2")
    told = shop.run("revise").stdout
    assert (
        "\nBegun, not done:\n  cap-tight (step 3): left in pass 1 after 2 fasteners: "
        "begin pass 1 again at the first fastener\n"
    ) in told


def test_model_beside_the_log_that_cannot_be_read_is_told(shop: Shop) -> None:
    shop.runs(*TORN)
    (shop.folder / "unit.yaml").write_text("assembly: [", encoding="utf-8")
    assert "unit.yaml:1" in shop.run("revise", exit_code=2).stderr
    (shop.folder / "unit.yaml").unlink()
    assert shop.json("revise")["ok"], "the copy in the log will do"


def test_log_of_another_model_is_refused(shop: Shop) -> None:
    shop.change("assembly: feed-head", "assembly: other-head")
    told = shop.run("revise", exit_code=1)
    assert told.stderr == (
        "error[other-model]: `other-head` is another model than `feed-head`, which unit.log.jsonl "
        "tells of\n"
        "  = why: what was done on the one says nothing about the other\n"
        "  = fix: name the log of this model with --log\n"
    )


def test_log_and_list_are_not_mixed(shop: Shop) -> None:
    told = shop.run("revise unit.yaml --log unit.log.jsonl --done 1", exit_code=2).stderr
    assert "give FILE and --done, or --log: a log tells itself what is done" in told
    (shop.folder / "unit.log.jsonl").unlink()
    told = shop.run("revise unit.yaml", exit_code=2).stderr
    assert "say what was done: with --done, or with --log (there is no unit.log.jsonl)" in told


def test_change_sheet_holds_every_step_figure_and_caution(shop: Shop) -> None:
    pages = {}

    def keep(*arguments: Any, **options: Any) -> str:
        pages["html"] = document_html(*arguments, **options)
        return pages["html"]

    shop.runs(*TORN, "log reading float=0.02 --anyway")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("sequencer.sheets.packet.document_html", keep)
        told = shop.json("revise --into out")
    assert Path(told["sheet"]) == Path("out/unit-change.pdf")
    assert missing_glyphs(pages["html"]) == {}
    printed = Printed.of(pages["html"])
    assert printed.logged == ()
    assert printed.pdf == (shop.folder / "out" / "unit-change.pdf").read_bytes()
    for text in (
        "Unit no. 0042",
        "unit no. 0042 · model",
        "issue B",
        told["log"]["was"]["fingerprint"],
        "Step 6 has to come out and go in again: Cover gasket was spoiled (entry 6)",
        "1 × Cover gasket, no. 31-07",
        "Loosen the cap screws and pull the cap off with its pack.",
        "Scrape the rest of the gasket off.",
        "Loosen Cover screws and take out Cover.",
        "Cover gasket: not used again.",
        "Step 5: Wipe both faces with solvent.",
        "22 N·m",
        "8 N·m",
        "Keep the fingers out of the bore.",
        "0.05 to 0.12 mm",
        "15 min from step 5 to step 6",
        "Cross out in your packet, and sign anew in the HOLD frame above: step 7, inspector",
        "Nothing goes on until signed by: inspector",
        "Then go on with step 8.",
        "None: your packet stays good.",
    ):
        assert holds(printed.text, text), text
    out, back = printed.text.split("BACK IN")
    assert told["undo"] == [
        *("cover-tight", "gasket-laid", "faces-wiped", "float-read"),
        "cap-tight",
        "pack-laid",
    ]
    turns = [
        out.index(text) for text in ("Loosen Cover screws", "Scrape the rest", "Loosen the cap")
    ]
    assert turns == sorted(turns)
    turns = [back.index(text) for text in ("22 N·m", "0.05 to 0.12", "Lay the gasket", "8 N·m")]
    assert turns == sorted(turns)


def test_change_sheet_names_both_models(shop: Shop) -> None:
    shop.runs(*TORN[:4])
    shop.change("issue: B", "issue: C")
    shop.change("torque: 8 N·m", "torque: 9 N·m")
    told = shop.json("revise --into out")
    text = _text(shop.folder / told["sheet"])
    was, now = told["log"]["was"], told["log"]["now"]
    for words in (
        f"issue {was['issue']}model {was['fingerprint']}",
        f"issue {now['issue']}model {now['fingerprint']}",
        "Step 7 has to be done afresh where it is: "
        "the torque of Cover screws was 8 N·m and is 9 N·m",
        "OUT: nothing has to come out",
        f"print the packet of model {now['fingerprint']}",
    ):
        assert holds(text, words), words


def test_change_sheet_says_what_only_a_person_can_decide(shop: Shop) -> None:
    shop.runs(*TORN[:4], "log short plate --until 2031-05-12")
    shop.change("torque: 8 N·m", "torque: 7 N·m")
    shop.runs("revise --into out")
    text = _text(shop.folder / "out" / "unit-change.pdf")
    for words in (
        "ASK step 7 is done, and its torque was changed otherwise than by raising it: "
        "whether it may stay as it is, only the maker can say",
        "Name plate is awaited, until 2031-05-12, goes in in step 8",
    ):
        assert holds(text, words), words


def test_change_sheet_of_a_model_with_errors_says_draft(shop: Shop) -> None:
    shop.runs(*TORN)
    shop.runs("revise --into out")
    assert "DRAFT" not in _text(shop.folder / "out" / "unit-change.pdf")
    shop.change("torque: 22 N·m", "torque: {value: 22 N·m, also: [{value: 30 N·m, source: one}]}")
    shop.runs("revise --into out")
    assert "DRAFT" in _text(shop.folder / "out" / "unit-change.pdf")


def test_change_sheet_stops_at_last_chances_of_the_order_in_hand(shop: Shop) -> None:
    shop.change("fits: plate, after: cover-tight", "fits: plate, ways_in: {side: [cover]}")
    (shop.folder / "unit.log.jsonl").unlink()
    assert "last chance for plate-on" in shop.run("plan unit.yaml --by handling").stdout
    shop.runs("log start unit.yaml --order handling", "log done 1 --sheet none")
    done = shop.json("plan unit.yaml --by handling")["order"][1:]
    shop.runs(f"log done {','.join(s for s in done if s != 'plate-on')} --anyway")
    assert shop.json("revise --into out")["undo"][0] == "cover-tight"
    assert holds(_text(shop.folder / "out" / "unit-change.pdf"), "STOP Last chance.")


def _text(pdf: Path) -> str:
    reader = PdfReader(io.BytesIO(pdf.read_bytes()))
    return "\n".join(page.extract_text() for page in reader.pages)


def test_sheet_that_cannot_be_written_is_told(shop: Shop) -> None:
    shop.runs(*TORN)
    (shop.folder / "out" / "unit-change.pdf").mkdir(parents=True)
    told = shop.json("revise --into out", exit_code=1)
    assert (told["sheet"], told["findings"][0]["code"]) == (None, "not-written")


def test_without_a_mend_no_sheet_is_printed(shop: Shop) -> None:
    shop.change("{spoils: gasket}", "{never: It is glued}")
    (shop.folder / "unit.log.jsonl").unlink()
    shop.runs("log start unit.yaml", *TORN)
    told = shop.json("revise --into out", exit_code=1)
    assert (told["ok"], told["sheet"], (shop.folder / "out").exists()) == (False, None, False)
