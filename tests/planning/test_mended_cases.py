"""Mistakes of real work, one small model each: what comes out, what that spoils, how it goes on."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

import pytest

from sequencer.model.common import Link
from sequencer.model.quantities import read_amount
from sequencer.model.steps import Undo
from sequencer.planning.decide import decide
from sequencer.planning.mending import (
    Change,
    Fasteners,
    Made,
    Mistake,
    Paper,
    Wait,
    changed_steps,
    revise,
)
from sequencer.planning.plan import check, without
from sequencer.problem import Fact
from sequencer.reading import read_text
from tests.helpers import assembly, links, step, way
from tests.planning.test_cases import codes, model, said

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly
    from sequencer.model.quantities import Amount
    from sequencer.planning.mending import Mend


def mended(unit: Assembly, done: str, redo: str = "", again: str = "") -> Mend:
    """Mend a mistake given as words."""
    revised = revise(unit, done.split(), redo.split(), again.split())
    assert revised.proved
    assert revised.mend is not None
    return revised.mend


def out(unit: Assembly, done: str, redo: str = "", again: str = "") -> str:
    """Give the steps that must come out as words."""
    return " ".join(mended(unit, done, redo, again).undo)


def hours(text: str) -> Amount:
    return read_amount(text, ("time",))


def why(mend: Mend) -> list[str]:
    """Give the reasons in the order in which the steps come out."""
    return [mend.why[step].text for step in mend.undo]


# Parts that enter by an end.


def test_one_bracket_comes_off_and_not_the_rail() -> None:
    rail = model("runners-in-a-rail")
    mend = mended(rail, "rail-up left-bracket right-bracket")
    assert (mend.undo, mend.do) == (("right-bracket",), ("runners-in", "right-bracket"))
    assert why(mend) == [
        "`right-bracket` fits `bracket-r`, which shuts “right end”, a way in of `runners-in`"
    ]
    assert out(rail, "rail-up right-bracket left-bracket") == "left-bracket", "what was done last"
    assert mend.minutes == 10, "5 to take it off and 5 to put it back"


def test_next_best_is_the_other_bracket_and_never_both() -> None:
    rail = model("runners-in-a-rail")
    revised = revise(rail, ["rail-up", "left-bracket", "right-bracket"], others=3)
    assert [other.undo for other in revised.others] == [("left-bracket",)]


def test_nothing_comes_off_where_gliders_still_turn_in_from_the_front() -> None:
    rail = model("clip-in-runners")
    assert out(rail, "rail-up left-stop right-stop") == ""
    assert out(rail, "rail-up left-stop right-stop pelmet-on") == "pelmet-on"


def test_sleeve_still_goes_over_the_bare_end_and_else_one_eye_is_cut_off() -> None:
    rope = model("sleeve-before-the-second-eye")
    assert out(rope, "rope-out left-eye plate-on") == ""
    assert out(rope, "rope-out left-eye plate-on right-eye") == "right-eye"


def test_forgotten_gaiter_takes_all_in_front_of_it_off_and_a_new_ring() -> None:
    shaft = model("gaiters-over-the-open-end")
    mend = mended(shaft, "grease far-clip near-clip near-gaiter hub-on ring-on")
    assert mend.undo == ("ring-on", "hub-on", "near-gaiter", "near-clip")
    assert mend.do == ("far-gaiter", "near-clip", "near-gaiter", "hub-on", "ring-on")
    assert (mend.spoiled, mend.renew) == (("snap-ring",), {"snap-ring": 1})


def test_bearing_drawn_for_a_forgotten_cover_is_spoiled() -> None:
    rotor = model("rotor-from-the-middle")
    mend = mended(rotor, "shaft-out wheel-on left-collar right-collar left-bearing left-nut")
    assert mend.undo == ("left-nut", "left-bearing")
    assert (mend.spoiled, mend.renew) == (("bearing-l",), {"bearing-l": 1})
    assert mend.do[:3] == ("left-cover", "left-bearing", "left-nut")


def test_wheel_off_centre_asks_only_for_the_collars_to_be_loosened() -> None:
    rotor = model("rotor-from-the-middle")
    ends = "left-cover left-bearing left-nut right-cover right-bearing right-nut"
    done = f"shaft-out wheel-on left-collar right-collar {ends} lower-in centre lock-collars"
    assert out(rotor, done, redo="centre") == "lock-collars centre"


def test_bush_at_the_bottom_takes_all_in_front_of_it_out() -> None:
    leg = model("scraper-in-front-of-the-bush")
    mend = mended(leg, "outer-up bush-in felt-in scraper-in inner-in", redo="bush-in")
    assert mend.undo == ("inner-in", "scraper-in", "felt-in", "bush-in")
    assert mend.spoiled == ("scraper",)


# One-way steps.


def test_check_failed_after_locking_says_how_the_screws_come_loose() -> None:
    heat = "tighten it.\n    undo: {do: Warm the hub, time: 20 min, again: wipe-a}"
    wiped = "steps:\n  wipe-a: {do: Degrease the screw and its hole., time: 3 min}"
    fan = model("aligned-before-locked", ("tighten it.", heat), ("steps:", wiped))
    mend = mended(fan, "wipe-a wheel-on belt-on line-up lock-a lock-b", redo="line-up")
    assert mend.undo == ("lock-b", "lock-a", "line-up", "wipe-a")
    assert mend.prepare == ("wipe-a",)
    assert mend.do == ("wipe-a", "line-up", "lock-a", "lock-b")
    assert mend.made == Made(back=25, once_more=18, in_place=0, parts=0, money=0)


def test_potted_before_it_was_confirmed_takes_the_resin_out() -> None:
    lamp = model("side-confirmed-before-potting")
    mend = mended(lamp, "posts-in board-in pot")
    assert (mend.undo, mend.spoiled) == (("pot",), ("resin",))
    assert mend.do == ("confirm", "pot", "lid-on")


def test_potting_that_is_for_good_is_a_point_of_no_return() -> None:
    potted = ("Fill the box with resin.", "Fill the box., undo: {never: It sets like stone}")
    lamp = model("side-confirmed-before-potting", potted)
    revised = revise(lamp, ("posts-in", "board-in", "pot"))
    assert (revised.ok, revised.mend, revised.proved) == (False, None, True)
    (finding,) = revised.findings
    assert codes([finding]) == ["no-return pot"]
    assert said(finding) == [
        "`pot` would have to come out, and cannot be undone",
        "`pot` fits `resin`, which shuts “sight of both faces”, a way in of `confirm` "
        "for check `posts-up`",
        "`pot` is marked: It sets like stone",
    ]
    assert revise(lamp, ("posts-in", "board-in", "confirm", "pot")).ok, "no false alarm"


def test_ring_crushed_too_far_is_renewed_with_its_nut() -> None:
    pinion = model("crush-ring-once-too-far")
    assert check(pinion) == ()
    done = "rear-bearing-on pinion-in ring-on front-bearing-in nut-down"
    mend = mended(pinion, done, redo="ring-on")
    assert mend.undo == ("nut-down", "front-bearing-in", "ring-on")
    assert (mend.spoiled, mend.renew) == (("ring", "nut"), {"ring": 1, "nut": 1})
    assert mend.made == Made(back=21, once_more=21, in_place=0, parts=9, money=9)


def test_drag_read_again_needs_the_half_shafts_out_and_not_the_nut() -> None:
    pinion = model("crush-ring-once-too-far")
    done = "rear-bearing-on pinion-in ring-on front-bearing-in nut-down half-shafts-in"
    mend = mended(pinion, done, again="nut-down")
    assert (mend.undo, mend.in_place) == (("half-shafts-in",), ("nut-down",))
    assert mend.do == ("nut-down", "half-shafts-in")
    assert mend.minutes == 10 + 10 + 15


# Tight and loose, before and after.


def test_failing_clamp_is_the_only_one_to_come_off() -> None:
    shaft = model("one-feel-for-many-clamps")
    done = "shaft-in close-1 close-2 close-3 close-4 close-5"
    assert out(shaft, done, redo="close-3") == "close-3"


def test_low_float_opens_the_stack_again_and_leaves_the_strap_on() -> None:
    mortiser = model("stands-or-is-strapped")
    done = "slacken-strapped spacer-in tighten"
    assert out(mortiser, done, redo="spacer-in") == "tighten spacer-in"
    both = mended(mortiser, "slacken-strapped slacken-standing")
    assert both.undo == ("slacken-standing",)
    assert why(both) == ["of several steps `slacken-standing` is one too many: another does"]


def test_gaps_not_read_bring_the_shaft_back_in() -> None:
    roller = model("gaps-before-the-shaft-is-out")
    mend = mended(roller, "shaft-out")
    assert mend.do == ("read-gaps", "shaft-out", "shims-in", "shaft-in")
    assert why(mend) == [
        "`shaft-out` was done too early: `read-gaps` builds on `shaft`, which `shaft-out` takes off"
    ]
    assert mended(roller, "shaft-out shims-in shaft-in").minutes == 120


def test_passes_that_were_begun_are_carried_on_at_once() -> None:
    head = model("head-in-passes")
    mend = mended(head, "gasket-on head-on pass-1 pass-2")
    assert (mend.undo, mend.do) == ((), ("pass-3", "pipe-on"))
    broken_off = mended(head, "gasket-on head-on pass-1 pipe-on")
    assert broken_off.undo == ("pipe-on",)
    assert broken_off.do == ("pass-2", "pass-3", "pipe-on")


def test_broken_pass_begins_again_at_its_first_bolt() -> None:
    head = model("head-in-passes")
    mend = mended(head, "gasket-on head-on pass-1 pass-2", again="pass-2")
    assert (mend.undo, mend.do) == ((), ("pass-2", "pass-3", "pipe-on"))
    assert mend.minutes == 5


def test_leaking_head_comes_off_with_a_new_gasket() -> None:
    head = model("head-in-passes")
    done = "gasket-on head-on pass-1 pass-2 pass-3 pipe-on"
    mend = mended(head, done, redo="gasket-on")
    assert mend.undo == ("pipe-on", "pass-3", "pass-2", "pass-1", "head-on", "gasket-on")
    assert (mend.spoiled, mend.made.money) == (("gasket",), 24)


def test_spacer_forgotten_before_the_housing_leaves_the_trial_finished() -> None:
    drive = model("spacer-before-the-housing")
    done = "pinion-in dummy-on measure dummy-off pack-in housing-on bolts-tight"
    mend = mended(drive, done)
    assert mend.undo == ("bolts-tight", "housing-on")
    assert mend.do == ("spacer-in", "housing-on", "bolts-tight")
    assert mend.minutes == 36


def test_trial_is_run_again_where_its_ground_has_changed() -> None:
    ground = ("dummy-on: {do: Bolt the dummy cap on.,", "dummy-on: {after: spacer-in, do: Bolt.,")
    drive = model("spacer-before-the-housing", ground)
    done = "pinion-in dummy-on measure dummy-off pack-in housing-on bolts-tight"
    mend = mended(drive, done)
    assert mend.undo[-3:] == ("dummy-off", "measure", "dummy-on")
    assert mend.do[:4] == ("spacer-in", "dummy-on", "measure", "dummy-off")
    # out: bolts, housing and pack; again: these and the trial, of which nothing is on
    assert mend.made == Made(back=20, once_more=50, in_place=0, parts=0, money=0)


def test_torn_gasket_is_bought_and_its_faces_wiped_again() -> None:
    chest = model("gasket-on-dry-faces")
    mend = mended(chest, "faces-wiped gasket-laid cover-on nuts-tight", redo="gasket-laid")
    assert mend.undo == ("nuts-tight", "cover-on", "gasket-laid", "faces-wiped")
    assert (mend.spoiled, mend.renew) == (("gasket",), {"gasket": 1})
    assert (mend.prepare, mend.void) == (("faces-wiped",), ("nuts-tight",))
    assert mend.do[-1] == "lagging-on"
    assert mend.made == Made(back=16, once_more=21, in_place=0, parts=6, money=6)


def test_part_on_order_can_wait_and_is_let_in_by_the_cheaper_way() -> None:
    pump = model("strainer-on-order")
    split = without(pump, "strainer")
    assert split is not None
    assert split.now == ("rotor-in", "foot-on"), "one way in is left open"
    assert out(pump, "rotor-in foot-on") == ""
    mend = mended(pump, "rotor-in foot-on lid-on gauge-on")
    assert (mend.undo, mend.minutes) == (("gauge-on", "lid-on"), 20)
    dearer = ("time: 6 min", "time: 9 min")
    assert out(model("strainer-on-order", dearer), "rotor-in foot-on lid-on gauge-on") == "foot-on"


# What a mend tells besides.


def test_wait_after_a_step_done_again_is_told_and_not_in_the_cost() -> None:
    cured = replace(step("turn"), after=(Link("glue", wait=hours("24 h")),))
    lamp = assembly(step("glue", fits="felt"), step("stand"), cured)
    mend = mended(lamp, "glue stand", redo="glue")
    assert mend.waits == (Wait("turn", "glue", 24 * 60),)
    assert mend.minutes == 10
    assert mended(lamp, "glue stand").waits == (), "it runs already"
    written_before = replace(step("glue"), before=(Link("turn", wait=hours("2 h")),))
    of_section = replace(step("turn"), after=(Link("base", "section", wait=hours("3 h")),))
    unit = assembly(replace(written_before, section="base"), replace(of_section, section="top"))
    waits = mended(unit, "glue", again="glue").waits
    assert waits == (Wait("turn", "glue", 180),), "the longer of the two"


def test_step_done_twice_over_is_a_wrong_question() -> None:
    with pytest.raises(ValueError, match="twice"):
        revise(assembly(step("a")), ("a", "a"))


def test_strange_steps_and_steps_not_done_are_told_together() -> None:
    revised = revise(assembly(step("a"), step("b")), ("a", "c"), redo=("b",), again=("b",))
    assert not revised.ok
    assert [finding.code for finding in revised.findings] == ["unknown", "not-done"]
    assert revised.findings[1].message == "`b` is to be done again, and was not done yet"


def test_model_without_an_order_says_why_instead() -> None:
    circle = assembly(step("a", after="b"), step("b", after="a"))
    revised = revise(circle, ("a",))
    assert [finding.code for finding in revised.findings] == ["circle"]


def test_what_no_way_is_open_to_is_told_with_what_shuts_it() -> None:
    # The cap shuts the way to the lid that hangs on it: it should have come off in between.
    first = step("first", fits="lid", ways=(way("top", "cap"),))
    second = step("second", fits="cap", before="first")
    off = step("off", takes_off=links("cap", "part"), before="first")
    unit = assembly(second, off, first)
    revised = revise(unit, ("second", "first"), redo=("second",))
    assert not revised.ok
    (finding,) = revised.findings
    assert codes([finding]) == ["no-return first"]
    assert said(finding) == [
        "what would have to come out cannot be got at: `first` and `second`",
        "`second` fits `cap`, which shuts “top”, a way in of `first` until `off` takes it off",
        "`second` comes before `first`",
    ]


def test_undecided_questions_are_owned_up_to(monkeypatch: pytest.MonkeyPatch) -> None:
    hasty = partial(decide, most_peels=0)
    monkeypatch.setattr("sequencer.planning.mending.conditions.decide", hasty)
    guard = step("guard-on", fits="guard")
    back_in = step("back", after="guard-on", ways=(way("side", "guard"),))
    unit = assembly(guard, back_in, step("guard-off", takes_off=links("guard", "part")))
    revised = revise(unit, ("guard-on",))
    assert (revised.ok, revised.proved) == (False, False)
    assert [finding.code for finding in revised.findings] == ["undecided"]


HEAD = """\
assembly: head
defaults: {time: 5 min, temperature: 20 °C}
joints:
  bolts: {name: Head bolts, thread: M10, count: 6, torque: 30 N·m, passes: [30 N·m, 90°]}
