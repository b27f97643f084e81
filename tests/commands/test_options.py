"""`--set` and `--all-options`, and packets of models that use others."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest

from sequencer.reading import read_file
from sequencer.sheets import pdf
from tests.commands.running import run, run_json

ROOT = Path(__file__).resolve().parent.parent.parent
DRIVE = str(ROOT / "assemblies" / "belt-drive.yaml")
WHEEL = str(ROOT / "assemblies" / "potters-wheel.yaml")
HUB = str(ROOT / "assemblies" / "front-hub.yaml")
MILL = str(ROOT / "tests" / "models" / "uses" / "mill.yaml")

PUMP = """\
assembly: pump
options:
  fluid: {choices: [standard, hot], default: standard}
  size: {choices: [40 mm, 60 mm], default: 40 mm}
parts:
  body: Body
  seal: {name: Seal, when: size == 60 mm}
steps:
  body-up: {do: Stand the body up., fits: body}
  seal-in: {do: Press the seal in., fits: seal}
  lid-on: {do: Put the lid on., after: check-it, when: fluid == hot and size == 60 mm}
  check-it: {do: Look at it.}
"""


@pytest.fixture
def pump(tmp_path: Path) -> str:
    path = tmp_path / "pump.yaml"
    path.write_text(PUMP, encoding="utf-8")
    return str(path)


def test_every_command_that_reads_a_model_takes_settings() -> None:
    setting = ("--set", "belt=500mm", "--set", "sensor = optical")
    assert "29 steps" in run("check", DRIVE, *setting).stdout
    told = run_json("plan", DRIVE, *setting)
    assert told["options"] == {"seals": "standard", "sensor": "optical", "belt": "500 mm"}
    assert "snub-on" in told["order"]
    assert "snub-on" not in run_json("plan", DRIVE)["order"]
    assert run_json("plan", DRIVE, *setting, "--without", "snub")["options"]["belt"] == "500 mm"
    order = ",".join(told["order"])
    assert run_json("plan", DRIVE, *setting, "--from", order)["ok"]
    assert not run_json("plan", DRIVE, "--from", order, exit_code=1)["ok"]
    assert run_json("why", DRIVE, "reflector-on", "scraper-on", *setting)["must"]
    assert not run_json("why", DRIVE, "disc-on", "scraper-on", *setting, exit_code=1)["ok"]


@pytest.mark.usefixtures("html_for_pdf")
def test_the_cover_says_what_was_chosen(tmp_path: Path) -> None:
    setting = ("--set", "belt=500mm", "--set", "sensor = optical")
    packet = run_json("packet", DRIVE, *setting, "--into", str(tmp_path), "--sheets", "cover")
    assert packet["file"] == str(tmp_path / "belt-drive-C-optical-500_mm.pdf")
    page = _text(Path(packet["file"])).replace("\u2060", "")  # joiners
    assert "Belt width: 500 mm" in page
    assert "Speed sensor: optical" in page
    assert "Seals and grease: standard" in page


def test_a_plan_without_options_says_nothing_of_them() -> None:
    assert "options" not in run_json("plan", HUB)


@pytest.mark.parametrize(
    ("setting", "message", "fix"),
    [
        ("blet=400 mm", "there is no option `blet`", "did you mean `belt`?"),
        ("belt=450 mm", "option `belt` has no choice `450 mm`", "use one of `400 mm`, `500 mm`"),
        ("seals=hott", "option `seals` has no choice `hott`", "did you mean `hot`?"),
    ],
)
def test_an_unknown_option_or_choice_is_a_wrong_call_with_the_near_ones(
    setting: str, message: str, fix: str
) -> None:
    for command in (("check", DRIVE), ("plan", DRIVE), ("check", DRIVE, "--all-options")):
        told = run_json(*command, "--set", setting, exit_code=2)
        assert not told["ok"]
        assert [(one["message"], one["fix"]) for one in told["findings"]] == [(message, fix)]
    (told_of_hub,) = run_json("check", HUB, "--set", setting, exit_code=2)["findings"]
    assert told_of_hub["fix"] == "leave `--set` out: the model has no options"


@pytest.mark.parametrize("setting", ["belt", "=hot", "belt=", ""])
def test_a_setting_without_its_two_halves_is_a_wrong_call(setting: str) -> None:
    assert "write OPTION=CHOICE" in run("plan", DRIVE, "--set", setting, exit_code=2).stderr


def test_one_option_set_to_two_choices_is_a_wrong_call() -> None:
    result = run("plan", DRIVE, "--set", "seals=hot", "--set", "seals=standard", exit_code=2)
    assert "`seals` is set twice, to different choices" in result.stderr
    run("plan", DRIVE, "--set", "seals=hot", "--set", "seals=hot")


def test_an_option_without_a_default_is_asked_for(tmp_path: Path) -> None:
    path = tmp_path / "pump.yaml"
    path.write_text(PUMP.replace(", default: standard", ", ask: What is pumped"), encoding="utf-8")
    (told,) = run_json("plan", str(path), exit_code=2)["findings"]
    assert told["code"] == "option-open"
    assert told["message"] == (
        "option `fluid` (What is pumped) has no default, and no choice was made"
    )
    assert told["fix"] == "give `--set fluid=standard` or `--set fluid=hot`"
    assert told["line"] == 3
    run("plan", str(path), "--set", "fluid=hot", "--set", "size=60 mm")
    assert run_json("check", str(path), "--all-options", exit_code=1)["combinations"] == 4


def test_every_combination_is_checked_and_findings_say_in_which_they_are(pump: str) -> None:
    told = run_json("check", pump, "--all-options", exit_code=1)
    assert (told["combinations"], len(told["tried"]), told["covering"]) == (4, 4, "all")
    assert [(one["code"], one["severity"], one["message"]) for one in told["findings"]] == [
        (
            "nothing-left",
            "error",
            "step `seal-in` keeps nothing to fit: `seal` is not there (with size=40 mm)",
        ),
        (
            "not-yet",
            "warning",
            "`lid-on` stands before `check-it`, which must come first (with fluid=hot size=60 mm)",
        ),
    ]
    assert [(one["line"], one["facts"][0]["line"]) for one in told["findings"]] == [
        (10, 7),
        (11, 11),
    ]
    result = run("check", pump, "--all-options", exit_code=1)
    assert result.stdout == f"{pump}: all 4 combinations of options tried; 2 with errors\n"


def test_a_setting_holds_an_option_still_in_all_combinations(pump: str) -> None:
    setting = ("--set", "size=6cm")
    told = run_json("check", pump, "--all-options", *setting)
    assert told["tried"] == [
        {"fluid": "standard", "size": "60 mm"},
        {"fluid": "hot", "size": "60 mm"},
    ]
    assert [one["message"][-16:] for one in told["findings"]] == ["(with fluid=hot)"]
    run("check", pump, "--all-options", "--strict", *setting, exit_code=1)
    stdout = run("check", pump, "--all-options", *setting).stdout
    assert stdout.endswith(
        "2 combinations of options tried; in 1 the written order does not work\n"
    )


def test_of_many_combinations_a_covering_set_is_checked(tmp_path: Path) -> None:
    options = "".join(f"  o{n}: {{choices: [x, y], default: x}}\n" for n in range(10))
    steps = "".join(f"  s{n}: {{do: Do {n}., when: o{n} == y}}\n" for n in range(10))
    path = tmp_path / "many.yaml"
    path.write_text(
        f"assembly: many\noptions:\n{options}steps:\n  s: Do it.\n{steps}", encoding="utf-8"
    )
    told = run_json("check", str(path), "--all-options")
    tried = told["tried"]
    assert (told["combinations"], told["covering"]) == (1024, "pairs")
    for one in range(10):
        for other in range(one):
            assert len({(each[f"o{one}"], each[f"o{other}"]) for each in tried}) == 4
    assert run("check", str(path), "--all-options").stdout == (
        f"{path}: {len(tried)} of 1,024 combinations of options tried, "
        "which hold every pair of choices; the written order works in each\n"
    )


def test_a_fault_in_the_file_is_told_once_for_all_combinations(tmp_path: Path) -> None:
    path = tmp_path / "pump.yaml"
    path.write_text(PUMP.replace("fits: body", "fitts: body"), encoding="utf-8")
    told = run_json("check", str(path), "--all-options", exit_code=2)
    assert [one["code"] for one in told["findings"]] == ["unknown-field", "nothing-left"]
    path.write_text(PUMP.replace("size == 60 mm}", "size = 60 mm}"), encoding="utf-8")
    told = run_json("check", str(path), "--all-options", exit_code=2)
    assert {one["code"] for one in told["findings"]} == {"condition"}


def test_a_model_without_options_is_simply_checked() -> None:
    assert run("check", HUB, "--all-options").stdout == run("check", HUB).stdout


def test_findings_in_a_used_file_name_that_file_in_json(tmp_path: Path) -> None:
    (tmp_path / "pump.yaml").write_text(PUMP, encoding="utf-8")
    top = tmp_path / "top.yaml"
    top.write_text(
        "assembly: top\nuses: {p: {file: pump.yaml, options: {fluid: hot, size: 60 mm}}}\n"
        "steps: {in: {do: Hang it., fits: p}}\n",
        encoding="utf-8",
    )
    (told,) = run_json("check", str(top))["findings"]
    assert (told["code"], told["step"]) == ("not-yet", "p/lid-on")
    assert (told["file"], told["line"]) == (str(tmp_path / "pump.yaml"), 11)
    assert told["facts"][0]["file"] == str(tmp_path / "pump.yaml")


@pytest.fixture
def html_for_pdf(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let packets be written as HTML: how pages look is tested elsewhere."""
    monkeypatch.setattr(pdf, "write_pdf", lambda html, **_: html.encode())


