"""What the cover and the checklist say."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.assembly import Assembly
from sequencer.model.checking import Check
from sequencer.model.complete import complete
from sequencer.model.fastening import Joint
from sequencer.model.parts import Part
from sequencer.model.steps import Fit, Step, Together, Trial, Unit
from sequencer.planning.results import Plan, StepFacts
from sequencer.sheets.checklist import Item, checklist_view
from sequencer.sheets.cover import NotLaidOut, PartRow, cover_view
from sequencer.sheets.job import Job, job_of
from tests.sheets.making import after, amount, links, torque
from tests.sheets.sample import winch, winch_plan

ROW = PartRow(
    quantity=1,
    spare=0,
    name="",
    number="",
    is_new=False,
    single_use=False,
    is_aid=False,
    steps="",
)


def job(
    *steps: Step,
    facts: dict[str, StepFacts] | None = None,
    rest_after: tuple[str, ...] = (),
    instead: dict[str, tuple[str, ...]] | None = None,
    **model: object,
) -> Job:
    assembly = complete(Assembly(assembly="a", steps=steps, **model))  # type: ignore[arg-type] # the fields are the caller's affair
    left_out = {other for others in (instead or {}).values() for other in others}
    order = tuple(step.id for step in steps if step.id not in left_out)
    plan = Plan(order, steps=facts or {}, rest_after=rest_after, fallbacks=instead or {})
    return job_of(assembly, plan, fingerprint="f", sheets=("cover",))


DO = Step(id="do", do="Do it.")


def test_counts_and_times_are_those_of_the_job() -> None:
    view = cover_view(job_of(winch(), winch_plan(), fingerprint="f", sheets=("cover",)))
    assert view.counts == ("35 steps", "4 hold points", "3 STOP lines", "8 checks")
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
        Part(id="bolt", name="Bolt", quantity=4, number="0012", spare=2),
        Part(id="seal", name="Seal", renew="always"),
    )
    one = replace(DO, id="one", fits=(Fit("seal"), Fit("bolt", 2)))
    two = replace(DO, id="two", fits=(Fit("bolt"),))
    assert cover_view(job(one, two, parts=parts)).parts == (
        replace(ROW, name="Seal", is_new=True, steps="1"),
        replace(ROW, quantity=4, spare=2, name="Bolt", number="0012", steps="1, 2"),
        replace(ROW, name="Spare"),
    )


def test_aid_is_marked_in_the_list_of_parts() -> None:
    sleeve = Part(id="sleeve", aid=True)
    view = cover_view(job(replace(DO, fits=(Fit("sleeve"),)), parts=(sleeve,)))
    assert view.parts == (replace(ROW, name="sleeve", is_aid=True, steps="1"),)


def test_what_is_on_at_the_start_is_listed_apart() -> None:
    parts = (
        Part(id="frame", name="Frame", number="1", at_start="fitted"),
        Part(id="strap", name="Strap", quantity=2, at_start="fitted"),
        Part(id="lid", name="Lid", at_start="fitted"),
        Part(id="seal", name="Seal", renew="always", at_start="fitted"),
    )
    off = replace(DO, id="off", takes_off=links("part", "strap", "lid", "seal"))
    view = cover_view(job(off, replace(DO, fits=(Fit("seal"), Fit("lid"))), parts=parts))
    assert view.already_on == (
        NotLaidOut("", "Frame", "1", "stays on"),
        NotLaidOut("2 ×", "Strap", "", "off in step 1"),
        NotLaidOut("", "Lid", "", "off in step 1, on again in step 2"),
        NotLaidOut("", "Seal", "", "off in step 1, a new one in step 2"),
    )
    assert view.parts == (replace(ROW, name="Seal", is_new=True, steps="2"),)


def test_unit_is_built_not_laid_out() -> None:
    steps = (replace(DO, id="a", unit="u"), replace(DO, id="b", fits=(Fit("u"),)))
    view = cover_view(job(*steps, units=(Unit(id="u", name="Unit"),)))
    assert view.parts == ()
    assert view.units == (NotLaidOut("", "Unit", "", "built in step 1, fitted in step 2"),)


def test_what_only_a_step_done_instead_needs_says_of_which() -> None:
    other = replace(DO, id="other", fits=(Fit("wedge"),), hold="inspector")
    chosen = job(DO, other, instead={"do": ("other",)}, parts=(Part(id="wedge"),))
    assert cover_view(chosen).parts == (replace(ROW, name="wedge", steps="if not 1"),)
    assert cover_view(chosen).roles == ("built by", "inspector")


ITEM = Item(
    number=1,
    text="",
    torques=(),
    is_stop=False,
    is_together=True,
    is_trial=False,
    hold="",
    rest=None,
)


def test_checklist_marks_what_must_not_be_passed_over() -> None:
    steps = (
        Step(id="a", do="Run it down to 1.5 mm. Then wait.", tighten=links("joint", "j")),
        Step(id="b", do="Close it.", hold="inspector"),
        Step(id="c", do="Try it."),
        Step(id="d", do="Take it apart."),
    )
    view = checklist_view(
        job(
            *steps,
            facts={"b": StepFacts(last_chance_for=("a",))},
            joints=(Joint(id="j", torque=torque("9 N·m")),),
            together=(Together(steps=after("a", "b")),),
            trials=(Trial(id="t", steps=after("c", "d")),),
            rest_after=("b", "d"),
        )
    )
    (run,) = view.runs
    assert run.items == (
        replace(ITEM, text="Run it down to 1.5 mm.", torques=("9 N·m",)),
        replace(ITEM, number=2, text="Close it.", is_stop=True, hold="inspector", rest=4),
        replace(ITEM, number=3, text="Try it.", is_trial=True),
        replace(ITEM, number=4, text="Take it apart.", is_trial=True),
    )
    assert view.first_rest == 2


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
