"""The commands: exit codes, what goes to which stream, and the JSON contract."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pypdf
import pytest

from tests.commands.running import HOIST, HUB, MISTAKES, run, run_json


@pytest.fixture
def model(tmp_path: Path) -> Any:
    """Write a model's text to a file."""

    def write(text: str) -> str:
        path = tmp_path / "unit.yaml"
        path.write_text(text, encoding="utf-8")
        return str(path)

    return write


def test_a_sound_model_passes_with_its_result_on_stdout() -> None:
    result = run("check", HOIST)
    assert "the written order works" in result.stdout
    assert result.stderr == ""
    assert run_json("check", HOIST) == {"ok": True, "findings": []}


def test_five_mistakes_are_all_told_in_one_run() -> None:
    result = run("check", MISTAKES, exit_code=1)
    assert "5 errors" in result.stdout
    told = run_json("check", MISTAKES, exit_code=1)
    assert not told["ok"]
    codes = {finding["code"] for finding in told["findings"]}
    assert codes == {"circle", "no-order", "split-pair", "miscounted", "left-loose"}
    for finding in told["findings"]:
        assert set(finding) >= {"code", "severity", "step", "message", "facts"}
        for fact in finding["facts"]:
            assert set(fact) >= {"text", "file", "line", "column"}
            assert fact["file"] == MISTAKES
            assert fact["line"] >= 1
            assert fact["column"] >= 1


def test_a_file_that_cannot_be_read_exits_with_two(model: Any) -> None:
    path = model("assembly: x\nsteps:\n  a: {do: Turn it, torqe: 5 N·m}\n")
    result = run("check", path, exit_code=2)
    assert f"{path}:3:20: error[unknown-field]" in result.stderr
    assert "torque" in result.stderr
    told = run_json("plan", path, exit_code=2)
    assert told["ok"] is False
    assert told["findings"][0]["line"] == 3
    assert "`no-such-file.yaml`" in run("check", "no-such-file.yaml", exit_code=2).stderr


def test_a_written_order_that_fails_is_a_warning_unless_strict(model: Any) -> None:
    path = model(
        "assembly: x\nsteps:\n  lid: {do: Fit the lid., after: seal}\n  seal: Lay the seal.\n"
    )
    told = run_json("check", path)
    assert [(f["code"], f["severity"]) for f in told["findings"]] == [("not-yet", "warning")]
    run("check", path, "--strict", exit_code=1)


def test_plan_keeps_the_contract() -> None:
    told = run_json("plan", HUB)
    assert set(told) == {
        *("ok", "order", "moves", "fewest", "steps", "rest_after", "handling", "findings"),
        "windows",
    }
    assert told["order"][0] == "clean"
    assert told["moves"] == 0
    assert told["fewest"] is True
    assert told["steps"]["right-cone"] == {
        "way_in": None,
        "last_chance_for": [],
        "until": "balls-left",
        "begins": 5.0,
        "ends": 10.0,
        "not_before": [],
    }
    assert told["windows"] == []
    hoist = run_json("plan", HOIST)
    assert hoist["steps"]["wheel-in"]["last_chance_for"] == ["magnet-in"]
    assert hoist["steps"]["magnet-in"]["way_in"] == "side opening"


def test_plan_of_a_model_without_an_order_is_null() -> None:
    told = run_json("plan", MISTAKES, exit_code=1)
    assert (told["ok"], told["order"], told["moves"], told["steps"]) == (False, None, None, {})
    assert {finding["code"] for finding in told["findings"]} >= {"circle", "no-order"}


def test_counting_adds_a_count() -> None:
    assert run_json("plan", HUB, "--count")["count"] == 4
    assert run_json("plan", MISTAKES, "--count", exit_code=1)["count"] == 0


def test_an_order_of_ones_own_is_judged_and_mended(tmp_path: Path) -> None:
    order = "clean,balls-right,left-cone,balls-left,right-cone,lock"
    told = run_json("plan", HUB, "--from", order, exit_code=1)
    assert set(told) == {"ok", "mended", "moves", "findings"}
    assert told["moves"] == 1
    good = ",".join(told["mended"])
    assert run_json("plan", HUB, "--from", good) == {
        "ok": True,
        "mended": told["mended"],
        "moves": 0,
        "findings": [],
    }
    listed = tmp_path / "order.txt"
    listed.write_text(good.replace(",", "\n"), encoding="utf-8")
    assert run_json("plan", HUB, "--from", f"@{listed}")["ok"]


