"""All that a sheet needs about one joint, from a model as it is typed."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from sequencer.model.assembly import Assembly
from sequencer.model.fastening import Torque, TorqueValue
from sequencer.reading import read_text
from sequencer.trade.basics import Unknown
from sequencer.trade.worked import WorkedJoint, bench_of
from sequencer.trade.worked_extras import WorkedDrag
from tests.trade.figures_typed import torque

TOOLS = """\
tools:
  small: {range: 10 to 60 N·m, reads: 1 N·m, length: 300 mm}
  big: {range: 20 to 150 ft-lb, reads: 1 ft-lb, length: 18 in}
  gauge: {reads: 0.01 mm}
"""


def read(joint: str, tools: str = TOOLS, use: str = "[small, gauge]", top: str = "") -> Assembly:
    text = (
        f"assembly: unit\n{top}{tools}joints:\n  j:\n"
        + "".join(f"    {line}\n" for line in joint.splitlines())
        + f"steps:\n  s:\n    do: Tighten the screws.\n    tighten: j\n    tools: {use}\n"
    )
    reading = read_text(text, "unit.yaml")
    assert reading.problems == ()
    assert reading.assembly is not None
    return reading.assembly


def work(joint: str, tools: str = TOOLS, use: str = "[small, gauge]", top: str = "") -> WorkedJoint:
    assembly = read(joint, tools, use, top)
    return bench_of(assembly).worked(assembly.joints[0], assembly.steps[0])


def settings(found: WorkedJoint) -> list[tuple[str, str, list[str]]]:
    return [(one.text, one.way, [each.text for each in one.settings]) for one in found.passes]


def test_shares_become_marks_of_the_wrench_and_the_last_goes_once_more_around() -> None:
    found = work("count: 8\ntorque: 55 N·m\npasses: [30 %, 60 %, 100 %]\npattern: cross")
    assert settings(found) == [
        ("30 %", "pattern", ["16 N·m"]),  # 16.5 lies between two marks; the lower of equal ones
        ("60 %", "pattern", ["33 N·m"]),
        ("100 %", "pattern", ["55 N·m"]),
        ("100 %", "round", ["55 N·m"]),
    ]
    assert found.order == (1, 5, 3, 7, 2, 6, 4, 8)
    assert found.labels == ("1", "2", "3", "4", "5", "6", "7", "8")
    assert not found.single_use


def test_passes_of_torques_and_angles_are_worked_as_typed() -> None:
    found = work(
        "count: 10\nplaces: [a, b, c, d, e, f, g, h, k, l]\ntorque: 42 N·m\n"
        "passes: [29 N·m, 69 N·m, back 180°, back 180°, 42 N·m, 80 to 90°, 40 to 45°]",
        use="[[small, big]]",
    )
    assert settings(found) == [
        ("29 N·m", "pattern", ["29 N·m", "21 ft·lbf"]),
        ("69 N·m", "pattern", ["69 N·m", "51 ft·lbf"]),
        ("back 180°", "pattern", []),
        ("back 180°", "pattern", []),
        ("42 N·m", "pattern", ["42 N·m", "31 ft·lbf"]),
        ("80 to 90°", "pattern", []),
        ("40 to 45°", "pattern", []),
    ]
    assert [one.kind for one in found.passes][-3:] == ["torque", "angle", "angle"]
    assert (found.pattern, found.order) == (None, tuple(range(1, 11)))
    assert found.labels == ("a", "b", "c", "d", "e", "f", "g", "h", "k", "l")
    assert found.single_use


def test_a_torque_then_an_angle_is_two_passes_and_serves_once() -> None:
    found = work("torque: 40 N·m then 90°")
    assert settings(found) == [("40 N·m", "pattern", ["40 N·m"]), ("90°", "pattern", [])]
    assert found.single_use


def test_finger_tight_sets_no_wrench() -> None:
    found = work("torque: finger tight")
    assert found.torque is not None
    assert (found.torque.amount, found.torque.wrenches, found.torque.target) == (None, (), None)
    assert [(one.kind, one.text) for one in found.passes] == [("hand", "finger tight")]


def test_wrenches_are_those_the_step_names_or_all_there_are() -> None:
    named = work("torque: 40 N·m").torque
    assert named is not None
    assert (named.named, [one.tool.id for one in named.wrenches]) == (True, ["small"])
    anyone = work("torque: 40 N·m", use="gauge").torque
    assert anyone is not None
    assert (anyone.named, [one.tool.id for one in anyone.wrenches]) == (False, ["small", "big"])


def test_an_adapter_changes_setting_and_band() -> None:
    """300 ft·lbf on an 18 in wrench with 6 in in line is set to 225: see the adapters' tests."""
    kit = "tools:\n  tw: {range: 100 to 600 ft-lb, length: 18 in}\n"
    found = work("torque: 290 to 310 ft-lb\nadapter: {length: 6 in}", kit, "tw").torque
    assert found is not None
    (wrench,) = found.wrenches
    assert (wrench.text, wrench.low, wrench.high) == ("225 ft·lbf", "218 ft·lbf", "232 ft·lbf")
    assert wrench.correction == Fraction(1, 4)
    assert found.target is not None
    assert [found.target.low, found.target.high] == [290, 310]


