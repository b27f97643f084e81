"""Checks of several readings: which are still to come, and what they say together."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.checking import Check
from sequencer.problem import Problem
from sequencer.reading import read_text
from sequencer.records.entries import Reading
from sequencer.records.moved_on import check_gates
from sequencer.records.state import State
from tests.helpers import assembly, links, step
from tests.records.making import gates, state

# Eight cold clearances, read before the camshaft comes off: the number of valves, and the one
# that is missing, are those of the valve train in the cases collected for this project.
TRAIN = """\
assembly: valve-train
parts: {cam: {name: Camshaft, at_start: fitted}}
checks:
  cold:
    measure: Clearance, cold
    each: [1, 2, 3, 4, 5, 6, 7, 8]
    limit: 0.15 to 0.25 mm
steps:
  read: {do: Read the clearances., check: cold}
  cam-off: {do: Take the camshaft off., after: read, takes_off: cam}
"""
BORE = """\
assembly: liner
parts: {liner: {name: Liner}}
checks:
  taper:
    readings: {top: {ask: Bore at the top}, bottom: {ask: Bore at the bottom}}
    compute: top - bottom
    limit: 0 to 0.02 mm
    else: {renew: liner}
  pin: {measure: Pin bore, go: 8.00 mm plug, no_go: 8.03 mm plug}
steps:
  fit: {do: Fit the liner., fits: liner}
  measure: {do: Measure the bore., after: fit, check: [taper, pin]}
  close: {do: Close it., after: measure}
"""


def _of(text: str, *told: Reading | str) -> State:
    model = read_text(text, "unit.yaml").assembly
    assert model is not None
    return state(model, *told)


def _cold(place: int, value: str = "0.20 mm") -> Reading:
    return Reading(check="cold", value=value, place=str(place))


SEVEN = tuple(_cold(place) for place in range(1, 9) if place != 5)  # valve 5


def _missing(step: str, why: str) -> Problem:
    return Problem(
        "not-read",
        "warning",
        "readings of check `cold` of step 1 (`read`) are missing: 5",
        step=step,
        why=why,
        fix="take it, and record it: `sequencer log reading cold.5=…`",
    )


def test_the_camshaft_stays_on_until_the_eighth_clearance_is_read() -> None:
    """Seven of eight readings are recorded."""
    why = "step 2 (`cam-off`) comes after it, and may bury it or change it"
    assert gates(_of(TRAIN, "read", *SEVEN), "cam-off") == (_missing("cam-off", why),)
    assert gates(_of(TRAIN, "read", *SEVEN, _cold(5)), "cam-off") == ()


def test_what_a_step_takes_off_is_read_with_before_the_step_is_done() -> None:
    inside = TRAIN.replace(", check: cold}", "}").replace(
        "takes_off: cam", "takes_off: cam, check: cold"
    )
    (found,) = gates(_of(inside, "read", *SEVEN), "cam-off")
    why = "it takes off Camshaft: what is not read by then may be lost"
    message = "readings of check `cold` of step 2 (`cam-off`) are missing: 5"
    assert found == replace(_missing("cam-off", why), message=message)
    assert gates(_of(inside, "read", *SEVEN, _cold(5)), "cam-off") == ()


def test_one_clearance_out_of_eight_stops_what_comes_after() -> None:
    (found,) = gates(_of(TRAIN, "read", *SEVEN, _cold(5, "0.30 mm")), "cam-off")
    assert found.message == (
        "check `cold` of step 1 (`read`) stands at 0.30 mm at 5: "
        "above the limit (0.15 to 0.25 mm): out of limit"
    )


def _bore(name: str, value: str, check: str = "taper", round_: int | None = None) -> Reading:
    return Reading(check=check, value=value, place=name, round=round_)


PIN = (_bore("go", "yes", "pin"), _bore("no_go", "no", "pin"))


def test_readings_that_are_reckoned_with_are_judged_when_the_last_is_there() -> None:
    half = _of(BORE, "fit measure", *PIN, _bore("top", "80.05 mm"))
    assert [one.verdict.said for one in half.current("taper")] == [
        "recorded (still to come: bottom)"
    ]
    assert [one.message for one in gates(half, "close")] == [
        "readings of check `taper` of step 2 (`measure`) are missing: bottom"
    ]
    good = _of(BORE, "fit measure", *PIN, _bore("top", "80.05 mm"), _bore("bottom", "80.04 mm"))
    assert good.failing("taper") is None
    assert gates(good, "close") == ()


def test_a_set_that_is_out_fails_once_and_a_better_reading_mends_it() -> None:
    out = (_bore("top", "80.05 mm"), _bore("bottom", "80.01 mm"))
    failed = _of(BORE, "fit measure", *PIN, *out).failing("taper")
    assert failed is not None
    assert (failed.place, failed.verdict.word) == ("bottom", "renew")
    assert failed.verdict.why == "0.04 mm is above the limit (0 to 0.02 mm)"
    mended = _of(BORE, "fit measure", *PIN, *out, _bore("top", "80.02 mm"))
    assert mended.failing("taper") is None
    assert gates(mended, "close") == ()


def test_a_new_round_wants_every_reading_anew() -> None:
    first = (_bore("top", "80.05 mm"), _bore("bottom", "80.04 mm"))
    again = _of(BORE, "fit measure", *PIN, *first, _bore("top", "80.05 mm", round_=2))
    taper = next(check for check in again.assembly.checks if check.id == "taper")
    assert again.missing(taper) == ("bottom",)


def test_a_gauge_that_must_not_go_in_and_does_is_out() -> None:
    read = (_bore("top", "80.05 mm"), _bore("bottom", "80.04 mm"))
    half = _of(BORE, "fit measure", *read, _bore("go", "yes", "pin"))
    assert [one.message for one in gates(half, "close")] == [
        "readings of check `pin` of step 2 (`measure`) are missing: no_go"
    ]
    out = _of(BORE, "fit measure", *read, PIN[0], _bore("no_go", "yes", "pin")).failing("pin")
    assert out is not None
    assert out.verdict.said == "8.03 mm plug goes in: out of limit"
    assert gates(_of(BORE, "fit measure", *read, *PIN), "close") == ()


def test_a_reading_after_what_upsets_it_is_not_valid() -> None:
    """The pinion: its turning torque is read before the shafts drag along."""
    drag = Check(id="drag", measure="Turning torque", upset_by=links("shafts"))
    nut = step("nut", check=links("drag", "check"))
    model = replace(assembly(nut, step("shafts")), checks=(drag,))
    assert check_gates(state(model, "nut"), "drag") == ()
    assert check_gates(state(model, "nut shafts"), "drag") == (
        Problem(
            "not-valid",
            "warning",
            "check `drag` is upset by step 2 (`shafts`), which is done: a reading now is not valid",
            why="what is read now is not what the check asks for",
            fix="take that back before reading; if it was read before that, record it with --at",
        ),
    )
    again = replace(
        assembly(nut, step("shafts"), step("last", check=links("drag", "check"))), checks=(drag,)
    )
    assert check_gates(state(again, "nut shafts"), "drag") == ()