def test_a_list_with_strange_or_missing_steps_is_not_ok() -> None:
    told = run_json("plan", HUB, "--from", "clean,clear", exit_code=1)
    codes = [finding["code"] for finding in told["findings"]]
    assert codes == ["unknown", "step-missing"]
    assert len(run_json("plan", HUB, "--from", "", exit_code=1)["mended"]) == 6
    no_order = run_json("plan", MISTAKES, "--from", "wipe", exit_code=1)
    assert no_order["mended"] is None
    assert no_order["moves"] is None


def test_a_wrong_call_exits_with_two() -> None:
    assert "twice" in run("plan", HUB, "--from", "clean,clean", exit_code=2).stderr
    run("plan", HUB, "--from", "clean", "--count", exit_code=2)
    run("packet", HUB, "--sheets", "cover,backside", exit_code=2)
    run("check", exit_code=2)


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("chek", HUB), "No such command 'chek'. Did you mean 'check'?"),
        (("log", "reeding", "a=1"), "No such command 'reeding'. Did you mean 'reading'?"),
        (("torque", "conv", "5 N·m"), "No such command 'conv'. Did you mean 'convert'?"),
        (("xyzzy",), "No such command 'xyzzy'."),
        (
            ("plan", HUB, "--from", "@no-such-file"),
            "Invalid value: cannot read no-such-file: no such file or directory",
        ),
        (("plan", HUB, "--from", "1-7"), "Invalid value: 1-7 is no range of steps 1 to 6"),
        (("why", HUB, "1-3", "4"), "A and B are one step each, not a range"),
        (("why", HUB, "1", "clean"), "A and B are the same step"),
    ],
)
def test_what_is_wrong_with_a_call_is_told(arguments: tuple[str, ...], told: str) -> None:
    assert run(*arguments, exit_code=2).stderr.splitlines()[-1] == f"Error: {told}"


def test_steps_are_asked_about_by_the_numbers_of_the_plan() -> None:
    order = run_json("plan", HUB)["order"]
    assert run("why", HUB, "2", "5").stdout == run("why", HUB, order[1], order[4]).stdout
    assert run("plan", HUB, "--from", "1,3,2,4-6").stdout == (
        run("plan", HUB, "--from", ",".join([order[0], order[2], order[1], *order[3:]])).stdout
    )


def test_an_id_that_is_a_number_goes_before_the_number(model: Any) -> None:
    steps = "  3: {do: Third., after: 1}\n  1: First.\n  x: {do: Last., after: 3}\n"
    path = model(f"assembly: unit\nsteps:\n{steps}")
    told = run_json("why", path, "3", "1")
    assert (told["first"], told["second"]) == ("1", "3")  # and not `x`, the third of the order


def test_what_may_be_named_is_told_where_nothing_is_like_it() -> None:
    few = run("why", HUB, "clean", "qqq", exit_code=1).stderr
    assert few == (
        "error[unknown]: the model has no step `qqq`\n"
        "  = why: the question cannot be answered as it stands\n"
        "  = fix: use `clean`, `right-cone`, `balls-right`, `balls-left`, `left-cone` or `lock`\n"
    )
    many = run("why", HOIST, "wipe", "qqq", exit_code=1).stderr
    assert many == (
        "error[unknown]: the model has no step `qqq`\n"
        "  = why: the question cannot be answered as it stands\n"
        "  = fix: see the steps in the file: there are 36, from `wipe` to `drip-look`\n"
    )


def test_a_one_way_step_without_its_side_confirmed_is_not_printed(tmp_path: Path) -> None:
    """The posts are looked at once the lid is on: by then the box has been potted."""
    case = Path(__file__).parent.parent / "models/cases/side-confirmed-before-potting.yaml"
    text = case.read_text(encoding="utf-8")
    late = text.replace("and sign., check", "and sign., after: lid-on, check")
    file = tmp_path / "lamp.yaml"
    file.write_text(late, encoding="utf-8")
    told = run_json("packet", str(file), "--into", str(tmp_path / "out"), exit_code=1)
    assert [finding["code"] for finding in told["findings"]] == ["no-order"]
    assert not (tmp_path / "out").exists()
    unasked = text.replace(
        "{sight of both faces: {shut_by: resin, why: Potting is for good}}", "{}"
    )
    stone = unasked.replace("box with resin.", "box., undo: {never: It sets like stone}")
    file.write_text(stone, encoding="utf-8")
    told = run_json("check", str(file), "--strict", exit_code=1)
    assert [finding["code"] for finding in told["findings"]] == ["unconfirmed"]


