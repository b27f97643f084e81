"""Where figures come from, what has to be bought new, and what makes a DRAFT."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.assembly import Defaults, Source
from sequencer.model.checking import Check, Computed, Reading, Rework
from sequencer.model.compounds import Compound, CureTable
from sequencer.model.fastening import (
    Grade,
    Joint,
    OtherTorque,
    Torque,
)
from sequencer.problem import Problem
from sequencer.sheets.drafts import why_draft
from sequencer.sheets.sources import Disagreement, FigureRow, SourceList, sources_view
from tests.sheets.making import amount, limit, links, torque
from tests.sheets.views import MEASURE, TIGHTEN, job, model

DISAGREEING = Torque(
    value=torque("9 N·m").value,
    source="s",
    also=(OtherTorque(value=torque("14 N·m").value, source="card"),),
)


# Sources


def test_figures_stand_under_the_source_that_they_come_from() -> None:
    check = Check(
        id="c",
        readings=(Reading(name="ring", is_=amount("5 mm")),),
        compute="ring",
        limit=limit("0.1 to 0.2 mm", "s"),
        rework=Rework(limit=limit("0.2 to 0.3 mm")),
    )
    view = sources_view(
        job(
            TIGHTEN,
            replace(MEASURE, torque=torque("3 N·m", "Card 5")),
            joints=(Joint(id="j", name="Screws", torque=torque("9 N·m", "s")),),
            checks=(check,),
            compounds=(Compound(id="glue", cure=CureTable(any_=amount("24 h")), source="s"),),
            sources=(Source(id="unused", name="Unused"), Source(id="s", name="Sheet 3")),
        )
    )
    assert view.listed == (
        SourceList(
            "Sheet 3",
            (
                FigureRow("Screws", "9 N·m", is_taken=True),
                FigureRow("c", "0.1 to 0.2 mm", is_taken=True),
                FigureRow("glue, cure", "24 h", is_taken=True),
            ),
        ),
        SourceList("Card 5", (FigureRow("Measure it (step 2)", "3 N·m", is_taken=True),)),
    )
    assert view.without == (
        FigureRow("c, rework", "0.2 to 0.3 mm", is_taken=True),
        FigureRow("c, ring", "5 mm", is_taken=True),
    )


def test_figures_are_told_by_names_and_a_torque_without_a_joint_in_the_words_of_its_step() -> None:
    check = Check(
        id="lp-gap",
        name="Clearance of the piston",
        readings=(Reading(name="bore"),),
        results=(Computed(name="warm", compute="bore", limit=limit("0.1 to 0.2 mm")),),
    )
    plugged = replace(
        TIGHTEN, do="Fit the drain plug with its washer.", tighten=(), torque=torque("3 N·m")
    )
    view = sources_view(
        job(
            plugged,
            checks=(check,),
            defaults=Defaults(source="Sheet 3"),
        )
    )
    assert view.listed == (
        SourceList(
            "Sheet 3",
            (
                FigureRow("Fit the drain plug with its washer (step 1)", "3 N·m", is_taken=True),
                FigureRow("Clearance of the piston, warm", "0.1 to 0.2 mm", is_taken=True),
            ),
        ),
    )


def test_default_source_serves_what_names_none() -> None:
    view = sources_view(
        job(joints=(Joint(id="j", torque=torque("9 N·m")),), defaults=Defaults(source="Sheet 3"))
    )
    assert [source.name for source in view.listed] == ["Sheet 3"]
    assert view.without == ()


def test_disagreement_names_what_was_chosen_and_why_or_that_nothing_was() -> None:
    open_ = Joint(id="j", name="Screws", torque=DISAGREEING)
    view = sources_view(job(joints=(open_,)))
    said = (("9 N·m", "s"), ("14 N·m", "card"))
    assert view.disagreements == (Disagreement("Screws", said, "", ""),)
    assert [(row.text, row.is_taken) for source in view.listed for row in source.figures] == [
        ("9 N·m", False),
        ("14 N·m", False),
    ]
    chosen = replace(open_, torque=replace(DISAGREEING, because="thin cover"))
    view = sources_view(job(joints=(chosen,)))
    assert view.disagreements == (Disagreement("Screws", said, "9 N·m", "thin cover"),)
    assert [row.is_taken for source in view.listed for row in source.figures] == [True, False]


def test_tables_of_the_cross_check_are_named_with_the_joints_that_they_served() -> None:
    known = Joint(
        id="j",
        name="Bolts",
        thread="M10",
        grade=Grade(name="8.8"),
        surface="oiled",
        count=8,
        pattern="cross",
        torque=torque("40 N·m", "s"),
    )
    bare = Joint(id="k", name="Plug", torque=torque("9 N·m", "s"))
    step = replace(TIGHTEN, tighten=links("joint", "j", "k"))
    found = {one.words: one.joints for one in sources_view(job(step, joints=(known, bare))).checks}
    assert found == {
        "Not checked: no thread is given, so the torque is not checked against the bolt": "Plug",
        "Nut factor 0.11 to 0.2, oiled: NASA TM-106943 p 4; MIL-HDBK-60 table II; "
        "a textbook table of nut factors": "Bolts",
        "Order of tightening: legacy cross pattern, ASME PCC-1": "Bolts",
        "Preload: T = K·D·F: NASA-STD-5020B, equation 24": "Bolts",
        "Strength of grade 8.8: ISO 898-1": "Bolts",
        "Thread: ISO 261 and ISO 262; stress area ISO 898-1": "Bolts",
    }


# DRAFT


def test_errors_and_open_choices_make_a_draft() -> None:
    plain = model(joints=(Joint(id="j", torque=torque("9 N·m")),))
    error = Problem("no-order", "error", "no order works")
    open_ = Problem("not-chosen", "warning", "no torque is chosen")
    other = Problem("slack", "warning", "it is slack")
    assert why_draft(plain, (other,)) == ()
    assert why_draft(plain, (error, other, open_), ("asked for",)) == (
        "asked for",
        "no order works",
        "no torque is chosen",
    )


def test_torque_that_nobody_chose_makes_a_draft_even_if_nothing_was_found() -> None:
    told = "joint `j`: the sources give different torques, and none is chosen"
    unchosen = model(joints=(Joint(id="j", torque=DISAGREEING),))
    assert why_draft(unchosen) == (told,)
    chosen = model(joints=(Joint(id="j", torque=replace(DISAGREEING, because="so")),))
    assert why_draft(chosen) == ()
    of_a_step = model(replace(TIGHTEN, torque=DISAGREEING, tighten=()))
    assert why_draft(of_a_step) == (
        "step `tighten`: the sources give different torques, and none is chosen",
    )
