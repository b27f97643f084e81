"""Findings told whole: every sentence of a clash, in the order a person would follow."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from sequencer.model.assembly import Assembly
from sequencer.model.common import Link
from sequencer.model.complete import complete
from sequencer.model.parts import Part
from sequencer.model.steps import Fit, Section, Step, Together
from sequencer.planning.plan import check, plan, try_order
from tests.helpers import assembly, links, size, step, way
from tests.reading.models import model

if TYPE_CHECKING:
    from sequencer.problem import Problem


def told(findings: tuple[Problem, ...]) -> list[str]:
    """Each finding as lines: code and message, then its facts."""
    lines = []
    for finding in findings:
        lines.append(f"{finding.severity} {finding.code}: {finding.message}")
        lines.extend(f"  {fact.text}" for fact in finding.facts)
    return lines


def test_a_step_that_waits_for_itself() -> None:
    assert told(check(assembly(step("a", after="a")))) == [
        "error circle: `a` waits for itself",
        "  `a` comes after `a`",
    ]


def test_a_circle_is_told_at_its_shortest() -> None:
    model = assembly(
        step("a", after="d"),
        step("b", after="a"),
        step("c", after="b"),
        step("d", after="c b"),
    )
    assert told(check(model)) == [
        "error circle: `a`, `b` and `d` wait for each other in a circle, "
        "so none of them can be first",
        "  `b` comes after `a`",
        "  `d` comes after `b`",
        "  `a` comes after `d`",
    ]


def test_a_circle_through_parts_sections_and_checks() -> None:
    model = complete(
        Assembly(
            assembly="test",
            steps=(
                step("lid", fits="lid", after="", section="shut", onto="seal"),
                step("seal", fits="seal", section="open", check=links("gap", "check")),
                replace(step("pour", section="open"), after=(Link("gap", "check"),)),
            ),
            sections=(Section(id="open", after=(Link("shut", "section"),)), Section(id="shut")),
        )
    )
    assert told(check(model)) == [
        "error circle: `lid` and `seal` wait for each other in a circle, "
        "so none of them can be first",
        "  every step of section `open` comes after section `shut` (`lid`)",
        "  `lid` builds on `seal`, which `seal` fits",
    ]


def test_a_pair_split_by_what_must_come_between() -> None:
    model = assembly(
        step("hub"),
        step("fork", after="hub"),
        step("spool", after="fork"),
        together=("hub spool",),
    )
    assert told(check(model)) == [
        "error split-pair: `hub` and `spool` must go in together, "
        "yet `fork` would have to come in between",
        "  `hub` and `spool` go in together, with nothing foreign in between",
        "  `fork` comes after `hub`",
        "  `spool` comes after `fork`",
    ]


def test_a_step_too_big_for_all_its_ways() -> None:
    model = assembly(
        step(
            "wheel",
            fits="wheel",
            ways=(way("top", opening="90 mm"), way("side", opening="6 in")),
        ),
        parts=(Part(id="wheel", largest=size("168 mm")),),
    )
    assert told(check(model)) == [
        "error too-big: `wheel` fits through none of its ways in",
        "  “top” (90 mm) is too small for `wheel`: `wheel` is 168 mm, 78 mm too much",
        "  “side” (6 in) is too small for `wheel`: `wheel` is 168 mm, 0.6142 in too much",
    ]


def test_a_part_walled_in_by_what_must_come_first() -> None:
    model = assembly(
        step("corner-a", fits="a"),
        step("corner-b", fits="b"),
        step("nuts", after="corner-a corner-b", ways=(way("end 1", "a"), way("end 2", "b"))),
    )
    assert told(check(model)) == [
        "error no-order: `nuts` can be reached in no order: see what shuts each way in",
        "  `corner-a` fits `a`, which shuts “end 1”, a way in of `nuts`",
        "  `corner-b` fits `b`, which shuts “end 2”, a way in of `nuts`",
        "  `nuts` comes after `corner-a`",
        "  `nuts` comes after `corner-b`",
    ]


def test_two_parts_that_shut_each_other_out() -> None:
    model = assembly(
        step("left", fits="left", ways=(way("bore", "right"),)),
        step("right", fits="right", ways=(way("bore", "left"),)),
    )
    assert told(check(model)) == [
        "error no-order: `left` and `right` shut each other out: no order reaches them all",
        "  `right` fits `right`, which shuts “bore”, a way in of `left`",
        "  `left` fits `left`, which shuts “bore”, a way in of `right`",
    ]


def test_separate_deadlocks_are_told_in_one_run() -> None:
    model = assembly(
        step("a", after="b"),
        step("b", after="a"),
        step("c", after="c"),
    )
    assert [finding.code for finding in check(model)] == ["circle", "circle"]


def test_a_written_order_that_fails_while_another_works_is_a_warning() -> None:
    model = assembly(
        step("cap", fits="cap"),
        step("slinger", fits="slinger", ways=(way("rear bore", "cap"),)),
        step("plug", before="cap"),
    )
    assert told(check(model)) == [
        "warning not-yet: `cap` stands before `plug`, which must come first",
        "  `plug` comes before `cap`",
        "warning shut-out: `slinger` has no way in left at its turn: "
        "`cap` has shut the last, “rear bore”",
        "  `cap` fits `cap`, which shuts “rear bore”, a way in of `slinger`",
    ]
    planned = plan(model)
    assert planned.order == ("slinger", "plug", "cap")
    assert (planned.moves, planned.fewest) == (1, True)


def test_a_tested_order_tells_strays_missing_and_unknown_steps() -> None:
    model = assembly(step("a"), step("b"), step("c"), step("d"), together=("a b",))
    tested = try_order(model, ["a", "c", "b", "bb"])
    assert told(tested.findings) == [
        "error unknown: the model has no step `bb`",
        "error stray: `c` stands in between `a` and `b`, which go in together",
        "  `a` and `b` go in together, with nothing foreign in between",
        "error step-missing: the order lacks `d`",
    ]
    assert tested.findings[0].fix == "did you mean `b`?"
    assert tested.mended == ("c", "d", "a", "b")
    assert tested.moves == 2


def test_a_name_that_is_no_step_comes_first_and_missing_steps_in_one_finding() -> None:
    model = assembly(*(step(one) for one in ("wipe", "shaft-in", "seal-in", "cap-on")))
    tested = try_order(model, ["wipe", "sealin"])
    assert told(tested.findings) == [
        "error unknown: the model has no step `sealin`",
        "error step-missing: the order lacks `shaft-in`, `seal-in` and `cap-on`",
    ]
    assert [(one.why, one.fix) for one in tested.findings] == [
        ("the question cannot be answered as it stands", "did you mean `seal-in`?"),
        (
            "the unit would be put together without them",
            "put every name right first, then put in what is still missing",
        ),
    ]
    assert not tested.ok
    assert [one.code for one in try_order(model, ["wipe"]).findings] == ["step-missing"] * 3


def test_many_missing_steps_beside_a_wrong_name_are_counted() -> None:
    model = assembly(*(step(f"s{number}") for number in range(1, 9)))
    assert told(try_order(model, ["s1", "wipe"]).findings) == [
        "error unknown: the model has no step `wipe`",
        "error step-missing: the order lacks 7 steps, from `s2` to `s8`",
    ]


def test_a_step_twice_in_a_list_is_a_wrong_call() -> None:
    with pytest.raises(ValueError, match="twice"):
        try_order(assembly(step("a")), ["a", "a"])


def test_why_an_author_gave_stays_with_the_fact() -> None:
    model = complete(
        Assembly(
            assembly="test",
            steps=(step("a"), step("b", after="a"), step("c", after="b")),
            together=(Together(steps=links("a c"), why="Loose, it rolls the seal"),),
        )
    )
    (finding,) = check(model)
    assert [fact.why for fact in finding.facts] == ["Loose, it rolls the seal", "", ""]


def _fits(name: str, *fits: Fit) -> Step:
    return replace(step(name), fits=fits)


def _counted(part: Part, *steps: Step) -> list[str]:
    return told(check(assembly(*steps, parts=(part,))))


def test_a_part_that_no_step_fits() -> None:
    assert _counted(Part(id="clip"), step("a")) == ["error never-fitted: no step fits `clip`"]


def test_a_unit_that_is_built_and_never_fitted_is_told_where_it_stands() -> None:
    text = """
        assembly: press
        parts: {ram: Ram}
        units: {ram-unit: {base: ram}}
        steps: {build: {do: Build it., fits: ram, unit: ram-unit}}
        """
    (found,) = check(model(text))
    assert (found.code, found.path) == ("never-fitted", ("units", "ram-unit"))
    assert found.fix == "name `ram-unit` in the `fits` of a step, or take it out of `units`"


def test_a_part_fitted_twice() -> None:
    assert _counted(Part(id="clip"), step("a", fits="clip"), step("b", fits="clip")) == [
        "error fitted-twice: `clip` is fitted more than once, by `a` and `b`",
        "  `a` fits `clip`",
        "  `b` fits `clip`",
        "  there is 1 of `clip`",
    ]


def test_parts_counted_over_the_steps() -> None:
    clips = Part(id="clip", quantity=6)
    assert _counted(clips, _fits("a", Fit("clip", 3)), _fits("b", Fit("clip", 4))) == [
        "error miscounted: there are 6 of `clip`, but `a` and `b` fit 7",
        "  `a` fits 3 of `clip`",
        "  `b` fits 4 of `clip`",
        "  there are 6 of `clip`",
    ]
    assert _counted(clips, _fits("a", Fit("clip", 5))) == [
        "error miscounted: there are 6 of `clip`, but `a` fits 5",
        "  `a` fits 5 of `clip`",
        "  there are 6 of `clip`",
    ]
    assert _counted(clips, _fits("a", Fit("clip", 2)), _fits("b", Fit("clip"))) == []
    assert _counted(clips, _fits("a", Fit("clip"))) == []


def test_a_part_all_on_before_the_last_step_that_fits_it() -> None:
    clips = Part(id="clip", quantity=6)
    for fits in ((Fit("clip"), Fit("clip")), (Fit("clip", 6), Fit("clip"))):
        steps = [_fits(f"s{number}", fit) for number, fit in enumerate(fits)]
        assert _counted(clips, *steps)[0] == (
            "error fitted-twice: `clip` is all on before the last of `s0` and `s1` fits it"
        )


def test_something_left_loose_for_good_leaves_no_order() -> None:
    model = assembly(step("cone", leaves=("loose",)), step("lid"))
    assert told(check(model)) == [
        "error left-loose: `cone` leaves something loose, and no step makes it fast"
    ]
    planned = plan(model)
    assert planned.order is None
    assert [finding.code for finding in planned.findings] == ["left-loose"]
    assert plan(assembly(step("a", leaves=("loose",)), step("b", secures=links("a")))).order == (
        "a",
        "b",
    )