def _text(file: Path) -> str:
    words = re.sub(r"<[^>]*>", "", file.read_text(encoding="utf-8"))
    return " ".join(html.unescape(words).split())


@pytest.mark.usefixtures("html_for_pdf")
def test_one_packet_holds_the_sections_of_all_models(tmp_path: Path) -> None:
    told = run_json("packet", MILL, "--into", str(tmp_path))
    text = _text(Path(told["file"]))
    for words in ("Gear box: Closing", "Gear box: shaft-end", "Grain mill", "gear-box, issue F"):
        assert words in text


@pytest.mark.usefixtures("html_for_pdf")
def test_each_model_can_have_a_packet_and_a_fingerprint_of_its_own(tmp_path: Path) -> None:
    told = run_json("packet", MILL, "--each", "--into", str(tmp_path), "--sheets", "cover")
    names = [Path(file).name for file in told["files"]]
    assert names == [
        *("mill-C-alone.pdf", "mill-C-box.pdf", "mill-C-box_stub.pdf"),
        *("mill-C-spare.pdf", "mill-C-spare_stub.pdf"),
    ]
    assert [one["code"] for one in told["findings"]] == ["other-packet"] * 4
    texts = [_text(tmp_path / name) for name in names]
    prints = {re.findall(r"[0-9a-f]{4}·[0-9a-f]{4}", text)[0] for text in texts}
    assert len(prints) == len(names)
    assert "issue C" in texts[0]
    assert "issue F" in texts[1]


