"""Models that use others: joined as units, every message in the right file, nothing outside."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from sequencer.planning.plan import check, plan
from sequencer.reading import Reading, files, read_file, read_text
from sequencer.report import as_text

if TYPE_CHECKING:
    from collections.abc import Callable

    from sequencer.model.assembly import Assembly

HERE = Path(__file__).parent.parent
CASES = HERE / "golden" / "uses"
MODELS = HERE / "models" / "uses"


@pytest.mark.parametrize("case", sorted(CASES.glob("*.yaml")), ids=lambda case: case.stem)
def test_the_whole_message(
    case: Path, golden: Callable[[Path, str], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(CASES)
    reading = read_file(Path(case.name))
    golden(case.with_suffix(".expected"), as_text(reading.problems, reading.lines) + "\n")


def mill(**settings: str) -> tuple[Reading, Assembly]:
    reading = read_file(MODELS / "mill.yaml", settings)
    assert reading.problems == ()
    assert reading.assembly is not None
    return reading, reading.assembly


def test_ids_get_the_prefix_and_steps_stand_before_what_first_names_them() -> None:
    _, assembly = mill()
    assert [step.id for step in assembly.steps] == [
        *("stand-up", "box/wheel-in", "box/ring-in", "box/stub/bearing-in", "box/stub/seal-in"),
        *("box/stub-in", "box/lid-on", "box-in", "hopper-on", "spare/wheel-in"),
        *("spare/stub/bearing-in", "spare/stub/double-in", "spare/stub/seal-in"),
        *("spare/stub-in", "spare/lid-on", "spare-laid"),
    ]
    steps = {step.id: step for step in assembly.steps}
    assert steps["box/lid-on"].unit == "box"
    assert steps["box/stub/seal-in"].unit == "box/stub"
    assert [link.to for link in steps["box/stub-in"].after] == ["box/wheel-in", "box/stub/seal-in"]
    assert [fit.part for fit in steps["box/stub-in"].fits] == ["box/stub"]
    names = {part.id: part.name for part in assembly.parts}
    assert names["box"] == "Gear box"
    assert names["spare"] == "Spare gear box"
    assert names["box/stub/seal"] == "seal"


def test_the_whole_has_an_order_that_keeps_what_is_said_across() -> None:
    _, assembly = mill()
    assert check(assembly) == ()
    order = plan(assembly).order
    assert order is not None
    assert order.index("stand-up") < order.index("box/wheel-in")
    assert order.index("box/lid-on") < order.index("box-in")
    assert order.index("box/lid-on") < order.index("hopper-on")


def test_options_are_passed_down_through_the_layers() -> None:
    _, soft = mill()
    _, hard = mill(grain="hard")
    assert "box/stub/double-in" not in {step.id for step in soft.steps}
    assert "box/stub/double-in" in {step.id for step in hard.steps}
    lid = {one: next(p for p in one.parts if p.id == "box/lid").name for one in (soft, hard)}
    assert list(lid.values()) == ["Lid", "Ribbed lid"]
    assert {taken.option: (taken.choice, taken.label) for taken in soft.taken} == {
        "grain": ("soft", "What is ground"),
        "box/ratio": ("4 mm", "Gear box: ratio"),
        "spare/load": ("hard", "Spare gear box: load"),
        "spare/ratio": ("3 mm", "Spare gear box: ratio"),
    }


def test_what_a_used_model_says_for_the_whole_job_joins_what_the_outer_says() -> None:
    _, assembly = mill()
    assert assembly.notice == "Invented for tests."
    assert assembly.wear == ("Safety glasses", "Gloves")
    assert assembly.warning == ("Gears draw fingers in.",)
    assert assembly.scope.split("\n\n") == [
        "Putting the mill together.",
        "Gear box: Closing the box.",
        "Spare gear box: Closing the box.",
    ]
    assert [(one.unit, one.assembly, one.issue) for one in assembly.included] == [
        ("box", "gear-box", "F"),
        ("box/stub", "shaft-end", "A"),
        ("spare", "gear-box", "F"),
        ("spare/stub", "shaft-end", "A"),
    ]
    sections = {section.id: section.label for section in assembly.sections}
    assert [sections[step.section] for step in assembly.steps][:8] == [
        *("Grain mill", "Gear box", "Gear box"),
        *("Gear box: shaft-end", "Gear box: shaft-end", "Gear box", "Gear box: Closing"),
        "Grain mill",
    ]


def test_a_tool_with_the_same_content_is_one_tool() -> None:
    _, assembly = mill()
    assert [(tool.id, tool.name) for tool in assembly.tools] == [
        ("tw", "Torque wrench 5 to 25 N·m"),
        ("press", "Press of the shop"),
    ]


def test_a_default_goes_with_the_figures_of_its_own_model() -> None:
    _, assembly = mill()
    joints = {joint.id: joint.torque for joint in assembly.joints}
    sources = {source.id: source.name for source in assembly.sources}
    told = {name: torque.source for name, torque in joints.items() if torque is not None}
    assert {name: sources[source] for name, source in told.items()} == {
        "stand-joint": "Mill card 9",
        "box/lid-joint": "Box card 2",
        "spare/lid-joint": "Box card 2",
    }
    times = {step.id: step.time.text for step in assembly.steps if step.time is not None}
    assert times == dict.fromkeys(("stand-up", "box-in", "hopper-on", "spare-laid"), "3 min")
    assert assembly.defaults.source == ""


@pytest.mark.parametrize(
    ("path", "file", "shown"),
    [
        (("steps", "stand-up", "before", 0), "mill.yaml", "box/wheel-in"),
        (("steps", "box/stub-in", "after", 1), "gear-box.yaml", "stub/seal-in"),
        (("steps", "box/stub/seal-in", "after", 0), "shaft-end.yaml", "bearing-in"),
        (("steps", "spare/stub/seal-in", "after", 1), "shaft-end.yaml", "double-in"),
        (("parts", "box"), "mill.yaml", "box"),
        (("units", "box/stub"), "gear-box.yaml", "stub"),
        (("parts", "box/lid", "name"), "gear-box.yaml", "Lid"),
        (("tools", "press", "name"), "gear-box.yaml", "Press of the shop"),
        (("tools", "tw", "range"), "mill.yaml", "5 to 25 N·m"),
        (("checks", "box/free", "else", "again_from", 0), "gear-box.yaml", "wheel-in"),
        (("together", 0, "steps", 1), "gear-box.yaml", "ring-in"),
        (("warning", 0), "gear-box.yaml", "Gears draw fingers in."),
    ],
    ids=str,
)
def test_a_path_leads_to_the_right_place_of_the_right_file(
    path: tuple[str | int, ...], file: str, shown: str
) -> None:
    reading, _ = mill()
    place = reading.place_of(path)
    assert place is not None
    line = reading.lines[place.file][place.line - 1]
    typed = line[place.column - 1 : place.column - 1 + place.width]
    assert (Path(place.file).name, typed) == (file, shown)


def test_each_model_stands_for_itself_too() -> None:
    reading, whole = mill()
    apart = dict(reading.apart())
    assert list(apart) == ["", "box", "box/stub", "spare", "spare/stub"]
    made = {prefix: one.assembly for prefix, one in apart.items()}
    steps = {prefix: [step.id for step in one.steps] for prefix, one in made.items() if one}
    assert steps["box"] == ["wheel-in", "ring-in", "stub-in", "lid-on"]
    assert steps[""] == ["stand-up", "box-in", "hopper-on", "spare-laid"]
    assert sum(map(len, steps.values())) == len(whole.steps)
    told = [(one.step, one.message) for one in apart[""].problems]
    assert told == [
        ("stand-up", "`stand-up` comes before `wheel-in`, which is in the packet of Gear box"),
        ("box-in", "`box-in` comes after `lid-on`, which is in the packet of Gear box"),
        ("hopper-on", "`hopper-on` comes after `Closing`, which is in the packet of Gear box"),
    ]
    for prefix, one in made.items():
        assert one is not None
        assert check(one) == (), prefix
    spare = made["spare"]
    assert spare is not None
    assert spare.title == "Spare gear box"
    place = apart["spare"].place_of(("steps", "stub-in", "after", 0))
    assert place is not None
    assert (Path(place.file).name, place.line) == ("gear-box.yaml", 31)


def test_resolving_a_model_without_uses_is_the_same_joined_or_alone(tmp_path: Path) -> None:
    box = (MODELS / "units" / "shaft-end.yaml").read_text(encoding="utf-8")
    (tmp_path / "shaft-end.yaml").write_text(box, encoding="utf-8")
    top = "assembly: top\nuses: {end: shaft-end.yaml}\nsteps: {in: {do: Fit it., fits: end}}\n"
    (tmp_path / "top.yaml").write_text(top, encoding="utf-8")
    reading = read_file(tmp_path / "top.yaml")
    assert reading.problems == ()
    alone = dict(reading.apart())["end"].assembly
    direct = read_file(tmp_path / "shaft-end.yaml").assembly
    assert alone is not None
    assert direct is not None
    assert replace(alone, taken=()) == replace(direct, taken=())


def only(folder: Path, text: str) -> str:
    (folder / "top.yaml").write_text(text, encoding="utf-8")
    (problem,) = read_file(folder / "top.yaml").problems
    assert problem.place is not None
    return f"{problem.code}:{problem.place.line}: {problem.message}"


TOP = "assembly: top\nuses: {a: a.yaml}\nsteps: {in: {do: Fit it., fits: a}}\n"
LEAF = "assembly: a\nsteps: {one: Do it.}\n"


def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    inside = tmp_path / "inside"
    inside.mkdir()
    (tmp_path / "a.yaml").write_text(LEAF, encoding="utf-8")
    (inside / "a.yaml").symlink_to(tmp_path / "a.yaml")
    assert only(inside, TOP) == (
        "uses:2: `a.yaml` is reached by a link that leads out of the folder of the model"
    )
    (inside / "a.yaml").unlink()
    (inside / "b.yaml").write_text(LEAF, encoding="utf-8")
    (inside / "a.yaml").symlink_to(inside / "b.yaml")
    assert read_file(inside / "top.yaml").problems == ()


@pytest.mark.parametrize("name", ["loop.yaml", "a" * 300 + ".yaml"])
def test_a_path_that_the_disk_cannot_follow_is_no_file(tmp_path: Path, name: str) -> None:
    (tmp_path / "loop.yaml").symlink_to(tmp_path / "loop.yaml")
    assert only(tmp_path, TOP.replace("a.yaml", name)).startswith("uses:2: there is no file `")


def test_a_model_without_a_folder_uses_nothing() -> None:
    (problem,) = read_text(TOP, "top.yaml").problems
    assert problem.message == "`a.yaml` cannot be looked for: this text is in no folder"


def test_models_that_use_each_other_are_bounded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for number in range(12):
        following = "uses: {a: %s.yaml, b: %s.yaml}\n" % ((f"m{number + 1}",) * 2)
        text = f"assembly: m{number}\n{following}steps: {{in: {{do: Fit it., fits: [a, b]}}}}\n"
        (tmp_path / f"m{number}.yaml").write_text(text, encoding="utf-8")
    problems = read_file(tmp_path / "m0.yaml").problems
    assert "models use each other more than 8 deep" in {problem.message for problem in problems}
    (tmp_path / "m7.yaml").write_text(LEAF, encoding="utf-8")
    problems = read_file(tmp_path / "m0.yaml").problems
    assert {problem.message for problem in problems} == {
        "over 100 models are used in all, the most there may be"
    }
    (tmp_path / "a.yaml").write_text(LEAF, encoding="utf-8")
    monkeypatch.setattr(files, "MOST_STEPS", 1)
    assert only(tmp_path, TOP) == (
        "too-many:2: with the models that it uses it has 2 steps, and 1 are the most"
    )


def test_a_used_file_that_is_no_text_is_told(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_bytes(b"assembly: a\ntitle: 60 \xb0C\n")
    (tmp_path / "top.yaml").write_text(TOP, encoding="utf-8")
    problems = read_file(tmp_path / "top.yaml").problems
    assert [(Path(p.place.file).name, p.place.line, p.code) for p in problems if p.place] == [
        ("a.yaml", 2, "encoding")
    ]


OUTER = """\
assembly: bench
options: {drive: {choices: [motor, crank], default: motor}}
uses:
  motor: {file: motor.yaml, name: Motor, when: drive == motor}
