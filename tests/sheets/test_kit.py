"""What the kit lists: what to lay out, what is new, and what has to be bought."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from sequencer.model.assembly import Defaults
from sequencer.model.checking import Check, Otherwise
from sequencer.model.fastening import Joint, Tool
from sequencer.model.parts import Part
from sequencer.model.quantities import read_amount
from sequencer.model.steps import Fit, Section, Step, Unit
from sequencer.sheets.buying import BuyRow
from sequencer.sheets.kit import NotLaidOut, PartRow, ToolRow, kit_view
from tests.sheets.making import amount, links, torque
from tests.sheets.views import job

DO = Step(id="do", do="Do it.")
ROW = PartRow(
    quantity=1,
    spare=0,
    name="",
    number="",
    is_new=False,
    single_use=False,
    is_aid=False,
    fate="reuse",
    bag="",
    matched="",
    serials=(),
    steps="",
)


def test_parts_come_in_the_order_in_which_they_are_taken_up() -> None:
    parts = (
        Part(id="spare", name="Spare"),
        Part(id="bolt", name="Bolt", quantity=4, number="0012", spare=2),
        Part(id="seal", name="Seal", renew="always"),
    )
    one = replace(DO, id="one", fits=(Fit("seal"), Fit("bolt", 2)))
    two = replace(DO, id="two", fits=(Fit("bolt"),))
    assert kit_view(job(one, two, parts=parts)).parts == (
        replace(ROW, name="Seal", is_new=True, fate="", steps="1"),
        replace(ROW, quantity=4, spare=2, name="Bolt", number="0012", steps="1, 2"),
        replace(ROW, name="Spare"),
    )


def test_aid_is_marked_in_the_list_of_parts() -> None:
    sleeve = Part(id="sleeve", aid=True)
    view = kit_view(job(replace(DO, fits=(Fit("sleeve"),)), parts=(sleeve,)))
    assert view.parts == (replace(ROW, name="sleeve", is_aid=True, fate="", steps="1"),)


def test_what_is_on_at_the_start_is_listed_apart() -> None:
    parts = (
        Part(id="frame", name="Frame", number="1", at_start="fitted"),
        Part(id="strap", name="Strap", quantity=2, at_start="fitted"),
        Part(id="lid", name="Lid", at_start="fitted"),
        Part(id="seal", name="Seal", renew="always", at_start="fitted"),
    )
    off = replace(DO, id="off", takes_off=links("part", "strap", "lid", "seal"))
    view = kit_view(job(off, replace(DO, fits=(Fit("seal"), Fit("lid"))), parts=parts))
    assert view.already_on == (
        NotLaidOut("", "Frame", "1", "stays on"),
        NotLaidOut("2 ×", "Strap", "", "off in step 1"),
        NotLaidOut("", "Lid", "", "off in step 1, on again in step 2"),
        NotLaidOut("", "Seal", "", "off in step 1, a new one in step 2"),
    )
    assert view.parts == (replace(ROW, name="Seal", is_new=True, fate="", steps="2"),)


def test_unit_is_built_not_laid_out() -> None:
    steps = (replace(DO, id="a", unit="u"), replace(DO, id="b", fits=(Fit("u"),)))
    view = kit_view(job(*steps, units=(Unit(id="u", name="Unit"),)))
    assert view.parts == ()
    assert view.units == (NotLaidOut("", "Unit", "", "built in step 1, fitted in step 2"),)


def test_what_only_a_step_done_instead_needs_says_of_which() -> None:
    other = replace(DO, id="other", fits=(Fit("wedge"),))
    chosen = job(DO, other, instead={"do": ("other",)}, parts=(Part(id="wedge"),))
    assert kit_view(chosen).parts == (replace(ROW, name="wedge", steps="if not 1"),)


def test_fasteners_turned_by_an_angle_are_on_the_list_of_new_ones() -> None:
    turned = Joint(
        id="j",
        name="Cap bolts",
        thread="M10",
        count=4,
        torque=torque("40 N·m then 90°", angle="90°"),
    )
    plain = Joint(id="k", torque=torque("9 N·m"))
    step = Step(id="t", do="Tighten.", tighten=links("joint", "j", "k"))
    assert kit_view(job(step, joints=(turned, plain))).buying.fasteners == (
        "4 × M10: Cap bolts, step 1",
    )


def test_tools_have_their_range_division_and_length() -> None:
    wrench = Tool(
        id="w",
        name="Wrench",
        range_=amount("5 to 60 N·m"),
        reads=amount("1 N·m"),
        length=amount("450 mm"),
    )
    view = kit_view(job(DO, tools=(wrench,)))
    assert view.tools == (ToolRow("Wrench, 5 to 60 N·m", "1 N·m", "450 mm"),)


def test_what_comes_off_the_unit_goes_in_again_as_it_is_or_after_it_was_judged() -> None:
    parts = (
        Part(id="plain"),
        Part(id="worn", inspect=links("check", "c")),
        Part(id="doubted"),
        Part(id="stock", on_hand=1),
        Part(id="seal", renew="always", once=True),
    )
    doubt = Check(id="d", look="at it", else_=Otherwise(renew=links("part", "doubted")))
    every = replace(DO, fits=tuple(Fit(part.id) for part in parts))
    view = kit_view(job(every, parts=parts, checks=(Check(id="c", look="at it"), doubt)))
    assert [row.fate for row in view.parts] == ["reuse", "reuse if good", "reuse if good", "", ""]
    assert view.buying.perhaps == ("doubted",)


def test_bag_set_and_serial_number_stand_beside_the_part() -> None:
    parts = (
        Part(id="rod", name="Rod", quantity=2, matched="rods", bag="R"),
        Part(id="cap", name="Cap", quantity=2, matched="rods", serial="record"),
    )
    view = kit_view(job(replace(DO, fits=(Fit("rod"), Fit("cap"))), parts=parts))
    assert [(row.bag, row.matched, row.serials) for row in view.parts] == [
        ("R", "matched set rods", ()),
        (
            "",
            "matched set rods",
            ("serial no. 1", "serial no. 2"),
        ),
    ]
    assert view.has_bags
    assert not kit_view(job(DO)).has_bags


def test_to_buy_is_what_is_new_and_not_there_in_whole_packs() -> None:
    parts = (
        Part(id="seal", name="Seal", number="12", renew="always", price=Fraction(6), on_hand=1),
        Part(id="ring", name="Ring", renew="always", quantity=3, spare=1, price=Fraction(1, 2)),
        Part(id="clip", name="Clip", once=True, quantity=14, on_hand=3, bought_as="box of 10"),
        Part(id="bolt", name="Bolt", quantity=4, on_hand=4),
        Part(id="hose", name="Hose", quantity=2, on_hand=0, bought_as="by the metre"),
        Part(id="plate", name="Plate"),
    )
    every = replace(DO, fits=tuple(Fit(part.id) for part in parts))
    found = kit_view(job(every, parts=parts, defaults=Defaults(money="EUR"))).buying
    assert found.rows == (
        BuyRow("4", "Ring", "", "", "new each time"),
        BuyRow("2 × box of 10", "Clip", "", "14 needed, 3 on hand, 9 over", "single use"),
        BuyRow("2", "Hose", "", "0 on hand, bought as: by the metre", "too few on hand"),
    )
    assert found.money == "2.00 EUR for 1 of 3, the others without a price"


def test_what_takes_longest_to_come_is_ordered_first() -> None:
    leads = {"ring": "2 to 3 weeks", "clip": "", "bolt": "20 d", "seal": "3 d", "hose": ""}
    parts = tuple(
        Part(id=part, once=True, lead=read_amount(text, ("time",)) if text else None)
        for part, text in leads.items()
    )
    every = replace(DO, fits=tuple(Fit(part.id) for part in parts))
    rows = kit_view(job(every, parts=parts)).buying.rows
    assert [(row.name, row.lead) for row in rows] == [
        ("ring", "2 to 3 weeks"),
        ("bolt", "20 d"),
        ("seal", "3 d"),
        ("clip", ""),
        ("hose", ""),
    ], "what nobody says comes last, as the steps take it up"


def test_with_nothing_to_lay_out_there_is_no_kit() -> None:
    assert not kit_view(job(DO))


def test_pieces_of_one_number_come_out_of_one_pack() -> None:
    pin = Part(id="pin-a", name="Split pin", number="W-18", renew="always", bought_as="bag of 10")
    parts = (
        pin,
        replace(pin, id="pin-b"),
        replace(pin, id="pin-c", bought_as=""),
        replace(pin, id="pin-d", on_hand=0),
        Part(id="clip-a", name="Clip", renew="always"),
        Part(id="clip-b", name="Clip", renew="always"),
    )
    every = replace(DO, fits=tuple(Fit(part.id) for part in parts))
    found = kit_view(job(every, parts=parts)).buying
    assert [(row.buy, row.name, row.made_of) for row in found.rows] == [
        ("1 × bag of 10", "Split pin", "2 needed, 8 over"),
        ("1", "Split pin", ""),
        ("1 × bag of 10", "Split pin", "1 needed, 0 on hand, 9 over"),
        ("1", "Clip", ""),
        ("1", "Clip", ""),
    ]
    assert found.perhaps == ()


def test_very_many_parts_are_listed_in_a_table_for_each_section() -> None:
    pins = tuple(Part(id=f"pin-{at}") for at in range(151))
    sections = (Section(id="frame", title="The frame"), Section(id="lid"))
    steps = (
        Step(id="a", do="Fit.", section="frame", fits=tuple(Fit(pin.id) for pin in pins[:90])),
        Step(id="b", do="Fit.", section="lid", fits=tuple(Fit(pin.id) for pin in pins[85:150])),
        Step(id="c", do="Fit.", section="frame", fits=(Fit("pin-0"),)),
    )
    view = kit_view(job(*steps, parts=pins, sections=sections))
    assert [(table.title, len(table.rows)) for table in view.tables] == [
        ("The frame", 90),
        ("lid", 60),
        ("Besides", 1),
    ]
    assert [row.name for row in view.parts] == [pin.id for pin in pins]
    (table,) = kit_view(job(*steps, parts=pins[:150], sections=sections)).tables
    assert (table.title, len(table.rows)) == ("", 150)
    one = Step(id="a", do="Fit.", fits=tuple(Fit(pin.id) for pin in pins))
    assert [table.title for table in kit_view(job(one, parts=pins)).tables] == [""]
