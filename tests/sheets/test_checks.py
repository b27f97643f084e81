"""What a check block says: limits, blanks, boxes and what follows."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.checking import Check, Computed, Otherwise, Reading, Rework
from sequencer.model.common import Link
from sequencer.model.fastening import Tool
from sequencer.model.lines import Line, LinePlace
from sequencer.model.parts import Part
from sequencer.model.steps import OneOf, Step
from sequencer.sheets.checks import CheckBlock, CheckRow
from sequencer.sheets.figures import Figure
from sequencer.sheets.job import Ref
from tests.sheets.making import after, amount, limit, links
from tests.sheets.views import MEASURE, card, cards

GAP = Check(id="c", measure="Gap, with the cover off", limit=limit("0.1 to 0.2 mm"))


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


def test_use_as_it_is_wants_a_signature() -> None:
    check = Check(
        id="c", look="Face", good="even", bad="nick", else_=Otherwise(accept_by="foreman")
    )
    shown = check_block(check)
    assert shown.verdicts == ("even", "nick", "use as is")
    assert shown.signs == "foreman"


def test_each_place_has_a_blank() -> None:
    check = Check(id="c", measure="Gap", limit=limit("0.1 to 0.2 mm"), each=("top", "left"))
    shown = check_block(check)
    assert (shown.fields, shown.rows) == (("top", "left"), ())


def test_places_and_rounds_make_a_grid() -> None:
    rework = Rework(how="Hone.")
    check = Check(id="c", measure="Bore", limit=limit("5 to 6 mm"), each=("a", "b"), rework=rework)
    shown = check_block(check)
    assert shown.fields == ()
    assert shown.rounds == ("reading", "after rework")
    assert shown.rows == (CheckRow("a", ""), CheckRow("b", ""))


def test_what_is_worked_out_is_called_by_its_name_and_without_one_by_its_id() -> None:
    worked_out = Check(id="c", readings=(Reading(name="bore"),), compute="bore")
    named = replace(worked_out, name="Clearance of the piston")
    shown = check_block(named)
    assert (shown.verb, shown.what) == ("Work out", "Clearance of the piston")
    assert check_block(worked_out).what == "c"
    measured = check_block(replace(GAP, name="Gap of the ring"))
    assert (measured.verb, measured.what) == ("Measure", "Gap, with the cover off")


def test_readings_have_a_row_each_and_the_result_its_formula() -> None:
    check = Check(
        id="c",
        readings=(
            Reading(name="face", ask="Depth of the seat", with_="depth gauge"),
            Reading(name="ring", is_=amount("5.00 ± 0.02 mm")),
        ),
        compute="face - ring",
        limit=limit("0.05 to 0.10 mm"),
        with_="dial",
    )
    shown = check_block(check)
    assert (shown.verb, shown.what, shown.gauge) == ("Work out", "c", "dial")
    assert shown.limit == Figure("0.05 to 0.10 mm", ("0.00197 to 0.00393 in",))
    assert shown.rounds == ("reading",)
    assert shown.rows == (
        CheckRow("face", "Depth of the seat", "depth gauge"),
        CheckRow(
            "ring", "", given="5.00 ± 0.02 mm (= 4.98 to 5.02 mm; 0.1969 in, 0.1961 to 0.1976)"
        ),
        CheckRow("result", "“Depth of the seat” minus ring", formula="face − ring", is_result=True),
    )


def test_several_results_each_have_their_limit_in_every_round() -> None:
    check = Check(
        id="c",
        readings=(Reading(name="top"), Reading(name="bottom")),
        results=(
            Computed(name="half", compute="(bottom-top)/2", limit=limit("0.1 to 0.2 mm")),
            Computed(name="sum", compute="bottom+top"),
        ),
        else_=Otherwise(again_from=after("measure"), most=3),
    )
    shown = check_block(check)
    assert shown.rounds == ("round 1", "round 2", "round 3")
    half = Figure("0.1 to 0.2 mm", ("0.00394 to 0.00787 in",))
    assert [(row.label, row.formula, row.limit, row.source) for row in shown.rows] == [
        ("top", "", None, ""),
        ("bottom", "", None, ""),
        ("half", "(bottom − top) ÷ 2", half, "no source given"),
        ("sum", "bottom + top", None, ""),
    ]


def test_limit_of_rework_names_its_source_where_that_is_another() -> None:
    check = Check(
        id="c",
        measure="Bore",
        limit=limit("5 to 6 mm", "sheet 3"),
        rework=Rework(limit=limit("4 to 5 mm", "card")),
    )
    assert check_block(check).rework == ("4 to 5 mm (0.158 to 0.196 in). Source: card",)
    alike = replace(check, rework=Rework(limit=limit("4 to 5 mm", "sheet 3")))
    assert check_block(alike).rework == ("4 to 5 mm (0.158 to 0.196 in)",)


def test_readings_are_taken_at_every_place() -> None:
    check = Check(id="c", readings=(Reading(name="a"),), compute="a", each=("left", "right"))
    labels = [row.label for row in check_block(check).rows]
    assert labels == ["left: a", "left: result", "right: a", "right: result"]


def test_go_and_no_go_are_ticked_and_not_read() -> None:
    shown = check_block(Check(id="c", measure="Hole", go="plug 9.99 mm", no_go="plug 10.02 mm"))
    assert shown.gauges == ("GO goes in: plug 9.99 mm", "NO-GO stays out: plug 10.02 mm")
    assert shown.fields == ()
    assert shown.verdicts == ("accept", "out of limit")


def test_observation_that_may_be_repeated_has_its_rounds() -> None:
    again = Otherwise(again_from=after("measure"), most=3)
    shown = check_block(Check(id="c", feel="Turn it", good="even", bad="tight", else_=again))
    assert shown.fields == ("round 1", "round 2", "round 3")


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


ROW = Line(
    id="row",
    shaft=links("part", "shaft"),
    order=(
        LinePlace(part=links("part", "roller"), width=amount("28 ± 0.04 mm")),
        LinePlace(shoulder=amount("30 mm"), width=amount("2 ± 0.03 mm")),
    ),
)
ALONG = {"lines": (ROW,), "parts": (Part(id="shaft"), Part(id="roller", name="Roller"))}


def _play(*readings: Reading) -> Check:
    line = Reading(name="row", line=links("line", "row"))
    return Check(
        id="c", readings=(*readings, line), compute="room - row", limit=limit("0.05 to 0.25 mm")
    )


def test_sum_along_a_line_is_given_with_its_widths_and_where_the_reading_serves() -> None:
    room, row, result = check_block(_play(Reading(name="room", ask="Room")), **ALONG).rows
    assert room.words == (
        "Room\nServes at 30.12 to 30.18 mm (1.1859 to 1.1881 in), "
        "whatever the rest is within its bands."
    )
    assert room.given == result.given == ""
    assert row == CheckRow(
        "row",
        "Roller 28 ± 0.04 mm + Shoulder 2 ± 0.03 mm. Worst case; by root-sum-square "
        "29.95 to 30.05 mm (1.1791 to 1.1831 in), if each size varies by itself, about the middle "
        "of its band.",
        given="29.93 to 30.07 mm (1.178 to 1.184 in)",
    )


def test_sum_of_which_all_is_known_is_worked_out_beforehand() -> None:
    room = Reading(name="room", is_=amount("30.15 mm"))
    *_, result = check_block(_play(room), **ALONG).rows
    assert result.given == "0.08 to 0.22 mm (0.003 to 0.009 in)"
    assert result.words == (
        "Worst case; by root-sum-square 0.1 to 0.2 mm (0.0039 to 0.0079 in), if each size "
        "varies by itself, about the middle of its band."
    )
    assert result.is_result


def test_no_reading_serves_where_the_widths_vary_more_than_the_limit() -> None:
    narrow = replace(_play(Reading(name="room")), limit=limit("0.05 to 0.10 mm"))
    assert check_block(narrow, **ALONG).rows[0].words == "No reading serves in the worst case."


def test_line_without_a_width_says_so() -> None:
    bare = replace(ROW, order=(LinePlace(part=links("part", "roller")),))
    row = check_block(_play(Reading(name="room")), **{**ALONG, "lines": (bare,)}).rows[1]
    assert (row.given, row.words) == ("", "cannot be added up: `roller` of line `row` has no width")


def test_which_way_wear_goes_is_said() -> None:
    check = Check(id="c", measure="Journal", limit=limit("24.97 to 25.00 mm"), wears="smaller")
    assert check_block(check).why == (
        "Wear makes it smaller. If it reads larger than the limit, measure again",
    )
