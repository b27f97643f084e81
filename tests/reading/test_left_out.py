"""What else is not there when a part or a step is not."""

from __future__ import annotations

from textwrap import dedent, indent

import pytest

from sequencer.model.assembly import Assembly
from sequencer.planning.plan import check, plan
from sequencer.reading import Reading, read_text

HEAD = """\
assembly: test
options: {fluid: {choices: [standard, hot], default: standard}}
"""


def reading(text: str, fluid: str = "standard") -> Reading:
    return read_text(HEAD + dedent(text), "test.yaml", {"fluid": fluid})


def without(text: str) -> Assembly:
    """Read a model with what is only there for hot fluid left out, and nothing wrong with it."""
    made = reading(text)
    assert made.problems == ()
    assert made.assembly is not None
    return made.assembly


def test_a_step_that_is_not_there_takes_what_only_it_used_with_it() -> None:
    assembly = without("""
        tools: {press: Press, gauge: Gauge, saw: Saw}
        joints: {cap: {thread: M8}}
        checks: {play: {look: at the gap, with: gauge}}
        steps:
          one: {do: Do one., tools: saw}
          two: {do: Do two., tools: press, check: play, tighten: cap, when: fluid == hot}
    """)
    assert [tool.id for tool in assembly.tools] == ["saw"]
    assert (assembly.joints, assembly.checks) == ((), ())


def test_what_nothing_names_in_any_case_stays_and_is_told() -> None:
    made = reading("""
        joints: {cap: {thread: M8}}
        steps:
          one: {do: Do one.}
          two: {do: Do two., when: fluid == hot}
    """)
    assert [problem.message for problem in made.problems] == ["joint `cap` is tightened by no step"]


def test_a_unit_that_nothing_builds_is_not_there_nor_fitted() -> None:
    assembly = without("""
        units: {head: Head}
        parts: {body: Body, cap: {name: Cap, when: fluid == hot}}
        steps:
          cap-on: {do: Put the cap on., fits: cap, unit: head, when: fluid == hot}
          body-up: {do: Stand it up., fits: [body, head]}
    """)
    assert assembly.units == ()
    assert [part.id for part in assembly.parts] == ["body"]
    assert [fit.part for fit in assembly.steps[0].fits] == ["body"]
    assert check(assembly) == ()


def test_a_state_without_both_its_ends_binds_nobody() -> None:
    assembly = without("""
        states: {hot-work: {begins: lit, ends: out}}
        steps:
          lit: {do: Light it., when: fluid == hot}
          one: {do: Do one., needs: hot-work}
          out: {do: Put it out., when: fluid == hot}
    """)
    assert assembly.states == ()
    assert assembly.steps[0].needs == ()


def test_a_state_may_begin_at_one_step_or_another() -> None:
    text = """
        states: {isolated: {begins: [locked, valves-shut], ends: freed}}
        steps:
          locked: {do: Lock it out., when: fluid == standard}
          valves-shut: {do: Shut the valves., when: fluid == hot}
          one: {do: Do one., needs: isolated}
          freed: {do: Free it.}
    """
    begins = [
        made.assembly.states[0].begins[0].to
        for made in (reading(text), reading(text, "hot"))
        if made.assembly and not made.problems
    ]
    assert begins == ["locked", "valves-shut"]


def test_the_one_step_left_of_several_is_simply_done_and_in_time() -> None:
    text = """
        one_of: [{steps: [by-hand, by-pump], before: start, why: It must be full}]
        steps:
          start: {do: Start it.}
          by-hand: {do: Fill it by hand.}
          by-pump: {do: Fill it by the pump., when: fluid == hot}
    """
    both = reading(text, "hot").assembly
    assert both is not None
    assert len(both.one_of) == 1
    made = reading(text)
    assert made.assembly is not None
    assert made.assembly.one_of == ()
    order = plan(made.assembly).order
    assert order == ("by-hand", "start")
    place = made.place_of(("steps", "by-hand", "before", 0))
    assert place is not None
    assert made.lines[place.file][place.line - 1][place.column - 1 :].startswith("start, why")
    (told,) = check(made.assembly)
    assert [fact.why for fact in told.facts] == ["It must be full"]