parts: {belt: Belt, crank: {name: Crank, when: drive == crank}}
steps:
  crank-in: {do: Fit the crank., fits: crank, when: drive == crank}
  motor-in: {do: Fit the motor., fits: motor, after: motor/fan/blade-on, when: drive == motor}
  belt-on:
    do: Lay the belt on.
    fits: [belt, motor/clip]
    onto: [motor, crank]
    after: [motor-in, crank-in, motor/wired]
    needs: motor/held
"""
MOTOR = """\
assembly: motor
warning: It starts by itself.
options: {fan: {choices: [one, none], default: one}}
uses:
  fan: {file: fan.yaml, when: fan == one}
parts: {clip: Clip, body: Body}
states: {held: {begins: clamped, ends: wired}}
steps:
  clamped: {do: Clamp it., fits: body}
  fan-on: {do: Fit the fan., fits: fan, when: fan == one}
  wired: {do: Wire it., after: fan-on}
"""
FAN = "assembly: fan\nsteps:\n  blade-on: {do: Fit the blade., fits: blade}\n"


def _bench(folder: Path, outer: str = OUTER, motor: str = MOTOR) -> Path:
    for name, text in (("bench", outer), ("motor", motor), ("fan", FAN)):
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    return folder / "bench.yaml"


def test_a_used_model_that_is_not_there_falls_out_of_all_that_names_it(tmp_path: Path) -> None:
    file = _bench(tmp_path)
    with_motor, without = read_file(file), read_file(file, {"drive": "crank"})
    assert with_motor.problems == without.problems == ()
    assert with_motor.assembly is not None
    assert without.assembly is not None
    assert [step.id for step in with_motor.assembly.steps] == [
        *("motor/clamped", "motor/fan/blade-on", "motor/fan-on", "motor/wired"),
        *("motor-in", "belt-on"),
    ]
    assert [step.id for step in without.assembly.steps] == ["crank-in", "belt-on"]
    belt_on = without.assembly.steps[-1]
    assert [fit.part for fit in belt_on.fits] == ["belt"]
    assert [link.to for link in (*belt_on.onto, *belt_on.after)] == ["crank", "crank-in"]
    assert belt_on.needs == ()
    assert with_motor.assembly.warning == ("It starts by itself.",)
    assert without.assembly.warning == ()
    assert without.assembly.units == ()
    assert without.assembly.included == ()
    assert [taken.option for taken in without.assembly.taken] == ["drive"]
    assert {part.id for part in without.assembly.parts} == {"crank", "belt"}
    assert check(without.assembly) == ()


def test_a_condition_inside_a_used_model_holds_there(tmp_path: Path) -> None:
    passed = OUTER.replace("name: Motor, ", "name: Motor, options: {fan: none}, ")
    outer = passed.replace("after: motor/fan/blade-on, ", "")
    reading = read_file(_bench(tmp_path, outer))
    assert reading.problems == ()
    assert reading.assembly is not None
    steps = [step.id for step in reading.assembly.steps]
    assert steps == ["motor/clamped", "motor/wired", "motor-in", "belt-on"]
    assert [one.unit for one in reading.assembly.included] == ["motor"]
    named = read_file(_bench(tmp_path, passed))
    assert named.assembly is not None
    assert [one.id for one in named.assembly.steps] == steps
    assert named.assembly.steps[2].after == ()


def test_a_step_that_loses_its_used_model_is_told_on_which_condition(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    outer = OUTER.replace(", after: motor/fan/blade-on, when: drive == motor", "")
    _bench(tmp_path, outer)
    monkeypatch.chdir(tmp_path)
    reading = read_file(Path("bench.yaml"), {"drive": "crank"})
    assert as_text(reading.problems, reading.lines) == (
        "bench.yaml:8:40: error[nothing-left]: step `motor-in` keeps nothing to fit: `motor` is "
        "not there\n"
        "8 |   motor-in: {do: Fit the motor., fits: motor}\n"
        "  |                                        ^^^^^\n"
        "  ...\n"
        "4 |   motor: {file: motor.yaml, name: Motor, when: drive == motor}\n"
        "  |                                                ^^^^^^^^^^^^^^ `motor` is there only "
        "when drive == motor\n"
        "  = why: its card would tell the builder to fit something that is not in the kit\n"
        "  = fix: write `when: drive == motor` in the step as well"
    )


def test_a_state_that_loses_one_end_with_a_used_model_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    state = "states: {still: {begins: motor/clamped, ends: belt-on}}\nsteps:"
    _bench(tmp_path, OUTER.replace("steps:", state, 1))
    monkeypatch.chdir(tmp_path)
    reading = read_file(Path("bench.yaml"), {"drive": "crank"})
    assert as_text(reading.problems, reading.lines) == (
        "bench.yaml:6:26: warning[state]: state `still` is not there, because step "
        "`motor/clamped`, where it begins, is not\n"
        "6 | states: {still: {begins: motor/clamped, ends: belt-on}}\n"
        "  |                          ^^^^^^^^^^^^^\n"
        "  ...\n"
        "4 |   motor: {file: motor.yaml, name: Motor, when: drive == motor}\n"
        "  |                                                ^^^^^^^^^^^^^^ `motor/clamped` is done "
        "only when drive == motor\n"
        "  = why: steps that need it, or must not be done in it, are free of it now\n"
        "  = fix: write the same condition at both its ends"
    )


def test_each_model_for_itself_leaves_out_the_used_one_that_is_not_there(tmp_path: Path) -> None:
    file = _bench(tmp_path)
    assert [prefix for prefix, _ in read_file(file).apart()] == ["", "motor", "motor/fan"]
    (alone,) = read_file(file, {"drive": "crank"}).apart()
    assert alone[0] == ""
    assert alone[1].problems == ()