@pytest.mark.usefixtures("html_for_pdf")
def test_with_errors_no_packet_of_any_model_is_printed(tmp_path: Path) -> None:
    (tmp_path / "pump.yaml").write_text(
        PUMP.replace("fits: body", "fits: 2 body"), encoding="utf-8"
    )
    top = tmp_path / "top.yaml"
    top.write_text(
        "assembly: top\nuses: {p: {file: pump.yaml, options: {size: 60 mm}}}\n"
        "steps: {in: {do: Hang it., fits: p}}\n",
        encoding="utf-8",
    )
    into = tmp_path / "out"
    told = run_json("packet", str(top), "--each", "--into", str(into), exit_code=1)
    assert told["files"] == []
    assert [one["code"] for one in told["findings"]] == ["miscounted"]
    assert not into.exists()
    told = run_json("packet", str(top), "--each", "--draft", "--into", str(into))
    assert len(told["files"]) == 2
    run("packet", str(top), "--each", "--without", "p", exit_code=2)


SHIPPED = [
    model
    for model in sorted((ROOT / "assemblies").glob("*.yaml"))
    if "\noptions:" in model.read_text(encoding="utf-8")
]


@pytest.mark.parametrize("model", SHIPPED, ids=lambda model: model.stem)
def test_what_ships_checks_clean_in_every_combination_of_its_options(model: Path) -> None:
    told = run_json("check", str(model), "--all-options", "--strict")
    assert told["findings"] == []
    assert told["covering"] == "all"


def test_the_demos_are_of_the_size_of_real_jobs() -> None:
    drive, wheel = read_file(Path(DRIVE)).assembly, read_file(Path(WHEEL)).assembly
    assert drive is not None
    assert wheel is not None
    assert 25 <= len(drive.steps) <= 40
    assert len(wheel.included) == 3
    for one in wheel.included:
        own = [step for step in wheel.steps if step.id.startswith(f"{one.unit}/")]
        assert 6 <= len(own) <= 15


def test_a_reason_in_another_file_is_told_with_its_file() -> None:
    units = ROOT / "tests" / "models" / "uses" / "units"
    told = run("why", MILL, "box/stub/bearing-in", "box-in").stdout
    assert f"fitted as one by `box/stub-in` ({units / 'gear-box.yaml'}, line 12)" in told
    assert "fitted as one by `box-in` (line 10)" in told
