"""What a step's card says."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.assembly import Assembly
from sequencer.model.checking import Check
from sequencer.model.complete import complete
from sequencer.model.fastening import Joint
from sequencer.model.parts import Part
from sequencer.model.steps import Fit, OneOf, Section, Step, Together, Trial, Unit
from sequencer.planning.results import Plan, StepFacts
from sequencer.sheets.job import Ref, job_of
from sequencer.sheets.steps import Missed, Signal, Stop, steps_view
from tests.sheets.making import after, amount, links, torque
from tests.sheets.views import FIT, MEASURE, TIGHTEN, card, cards, said, sheet


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
    titles = [(stretch.title, stretch.continued) for stretch in sheet(*steps).stretches]
    assert titles == [("one", False), ("two", False), ("one", True)]


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


def test_what_costs_little_to_forget_stands_in_a_plain_line_and_not_in_the_stop() -> None:
    steps = [Step(id=name, do=f"Do {name}.") for name in "abc"]
    facts = {"c": StepFacts(last_chance_for=("a", "b"))}
    *_, last = cards(*steps, facts=facts, forget={"a": 14, "b": 15})
    assert last.stop is not None
    assert last.stop.missed == (Missed("Do b.", Ref(2)),)
    assert said(last.lines, "Done?") == [("Last chance for: Do a. (", Ref(1), ")")]
    *_, cheap = cards(*steps, facts=facts, forget={"a": 0, "b": 1})
    assert cheap.stop is None
    assert said(cheap.lines, "Done?") == [
        ("Last chance for: Do a. (", Ref(1), ")"),
        ("Last chance for: Do b. (", Ref(2), ")"),
    ]
    *_, for_good = cards(*steps, facts=facts, forget={"a": None, "b": 1})
    assert for_good.stop is not None
    assert for_good.stop.missed == (Missed("Do a.", Ref(1)),)


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


def test_section_says_once_why_it_waits() -> None:
    waits = Section(id="two", title="Two", after=after("a", why="the paint dries"))
    steps = (
        Step(id="a", do="Do.", section="one"),
        Step(id="b", do="Do.", section="two"),
        Step(id="c", do="Do.", section="one"),
        Step(id="d", do="Do.", section="two"),
    )
    leads = [stretch.leads for stretch in sheet(*steps, sections=(waits,)).stretches]
    assert leads == [(), (("After ", Ref(1), " – the paint dries"),), (), ()]


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


PLAIN = tuple(Step(id=name, do=f"Do {name}.") for name in "abcdef")


def test_stop_names_a_part_that_is_missed_while_it_is_still_on() -> None:
    off = Step(id="off", do="Draw it.", takes_off=links("part", "pin"))
    facts = {"a": StepFacts(last_chance_for=("off",))}
    *_, last = cards(off, PLAIN[0], facts=facts, parts=(Part(id="pin", name="Pin"),))
    assert last.stop is not None
    assert last.stop.missed == (Missed("Pin off", Ref(1)),)


def test_section_in_order_says_so_where_it_begins() -> None:
    steps = [replace(step, section=one) for step, one in zip(PLAIN, "sts", strict=False)]
    leads = [
        part.leads for part in sheet(*steps, sections=(Section(id="s", in_order=True),)).stretches
    ]
    assert leads == [(("In the order written.",),), (), ()]


def test_unit_stands_under_the_title_of_a_section_that_builds_nothing_else() -> None:
    base = Part(id="shaft", name="Shaft")
    steps = (
        replace(PLAIN[0], section="own", unit="u", fits=(Fit("shaft"),)),
        replace(PLAIN[1], section="own", unit="u"),
        replace(PLAIN[2], section="mixed", unit="u"),
        replace(PLAIN[3], section="mixed", fits=(Fit("u"),)),
    )
    units = (Unit(id="u", name="Pinion unit", base=links("part", "shaft")),)
    own, mixed = sheet(*steps, units=units, parts=(base,)).stretches
    about = "Pinion unit, built on the bench on Shaft, fitted as one in "
    assert own.leads == ((f"Unit: {about}", Ref(4)),)
    assert mixed.leads == ()
    assert [said(card.lines, "Unit") for card in (*own.cards, *mixed.cards)] == [
        [],
        [],
        [(about, Ref(4))],
        [],
    ]


def test_trial_is_railed_and_says_that_nothing_of_it_stays() -> None:
    trial = Trial(id="t", steps=after("a", "b", "c"), settles=links("part", "shim"), why="worn")
    shown = cards(*PLAIN[:4], trials=(trial,), parts=(Part(id="shim", name="Shim"),))
    assert [card.rail for card in shown] == ["first", "middle", "last", ""]
    assert [card.is_trial for card in shown] == [True, True, True, False]
    assert said(shown[0].lines, "Trial") == [
        ("fitted to measure and taken apart again; nothing stays – worn",)
    ]
    assert said(shown[0].lines, "It settles") == [("Shim",)]
    assert said(shown[1].lines, "Trial") == []
    assert said(shown[2].lines, "Trial") == [("ends here: nothing of it is left on",)]
    assert said(shown[1].lines, "With") == [("steps 1 and 3, one trial",)]


def test_trial_of_one_step_is_railed_alone() -> None:
    shown = card(PLAIN[0], trials=(Trial(id="t", steps=after("a")),))
    assert shown.rail == "only"
    assert said(shown.lines, "With") == []
    assert len(said(shown.lines, "Trial")) == 1


OTHER = Step(
    id="other",
    do="Wedge it.",
    fits=(Fit("wedge"),),
    warning=("It flies.",),
    torque=torque("9 N·m"),
    after=after("a", why="room"),
    hold="inspector",
)
CHOICE = OneOf(steps=after("b", "other"), before=after("c"), why="old drums have no thread")


def test_step_done_instead_is_printed_whole_below_the_one_chosen() -> None:
    steps = (PLAIN[0], PLAIN[1], OTHER, PLAIN[2])
    parts = (Part(id="wedge", name="Wedge"),)
    shown = cards(*steps, instead={"b": ("other",)}, one_of=(CHOICE,), parts=parts)
    assert [card.number for card in shown] == [1, 2, 3]
    assert [len(card.instead) for card in shown] == [0, 1, 0]
    assert shown[1].choice == (", in any case before ", Ref(3), " – old drums have no thread")
    assert said(shown[1].lines, "Instead") == [("if this cannot be done, below: Wedge it.",)]
    (instead,) = shown[1].instead
    assert (instead.number, instead.do, instead.hold) == (None, "Wedge it.", "inspector")
    assert instead.signals == (Signal("WARNING", "It flies."),)
    assert [part.name for part in instead.fitted] == ["Wedge"]
    assert len(instead.torques) == 1
    assert said(instead.lines, "After") == [(Ref(1), " – room")]


def test_what_names_a_step_that_is_not_done_falls_away() -> None:
    named = after("other", why="heat")
    last = replace(PLAIN[2], after=named, before=named, secures=named, loosens=named)
    section = Section(id="s", after=named)
    group = Together(steps=after("other", "b"))
    view = sheet(
        replace(PLAIN[0], section="r"),
        PLAIN[1],
        OTHER,
        replace(last, section="s"),
        instead={"b": ("other",)},
        one_of=(CHOICE,),
        sections=(section,),
        together=(group,),
    )
    (_, second), (third,) = (stretch.cards for stretch in view.stretches)
    assert view.stretches[1].leads == ()
    assert second.rail == ""
    assert third.lines == ()


def test_without_an_order_the_first_of_several_steps_is_printed_with_the_others() -> None:
    steps = (PLAIN[1], OTHER, PLAIN[2])
    assembly = complete(Assembly(assembly="a", steps=steps, one_of=(CHOICE,)))
    job = job_of(assembly, Plan(None), fingerprint="f", sheets=("steps",))
    (stretch,) = steps_view(job).stretches
    assert [card.do for card in stretch.cards] == ["Do b.", "Do c."]
    assert [card.do for card in stretch.cards[0].instead] == ["Wedge it."]


def test_rest_is_marked_only_before_a_stretch_that_must_be_finished() -> None:
    view = sheet(*PLAIN, rest_after=("a", "b", "e", "f"))
    (stretch,) = view.stretches
    assert [card.rest for card in stretch.cards] == [None, Ref(5), None, None, None, None]
    assert view.first_rest is None


def test_job_that_cannot_be_left_at_once_says_when_it_first_can() -> None:
    view = sheet(*PLAIN, rest_after=("c", "d", "e", "f"))
    assert view.first_rest == Ref(3)
    assert sheet(*PLAIN).first_rest is None
