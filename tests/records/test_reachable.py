"""A reading counts only where the check could be taken as the unit stood."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.checking import Check
from sequencer.model.common import Limit
from sequencer.model.quantities import read_amount
from sequencer.records.entries import Done, Entry, Reading, Undone, What
from sequencer.records.replay import state_of
from sequencer.records.state import State, mending
from tests.helpers import assembly, links, step, way
from tests.records.making import start_of

LIMIT = Limit(value=read_amount("1.5 to 3.5 N·m", ("torque",)))
DRAG = Check(id="drag", measure="Drag", limit=LIMIT, needs_open=(way("bare", "shafts"),))
MODEL = replace(
    assembly(step("nut", check=links("drag", "check")), step("axles", fits="shafts")),
    checks=(DRAG,),
)
READ = Reading(check="drag", value="2.0 N·m")


def _told(*whats: What, read_at: str = "") -> State:
    """A log whose entries are an hour apart, from nine o'clock."""
    entries = [Entry(number=1, time="2031-05-02T08:00:00+02:00", what=start_of(MODEL))]
    for number, what in enumerate(whats, start=2):
        time = f"2031-05-02T{number + 7:02}:00:00+02:00"
        at = read_at if isinstance(what, Reading) else ""
        entries.append(Entry(number=number, time=time, what=what, at=at))
    return state_of(entries, MODEL)


def _verdict(state: State) -> str:
    return state.readings["drag"][-1].verdict.said


NUT, AXLES = Done(steps=("nut",)), Done(steps=("axles",))
NOT_VALID = "read while “bare” is shut by `shafts`: not valid"


def test_a_reading_through_a_shut_way_does_not_count_and_is_taken_again() -> None:
    state = _told(NUT, AXLES, READ)
    assert _verdict(state) == NOT_VALID
    assert dict(mending(state).again) == {
        "nut": "check `drag` does not count: read while “bare” is shut by `shafts`"
    }


def test_a_reading_taken_before_or_after_it_was_shut_counts() -> None:
    good = "accept (1.5 to 3.5 N·m)"
    assert _verdict(_told(NUT, READ, AXLES)) == good
    assert _verdict(_told(NUT, AXLES, READ, read_at="2031-05-02T09:30:00+02:00")) == good
    assert _verdict(_told(NUT, AXLES, READ, read_at="2031-05-02T10:30:00+02:00")) == NOT_VALID
    assert _verdict(_told(NUT, AXLES, Undone(steps=("axles",)), READ)) == good


def test_readings_of_a_sheet_typed_in_whole_belong_to_its_steps() -> None:
    whole = Done(steps=("nut", "axles"))
    assert _verdict(_told(whole, READ)) == "accept (1.5 to 3.5 N·m)"
    wrong_way_round = Done(steps=("axles", "nut"))
    assert _verdict(_told(wrong_way_round, READ)) == NOT_VALID
