"""What a step has to wait for by the log, each reason whole."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.checking import Check, Otherwise
from sequencer.model.common import Limit
from sequencer.model.quantities import read_amount
from sequencer.model.steps import Fit, Unit
from sequencer.problem import Problem
from sequencer.records.entries import Accept, Arrived, Reading, Short, Sign, Spoiled, Undone
from sequencer.records.moved_on import check_gates
from tests.helpers import assembly, links, step, way
from tests.records.making import gates, state

DEPTH = Check(
    id="depth",
    measure="Seat depth",
    limit=Limit(value=read_amount("at least 1.00 in", ("length",))),
    else_=Otherwise(again_from=links("seat")),
)
MODEL = replace(
    assembly(
        step("seat", fits="converter"),
        step("measure", check=links("depth", "check")),
        step("bolts", fits="housing"),
        step("sign-here", hold="chief inspector"),
        step("lid", fits="lid"),
    ),
    checks=(DEPTH,),
)
SHALLOW, DEEP = Reading(check="depth", value="0.50 in"), Reading(check="depth", value="1.05 in")


def test_a_step_behind_a_failed_check_is_told_to_start_again_not_to_go_on() -> None:
    """The gate by measurement: a seat depth of 0.50 in where at least 1.00 in is wanted."""
    told = state(MODEL, "seat measure", SHALLOW)
    assert gates(told, "bolts") == (
        Problem(
            "check-out",
            "warning",
            "check `depth` of step 2 (`measure`) stands at 0.50 in: "
            "below the limit (at least 1.00 in): again",
            step="bolts",
            why="step 3 (`bolts`) comes after it",
            fix="do not go on: start again from `seat`",
        ),
    )
    assert gates(told, "seat") == ()
    assert gates(told, "measure") == ()
    reseated = state(MODEL, "seat measure", SHALLOW, Undone(steps=("seat",)), "seat")
    assert [one.code for one in gates(reseated, "bolts")] == ["check-out"]
    read = state(MODEL, "seat measure", SHALLOW, Undone(steps=("seat",)), "seat", DEEP)
    assert gates(read, "bolts") == ()
    accepted = state(MODEL, "seat measure", SHALLOW, Accept(check="depth"))
    assert gates(accepted, "bolts") == ()


def test_a_measurement_that_was_not_read_stops_what_comes_after() -> None:
    told = state(MODEL, "seat measure")
    assert gates(told, "bolts") == (
        Problem(
            "not-read",
            "warning",
            "no reading of check `depth` of step 2 (`measure`) is recorded",
            step="bolts",
            why="step 3 (`bolts`) comes after it, and may bury it or change it",
            fix="take it, and record it: `sequencer log reading depth=…`",
        ),
    )
    assert gates(state(MODEL, "seat measure", DEEP), "bolts") == ()
    assert gates(state(MODEL, "seat"), "bolts") == ()


def test_one_reading_of_eight_that_is_missing_is_named() -> None:
    """Eight cold clearances, seven recorded, before the camshaft comes off."""
    names = [f"valve-{number}" for number in range(1, 9)]
    checks = tuple(Check(id=name, measure=f"Clearance of {name}") for name in names)
    model = replace(
        assembly(
            step("cam-in"),
            *(step(f"read-{name}", check=links(name, "check")) for name in names),
            step("cam-off"),
        ),
        checks=checks,
    )
    done = " ".join(one.id for one in model.steps[:-1])
    readings = [Reading(check=name, value="0.20 mm") for name in names if name != "valve-5"]
    (found,) = gates(state(model, done, *readings), "cam-off")
    assert found.message == ("no reading of check `valve-5` of step 6 (`read-valve-5`) is recorded")


def test_a_hold_point_that_is_not_signed_stops_everything() -> None:
    told = state(MODEL, "sign-here")
    hold = Problem(
        "hold-open",
        "warning",
        "the hold point of step 4 (`sign-here`) is not signed: chief inspector",
        step="lid",
        why="nothing goes on until that role has signed",
        fix="get the signature, and record it: `sequencer log sign 'chief inspector'`",
    )
    assert gates(told, "lid") == (hold,)
    assert gates(told, "seat") == (replace(hold, step="seat"),)
    assert gates(state(MODEL, "sign-here", Sign(role="chief inspector")), "lid") == ()


def test_a_step_that_fits_an_awaited_part_waits_for_it() -> None:
    short = Short(part="lid", until="2031-05-12")
    assert gates(state(MODEL, short), "lid") == (
        Problem(
            "part-awaited",
            "warning",
            "step 5 (`lid`) fits lid, which is awaited until 2031-05-12",
            step="lid",
            why="the log says that it is not there",
            fix="if it has come, record that: `sequencer log arrived lid`",
        ),
    )
    assert gates(state(MODEL, short, Arrived(part="lid")), "lid") == ()


def test_a_spoiled_part_stops_what_comes_after_the_step_that_fits_it() -> None:
    told = state(MODEL, "seat measure", DEEP, Spoiled(part="converter"))
    assert gates(told, "bolts") == (
        Problem(
            "redo-first",
            "warning",
            "step 1 (`seat`) has to be redone: `converter` was spoiled (entry 4)",
            step="bolts",
            why="step 3 (`bolts`) comes after it, and may have to come out with it",
            fix="`sequencer revise` finds the least that has to come out",
        ),
    )
    assert gates(told, "seat") == ()
    anew = state(MODEL, "seat measure", DEEP, Spoiled(part="converter"), "seat")
    assert gates(anew, "bolts") == ()


def test_a_step_done_already_is_told() -> None:
    assert gates(state(MODEL, "seat"), "seat") == (
        Problem(
            "done-already",
            "warning",
            "step 1 (`seat`) is done already (entry 2)",
            step="seat",
            why="done again in place it keeps its turn; what was taken back is not done",
            fix="if it was taken back first, record that: `sequencer log undone seat`",
        ),
    )


def test_a_failed_check_of_a_unit_stops_that_unit_and_what_fits_it() -> None:
    unit = replace(
        assembly(
            step("pump-in", unit="pump"),
            step("pump-read", check=links("depth", "check"), unit="pump"),
            step("pump-lid", unit="pump"),
            step("elsewhere"),
            replace(step("pump-on"), fits=(Fit("pump"),)),
        ),
        units=(Unit(id="pump"),),
        checks=(replace(DEPTH, else_=None),),
    )
    told = state(unit, "pump-in pump-read", SHALLOW)
    stopped = [one.id for one in unit.steps if "check-out" in {g.code for g in gates(told, one.id)}]
    assert stopped == ["pump-lid", "pump-on"]


def test_a_reading_through_a_shut_way_is_not_valid() -> None:
    """A turning torque read with the axle shafts in, which add their drag."""
    drag = Check(id="drag", measure="Turning torque", needs_open=(way("bare", "shafts"),))
    model = replace(
        assembly(step("nut", check=links("drag", "check")), step("axles", fits="shafts")),
        checks=(drag,),
    )
    assert check_gates(state(model, "nut"), "drag") == ()
    assert check_gates(state(model, "nut axles"), "drag") == (), "a sheet typed in as a whole"
    (found,) = check_gates(state(model, "nut", "axles"), "drag")
    assert found.message == (
        "check `drag` cannot be taken as the unit stands: “bare” is shut by `shafts`"
    )
    two_ways = replace(drag, needs_open=(way("bare", "shafts"), way("side")))
    model = replace(model, checks=(two_ways,))
    assert check_gates(state(model, "nut axles"), "drag") == ()