def test_a_line_keeps_the_places_of_what_is_there() -> None:
    text = """
        lines:
          axle:
            shaft: shaft
            ends: {left: shut, right: open}
            order:
              - {part: ring, bore: 20 mm}
              - {part: shield, bore: 20 mm}
              - {part: nut, bore: 20 mm}
        parts: {shaft: Shaft, ring: Ring, shield: {name: Shield, when: fluid == hot}, nut: Nut}
        steps:
          shaft-in: {do: Put the shaft in., fits: shaft}
          ring-on: {do: Push the ring on., fits: ring}
          shield-on: {do: Push the shield on., fits: shield, when: fluid == hot}
          nut-on: {do: Run the nut on., fits: nut}
    """
    made = reading(text)
    assert made.assembly is not None
    assert [place.part[0].to for place in made.assembly.lines[0].order] == ["ring", "nut"]
    place = made.place_of(("lines", "axle", "order", 1, "part"))
    assert place is not None
    assert "nut" in made.lines[place.file][place.line - 1]
    assert check(made.assembly) == ()


def test_what_follows_a_check_goes_with_the_part_it_names() -> None:
    assembly = without("""
        parts: {body: Body, shield: {name: Shield, when: fluid == hot}}
        checks: {heat: {feel: the body, good: cool, else: renew shield}}
        steps: {body-up: {do: Stand it up., fits: body, check: heat}}
    """)
    assert assembly.checks[0].else_ is None


def test_a_way_in_stays_open_when_nothing_is_left_that_shuts_it() -> None:
    assembly = without("""
        parts: {body: Body, shield: {name: Shield, when: fluid == hot}}
        steps:
          body-up: {do: Stand it up., fits: body, ways_in: {front: [shield]}}
          shield-on: {do: Hang the shield., fits: shield, when: fluid == hot}
    """)
    (way,) = assembly.steps[0].ways_in
    assert (way.name, way.shut_by) == ("front", ())


def test_steps_stay_in_the_section_that_a_missing_step_named() -> None:
    assembly = without("""
        steps:
          one: {do: Do one., section: first}
          two: {do: Do two., section: second, when: fluid == hot}
          three: {do: Do three.}
    """)
    assert [step.section for step in assembly.steps] == ["first", "second"]


def test_parts_declared_by_use_are_counted_over_the_steps_that_are_there() -> None:
    text = """
        steps:
          one: {do: Do one., fits: 4 screw}
          two: {do: Do two., fits: 2 screw, when: fluid == hot}
    """
    counts = {}
    for fluid in ("standard", "hot"):
        assembly = reading(text, fluid).assembly
        assert assembly is not None
        counts[fluid] = assembly.parts[0].quantity
    assert counts == {"standard": 4, "hot": 6}


@pytest.mark.parametrize(
    ("instead", "name", "number", "quantity"),
    [
        ("{when: fluid == hot, name: Other}", "Screw", "1", 4),
        ("{when: fluid == standard, name: Other}", "Other", "1", 4),
        ("{when: fluid == standard, number: 0012, quantity: 6}", "Screw", "0012", 6),
        ("[{when: fluid == hot, name: A}, {when: fluid != hot, name: B}]", "B", "1", 4),
        ("[{when: fluid != hot, name: A}, {when: fluid != hot, number: 2}]", "A", "1", 4),
    ],
)
def test_instead_gives_a_part_other_names_and_numbers(
    instead: str, name: str, number: str, quantity: int
) -> None:
    parts = f"screw: {{name: Screw, number: 1, quantity: 4, instead: {instead}}}"
    assembly = without(f"parts: {{{parts}}}\nsteps: {{one: {{do: Do one., fits: screw}}}}\n")
    (part,) = assembly.parts
    assert (part.name, part.number, part.quantity) == (name, number, quantity)
    assert (part.when, part.instead) == ("", ())


def test_conditions_are_held_to_the_options_in_combinations_not_taken_too() -> None:
    text = indent("one: {do: Do one., when: fluid == hot and fluid == warm}\n", "  ")
    made = reading("steps:\n" + text)
    assert [problem.message for problem in made.problems] == ["option `fluid` has no choice `warm`"]
