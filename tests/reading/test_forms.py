"""How what comes and goes may be written: units, trials, lines, alternatives, states and tools."""

from __future__ import annotations

from typing import Any

import pytest

from sequencer.model.checking import Check
from sequencer.model.common import Link, Size, WayIn
from sequencer.model.fastening import Tool
from sequencer.model.lines import EndValue, Line, LineEnd, LinePlace
from sequencer.model.parts import Part
from sequencer.model.steps import Fit, OneOf, Section, State, Step, Trial, Unit
from sequencer.reading import read_text
from tests.reading.models import amount, model


def size(text: str) -> Size:
    return Size(value=amount(text, "length"))


def step(fields: str) -> Step:
    """Read the last step of a model that has what steps speak of."""
    text = f"""
    assembly: vice
    parts: {{jaw: Jaw plate, pin: Pin}}
    tools: {{key: Key, bar: Bar, driver: Driver}}
    joints: {{screws: {{thread: M8}}}}
    states: {{shut-off: {{begins: lock, ends: unlock}}, dark: {{begins: lock, ends: unlock}}}}
    units: {{slide: Slide}}
    steps:
      lock: {{do: Lock it., fits: jaw, tighten: screws, unit: slide, needs: dark}}
      unlock: {{do: Unlock it., not_while: shut-off}}
      it: {fields}
    """
    return model(text).steps[-1]


def top(field: str, written: str) -> Any:
    """Read a field of a model that has what such fields speak of."""
    text = f"""
    assembly: vice
    parts: {{screw: Screw, nut: Nut, ring: Ring, shim: Shim}}
    {field}: {written}
    steps:
      a: {{do: A., fits: screw}}
      b: {{do: B., fits: nut}}
      c: {{do: C., fits: ring}}
    """
    reading = read_text(text, "vice.yaml")
    assert not any(problem.severity == "error" for problem in reading.problems), reading.problems
    assert reading.assembly is not None
    return getattr(reading.assembly, field)


KEY, BAR, DRIVER = (Link(name, "tool") for name in ("key", "bar", "driver"))


@pytest.mark.parametrize(
    ("written", "tools"),
    [
        ("key", ((KEY,),)),
        ("[key]", ((KEY,),)),
        ("[[key]]", ((KEY,),)),
        ("[key, bar]", ((KEY,), (BAR,))),
        ("[[key, driver]]", ((KEY, DRIVER),)),
        ("[[key, driver], bar]", ((KEY, DRIVER), (BAR,))),
        ("[bar, [key, driver]]", ((BAR,), (KEY, DRIVER))),
        ("{tool: key, why: long}", ((Link("key", "tool", "long"),),)),
        ("[bar, {tool: key, source: card}]", ((BAR,), (Link("key", "tool", "", "card"),))),
        ("[[driver, {tool: key, why: long}]]", ((DRIVER, Link("key", "tool", "long")),)),
        ("[]", ()),
        ("[[], key]", ((KEY,),)),
        ("", ()),
    ],
)
def test_how_tools_may_be_written(written: str, tools: tuple[tuple[Link, ...], ...]) -> None:
    assert step(f"{{do: Do it., tools: {written}}}").tools == tools


def test_tools_that_are_nowhere_listed_may_be_called_in_words() -> None:
    text = "assembly: x\nsteps: {a: {do: A., tools: [[5 mm key, long driver], soft hammer]}}"
    found = model(text)
    assert [[link.to for link in entry] for entry in found.steps[0].tools] == [
        ["5 mm key", "long driver"],
        ["soft hammer"],
    ]
    assert [tool.id for tool in found.tools] == ["5 mm key", "long driver", "soft hammer"]


@pytest.mark.parametrize("field", ["after", "before"])
@pytest.mark.parametrize(
    ("written", "links"),
    [
        ("all", (Link("all", "all"),)),
        ("[all]", (Link("all", "all"),)),
        ("{step: all}", (Link("all", "all"),)),
        ("{step: all, why: shake}", (Link("all", "all", "shake"),)),
        ("[lock, {step: all, source: card}]", (Link("lock"), Link("all", "all", "", "card"))),
    ],
)
def test_how_all_may_be_written(field: str, written: str, links: tuple[Link, ...]) -> None:
    assert getattr(step(f"{{do: Do it., {field}: {written}}}"), field) == links