surfaces: {face: Face of the block}
compounds: {paste: {name: Jointing paste, fixture: 30 min, cure: {20 °C: 12 h}}}
steps:
  paste-on: {do: Lay the bead., apply: {compound: paste, to: face}}
  head-on: {do: Set the head on., after: paste-on, closes: face}
  snug: {do: Tighten all bolts to 30 N·m., tighten: bolts, after: head-on}
  turn: {do: Turn each bolt by 90°., tighten: bolts, after: snug}
  fill: {do: Fill the jacket., loads: face, after: turn}
"""


def test_bolts_turned_by_an_angle_are_new_and_all_that_tightened_them_comes_out() -> None:
    head = read_text(HEAD, "head.yaml").assembly
    assert head is not None
    done = "paste-on head-on snug turn fill"
    mend = mended(head, done, redo="turn")
    assert mend.undo == ("fill", "turn", "snug")
    assert mend.fasteners == (Fasteners("bolts", "turn", 6),)
    assert why(mend)[2] == (
        "`snug` tightens `bolts`, which serve once and are spoiled when `turn` is taken back"
    )
    assert mend.spoiled == (), "bolts are no part of the model"
    afresh = mended(head, done, again="turn")
    assert (afresh.undo, afresh.in_place) == (mend.undo, ()), "never tightened a second time"
    plain = read_text(HEAD.replace(", 90°]", "]"), "head.yaml").assembly
    assert plain is not None
    assert mended(plain, done, redo="turn").undo == ("fill", "turn")


def test_time_to_cure_is_waited_for_again_where_the_joint_was_open() -> None:
    head = read_text(HEAD, "head.yaml").assembly
    assert head is not None
    done = "paste-on head-on snug turn"
    assert mended(head, done, redo="head-on").waits == (Wait("fill", "head-on", 720, "paste"),)
    assert mended(head, done, redo="turn").waits == (), "it cures meanwhile"


def test_cure_time_that_nobody_knows_is_a_wait_without_minutes() -> None:
    cold = _read(HEAD.replace("temperature: 20", "temperature: 5"))
    done = "paste-on head-on snug turn"
    known, unknown = Wait("fill", "head-on", 30, "paste"), Wait("fill", "head-on", None, "paste")
    assert mended(cold, done, redo="head-on").waits == (known, unknown)
    assert mended(cold, done, redo="turn").waits == (), "it was waited for, or not, before"


def test_part_left_out_with_leave_is_not_there_to_come_out() -> None:
    rail = model("runners-in-a-rail")
    done = ("rail-up", "left-bracket", "right-bracket")
    mend = revise(rail, done, skipped=("right-bracket",)).mend
    assert mend is not None
    assert (mend.undo, mend.do, mend.minutes) == ((), ("runners-in",), 0)


def test_leave_to_leave_a_step_out_is_no_leave_to_change_the_order_of_the_others() -> None:
    undo = Undo(spoils=links("seal", "part"), again=links("shaft"))
    sealed = step("seal", fits="seal", after="shaft", undo=undo)
    unit = assembly(step("shaft", fits="shaft"), sealed, step("lid", fits="lid", after="seal"))
    done = ("shaft", "seal", "lid")
    mend = revise(unit, done, ("shaft",), skipped=("seal",)).mend
    assert mend is not None
    assert (mend.undo, mend.do) == (("lid", "shaft"), ("shaft", "lid"))
    assert (mend.minutes, mend.spoiled) == (20, ())
    assert why(mend) == ["`lid` comes after `seal`", "`shaft` itself has to be done again"]


def test_part_that_was_to_come_off_and_did_not_still_shuts_the_way() -> None:
    guard = step("guard-on", fits="guard")
    off = step("guard-off", takes_off=links("guard", "part"), after="guard-on")
    unit = assembly(guard, off, step("back", after="guard-off", ways=(way("side", "guard"),)))
    done = ("guard-on", "guard-off")
    mend = mended(unit, " ".join(done))
    assert (mend.undo, mend.do) == ((), ("back",))
    revised = revise(unit, done, skipped=("guard-off",))
    (finding,) = revised.findings
    assert codes([finding]) == ["no-return back"]
    assert said(finding) == [
        "what is still to be done can no longer be, whatever comes out: `back`, `guard-on` and "
        "`guard-off`",
        "`guard-on` fits `guard`, which shuts “side”, a way in of `back`",
        "`guard-off` comes after `guard-on`",
        "`back` comes after `guard-off`",
    ]
    assert finding.fix == (
        "check these facts against the unit on the bench, and change the model by what you see; "
        "or take back the leave to leave out `guard-off`: name it under --redo"
    )


def test_step_left_out_has_nothing_to_be_done_again() -> None:
    unit = assembly(step("a"), step("b", after="a"))
    revised = revise(unit, ("a", "b"), ("a",), skipped=("a",))
    assert codes(revised.findings) == ["not-done a"]


def test_naming_a_step_left_out_takes_the_leave_back() -> None:
    unit = assembly(step("a"), step("b", after="a"))
    paper = Paper("A", "")
    mistake = Mistake(
        done=("a", "b"),
        order=("a", "b"),
        was=paper,
        now=paper,
        numbered_by=paper,
        redo={"b": "torn"},
        skipped=("a",),
    )
    told = mistake.and_also(["a"], [])
    assert (told.done, told.skipped, told.redo) == (("b",), (), {"b": "torn"})
    mend = revise(unit, told.done, tuple(told.redo), skipped=told.skipped).mend
    assert mend is not None
    assert (mend.undo, mend.do) == (("b",), ("a", "b"))
    assert mistake.and_also(["b"], []).redo == {"b": "torn"}


def test_nothing_done_is_a_mend_without_cost() -> None:
    mend = mended(assembly(step("b", after="a"), step("a")), "")
    assert (mend.undo, mend.do, mend.minutes) == ((), ("a", "b"), 0)


def test_what_is_left_keeps_to_the_order_it_is_given() -> None:
    unit = assembly(step("a"), step("b"), step("c"))
    revised = revise(unit, ("b",), order=("c", "b", "a"))
    assert revised.mend is not None
    assert revised.mend.do == ("c", "a")


def test_spent_budget_gives_a_plan_and_how_much_better_another_might_be() -> None:
    rail = model("runners-in-a-rail")
    revised = revise(rail, ("rail-up", "left-bracket", "right-bracket"), budget=1)
    assert revised.mend is not None
    assert (revised.mend.undo, revised.proved, revised.gap) == (("right-bracket",), True, 0)
    blind = revise(rail, ("rail-up", "left-bracket", "right-bracket"), budget=0)
    assert blind.mend is not None
    assert (blind.mend.undo, blind.proved, blind.gap) == (("right-bracket",), False, 10)


# A changed model.


def _screwed(
    torque: str = "10 N·m", count: str = "4", screws: str = "4 × Screw", do: str = "Tighten."
) -> str:
    return f"""\
