"""The log of a model that uses others: the copy holds every file, and all works by their steps."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner

from sequencer.commands import main
from sequencer.records.entries import Issue, Start
from sequencer.records.logfile import read_log
from tests.commands.test_revise_log import Shop

if TYPE_CHECKING:
    from sequencer.records.entries import Model

MODELS = Path(__file__).parent.parent.parent / "assemblies"
FILES = ("wheel-spindle.yaml", "wheel-drive.yaml", "wheel-pedal.yaml")
LOG = "potters-wheel.log.jsonl"


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    monkeypatch.chdir(tmp_path)
    for name in ("potters-wheel.yaml", *FILES):
        shutil.copy(MODELS / name, tmp_path)
    shop = Shop(tmp_path)
    shop.run("log start potters-wheel.yaml --unit 7")
    return shop


def change(name: str, old: str, new: str) -> None:
    path = Path(name)
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def copies() -> list[Model]:
    return [entry.what for entry in read_log(Path(LOG)).entries if isinstance(entry.what, Start)]


def test_the_log_keeps_every_file_word_for_word(shop: Shop) -> None:
    (start,) = copies()
    kept = dict(start.used)
    assert tuple(kept) == FILES
    for name in FILES:
        assert kept[name] == (shop.folder / name).read_text(encoding="utf-8")
    told = json.loads(Path(LOG).read_text(encoding="utf-8"))
    assert list(told["used"]) == list(FILES)
    assert told["taken"] == ["mains=230 V", "pan=split", "control=pedal"], (
        "what is set inside is in the text"
    )


def test_the_copy_serves_without_the_files(shop: Shop) -> None:
    for name in ("potters-wheel.yaml", *FILES):
        (shop.folder / name).unlink()
    shop.runs("log done 1-3 drive/motor-on --sheet none", "log done 5-8")
    assert shop.json("log status")["done"][3] == "drive/motor-on"
    told = shop.json("revise --redo drive/pulley-on")
    out = ["drive-in", "drive/lead-laid", "drive/motor-on", "drive/pulley-on"]
    assert told["undo"] == out
    where = told["why"]["drive/lead-laid"]
    assert (where["file"], where["text"]) == (
        "wheel-drive.yaml",
        "`drive/lead-laid` comes after `drive/motor-on`",
    )


def test_figure_changed_in_a_used_file_is_found_and_its_file_named(shop: Shop) -> None:
    shop.runs("log done 1-4 --sheet none")
    change("wheel-drive.yaml", "torque: 9 N·m", "torque: 10 N·m")
    told = shop.json("revise")
    assert (told["undo"], told["log"]["again"]) == (
        [],
        {"drive/motor-on": "the torque of `drive/motor-joint` was 9 N·m and is 10 N·m"},
    )
    change("wheel-drive.yaml", "torque: 10 N·m", "torque: 8 N·m")
    (finding,) = shop.json("revise")["findings"]
    (fact,) = finding["facts"]
    assert (finding["code"], fact["file"]) == ("torque-lowered", "wheel-drive.yaml")
    (note,) = shop.json("log status")["findings"]
    assert note["code"] == "model-changed"


def test_changed_files_are_taken_over_by_an_issue(shop: Shop) -> None:
    shop.runs("log done 1-4 --sheet none")
    change("wheel-drive.yaml", "torque: 9 N·m", "torque: 10 N·m")
    shop.run("log issue potters-wheel.yaml")
    issue = read_log(Path(LOG)).entries[-1].what
    assert isinstance(issue, Issue)
    assert "torque: 10 N·m" in dict(issue.used)["wheel-drive.yaml"]
    assert shop.json("log status")["findings"] == []
    assert list(shop.json("revise")["log"]["again"]) == ["drive/motor-on"]


def test_sheets_are_printed_of_the_copy(shop: Shop) -> None:
    shop.runs("log done 1-4 --sheet none", "log torque drive/motor-joint=9 --wrench W-1")
    for name in FILES:
        (shop.folder / name).unlink()
    (shop.folder / "potters-wheel.yaml").unlink()
    told = shop.run("log print").stdout + shop.run("log stop").stdout
    for sheet in ("as-built", "handover"):
        assert f"out/potters-wheel-{sheet}.pdf" in told
        assert (shop.folder / "out" / f"potters-wheel-{sheet}.pdf").is_file()


def test_links_inside_the_folder_are_followed(shop: Shop) -> None:
    Path(LOG).unlink()
    inner = shop.folder / "inner"
    inner.mkdir()
    for name in FILES:
        (shop.folder / name).rename(inner / name)
        (shop.folder / name).symlink_to(inner / name)
    shop.run("log start potters-wheel.yaml")
    (start,) = copies()
    assert tuple(dict(start.used)) == FILES


def test_links_that_a_copy_cannot_tell_apart_are_refused(shop: Shop) -> None:
    for folder in ("one", "two"):
        inner = shop.folder / folder
        inner.mkdir()
        (inner / "seal.yaml").write_text(f"assembly: seal\nsteps: {{s: Seal {folder}.}}\n")
        unit = "assembly: unit\nuses: {seal: seal.yaml}\nsteps: {in: {do: Set in., fits: seal}}\n"
        (inner / "unit.yaml").write_text(unit)
        (shop.folder / f"{folder}.yaml").symlink_to(inner / "unit.yaml")
    (shop.folder / "top.yaml").write_text(
        "assembly: top\nuses: {one: one.yaml, two: two.yaml}\n"
        "steps: {both: {do: Set both in., fits: [one, two]}}\n"
    )
    told = shop.run("log start top.yaml", exit_code=1).stderr
    assert told == (
        "error[log-links]: `top.yaml` uses files by links, and a copy of them in the log would "
        "read otherwise\n"
        "  = why: what they say now would be missing from the record\n"
        "  = fix: put the files themselves where the links are\n"
    )
    assert not Path("top.log.jsonl").exists()


def test_ticked_sheet_is_typed_in_by_the_steps_of_used_models(shop: Shop) -> None:
    typed = "Ann\n1-3 drive/motor-on\ngood\n9\ndrive/hook-in\n\n"
    told = CliRunner().invoke(main, ["log", "type", "--sheet", "none"], input=typed)
    assert told.exit_code == 0, told.output
    state = shop.json("log status")
    assert state["done"] == [
        *("frame-stood", "drive/plate-hung", "drive/pulley-on", "drive/motor-on", "drive/hook-in")
    ]
    kinds = [type(entry.what).__name__ for entry in read_log(Path(LOG)).entries]
    assert kinds == ["Start", "Done", "Reading", "Torque", "Done"]


def test_table_is_filled_in_by_the_steps_of_used_models(shop: Shop) -> None:
    shop.runs("log done 1-4 --sheet none", "log csv --blank paper.csv")
    change("paper.csv", "until it seats.,x,", "until it seats.,x,x")
    shop.run("log csv paper.csv --sheet none")
    assert shop.json("log status")["done"][-1] == "drive/hook-in"
