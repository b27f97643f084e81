"""What the cover and the checklist say."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.assembly import Assembly
from sequencer.model.checking import Check
from sequencer.model.complete import complete
from sequencer.model.fastening import Joint
from sequencer.model.parts import Part
from sequencer.model.steps import Fit, Step, Together, Trial
from sequencer.planning.results import Plan, StepFacts
from sequencer.sheets.checklist import Item, checklist_view
from sequencer.sheets.cover import cover_view
from sequencer.sheets.job import Job, job_of
from tests.sheets.making import after, amount, links, torque
from tests.sheets.sample import winch, winch_plan
from tests.sheets.views import TIGHTEN


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


def test_whoever_signs_for_what_is_done_instead_has_a_row_too() -> None:
    other = replace(DO, id="other", fits=(Fit("wedge"),), hold="inspector")
    chosen = job(DO, other, instead={"do": ("other",)}, parts=(Part(id="wedge"),))
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
        replace(ITEM, text="Run it down to 1.5 mm. Then wait.", torques=("9 N·m",)),
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
    assert 60 < len(item.text) <= 110


def test_checklist_goes_on_past_a_first_sentence_that_says_too_little() -> None:
    turned = replace(DO, id="t", do="Turn it over. Lay seven balls into the race. Grease them.")
    tight = replace(TIGHTEN, do="Stand it with the front bore up. Tighten the cap. Wipe it.")
    loose = replace(DO, id="l", do="Stand it with the front bore up. Fit the cap.")
    joint = Joint(id="j", torque=torque("9 N·m"))
    ((*items,),) = [
        run.items for run in checklist_view(job(turned, tight, loose, joints=(joint,))).runs
    ]
    assert [item.text for item in items] == [
        "Turn it over. Lay seven balls into the race.",
        "Stand it with the front bore up. Tighten the cap.",
        "Stand it with the front bore up.",
    ]


def test_short_checklist_has_whole_lines_and_a_long_one_two_columns() -> None:
    steps = [replace(DO, id=f"s{number}") for number in range(60)]
    assert checklist_view(job(*steps[:20])).is_wide
    assert not checklist_view(job(*steps)).is_wide


def test_checks_are_counted_where_they_are_taken() -> None:
    step = replace(DO, check=links("check", "c"))
    view = cover_view(job(step, replace(step, id="again"), checks=(Check(id="c", look="at it"),)))
    assert "2 checks" in view.counts