def test_all_is_an_ordinary_id_where_nothing_is_waited_for() -> None:
    found = model("assembly: x\nparts: {all: Set}\nsteps: {a: {do: A., fits: all, after: all}}")
    assert found.steps[0].fits == (Fit("all"),)
    assert found.steps[0].after == (Link("all", "all"),)


@pytest.mark.parametrize(
    ("field", "written", "links"),
    [
        ("takes_off", "jaw", (Link("jaw", "part"),)),
        ("takes_off", "[jaw, pin]", (Link("jaw", "part"), Link("pin", "part"))),
        ("takes_off", "{part: jaw, why: so}", (Link("jaw", "part", "so"),)),
        ("takes_off", "slide", (Link("slide", "part"),)),
        ("onto", "slide", (Link("slide", "part"),)),
        ("loosens", "screws", (Link("screws", "joint"),)),
        ("loosens", "lock", (Link("lock"),)),
        ("loosens", "[{joint: screws, why: so}, {step: lock}]",
         (Link("screws", "joint", "so"), Link("lock"))),
        ("needs", "shut-off", (Link("shut-off", "state"),)),
        ("needs", "[shut-off, {state: dark, why: so}]",
         (Link("shut-off", "state"), Link("dark", "state", "so"))),
        ("not_while", "{state: dark, why: so, source: card}",
         (Link("dark", "state", "so", "card"),)),
        ("not_while", "[]", ()),
    ],
)  # fmt: skip
def test_how_steps_name_what_is_there_for_a_time(
    field: str, written: str, links: tuple[Link, ...]
) -> None:
    assert getattr(step(f"{{do: Do it., {field}: {written}}}"), field) == links


def test_a_step_that_was_loosened_may_be_secured_again() -> None:
    text = """
    assembly: vice
    steps:
      lock: Lock it.
      ease: {do: Ease it., loosens: lock}
      again: {do: Lock it again., secures: lock}
    """
    assert model(text).steps[2].secures == (Link("lock"),)


@pytest.mark.parametrize(
    ("written", "part"),
    [
        ("{aid: true}", Part(id="p", aid=True)),
        ("{aid: false}", Part(id="p")),
        ("{at_start: fitted}", Part(id="p", at_start="fitted")),
        ("{at_start: fitted, aid: true}", Part(id="p", at_start="fitted", aid=True)),
        ("{spare: 0}", Part(id="p")),
        ("{quantity: 4, spare: 2}", Part(id="p", quantity=4, spare=2)),
    ],
)
def test_how_a_part_may_come_and_go(written: str, part: Part) -> None:
    assert model(f"assembly: x\nparts: {{p: {written}}}\nsteps: {{s: S.}}").parts == (part,)


def test_a_tool_may_need_room_and_a_way_in_have_some() -> None:
    found = model(
        """
        assembly: x
        tools: {key: {name: Key, needs: 60 mm}, bar: {needs: {value: 2 in, why: the swing}}}
        steps:
          s:
            do: S.
            tools: [[key, bar]]
            ways_in: {top: {room: 55 mm}, side: {opening: 40 mm, room: {value: 1 m, source: card}}}
        """
    )
    assert found.tools == (
        Tool(id="key", name="Key", needs=size("60 mm")),
        Tool(id="bar", needs=Size(value=amount("2 in", "length"), why="the swing")),
    )
    assert found.steps[0].ways_in == (
        WayIn(name="top", room=size("55 mm")),
        WayIn(
            name="side",
            opening=size("40 mm"),
            room=Size(value=amount("1 m", "length"), source="card"),
        ),
    )


def test_sections_may_be_done_in_order_and_build_a_unit() -> None:
    found = model(
        """
        assembly: x
        units: {pinion-unit: Pinion unit}
        sections: {bench: {title: Bench, in_order: true, unit: pinion-unit}, rest: }
        steps:
          a: {do: A., section: bench, fits: pinion}
          b: {do: B., section: rest, fits: pinion-unit}
          c: {do: C., section: bench, unit: pinion-unit, fits: bearing}
        """
    )
    assert found.sections == (
        Section(id="bench", title="Bench", in_order=True, unit="pinion-unit"),
        Section(id="rest"),
    )
    assert [step.unit for step in found.steps] == ["pinion-unit", "", "pinion-unit"]


