"""What a check block says: limits, blanks, boxes and what follows."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.checking import Check, Otherwise, Rework
from sequencer.model.common import Link
from sequencer.model.fastening import Tool
from sequencer.model.parts import Part
from sequencer.model.steps import OneOf, Step
from sequencer.sheets.checks import CheckBlock
from sequencer.sheets.job import Ref
from tests.sheets.making import after, amount, limit, links
from tests.sheets.views import MEASURE, card, cards


def check_block(check: Check, **model: object) -> CheckBlock:
    return card(MEASURE, checks=(check,), **model).checks[0]


def test_limit_alone_is_accepted_or_out() -> None:
    shown = check_block(Check(id="c", measure="Gap", limit=limit("0.1 to 0.2 mm"), with_="feeler"))
    assert (shown.verb, shown.what, shown.gauge) == ("Measure", "Gap", "feeler")
    assert shown.fields == ("reading",)
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
    assert shown.verdicts == ("accept", "rework", "renew", "use as is")
    assert shown.fields == ("reading", "after rework")
    assert shown.rework == ("24.98 to 25.02 mm (0.9835 to 0.9850 in)", "Hone.")
    assert shown.gauge == "Bore gauge, reads 0.01 mm"
    assert shown.fails == (("Renew: Gland",), ("May be used as it is if signed by: engineer",))


def test_rounds_of_a_repeated_check_each_have_a_blank() -> None:
    again = Otherwise(again_from=after("measure", why="it settles"), change="the shims", most=4)
    shown = check_block(Check(id="c", measure="Float", limit=limit("0.1 to 0.2 mm"), else_=again))
    assert shown.fields == ("round 1", "round 2", "round 3", "round 4")
    assert shown.verdicts == ("accept", "again")
    assert shown.fails == (
        ("Change: the shims",),
        ("Start again from ", Ref(1), ", at most 4 rounds"),
        ("it settles",),
    )


def test_observation_has_its_words_as_boxes() -> None:
    stop = Otherwise(stop="foreman")
    shown = check_block(Check(id="c", feel="Push it", good="even", bad="catches", else_=stop))
    assert (shown.verb, shown.verdicts, shown.fields) == ("Feel", ("even", "catches"), ())
    assert shown.fails == (("Stop. Tell: foreman",),)


def test_check_that_fails_starts_again_from_the_step_that_was_chosen() -> None:
    check = Check(id="c", feel="Pull it.", else_=Otherwise(again_from=after("wedge")))
    clamp, wedge = (Step(id=name, do=f"The {name}.") for name in ("clamp", "wedge"))
    choice = OneOf(steps=after("clamp", "wedge"))
    *_, last = cards(
        clamp, wedge, MEASURE, checks=(check,), one_of=(choice,), instead={"clamp": ("wedge",)}
    )
    assert last.checks[0].fails == (("Start again from ", Ref(1)),)


def test_reading_that_is_taken_again_says_where_and_what_upsets_it() -> None:
    upset = (Link("knock", "step", "it settles"), Link("paint", "step"))
    check = Check(id="c", measure="Float", upset_by=upset)
    knock, paint = Step(id="knock", do="Knock."), Step(id="paint", do="Paint.")
    again, last = (replace(MEASURE, id=name) for name in ("again", "last"))
    shown = cards(MEASURE, knock, again, last, paint, checks=(check,))
    assert [block.again for card in shown for block in card.checks] == [
        ("Taken again in ", Ref(3), ": ", Ref(2), " upsets it – it settles"),
        ("Taken again in ", Ref(4)),
        (),
    ]