def test_a_way_in_that_two_needs_share_is_told_once(tmp_path: Path) -> None:
    """The plug goes in by the mouth, and is looked at through it."""
    file = tmp_path / "box.yaml"
    sits = "sits: {look: The plug, good: flush, needs_open: {mouth: lid}}"
    file.write_text(
        f"assembly: box\nparts: {{lid: Lid, plug: Plug}}\nchecks: {{{sits}}}\nsteps:\n"
        "  plug-in: {do: Press it in., fits: plug, ways_in: {mouth: lid}, check: sits}\n"
        "  lid-on: {do: Fit the lid., fits: lid}\n",
        encoding="utf-8",
    )
    lines = run("plan", str(file)).stdout.splitlines()
    assert [line.strip() for line in lines if "way in" in line] == ["way in: mouth"]
    told = run_json("plan", str(file))
    assert told["steps"]["plug-in"]["way_in"] == ["mouth", "mouth"], "one for each need"


def test_a_packet_is_printed_into_the_folder(tmp_path: Path) -> None:
    told = run_json("packet", HUB, "--into", str(tmp_path / "new"), "--paper", "letter")
    assert told["ok"]
    written = Path(told["file"])
    assert written == tmp_path / "new" / "front-hub-A.pdf"
    assert written.read_bytes().startswith(b"%PDF-")
    assert [path.name for path in written.parent.iterdir()] == ["front-hub-A.pdf"]


def test_nothing_is_printed_while_there_are_errors(tmp_path: Path) -> None:
    result = run("packet", MISTAKES, "--into", str(tmp_path), exit_code=1)
    assert "nothing printed" in result.stdout
    assert list(tmp_path.iterdir()) == []
    run("packet", MISTAKES, "--into", str(tmp_path), "--draft")
    assert [path.name for path in tmp_path.iterdir()] == ["hoist-head-mistakes-B.pdf"]


def test_every_sheet_can_be_asked_for_and_no_other(tmp_path: Path) -> None:
    from sequencer.commands.packet import _USUAL
    from sequencer.sheets.packet import SHEETS, USUAL

    assert _USUAL == USUAL

    result = run("packet", HUB, "--sheets", "poster", exit_code=2)
    assert f"poster is no sheet: choose from {', '.join(SHEETS)}" in " ".join(
        result.stderr.replace("│", " ").split()
    )
    asked = ("isolation", "sources")
    run("packet", HOIST, "--into", str(tmp_path), "--sheets", ",".join(asked))
    (written,) = tmp_path.iterdir()
    heads = [page.extract_text() for page in pypdf.PdfReader(written).pages]
    assert any("Isolation · issue B" in head for head in heads)
    assert any("Sources · issue B" in head for head in heads)
    assert not any("Bench checklist" in head for head in heads)


def test_while_sources_disagree_every_page_is_a_draft(model: Any, tmp_path: Path) -> None:
    path = model(
        "assembly: x\nsteps:\n  a:\n    do: Tighten it.\n"
        "    torque: {value: 9 N·m, source: card, also: {value: 14 N·m, source: sheet}}\n"
    )
    told = run_json("packet", path, "--into", str(tmp_path / "out"))
    assert told["ok"]
    assert told["draft"]
    pages = [page.extract_text() for page in pypdf.PdfReader(told["file"]).pages]
    assert all("DRAFT" in page for page in pages)
    before = next(page for page in pages if "Before you start · issue" in page)
    assert "step 1:" in before


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("in the way", encoding="utf-8")
    result = run("packet", HUB, "--into", str(blocked / "below"), exit_code=1)
    assert "error[not-written]" in result.stderr
    assert blocked.read_text(encoding="utf-8") == "in the way"


def test_without_the_renderer_packet_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    from sequencer.sheets import pdf

    def gone() -> None:
        raise pdf.RendererMissing("Pango cannot be loaded", "Debian: apt install libpango-1.0-0")

    monkeypatch.setattr(pdf, "_renderer", gone)
    result = run("packet", HUB, "--into", str(tmp_path), exit_code=1)
    assert "error[no-renderer]: Pango cannot be loaded" in result.stderr
    assert "libpango" in result.stderr
    run("check", HUB)
    run("plan", HUB)


def test_a_character_that_the_font_lacks_is_told(model: Any, tmp_path: Path) -> None:
    path = model("assembly: x\nsteps:\n  a: Tighten it. 締める\n")
    result = run("packet", path, "--into", str(tmp_path))
    assert "warning[no-glyph]" in result.stderr


