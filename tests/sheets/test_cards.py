"""What a step's card says."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.assembly import (
    Assembly,
    Check,
    Defaults,
    Fit,
    Joint,
    Link,
    Otherwise,
    Part,
    Rework,
    Section,
    Size,
    Step,
    Together,
    Tool,
)
from sequencer.model.complete import complete
from sequencer.planning.results import Plan, StepFacts
from sequencer.sheets.blocks import CheckBlock, TorqueBlock
from sequencer.sheets.job import Ref, job_of
from sequencer.sheets.steps import Card, Fitted, Line, Missed, Stop, steps_view
from tests.sheets.sample import after, amount, limit, links, shut_by, torque


def cards(*steps: Step, facts: dict[str, StepFacts] | None = None, **model: object) -> list[Card]:
    assembly = complete(Assembly(assembly="a", steps=steps, **model))  # type: ignore[arg-type] # the fields are the caller's affair
    plan = Plan(tuple(step.id for step in steps), steps=facts or {})
    view = steps_view(job_of(assembly, plan, fingerprint="f", sheets=("steps",)))
    return [card for stretch in view.stretches for card in stretch.cards]


def card(step: Step, **model: object) -> Card:
    return cards(step, **model)[0]  # type: ignore[arg-type] # likewise


def said(lines: tuple[Line, ...], label: str) -> list[tuple[str | Ref, ...]]:
    return [line.said for line in lines if line.label == label]


FIT = Step(id="fit", do="Fit it.")
TIGHTEN = Step(id="tighten", do="Tighten it.", tighten=links("joint", "j"))
MEASURE = Step(id="measure", do="Measure it.", check=links("check", "c"))


def test_steps_are_numbered_in_printed_order_not_as_written() -> None:
    assembly = complete(Assembly(assembly="a", steps=(FIT, TIGHTEN), joints=(Joint(id="j"),)))
    job = job_of(assembly, Plan(("tighten", "fit")), fingerprint="f", sheets=("steps",))
    (stretch,) = steps_view(job).stretches
    assert [(card.number, card.do) for card in stretch.cards] == [
        (1, "Tighten it."),
        (2, "Fit it."),
    ]


def test_section_that_comes_again_is_marked_so() -> None:
    steps = [
        replace(FIT, id=name, section=section)
        for name, section in (("a", "one"), ("b", "two"), ("c", "one"))
    ]
    job = job_of(
        complete(Assembly(assembly="a", steps=tuple(steps))),
        Plan(("a", "b", "c")),
        fingerprint="f",
        sheets=("steps",),
    )
    titles = [(stretch.title, stretch.continued) for stretch in steps_view(job).stretches]
    assert titles == [("one", False), ("two", False), ("one", True)]


def test_part_without_a_count_is_all_that_is_not_yet_on() -> None:
    first = Step(id="one", do="Fit.", fits=(Fit("bolt", 3), Fit("ring")))
    rest = Step(id="two", do="Fit.", fits=(Fit("bolt"),))
    parts = (Part(id="bolt", quantity=8), Part(id="ring"))
    fitted = [card.fitted for card in cards(first, rest, parts=parts)]
    assert [part.quantity for part in fitted[0]] == ["3 ×", ""]
    assert [part.quantity for part in fitted[1]] == ["5 ×"]


def test_part_fitted_two_ways_round_has_a_count_for_each() -> None:
    step = replace(FIT, fits=(Fit("bolt", 2, "heads left"), Fit("bolt", None, "heads right")))
    fitted = card(step, parts=(Part(id="bolt", quantity=8),)).fitted
    assert [(part.quantity, part.facing) for part in fitted] == [
        ("2 ×", "heads left"),
        ("6 ×", "heads right"),
    ]


def test_fitted_part_says_what_to_mind() -> None:
    seal = Part(id="seal", name="Seal", number="0012", renew="always")
    ring = Part(id="ring", name="Ring", once=True, mass=amount("9.5 kg"))
    step = replace(FIT, fits=(Fit("seal", facing="lip in"), Fit("ring")))
    assert card(step, parts=(seal, ring)).fitted == (
        Fitted("", "Seal", "0012", "", is_new=True, single_use=True, facing="lip in"),
        Fitted("", "Ring", "", "9.5 kg", is_new=False, single_use=True, facing=""),
    )


def test_stop_names_the_parts_of_the_missed_step_else_its_text() -> None:
    seal = Step(id="seal", do="Seat it.", fits=(Fit("ring"), Fit("cap")))
    tension = Step(id="tension", do="Tension the belt. Not too much.")
    close = Step(id="close", do="Close.")
    parts = (Part(id="ring", name="Ring"), Part(id="cap", name="Cap"))
    facts = {"close": StepFacts(last_chance_for=("seal", "tension"))}
    *_, last = cards(seal, tension, close, facts=facts, parts=parts)
    assert last.stop == Stop(
        (Missed("Ring, Cap", Ref(1)), Missed("Tension the belt.", Ref(2))),
        "Once this step is done, no way in is left open to these.",
    )


def test_stop_before_a_group_speaks_of_the_whole_group() -> None:
    steps = [Step(id=name, do=f"Do {name}.") for name in "abcd"]
    group = (Together(steps=after("b", "c", "d")),)
    facts = {"b": StepFacts(last_chance_for=("a",))}
    _, first, _, _ = cards(*steps, facts=facts, together=group)
    assert first.stop is not None
    assert first.stop.then == "Once steps 2 to 4 are done, no way in is left open to it."
    within = {"c": StepFacts(last_chance_for=("b",))}
    _, _, second, _ = cards(*steps, facts=within, together=group)
    assert second.stop is not None
    assert second.stop.then == "Once this step is done, no way in is left open to it."


def test_group_is_railed_and_tells_its_reason_once() -> None:
    steps = [Step(id=name, do=f"Do {name}.") for name in "abcd"]
    shown = cards(*steps, together=(Together(steps=after("d", "b", "c"), why="it rolls"),))
    assert [card.rail for card in shown] == ["", "first", "middle", "last"]
    assert said(shown[1].lines, "With") == [("steps 3 and 4, one movement – it rolls",)]
    assert said(shown[2].lines, "With") == [("steps 2 and 4, one movement",)]


def test_way_in_is_named_with_its_opening_and_reason() -> None:
    ways = (
        shut_by("port", "cap", opening="12 mm"),
        shut_by("end", "ring", opening="40 mm", why="w"),
    )
    step = replace(FIT, ways_in=ways, fits=(Fit("cap"), Fit("ring")))
    (shown,) = cards(step, facts={"fit": StepFacts(ways_in=("end", "another line"))})
    assert said(shown.lines, "Way in") == [("end, opening 40 mm (1.57 in) – w",), ("another line",)]


def test_size_with_a_reason_is_told() -> None:
    large = Size(value=amount("39.9 mm"), why="the rings stand proud")
    shown = card(replace(FIT, largest=large))
    assert said(shown.lines, "Room for") == [("39.9 mm (1.571 in) – the rings stand proud",)]


def test_section_says_once_why_it_waits() -> None:
    waits = Section(id="two", title="Two", after=after("a", why="the paint dries"))
    steps = (
        Step(id="a", do="Do.", section="one"),
        Step(id="b", do="Do.", section="two"),
        Step(id="c", do="Do.", section="one"),
        Step(id="d", do="Do.", section="two"),
    )
    assembly = complete(Assembly(assembly="a", steps=steps, sections=(waits,)))
    job = job_of(assembly, Plan(tuple("abcd")), fingerprint="f", sheets=("steps",))
    reasons = [stretch.reasons for stretch in steps_view(job).stretches]
    assert reasons == [(), (("After ", Ref(1), " – the paint dries"),), (), ()]


def test_reasons_of_the_order_are_told_where_there_are_any() -> None:
    step = Step(
        id="last",
        do="Do.",
        after=(
            *after("fit"),
            *after("measure", why="heat"),
            Link("s", "section", "dust"),
            Link("c", "check", "drag"),
        ),
        before=after("fit", why="room"),
        onto=(Link("base", "part", "it is the datum"),),
    )
    check = (Check(id="c", look="at it"),)
    base = (Part(id="base", name="Base"),)
    *_, shown = cards(
        replace(FIT, section="s"), replace(MEASURE, section="t"), step, checks=check, parts=base
    )
    assert said(shown.lines, "After") == [
        (Ref(2), " – heat"),
        ("section s – dust",),
        ("the check at ", Ref(2), " – drag"),
    ]
    assert said(shown.lines, "Before") == [(Ref(1), " – room")]
    assert said(shown.lines, "On to") == [("Base – it is the datum",)]


def test_what_is_left_loose_points_to_where_it_is_made_fast_and_back() -> None:
    loose = replace(FIT, leaves="loose")
    fast = Step(id="fast", do="Tighten.", secures=after("fit", why="it creeps"))
    first, second = cards(loose, fast)
    assert said(first.lines, "Leave") == [("loose, made fast in ", Ref(2))]
    assert said(second.lines, "Secures") == [("what was left loose in ", Ref(1), " – it creeps")]


def test_until_when_a_missed_step_can_still_be_done() -> None:
    first, second = cards(
        FIT, MEASURE, facts={"fit": StepFacts(until="measure")}, checks=(Check(id="c"),)
    )
    assert (first.until, second.until) == (Ref(2), None)


def test_time_is_as_stated_or_marked_as_guessed() -> None:
    stated = card(replace(FIT, time=amount("1 h 30 min")))
    assert (stated.minutes, stated.is_guess) == ("1 h 30 min", False)
    guessed = card(TIGHTEN, joints=(Joint(id="j", count=8),))
    assert (guessed.minutes, guessed.is_guess) == ("8 min", True)


def test_tools_are_named_with_their_range_once() -> None:
    tools = (
        Tool(id="a", name="Wrench 5 to 25 N·m", range_=amount("5 to 25 N·m")),
        Tool(id="b", name="Gauge", range_=amount("0 to 25 mm")),
        Tool(id="c"),
    )
    shown = card(replace(FIT, tools=links("tool", "a", "b", "c")), tools=tools)
    assert said(shown.lines, "Tools") == [("Wrench 5 to 25 N·m; Gauge, 0 to 25 mm; c",)]


def block(joint: Joint, **model: object) -> TorqueBlock:
    return card(TIGHTEN, joints=(joint,), **model).torques[0]


def test_torque_block_says_what_it_is_for_and_has_a_box_for_each_fastener() -> None:
    joint = Joint(id="j", thread="M10", grade="8.8", count=8, torque=torque("38 N·m", why="soft"))
    shown = block(joint, defaults=Defaults(surface="oiled", source="sheet 12"))
    assert shown.about == "8 × M10, grade 8.8, threads oiled"
    assert shown.source == "sheet 12"
    assert shown.why == ("soft",)
    assert shown.boxes == tuple(range(1, 9))
    assert shown.wrench


def test_figure_without_a_source_says_so() -> None:
    assert block(Joint(id="j", torque=torque("38 N·m"))).source == "no source given"


def test_joint_without_a_torque_has_no_figure_and_no_wrench() -> None:
    shown = block(Joint(id="j", count=4))
    assert (shown.figure, shown.source, shown.wrench) == (None, "", False)


def test_finger_tight_needs_neither_wrench_nor_source() -> None:
    shown = block(Joint(id="j", torque=torque("finger tight")))
    assert shown.figure is not None
    assert (shown.figure.large, shown.source, shown.wrench) == ("finger tight", "", False)


def test_very_many_fasteners_are_counted_on_one_line() -> None:
    assert block(Joint(id="j", count=60)).boxes[-1] == 60
    assert block(Joint(id="j", count=61)).boxes == ()


def check_block(check: Check, **model: object) -> CheckBlock:
    return card(MEASURE, checks=(check,), **model).checks[0]


def test_limit_alone_is_accepted_or_out() -> None:
    shown = check_block(Check(id="c", measure="Gap", limit=limit("0.1 to 0.2 mm"), with_="feeler"))
    assert (shown.verb, shown.what, shown.gauge) == ("Measure", "Gap", "feeler")
    assert shown.readings == ("reading",)
    assert shown.verdicts == ("accept", "out of limit")
    assert shown.source == "no source given"


def test_verdicts_are_those_that_apply() -> None:
    check = Check(
        id="c",
        measure="Bore",
        limit=limit("25.02 to 25.06 mm"),
        rework=Rework(limit=limit("24.98 to 25.02 mm"), how="Hone."),
        else_=Otherwise(renew=links("part", "gland"), accept_by="engineer"),
        with_="gauge",
    )
    tools = (Tool(id="gauge", name="Bore gauge", reads=amount("0.01 mm")),)
    parts = (Part(id="gland", name="Gland"),)
    shown = check_block(check, tools=tools, parts=parts)
    assert shown.verdicts == ("accept", "rework", "renew", "accept as it is")
    assert shown.readings == ("reading", "after rework")
    assert shown.rework == ("24.98 to 25.02 mm (0.9835 to 0.9850 in)", "Hone.")
    assert shown.gauge == "Bore gauge, reads 0.01 mm"
    assert shown.fails == (("Renew: Gland",), ("May be accepted as it is by: engineer",))


def test_rounds_of_a_repeated_check_each_have_a_blank() -> None:
    again = Otherwise(again_from=after("measure", why="it settles"), change="the shims", most=4)
    shown = check_block(Check(id="c", measure="Float", limit=limit("0.1 to 0.2 mm"), else_=again))
    assert shown.readings == ("round 1", "round 2", "round 3", "round 4")
    assert shown.verdicts == ("accept", "again")
    assert shown.fails == (
        ("Change: the shims",),
        ("Start again from ", Ref(1), ", at most 4 rounds"),
        ("it settles",),
    )


def test_observation_has_its_words_as_boxes() -> None:
    stop = Otherwise(stop="foreman")
    shown = check_block(Check(id="c", feel="Push it", good="even", bad="catches", else_=stop))
    assert (shown.verb, shown.verdicts, shown.readings) == ("Feel", ("even", "catches"), ())
    assert shown.fails == (("Stop. Tell: foreman",),)