@pytest.mark.parametrize(
    ("written", "unit"),
    [
        ("", Unit(id="u")),
        ("Pinion unit", Unit(id="u", name="Pinion unit")),
        ("{name: Pinion unit}", Unit(id="u", name="Pinion unit")),
        ("{base: pinion}", Unit(id="u", base=(Link("pinion", "part"),))),
        (
            "{base: {part: pinion, why: it is held}}",
            Unit(id="u", base=(Link("pinion", "part", "it is held"),)),
        ),
    ],
)
def test_how_a_unit_may_be_written(written: str, unit: Unit) -> None:
    text = f"""
    assembly: x
    parts: {{pinion: Pinion}}
    units:
      u: {written}
    steps: {{a: {{do: A., fits: pinion, unit: u}}, b: {{do: B., fits: u}}}}
    """
    found = model(text)
    assert found.units == (unit,)
    assert found.parts == (Part(id="pinion", name="Pinion"), Part(id="u", name=unit.name))


def test_a_unit_may_stand_wherever_a_part_may() -> None:
    found = model(
        """
        assembly: x
        parts: {shaft: Shaft, cap: Cap}
        units: {u: {name: Unit}}
        lines: {l: {shaft: shaft, ends: {left: {shut_by: u}}, order: [{part: u, bore: 9 mm}]}}
        steps:
          a: {do: A., fits: shaft, unit: u}
          b: {do: B., fits: {u: teeth up}}
          c: {do: C., fits: cap, onto: u, ways_in: {top: u}}
        """
    )
    assert found.steps[1].fits == (Fit("u", None, "teeth up"),)
    assert found.steps[2].onto == (Link("u", "part"),)
    assert found.steps[2].ways_in[0].shut_by == (Link("u", "part"),)
    assert found.lines[0].order[0].part == (Link("u", "part"),)
    assert found.lines[0].ends[0].shut_by == (Link("u", "part"),)


def test_units_alone_do_not_list_the_parts() -> None:
    text = "assembly: x\nunits: {u: Unit}\nsteps: {a: {do: A., fits: 2 pins, unit: u}}"
    assert model(text).parts == (Part(id="u", name="Unit"), Part(id="pins", quantity=2))


@pytest.mark.parametrize(
    ("written", "trial"),
    [
        ("{steps: a}", Trial(id="t", steps=(Link("a"),))),
        (
            "{steps: [a, {step: b, why: it rocks}], settles: shim, why: gap}",
            Trial(
                id="t",
                steps=(Link("a"), Link("b", "step", "it rocks")),
                settles=(Link("shim", "part"),),
                why="gap",
            ),
        ),
    ],
)
def test_how_a_trial_may_be_written(written: str, trial: Trial) -> None:
    assert top("trials", f"{{t: {written}}}") == (trial,)


def test_an_aid_may_be_spoiled_by_a_trial() -> None:
    text = """
    assembly: x
    parts: {strip: {name: Crush strip, aid: true, renew: always}}
    trials: {gap: {steps: press}}
    steps: {press: {do: Press it., fits: strip}}
    """
    assert model(text).trials == (Trial(id="gap", steps=(Link("press"),)),)


AB = OneOf(steps=(Link("a"), Link("b")))


@pytest.mark.parametrize(
    ("written", "choices"),
    [
        ("[a, b]", (AB,)),
        ("[[a, b]]", (AB,)),
        ("{steps: [a, b]}", (AB,)),
        ("[{steps: [a, b]}]", (AB,)),
        (
            "[{steps: [a, {step: b, source: card}], before: c, why: air}]",
            (
                OneOf(
                    steps=(Link("a"), Link("b", "step", "", "card")), before=(Link("c"),), why="air"
                ),
            ),
        ),
        (
            "[{steps: [a, b], before: {step: c, why: dry}}]",
            (OneOf(steps=AB.steps, before=(Link("c", "step", "dry"),)),),
        ),
        ("[]", ()),
    ],
)
def test_how_alternatives_may_be_written(written: str, choices: tuple[OneOf, ...]) -> None:
    assert top("one_of", written) == choices


@pytest.mark.parametrize(
    ("written", "state"),
    [
        ("{begins: a, ends: b}", State(id="s", begins=(Link("a"),), ends=(Link("b"),))),
        (
            "{begins: [a], ends: {step: b, why: air}, keep: position, why: oil}",
            State(
                id="s",
                begins=(Link("a"),),
                ends=(Link("b", "step", "air"),),
                keep="position",
                why="oil",
            ),
        ),
    ],
)
def test_how_a_state_may_be_written(written: str, state: State) -> None:
    assert top("states", f"{{s: {written}}}") == (state,)