def test_a_fault_of_the_program_is_told_without_a_traceback(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from sequencer.planning import plan

    def broken(_: object) -> None:
        raise KeyError("broken")

    monkeypatch.setattr(plan, "check", broken)
    result = run("check", HUB, exit_code=3)
    assert "a fault in the program" in result.stderr
    assert "Traceback" not in result.stderr


def test_why_is_answered_with_facts_or_with_an_order_of_each() -> None:
    told = run_json("why", HOIST, "fill", "magnet-in")
    assert (told["first"], told["second"], told["must"]) == ("magnet-in", "fill", True)
    assert [fact["line"] > 0 for fact in told["facts"]] == [True] * 7
    assert len(told["examples"]) == 1
    free = run_json("why", HOIST, "slinger-on", "front-bearing")
    assert (free["must"], free["facts"], len(free["examples"])) == (False, [], 2)
    assert "must come before" in run("why", HOIST, "magnet-in", "fill").stdout
    assert run_json("why", HOIST, "fill", "magnet", exit_code=1)["ok"] is False
    assert "no order exists" in run("why", MISTAKES, "fill", "wipe", exit_code=1).stdout
    run("why", HOIST, "fill", "fill", exit_code=2)


def test_what_can_be_done_while_a_part_is_awaited() -> None:
    told = run_json("plan", HOIST, "--without", "wheel")
    assert "rear-cap" in told["now"]
    assert told["then"][0] == "wheel-in"
    assert len(told["now"]) + len(told["then"]) == 36
    assert run_json("plan", HOIST, "--without", "whel", exit_code=1)["findings"][0]["code"] == (
        "unknown"
    )
    assert run_json("plan", MISTAKES, "--without", "wheel", exit_code=1)["now"] is None
    run("plan", HOIST, "--without", "wheel", "--count", exit_code=2)


def test_a_packet_is_printed_in_the_order_for_a_part_that_is_late(tmp_path: Path) -> None:
    import pypdf

    told = run_json("packet", HOIST, "--without", "wheel", "--into", str(tmp_path))
    pages = [page.extract_text() for page in pypdf.PdfReader(told["file"]).pages]
    before = " ".join(next(page for page in pages if "Before you start · issue" in page).split())
    assert "Worm wheel is awaited: do steps 1 to 19, then wait for it" in before
    listed = [page for page in pages if "Bench checklist · issue" in page]
    checklist = " ".join(" ".join(listed).split())
    assert checklist.index("Screw in the drain plug") < checklist.index("Lower the wheel")
    run("packet", HOIST, "--without", "whel", "--into", str(tmp_path), exit_code=1)
    run("packet", HOIST, "--without", "wheel", "--by", "handling", exit_code=2)


_ONLY_BY_HANDLING = """\
assembly: locked
compounds:
  oil: Oil
  locker: {name: Locker, not_with: oil}
tools: {swab: Swab, brush: Brush}
steps:
  oil-it: {do: Oil it., apply: {compound: oil, to: thread}, tools: brush}
  clean-it: {do: Clean it., cleans: thread, tools: swab}
  lock-it: {do: Lock it., apply: {compound: locker, to: thread}, tools: brush, after: oil-it}
"""


def test_an_error_that_only_the_printed_order_has_stops_the_printing(
    model: Any, tmp_path: Path
) -> None:
    path = model(_ONLY_BY_HANDLING)
    assert run_json("check", path)["ok"] is True
    told = run_json("plan", path, "--by", "handling")
    assert (told["ok"], [one["code"] for one in told["findings"]]) == (True, ["not-together"])
    here = ("--sheets", "checklist", "--into", str(tmp_path))
    told = run_json("packet", path, "--by", "handling", *here, exit_code=1)
    assert (told["file"], [one["code"] for one in told["findings"]]) == (None, ["not-together"])
    assert run_json("packet", path, *here)["findings"] == []
    told = run_json("packet", path, "--by", "handling", "--draft", *here)
    assert [one["code"] for one in told["findings"]] == ["not-together"]


def test_an_order_of_ones_own_is_judged_for_its_times_and_works_all_the_same(model: Any) -> None:
    told = run_json("plan", model(_ONLY_BY_HANDLING), "--from", "clean-it,oil-it,lock-it")
    assert (told["ok"], told["moves"]) == (True, 0)
    (finding,) = told["findings"]
    assert (finding["code"], finding["severity"]) == ("not-together", "error")
    assert [fact["line"] for fact in finding["facts"]] == [7, 9, 4]


def test_waits_and_windows_are_in_the_plan() -> None:
    told = run_json("plan", HOIST)
    assert told["steps"]["turn"]["not_before"] == [
        {
            "since": "hatch-on",
            "minutes": 120.0,
            "text": "2 h",
            "compound": "paste",
            "why": "Oil thrown at a wet joint washes it out",
        }
    ]
    assert [(one["since"], one["until"], one["text"]) for one in told["windows"]] == [
        ("hatch-paste", "hatch-on", "20 min"),
        ("hatch-wipe", "hatch-paste", "1 h"),
    ]
    table = run("plan", HOIST).stdout
    assert "not before 2 h after step 30: paste has to set" in table
    assert "closes within 20 min of step 29: paste is open" in table
    assert "begins within 1 h of step 28" in table