assembly: lid
parts: {{screws: {screws}}}
joints: {{lid-joint: {{count: {count}, torque: {torque}}}}}
checks: {{gap: {{measure: Gap, limit: at most 0.1 mm}}}}
steps:
  lid-on: {{do: Lay the lid on., note: Clean}}
  tight: {{do: {do}, fits: screws, tighten: lid-joint, after: lid-on}}
  look: {{do: Measure., check: gap, after: tight}}
"""


_TORQUE = "the torque of `lid-joint` was 10 N·m and is"


@pytest.mark.parametrize(
    ("changed", "kind", "fact"),
    [
        ({"torque": "12 N·m"}, "again", f"{_TORQUE} 12 N·m"),
        ({"torque": "8 N·m"}, "ask", f"{_TORQUE} 8 N·m"),
        ({"torque": "9 to 12 N·m"}, "ask", f"{_TORQUE} 9 to 12 N·m"),
        ({"torque": "10 N·m then 90°"}, "ask", f"{_TORQUE} 10 N·m then 90°"),
        ({"count": "6"}, "redo", "joint `lid-joint` has other fasteners"),
        ({"screws": "5 × Screw"}, "redo", "`screws` is another part or another count"),
        ({"do": "Tighten in 2 rounds."}, "redo", "what `tight` does or fits has changed"),
    ],
)
def test_changed_figure_says_what_to_do_about_a_step(
    changed: dict[str, str], kind: str, fact: str
) -> None:
    (change,) = changed_steps(_read(_screwed()), _read(_screwed(**changed)))
    assert (change.step, change.kind) == ("tight", kind)
    assert [one.text for one in change.facts] == [fact]


def test_changed_limit_asks_for_the_check_afresh() -> None:
    tighter = _screwed().replace("0.1 mm", "0.08 mm")
    (change,) = changed_steps(_read(_screwed()), _read(tighter))
    assert (change.step, change.kind) == ("look", "again")
    assert change.facts == (Fact("check `gap` has other figures", ("checks", "gap")),)


def test_words_order_and_the_same_figure_in_another_unit_change_nothing() -> None:
    old = _screwed()
    new = _screwed("1000 N·cm", do="Tighten crosswise.")
    new = new.replace("note: Clean", "note: Clean both faces").replace(", after: lid-on", "")
    assert changed_steps(_read(old), _read(new)) == ()


def test_step_that_is_gone_is_told_and_a_new_one_is_not() -> None:
    new = _screwed().replace("  look:", "  new-look:")
    assert changed_steps(_read(_screwed()), _read(new)) == (Change("look", "gone"),)


def test_raised_torque_is_done_in_place_or_by_the_cheapest_way_to_it() -> None:
    lid = _read(_screwed("12 N·m"))
    mend = mended(lid, "lid-on tight look", again="tight")
    assert (mend.undo, mend.do, mend.in_place) == ((), ("tight",), ("tight",))


def _read(text: str) -> Assembly:
    reading = read_text(text, "unit.yaml")
    assert reading.problems == ()
    assert reading.assembly is not None
    return reading.assembly