def test_at_a_right_angle_no_length_is_needed() -> None:
    kit = "tools:\n  tw: {range: 100 to 600 ft-lb}\n"
    right = work("torque: 300 ft-lb\nadapter: {length: 6 in, angle: 90°}", kit, "tw").torque
    in_line = work("torque: 300 ft-lb\nadapter: 6 in", kit, "tw").torque
    assert right is not None
    assert in_line is not None
    assert right.wrenches[0].text == "300 ft·lbf"
    assert right.wrenches[0].correction == 0
    assert right.wrenches[0].usable
    assert in_line.wrenches[0].setting == Unknown(
        "`tw` has no `length`, and its setting with the adapter needs it"
    )


def test_nothing_is_taken_until_someone_says_why() -> None:
    """Common practice, no source: 55 to 60 in one, 65 in another; 60 ft·lbf is 81.3 N·m."""
    two = (
        "torque:\n  value: 55 to 60 ft-lb\n  source: sheet\n"
        "  also: [{value: 65 ft-lb, source: card}]"
    )
    open_ = work(two + "\npasses: [50 %, 100 %]").torque
    assert open_ is not None
    assert (open_.choice.taken, open_.wrenches, open_.target) == (None, (), None)
    assert [one.source for one in open_.choice.candidates] == ["sheet", "card"]
    chosen = work(two + "\n  because: The card is for the old stud").torque
    assert chosen is not None
    assert chosen.choice.taken is not None
    assert chosen.choice.taken.text == "55 to 60 ft-lb"
    assert chosen.choice.disagree


def test_defaults_hold_where_a_joint_says_nothing() -> None:
    found = work("thread: M8\ntorque: 20 N·m", top='defaults: {grade: "8.8", surface: oiled}\n')
    assert found.in_force.grade is not None
    assert (found.in_force.grade.label, found.in_force.surface.kind) == ("8.8", "oiled")
    assert found.check is not None
    assert not isinstance(found.check, Unknown)


def test_a_compound_counts_as_its_kind_or_by_its_own_nut_factor() -> None:
    compounds = (
        "compounds:\n"
        "  blue: {name: Blue locker, kind: threadlocker}\n"
        "  paste: {kind: anti-seize paste, nut_factor: 0.13}\n"
    )
    blue = work("surface: blue", top=compounds).in_force.surface
    paste = work("surface: paste", top=compounds).in_force.surface
    assert (blue.label, blue.kind, blue.factor.usual) == ("Blue locker", "threadlocker", 0.18)
    assert (paste.kind, paste.factor.usual) == ("anti-seize", 0.13)
    assert paste.factor.band.low < 0.13 < paste.factor.band.high


def test_what_is_not_known_turns_the_check_off_in_words() -> None:
    found = work('thread: M8\ngrade: "8.9"\ntorque: 20 N·m').check
    assert found == Unknown(
        "grade `8.9` is not one known here for M8×1.25, "
        "so the torque is not checked against the bolt"
    )
    assert work("torque: 20 N·m").check == Unknown(
        "no thread is given, so the torque is not checked against the bolt"
    )


def test_drag_is_added_or_included_as_the_model_says_and_never_by_default() -> None:
    """The most for 3/8-24 is 80 in·lbf: MSFC-STD-486B, table XI."""
    added = work("thread: 3/8-24\ntorque: 20 to 25 N·m\ndrag: add").drag
    included = work("thread: M10\ntorque: 20 to 25 N·m\ndrag: included").drag
    assert added is not None
    assert added.added
    assert added.usual is not None
    assert round(added.usual.most_nm, 2) == 9.04
    assert included == WorkedDrag(added=False, usual=None)
    assert work("thread: M10\ntorque: 20 to 25 N·m").drag is None


def test_a_castle_nut_lines_up_inside_the_band_by_the_stricter_rule() -> None:
    """FAA AC 43.13-1B, 7-40: from the low limit on, and not past the high one."""
    castle = work("torque: 20 to 25 N·m\nalign: castle").castle
    assert castle is not None
    assert (castle.source, castle.over) == ("FAA AC 43.13-1B", 0)
    assert work("torque: 20 to 25 N·m").castle is None


def test_without_a_pattern_no_order_is_prescribed() -> None:
    found = work("count: 4\ntorque: 20 N·m")
    assert (found.pattern, found.order) == (None, (1, 2, 3, 4))
    crossed = work("count: 4\ntorque: 20 N·m\npattern: cross")
    assert crossed.order == (1, 3, 2, 4)


def test_the_last_pass_goes_round_and_the_others_by_the_pattern() -> None:
    found = work("count: 4\ntorque: 20 N·m\npattern: cross\npasses: [50 %]")
    assert [one.way for one in found.passes] == ["pattern", "pattern", "round"]


def test_a_joint_takes_the_torque_of_the_step_that_tightens_it() -> None:
    assembly = read("count: 4")
    step = replace(assembly.steps[0], torque=Torque(value=_value("25 N·m")))
    assembly = replace(assembly, steps=(step,))
    found = bench_of(assembly).worked(assembly.joints[0], step).torque
    assert found is not None
    assert found.path == ("steps", "s", "torque")
    assert [one.text for one in found.wrenches] == ["25 N·m"]


def test_a_torque_of_a_step_alone_is_worked_likewise() -> None:
    assembly = read("count: 4")
    step = replace(assembly.steps[0], tighten=(), torque=Torque(value=_value("25 N·m")))
    found = bench_of(assembly).worked_step(step)
    assert found is not None
    assert [(one.kind, [each.text for each in one.settings]) for one in found.passes] == [
        ("torque", ["25 N·m"])
    ]
    assert bench_of(assembly).worked_step(replace(step, torque=None)) is None


def _value(text: str) -> TorqueValue:
    return TorqueValue(text=text, amount=torque(text))