@pytest.mark.parametrize(
    ("written", "end"),
    [
        ("", LineEnd(name="left")),
        ("open", LineEnd(name="left", is_=EndValue("open"))),
        ("Shut", LineEnd(name="left", is_=EndValue("shut"))),
        ("40 mm", LineEnd(name="left", is_=EndValue("40 mm", amount("40 mm")))),
        ('1 1/2"', LineEnd(name="left", is_=EndValue('1 1/2"', amount('1 1/2"', "length")))),
        ("{is: shut}", LineEnd(name="left", is_=EndValue("shut"))),
        (
            "{is: 40 mm, why: the rim}",
            LineEnd(name="left", is_=EndValue("40 mm", amount("40 mm")), why="the rim"),
        ),
        ("{shut_by: ring}", LineEnd(name="left", shut_by=(Link("ring", "part"),))),
        (
            "{is: 40 mm, shut_by: [ring, {part: nut, why: it lies over}]}",
            LineEnd(
                name="left",
                is_=EndValue("40 mm", amount("40 mm")),
                shut_by=(Link("ring", "part"), Link("nut", "part", "it lies over")),
            ),
        ),
    ],
)
def test_how_an_end_may_be_written(written: str, end: LineEnd) -> None:
    text = "\n".join(
        [
            "assembly: x",
            "parts: {rod: Rod, nut: Nut, ring: Ring}",
            "lines:",
            "  l:",
            "    shaft: rod",
            "    order: {part: nut}",
            "    ends:",
            f"      left: {written}",
            "      right: open",
            "steps: {s: S.}",
        ]
    )
    assert model(text).lines[0].ends == (end, LineEnd(name="right"))


def test_how_a_line_may_be_written() -> None:
    found = top(
        "lines",
        "{bore-line: {bore: {part: screw, why: it is hollow}, ends: {far end: shut, near: },"
        " order: [{shoulder: 110 mm, width: 4 mm}, {part: nut, od: 40 mm, seat: 41 mm, from: near,"
        " why: keyed}, {part: ring}], why: drawing}}",
    )
    assert found == (
        Line(
            id="bore-line",
            bore=(Link("screw", "part", "it is hollow"),),
            ends=(LineEnd(name="far end", is_=EndValue("shut")), LineEnd(name="near")),
            order=(
                LinePlace(shoulder=amount("110 mm"), width=amount("4 mm")),
                LinePlace(
                    part=(Link("nut", "part"),),
                    od=amount("40 mm"),
                    seat=amount("41 mm"),
                    from_="near",
                    why="keyed",
                ),
                LinePlace(part=(Link("ring", "part"),)),
            ),
            why="drawing",
        ),
    )


def test_a_part_of_several_may_have_several_places_on_a_line() -> None:
    found = model(
        """
        assembly: x
        parts: {rod: Rod, ring: 2 × Ring}
        lines: {l: {shaft: rod, ends: {left: }, order: [{part: ring}, {part: ring}]}}
        steps: {s: S.}
        """
    )
    assert [place.part[0].to for place in found.lines[0].order] == ["ring", "ring"]


def test_a_check_may_be_upset_and_need_ways_in() -> None:
    found = model(
        """
        assembly: x
        parts: {cap: Cap}
        checks:
          play:
            feel: play
            good: none
            upset_by: [b, {step: c, why: it shifts}]
            needs_open: {top: cap, port: {opening: 9 mm, room: 20 mm, shut_by: cap, why: dial}}
        steps: {a: {do: A., check: play}, b: B., c: {do: C., check: play, fits: cap}}
        """
    )
    assert found.checks == (
        Check(
            id="play",
            feel="play",
            good="none",
            upset_by=(Link("b"), Link("c", "step", "it shifts")),
            needs_open=(
                WayIn(name="top", shut_by=(Link("cap", "part"),)),
                WayIn(
                    name="port",
                    opening=size("9 mm"),
                    room=size("20 mm"),
                    shut_by=(Link("cap", "part"),),
                    why="dial",
                ),
            ),
        ),
    )


@pytest.mark.parametrize("field", ["units", "trials", "lines", "one_of", "states"])
@pytest.mark.parametrize("nothing", ["", "[]", "{}", "~"])
def test_an_empty_list_or_map_means_none(field: str, nothing: str) -> None:
    assert getattr(model(f"assembly: x\n{field}: {nothing}\nsteps: {{s: S.}}"), field) == ()
