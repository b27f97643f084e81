"""The state that a log tells: done, read, signed, spoiled, and what a mend starts from."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.assembly import Assembly
from sequencer.model.checking import Check, Otherwise
from sequencer.model.common import Limit
from sequencer.model.fastening import Joint
from sequencer.model.quantities import read_amount
from sequencer.records.entries import (
    Accept,
    Arrived,
    Correct,
    Done,
    Entry,
    Issue,
    Note,
    PartDone,
    Reading,
    Short,
    Sign,
    Skip,
    Spoiled,
    Torque,
    Undone,
)
from sequencer.records.replay import model_of, state_of
from sequencer.records.state import mending
from tests.helpers import assembly, links, step
from tests.records.making import entries, log, start_of, state

DEPTH = Check(
    id="depth",
    measure="Seat depth",
    limit=Limit(value=read_amount("at least 1.00 in", ("length",))),
    else_=Otherwise(again_from=links("seat"), most=3),
)
DRAG = Check(
    id="drag",
    measure="Turning torque",
    limit=Limit(value=read_amount("15 to 30 in-lb", ("torque",))),
    else_=Otherwise(renew=links("sleeve", "part")),
)
MODEL = replace(
    assembly(
        step("seat", fits="converter"),
        step("sleeve-on", fits="sleeve"),
        step("measure", check=links("depth", "check")),
        step("nut", fits="nut", check=links("drag", "check"), hold="foreman"),
        step("housing", tighten=links("head", "joint")),
        step("lid", fits="lid"),
    ),
    checks=(DEPTH, replace(DRAG, upset_by=links("housing"))),
    joints=(Joint(id="head", count=10),),
)
SHALLOW = Reading(check="depth", value="0.50 in")
DEEP = Reading(check="depth", value="1.05 in")


def test_steps_count_in_the_order_in_which_they_were_done() -> None:
    told = state(MODEL, "sleeve-on", "seat measure")
    assert told.done == ("sleeve-on", "seat", "measure")
    assert told.open == ("nut", "housing", "lid")
    assert state(MODEL, "seat", "sleeve-on", "seat").done == ("seat", "sleeve-on")


def test_a_step_taken_back_and_done_again_has_a_new_turn() -> None:
    told = state(MODEL, "seat sleeve-on", Undone(steps=("seat",)), "seat")
    assert told.done == ("sleeve-on", "seat")
    assert told.done_by["seat"].number == 4
    assert state(MODEL, "seat", Undone(steps=("seat",))).done == ()


def test_what_was_corrected_is_as_if_it_had_never_been_written() -> None:
    wrong = state(MODEL, "seat", "lid", Correct(corrects=3))
    assert wrong.done == ("seat",)
    assert 3 in wrong.corrections


def test_names_that_the_model_lacks_are_kept_and_count_for_nothing() -> None:
    told = state(MODEL, "seat polish", Spoiled(part="shim"), Reading(check="gap", value="3 mm"))
    assert told.done == ("seat",)
    assert told.strange == ((2, "step", "polish"), (3, "part", "shim"), (4, "check", "gap"))
    assert told.spoiled == {}
    assert told.readings["gap"][0].verdict.word == "cannot be told"


def test_a_pass_that_was_interrupted_begins_again_at_the_first_fastener() -> None:
    """Pass 2 of 3 on 6 of 10 bolts, and a change of shift: see what is told to the next."""
    part = PartDone(step="housing", pass_=2, count=6, of=3)
    told = state(MODEL, "seat", part)
    assert told.done == ("seat",)
    assert told.part_done == {"housing": part}
    assert not told.is_rest_point
    again = "left in pass 2 of 3 after 6 fasteners: begin pass 2 again at the first fastener"
    assert mending(told).unfinished == {"housing": again}
    for other, words in (
        (
            replace(part, count=1, of=None),
            "left in pass 2 after 1 fastener: begin pass 2 again at ",
        ),
        (replace(part, count=0), "left before pass 2 of 3: begin it at the first fastener"),
        (replace(part, count=10), "left after pass 2 of 3: begin pass 3"),
        (replace(part, pass_=3, count=10), "left after the last pass, pass 3 of 3: only its tick "),
    ):
        assert told.halted(other).startswith(words)
    later = state(MODEL, "seat", part, replace(part, pass_=3, count=1))
    assert later.part_done["housing"].pass_ == 3
    assert state(MODEL, "seat", part, "housing").part_done == {}
    assert state(MODEL, "seat", part, Undone(steps=("housing",))).part_done == {}


def test_a_failed_check_asks_to_start_again_until_it_was_read_anew() -> None:
    failed = ("seat measure", SHALLOW)
    mend = mending(state(MODEL, *failed))
    why = "check `depth` failed: 0.50 in, below the limit (at least 1.00 in)"
    assert mend.redo == {"seat": why}
    assert mend.again == {"measure": why}
    taken_out = mending(state(MODEL, *failed, Undone(steps=("measure", "seat"))))
    assert (taken_out.redo, taken_out.again) == ({}, {})
    reseated = state(MODEL, *failed, Undone(steps=("seat",)), "seat")
    assert mending(reseated).redo == {}
    assert mending(reseated).again == {"measure": why}  # it still stands at the old reading
    read = state(MODEL, *failed, Undone(steps=("seat",)), "seat measure", DEEP)
    assert (mending(read).redo, mending(read).again) == ({}, {})
    assert read.failing("depth") is None


def test_a_failed_check_that_was_accepted_asks_for_nothing() -> None:
    told = state(MODEL, "seat measure", SHALLOW, Accept(check="depth"))
    assert told.failing("depth") is None
    assert mending(told).redo == {}
    again = state(MODEL, "seat measure", SHALLOW, Accept(check="depth"), SHALLOW)
    assert again.failing("depth") is not None  # an acceptance speaks for the reading before it


def test_a_part_to_be_renewed_takes_its_steps_with_it() -> None:
    told = state(MODEL, "seat sleeve-on measure nut", Reading(check="drag", value="34 in-lb"))
    why = "check `drag` failed: 34 in-lb, above the limit (15 to 30 in-lb)"
    mend = mending(told)
    assert mend.redo == {"sleeve-on": why}
    assert mend.again == {"nut": why}
    assert mend.spoiled == ("sleeve",)


def test_a_spoiled_part_takes_its_steps_with_it_until_they_were_done_again() -> None:
    told = state(MODEL, "seat sleeve-on", Spoiled(part="sleeve"))
    assert mending(told).redo == {"sleeve-on": "`sleeve` was spoiled (entry 3)"}
    assert mending(told).spoiled == ("sleeve",)
    out = state(MODEL, "seat sleeve-on", Spoiled(part="sleeve"), Undone(steps=("sleeve-on",)))
    assert mending(out).redo == {}
    assert mending(out).spoiled == ("sleeve",)  # a new one is still to be got
    anew = state(
        MODEL, "sleeve-on", Spoiled(part="sleeve"), Undone(steps=("sleeve-on",)), "sleeve-on"
    )
    assert (mending(anew).redo, mending(anew).spoiled) == ({}, ())


def test_a_part_spoiled_in_one_of_several_steps_takes_only_that_one() -> None:
    two = assembly(step("left", fits="clip"), step("right", fits="clip"))
    told = state(two, "left right", Spoiled(part="clip", step="left"))
    assert tuple(mending(told).redo) == ("left",)
    assert tuple(mending(state(two, "left right", Spoiled(part="clip"))).redo) == ("left", "right")


def test_what_upsets_a_check_makes_a_good_reading_worthless_and_not_a_bad_one() -> None:
    good = state(MODEL, "nut", Reading(check="drag", value="20 in-lb"), "housing")
    assert good.current("drag") == ()
    assert good.readings["drag"][0].void == "`housing` upset it"
    bad = state(MODEL, "nut", Reading(check="drag", value="34 in-lb"), "housing")
    assert bad.failing("drag") is not None


def test_the_last_reading_at_each_place_counts_those_of_later_rounds_first() -> None:
    readings = [
        Reading(check="depth", value="1.10 in", place="left", round=2),
        Reading(check="depth", value="0.50 in", place="left", round=1),
        Reading(check="depth", value="0.60 in", place="right"),
        Reading(check="depth", value="1.20 in", place="right"),
    ]
    told = state(MODEL, "seat measure", *readings)
    assert {one.place: one.value for one in told.current("depth")} == {
        "left": "1.10 in",
        "right": "1.20 in",
    }


def test_a_signature_is_void_once_its_step_is_taken_back_or_done_again() -> None:
    signed = state(MODEL, "seat nut", Sign(role="foreman"))
    assert signed.holds == ()
    assert signed.signed["nut"].number == 3
    for later in (Undone(steps=("nut",)), Done(steps=("nut",))):
        void = state(MODEL, "seat nut", Sign(role="foreman"), later)
        assert void.signed == {}
        assert [step for step, _ in void.voided] == ["nut"]
    again = state(MODEL, "seat nut", Sign(role="foreman"), "nut")
    assert again.holds == (("nut", "foreman"),)


def test_a_signature_for_no_hold_point_is_that_of_the_role() -> None:
    told = state(MODEL, "seat", Sign(role="foreman"))
    assert told.roles["foreman"].number == 3
    assert told.signed == {}


def test_one_role_cannot_sign_what_another_holds() -> None:
    told = state(MODEL, "seat nut", Sign(role="painter", step="nut"))
    assert told.signed == {}
    assert tuple(told.roles) == ("painter",)
    named = state(MODEL, "seat nut", Sign(role="foreman", step="nut"))
    assert tuple(named.signed) == ("nut",)


def test_parts_are_awaited_until_they_come() -> None:
    short = Short(part="lid", until="2031-05-12")
    assert state(MODEL, short).short["lid"].what == short
    assert state(MODEL, short, Arrived(part="lid")).short == {}


def test_a_step_left_out_is_not_open_and_not_done() -> None:
    told = state(MODEL, "seat", Skip(step="sleeve-on", allowed_by="Ada"))
    assert "sleeve-on" not in told.open
    assert told.done == ("seat",)
    assert mending(told).skipped == ("sleeve-on",)


def test_what_was_applied_is_wet_until_its_step_is_done_again() -> None:
    wet = Done(steps=("seat",), wet_until="18:30")
    assert state(MODEL, wet).wet == {"seat": "18:30"}
    assert state(MODEL, wet, "seat").wet == {}


def test_torques_are_kept_with_their_verdicts() -> None:
    told = state(MODEL, Torque(joint="head", value="40 N·m"), Torque(joint="none", value="1 N·m"))
    assert [verdict.word for _, verdict in told.torques] == ["recorded"]
    assert told.strange == ((3, "joint", "none"),)


def test_the_last_model_counts() -> None:
    issue = Issue(
        file="unit.yaml",
        text="new",
        assembly="test",
        issue="B",
        fingerprint="1111·2222",
        order=("lid", "seat"),
    )
    told = log(MODEL, "seat", issue)
    assert model_of(told) == issue
    assert state_of(told, MODEL).number == {"lid": 1, "seat": 2}
    assert model_of(log(MODEL, "seat")) == start_of(MODEL)
    assert model_of(()) is None
    back = (*told, Entry(number=4, time="", what=Correct(corrects=3)))
    assert model_of(back) == start_of(MODEL)
    with pytest.raises(ValueError, match="without a model"):
        state_of((), MODEL)


def test_notes_change_nothing() -> None:
    plain, noted = state(MODEL, "seat"), state(MODEL, "seat", Note(text="Tea.", step="seat"))
    assert noted.done == plain.done
    assert noted.standing == plain.standing


@settings(max_examples=100, deadline=None)
@given(st.lists(entries(), max_size=8))
def test_no_log_makes_a_fault(several: list[Entry]) -> None:
    """Whatever an old or strange log says of names that the model lacks, it can be told."""
    first = log(MODEL)[0]
    told = [first, *(replace(e, number=n) for n, e in enumerate(several, 2))]
    found = state_of(told, MODEL)
    assert set(found.done) <= {step.id for step in MODEL.steps}
    mending(found)


_STEPS = st.sampled_from([step.id for step in MODEL.steps])
_ANY = st.one_of(
    _STEPS.map(lambda one: Done(steps=(one,))),
    _STEPS.map(lambda one: Undone(steps=(one,))),
    st.sampled_from([SHALLOW, DEEP, Accept(check="depth"), Spoiled(part="sleeve")]),
    st.sampled_from([Sign(role="foreman"), Reading(check="drag", value="34 in-lb")]),
)


@settings(max_examples=200, deadline=None)
@given(st.lists(_ANY, max_size=12))
def test_what_is_to_be_redone_is_done_and_ends_with_being_done_again(whats: list[Done]) -> None:
    """Redoing all that a mend names, and reading anew, leaves nothing to mend."""
    told = state(MODEL, *whats)
    mend = mending(told)
    assert set(mend.redo) <= set(told.done)
    assert set(mend.again) <= set(told.done) - set(mend.redo)
    good = (DEEP, Reading(check="drag", value="20 in-lb"))
    mended = state(MODEL, *whats, Done(steps=tuple(mend.redo)), *good)
    assert mending(mended).redo == {}
    assert mending(mended).again == {}


def test_an_assembly_is_needed_only_for_what_the_log_does_not_say() -> None:
    other: Assembly = assembly(step("seat"))
    assert state_of(log(MODEL, "seat nut"), other).strange == ((2, "step", "nut"),)
