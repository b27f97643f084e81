"""The labelled lines of a card."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.assembly import Assembly
from sequencer.model.checking import Check
from sequencer.model.common import Link, Size
from sequencer.model.complete import complete
from sequencer.model.fastening import Joint, Tool
from sequencer.model.lines import Line, LineEnd, LinePlace
from sequencer.model.parts import Part
from sequencer.model.steps import Fit, State, Step, Unit
from sequencer.planning.plan import plan
from sequencer.planning.results import StepFacts
from sequencer.sheets.job import Ref, job_of
from sequencer.sheets.steps import steps_view
from tests.sheets.making import after, amount, links, shut_by, tools
from tests.sheets.views import FIT, MEASURE, card, cards, said


def test_way_in_is_named_with_its_opening_and_reason() -> None:
    ways = (
        shut_by("port", "cap", opening="12 mm"),
        shut_by("end", "ring", opening="40 mm", why="w"),
    )
    step = replace(FIT, ways_in=ways, fits=(Fit("cap"), Fit("ring")))
    (shown,) = cards(step, facts={"fit": StepFacts(ways_in=("end", "another line"))})
    assert said(shown.lines, "Way in") == [
        ("end, opening 40 mm (1.57 in) – w",),
        ("from another line",),
    ]


def test_size_with_a_reason_is_told() -> None:
    large = Size(value=amount("39.9 mm"), why="the rings stand proud")
    shown = card(replace(FIT, largest=large))
    assert said(shown.lines, "Room for") == [("39.9 mm (1.571 in) – the rings stand proud",)]


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
    loose = replace(FIT, leaves=("loose",))
    fast = Step(id="fast", do="Tighten.", secures=after("fit", why="it creeps"))
    first, second = cards(loose, fast)
    assert said(first.lines, "Leave") == [("loose, made fast in ", Ref(2))]
    assert said(second.lines, "Secures") == [("what was left loose in ", Ref(1), " – it creeps")]


def test_tools_are_named_with_their_range_once() -> None:
    chest = (
        Tool(id="a", name="Wrench 5 to 25 N·m", range_=amount("5 to 25 N·m")),
        Tool(id="b", name="Gauge", range_=amount("0 to 25 mm")),
        Tool(id="c"),
    )
    shown = card(replace(FIT, tools=tools("a", "b", "c")), tools=chest)
    assert said(shown.lines, "Tools") == [("Wrench 5 to 25 N·m; Gauge, 0 to 25 mm; c",)]


def test_each_access_need_has_its_way_in() -> None:
    checks = (
        Check(id="free", feel="it"),
        Check(id="seen", look="at it", needs_open=(shut_by("window"), shut_by("plug hole"))),
    )
    step = replace(
        FIT,
        check=links("check", "free", "seen"),
        ways_in=(shut_by("port", room="45 mm"), shut_by("plug hole", opening="20 mm")),
    )
    facts = {"fit": StepFacts(ways_in=("port", "plug hole", "plain end", "plain end"))}
    assert said(card(step, facts=facts, checks=checks).lines, "Way in") == [
        ("port, leaves 45 mm (1.77 in) for the tool",),
        ("for the check: plug hole",),
        ("from plain end",),
    ]


def test_where_only_one_of_two_tools_goes_in_the_card_says_which() -> None:
    """A short key goes in where a power driver does not: the way in is open, and tight."""
    chest = (
        Tool(id="key", name="Short key", needs=Size(value=amount("30 mm"))),
        Tool(id="driver", name="Power driver", needs=Size(value=amount("140 mm"))),
    )
    step = replace(
        FIT, tools=tools("driver key"), ways_in=(shut_by("port", room="35 mm"), shut_by("top"))
    )
    used = {"fit": StepFacts(ways_in=("port",))}
    assert said(card(step, facts=used, tools=chest).lines, "Tight access") == [
        ("only Short key: Power driver does not go in",)
    ]
    free = {"fit": StepFacts(ways_in=("top",))}
    assert said(card(step, facts=free, tools=chest).lines, "Tight access") == []


def test_step_done_instead_tells_every_way_there_is() -> None:
    other = Step(id="other", do="Do.", ways_in=(shut_by("top"), shut_by("port", opening="9 mm")))
    (shown,) = cards(FIT, other, instead={"fit": ("other",)})
    assert said(shown.instead[0].lines, "Way in") == [("top or port, opening 9 mm (0.354 in)",)]


def test_tools_of_which_either_will_do_are_joined_by_or() -> None:
    chest = (Tool(id="key", name="Key"), Tool(id="driver", name="Driver"), Tool(id="bar"))
    shown = card(replace(FIT, tools=tools("key driver", "bar")), tools=chest)
    assert said(shown.lines, "Tools") == [("Key or Driver; bar",)]


def test_relation_to_all_says_so() -> None:
    last = replace(FIT, after=(Link("all", "all", "the seal is soft"),))
    assert said(card(last).lines, "After") == [
        ("all that is fitted and tightened – the seal is soft",)
    ]


LOOSEN = Step(id="loosen", do="Ease it.", loosens=(Link("j", "joint", "it sits askew"),))
FAST = Step(id="fast", do="Tighten it.", tighten=links("joint", "j"))
JOINT = Joint(id="j", name="Tie bolts")


def test_what_is_loosened_points_to_where_it_is_made_fast_again_and_back() -> None:
    steps = (FAST, LOOSEN, replace(FAST, id="b"), replace(LOOSEN, id="c"), replace(FAST, id="d"))
    shown = cards(*steps, joints=(JOINT,))
    assert [said(card.lines, "Loosens") for card in shown] == [
        [],
        [("Tie bolts, made fast again in ", Ref(3), " – it sits askew")],
        [],
        [("Tie bolts, made fast again in ", Ref(5), " – it sits askew")],
        [],
    ]
    assert [said(card.lines, "Secures") for card in shown[2::2]] == [
        [("what was loosened in ", Ref(2))],
        [("what was loosened in ", Ref(4))],
    ]


def test_joint_with_a_pattern_is_loosened_as_it_is_tightened_backwards() -> None:
    crossed = replace(JOINT, count=4, pattern="cross", places=("A", "B", "C", "D"))
    shown = cards(FAST, LOOSEN, replace(FAST, id="b"), joints=(crossed,))
    assert said(shown[1].lines, "Loosens") == [
        (
            "Tie bolts, in the order D, B, C, A (as tightened, backwards), made fast again in ",
            Ref(3),
            " – it sits askew",
        )
    ]


def test_step_done_instead_points_to_where_all_it_changes_is_set_right() -> None:
    other = Step(id="other", do="Prop it.", loosens=LOOSEN.loosens, fits=(Fit("prop"),))
    off = Step(id="off", do="Unprop it.", takes_off=links("part", "prop"))
    fast = replace(FAST, id="b")
    shown = cards(*(FAST, FIT, other, fast, off), instead={"fit": ("other",)}, joints=(JOINT,))
    (instead,) = shown[1].instead
    assert said(instead.lines, "Loosens")[0][1] == Ref(3)
    assert instead.fitted[0].remark == ("comes off again in ", Ref(4))


def test_step_that_is_loosened_is_named_by_its_parts() -> None:
    bolts = replace(FIT, fits=(Fit("bolt"),), leaves=("loose",))
    loosen = Step(id="loosen", do="Ease.", loosens=after("fit"))
    fast = Step(id="fast", do="Tighten.", secures=after("fit"))
    shown = cards(bolts, loosen, fast, parts=(Part(id="bolt", name="Bolt"),))
    assert said(shown[1].lines, "Loosens") == [("Bolt (", Ref(1), "), made fast again in ", Ref(3))]
    assert said(shown[2].lines, "Secures") == [
        ("what was left loose in ", Ref(1)),
        ("what was loosened in ", Ref(2)),
    ]
    bare = cards(replace(bolts, fits=()), loosen, fast)
    assert said(bare[1].lines, "Loosens")[0][:2] == ("what was set in ", Ref(1))


ISOLATED = State(id="isolated", begins=after("on"), ends=after("off"), why="it is live")
BORDERS = (Step(id="on", do="Lock."), Step(id="off", do="Unlock."))


def test_state_is_told_where_it_begins_and_ends_and_where_it_counts() -> None:
    inside = replace(FIT, needs=(Link("isolated", "state", "bare ends"),))
    outside = replace(MEASURE, not_while=links("state", "isolated"))
    on, within, off, beyond = cards(
        BORDERS[0], inside, BORDERS[1], outside, states=(ISOLATED,), checks=(Check(id="c"),)
    )
    assert said(on.lines, "Begins") == [("“isolated”, until ", Ref(3), " – it is live")]
    assert said(off.lines, "Ends") == [("“isolated”, begun in ", Ref(1))]
    span = ("“isolated” lasts (", Ref(1), " to ", Ref(3))
    assert said(within.lines, "Only while") == [(*span, ") – bare ends")]
    assert said(beyond.lines, "Not while") == [(*span, ")")]
    assert said(on.lines, "Keep") == []


def test_position_is_kept_from_where_that_begins_until_all_of_it_ends() -> None:
    loose = Step(id="on", do="Stand it.", position="upright", leaves=("loose",))
    fast = Step(id="fast", do="Tighten.", secures=after("on"))
    state = replace(ISOLATED, keep="position")
    first, *others = cards(loose, fast, BORDERS[1], states=(state,))
    assert said(first.lines, "Keep") == [("the unit as it lies until ", Ref(3))]
    assert [said(card.lines, "Keep") for card in others] == [[], []]
    first, *_ = cards(loose, fast)
    assert said(first.lines, "Keep") == [("the unit as it lies until ", Ref(2))]
    first, *_ = cards(replace(loose, position=""), fast)
    assert said(first.lines, "Keep") == []


def test_what_lies_still_is_the_unit_on_the_bench() -> None:
    loosen = replace(LOOSEN, position="flat", unit="u")
    (_, shown, *_) = cards(
        FAST, loosen, replace(FAST, id="b"), joints=(JOINT,), units=(Unit(id="u"),)
    )
    assert said(shown.lines, "Keep") == [("u as it lies until ", Ref(3))]


def test_ways_in_that_the_planner_gives_are_told_for_the_needs_they_are_meant_for() -> None:
    line = Line(
        id="line",
        shaft=links("part", "shaft"),
        ends=(LineEnd(name="left end"), LineEnd(name="right end")),
        order=tuple(
            LinePlace(part=links("part", part), bore=amount("20 mm"), od=amount("40 mm"))
            for part in ("gear", "hub")
        ),
    )
    hub = Step(id="hub-on", do="Fit the hub.", fits=(Fit("hub"),))
    gear = Step(
        id="gear-on",
        do="Fit the gear.",
        fits=(Fit("gear"),),
        check=links("check", "seen"),
        ways_in=(shut_by("front", "hub"), shut_by("top", opening="50 mm")),
    )
    assembly = complete(
        Assembly(
            assembly="a",
            steps=(Step(id="shaft-in", do="Fit the shaft.", fits=(Fit("shaft"),)), hub, gear),
            lines=(line,),
            checks=(Check(id="seen", look="at it", needs_open=(shut_by("front"),)),),
        )
    )
    job = job_of(assembly, plan(assembly), fingerprint="f", sheets=("steps",))
    shown = {card.do: card for part in steps_view(job).stretches for card in part.cards}
    assert said(shown["Fit the gear."].lines, "Way in") == [
        ("top, opening 50 mm (1.97 in)",),
        ("for the check: front",),
        ("from left end",),
    ]
    assert said(shown["Fit the hub."].lines, "Way in") == [("from left end",)]
