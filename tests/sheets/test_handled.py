"""The parts that a card fits and takes off."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.common import Link
from sequencer.model.parts import Part
from sequencer.model.steps import Fit, Step, Trial, Unit
from sequencer.sheets.handled import Fitted, Removed
from sequencer.sheets.job import Ref
from tests.sheets.making import after, amount, links
from tests.sheets.views import FIT, card, cards


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
        Fitted("", "Seal", "0012", "", is_new=True, single_use=True, remark=(), facing="lip in"),
        Fitted("", "Ring", "", "9.5 kg", is_new=False, single_use=True, remark=(), facing=""),
    )


OFF = Step(id="off", do="Take it off.", takes_off=links("part", "pin"))
ON = Step(id="on", do="Fit it.", fits=(Fit("pin"),))
PIN = Part(id="pin", name="Pin", quantity=3)


def test_part_that_comes_off_again_says_where() -> None:
    on_again = replace(ON, id="again")
    first, _, last = cards(ON, OFF, on_again, parts=(PIN,))
    assert [part.remark for part in first.fitted] == [("comes off again in ", Ref(2))]
    assert [(part.quantity, part.remark) for part in last.fitted] == [("3 ×", ())]


def test_aid_is_marked_where_it_goes_on_and_where_it_comes_off() -> None:
    on, off = cards(ON, OFF, parts=(replace(PIN, aid=True),))
    assert on.fitted[0].remark == ("aid, comes off in ", Ref(2))
    assert off.removed == (Removed("3 ×", "Pin", ", aid"),)
    assert card(ON, parts=(replace(PIN, aid=True),)).fitted[0].remark == (
        "aid, must come off again",
    )


def test_as_many_come_off_as_are_on() -> None:
    some = replace(ON, fits=(Fit("pin", 2),))
    assert cards(some, OFF, parts=(PIN,))[1].removed[0].quantity == "2 ×"
    on_at_start = replace(PIN, at_start="fitted")
    assert card(OFF, parts=(on_at_start,)).removed[0].quantity == "3 ×"
    assert card(OFF, parts=(PIN,)).removed[0].quantity == ""


def test_part_spoiled_by_taking_it_off_is_not_to_be_used_again() -> None:
    off = replace(OFF, takes_off=(Link("pin", "part", "it is worn"),))
    shown = card(off, parts=(replace(PIN, once=True),))
    assert shown.removed[0].remark == ", not to be used again – it is worn"


def test_what_a_trial_fits_counts_for_the_trial_alone() -> None:
    try_on, try_off = replace(ON, id="try-on"), replace(OFF, id="try-off")
    trial = Trial(id="t", steps=after("try-on", "try-off"), settles=links("part", "pin"))
    shown = cards(try_on, try_off, ON, OFF, parts=(PIN,), trials=(trial,))
    assert [part.quantity for card in shown for part in card.fitted] == ["3 ×", "3 ×"]
    assert shown[0].fitted[0].remark == ("comes off again in ", Ref(2))
    assert shown[2].fitted[0].remark == (
        "comes off again in ",
        Ref(4),
        "; as settled in ",
        Ref(2),
    )


def test_unit_that_is_fitted_says_where_it_was_built() -> None:
    steps = [Step(id=name, do="Build.", unit="u") for name in "ab"]
    whole = Step(id="c", do="Fit it.", fits=(Fit("u"),))
    *_, last = cards(*steps, whole, units=(Unit(id="u", name="Unit"),))
    assert [(part.name, part.remark) for part in last.fitted] == [
        ("Unit", ("built in steps 1 and 2",))
    ]


def test_parts_of_a_step_done_instead_are_counted_as_if_it_were() -> None:
    other = replace(ON, id="other")
    shown = cards(
        replace(ON, fits=(Fit("pin", 1),)), other, parts=(PIN,), instead={"on": ("other",)}
    )
    assert shown[0].instead[0].fitted[0].quantity == "3 ×"


def test_matched_part_says_what_it_has_to_stay_with() -> None:
    parts = (
        Part(id="rod", name="Rod", quantity=2, matched="rods"),
        Part(id="cap", name="Rod cap", quantity=2, matched="rods"),
        Part(id="pin", name="Pin", matched="gate"),
        Part(id="eye", name="Eye", matched="gate"),
        Part(id="pads", name="Pads", quantity=4, matched="pads"),
    )
    step = replace(FIT, fits=tuple(Fit(part.id) for part in parts))
    assert [part.matched for part in card(step, parts=parts).fitted] == [
        "Matched set rods: each with Rod cap of the same mark",
        "Matched set rods: each with Rod of the same mark",
        "Matched set gate: with Eye of the same mark",
        "Matched set gate: with Pin of the same mark",
        "Matched set pads: all of one set",
    ]


def test_part_in_a_bag_says_which_and_serial_numbers_have_blanks() -> None:
    parts = (Part(id="pin", bag="B 2"), Part(id="pump", quantity=2, serial="record"))
    pin, pump = card(replace(FIT, fits=(Fit("pin"), Fit("pump"))), parts=parts).fitted
    assert (pin.remark, pin.serials) == (("from bag B 2",), ())
    assert (pump.remark, pump.serials) == ((), ("serial no. 1", "serial no. 2"))
    one = Part(id="pump", serial="record")
    assert card(replace(FIT, fits=(Fit("pump"),)), parts=(one,)).fitted[0].serials == (
        "serial no.",
    )
