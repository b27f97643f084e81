"""What the cover and the checklist say."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.assembly import Assembly, Check, Fit, Joint, Part, Step, Together
from sequencer.model.complete import complete
from sequencer.planning.results import Plan, StepFacts
from sequencer.sheets.checklist import Item, checklist_view
from sequencer.sheets.cover import PartRow, cover_view
from sequencer.sheets.job import Job, job_of
from tests.sheets.sample import after, amount, links, torque, winch, winch_plan


def job(*steps: Step, facts: dict[str, StepFacts] | None = None, **model: object) -> Job:
    assembly = complete(Assembly(assembly="a", steps=steps, **model))  # type: ignore[arg-type] # the fields are the caller's affair
    plan = Plan(tuple(step.id for step in steps), steps=facts or {})
    return job_of(assembly, plan, fingerprint="f", sheets=("cover",))


DO = Step(id="do", do="Do it.")


def test_counts_and_times_are_those_of_the_job() -> None:
    view = cover_view(job_of(winch(), winch_plan(), fingerprint="f", sheets=("cover",)))
    assert view.counts == ("25 steps", "3 hold points", "3 STOP lines", "6 checks")
    stated = replace(DO, time=amount("1 h 10 min"))
    shown = cover_view(job(stated, replace(DO, id="other")))
    assert (shown.time, shown.guessed) == ("1 h 15 min", "5 min")
    assert cover_view(job(stated)).guessed == ""


def test_everybody_who_signs_has_a_row() -> None:
    steps = (
        replace(DO, id="a", by="fitter"),
        replace(DO, id="b", hold="inspector", by="fitter"),
        replace(DO, id="c", hold="engineer"),
    )
    assert cover_view(job(*steps)).roles == ("built by", "fitter", "inspector", "engineer")


def test_parts_come_in_the_order_in_which_they_are_taken_up() -> None:
    parts = (
        Part(id="spare", name="Spare"),
        Part(id="bolt", name="Bolt", quantity=4, number="0012"),
        Part(id="seal", name="Seal", renew="always"),
    )
    one = replace(DO, id="one", fits=(Fit("seal"), Fit("bolt", 2)))
    two = replace(DO, id="two", fits=(Fit("bolt"),))
    assert cover_view(job(one, two, parts=parts)).parts == (
        PartRow(1, "Seal", "", is_new=True, single_use=False, steps="1"),
        PartRow(4, "Bolt", "0012", is_new=False, single_use=False, steps="1, 2"),
        PartRow(1, "Spare", "", is_new=False, single_use=False, steps=""),
    )


def test_checklist_marks_what_must_not_be_passed_over() -> None:
    steps = (
        Step(id="a", do="Run it down to 1.5 mm. Then wait.", tighten=links("joint", "j")),
        Step(id="b", do="Close it.", hold="inspector"),
    )
    view = checklist_view(
        job(
            *steps,
            facts={"b": StepFacts(last_chance_for=("a",))},
            joints=(Joint(id="j", torque=torque("9 N·m")),),
            together=(Together(steps=after("a", "b")),),
        )
    )
    (run,) = view.runs
    assert run.items == (
        Item(1, "Run it down to 1.5 mm.", ("9 N·m",), is_stop=False, is_together=True, hold=""),
        Item(2, "Close it.", (), is_stop=True, is_together=True, hold="inspector"),
    )


def test_long_text_is_shortened_on_the_checklist_between_words() -> None:
    text = "Push the rod through its stroke with the flat of the hand " * 3
    ((item,),) = [run.items for run in checklist_view(job(replace(DO, do=text))).runs]
    assert item.text.endswith("…")
    assert text.startswith(item.text[:-1])
    assert 60 < len(item.text) <= 96


def test_short_checklist_has_whole_lines_and_a_long_one_two_columns() -> None:
    steps = [replace(DO, id=f"s{number}") for number in range(60)]
    assert checklist_view(job(*steps[:20])).is_wide
    assert not checklist_view(job(*steps)).is_wide


def test_checks_are_counted_where_they_are_taken() -> None:
    step = replace(DO, check=links("check", "c"))
    view = cover_view(job(step, replace(step, id="again"), checks=(Check(id="c", look="at it"),)))
    assert "2 checks" in view.counts
