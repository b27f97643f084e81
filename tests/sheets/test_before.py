"""Before the start: what cannot be taken back, last chances, turns, and the strip."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sequencer.drawing.ink import Drawing
from sequencer.model.steps import OneOf, Section, Step, Trial, Undo
from sequencer.planning.results import NotBefore, Plan, StepFacts, Times
from sequencer.problem import Problem
from sequencer.sheets.before import Before, Chance, Known, NoReturn, Turn, before_view
from sequencer.sheets.drawn_strip import STRIP_WIDTH
from sequencer.sheets.job import Job, Ref, job_of
from tests.sheets.making import after, links
from tests.sheets.pages import Printed, runs
from tests.sheets.sample import FINGERPRINT, ORDER, winch, winch_plan
from tests.sheets.views import model

A, B, C = (Step(id=name, do=f"Do {name}.") for name in "abc")
POINTS_A_MM = 72 / 25.4


def view(*steps: Step, plan: Plan | None = None, **fields: object) -> Before:
    return before_view(job(*steps, plan=plan, **fields))


def job(*steps: Step, plan: Plan | None = None, **fields: object) -> Job:
    planned = plan or Plan(tuple(step.id for step in steps))
    return job_of(model(*steps, **fields), planned, fingerprint="f", sheets=())


def words(drawings: tuple[Drawing, ...]) -> list[list[str]]:
    return [[one.text for one in sorted(line.words, key=lambda one: one.x)] for line in drawings]


def test_what_cannot_be_taken_back_is_told_with_its_reason() -> None:
    glue = replace(B, undo=Undo(never="the glue does not let go"))
    assert view(A, glue).no_returns == (NoReturn(Ref(2), "Do b.", "the glue does not let go"),)


def test_last_chances_tell_what_forgetting_costs() -> None:
    facts = {"c": StepFacts(last_chance_for=("a", "b"))}
    plan = Plan(("a", "b", "c"), steps=facts, forget_minutes={"a": 4.0, "b": None})
    assert view(A, B, C, plan=plan).chances == (
        Chance(Ref(3), "Do a.", Ref(1), "4 min", is_stop=False),
        Chance(Ref(3), "Do b.", Ref(2), "cannot be put right", is_stop=True),
    )
    unknown = view(A, B, C, plan=replace(plan, forget_minutes={})).chances
    assert [one.cost for one in unknown] == ["", ""]


def test_unit_is_turned_where_a_step_asks_for_another_position_of_it() -> None:
    steps = (
        replace(A, position="up"),
        replace(B, position="down", unit="u"),
        C,
        Step(id="d", do="Do d.", position="on its side"),
    )
    assert view(*steps).turns == (Turn(Ref(4), "on its side"),)


def test_findings_are_told_in_plain_words_and_not_again_as_open_questions() -> None:
    found = Problem(
        "x", "note", "step 2 (`b`) has no source", fix="name `card`, or ask in step `a`"
    )
    asked = Problem("not-chosen", "warning", "joint `j` is open")
    told = job_of(
        model(A), Plan(("a",)), fingerprint="f", sheets=(), draft=("joint `j` is open",),
        findings=(found, asked),
    )  # fmt: skip
    assert before_view(told).known == (
        Known("note", "step 2 has no source", "Name card, or ask in step 1"),
    )


def test_small_job_with_nothing_to_know_has_no_such_sheet() -> None:
    assert not view(A, B)
    assert view(A, replace(B, undo=Undo(never="it is welded")))
    assert view(*(Step(id=f"s{number}", do="Do it.") for number in range(30)))


def test_strip_has_every_step_with_what_stops_turns_or_waits() -> None:
    waits = {"b": (NotBefore("a", 20, "20 min"), NotBefore("a", 5, "5 min"))}
    plan = Plan(
        ("a", "b", "c"),
        steps={"c": StepFacts(last_chance_for=("a",))},
        rest_after=("b", "c"),
        times=Times(waits=waits),
    )
    steps = (replace(A, section="s", position="up"), B, replace(C, position="down", hold="foreman"))
    shown = view(*steps, plan=plan, sections=(Section(id="s", title="Shaft"),)).strip
    assert words(shown) == [["Shaft", "1", "20 min", "2", "STOP", "3", "HOLD"]]
    assert [line.says for line in shown] == ["Steps 1 to 3"]


def test_rest_points_stand_where_the_cards_have_them() -> None:
    plan = Plan(("a", "b", "c"), rest_after=("a", "c"))
    assert words(view(A, B, C, plan=plan).strip) == [["1", "REST", "2", "3"]]


def bars(one: Drawing) -> list[str]:
    """Return the strokes that fill: the bars below steps that are done without a break."""
    return [stroke.path for stroke in one.strokes if stroke.fill == "black"]


def test_bar_stands_below_what_is_done_without_a_break_and_a_double_one_below_a_trial() -> None:
    trial = Trial(id="t", steps=after("a", "b"))
    (line,) = view(A, B, C, trials=(trial,)).strip
    (path,) = bars(line)
    assert path.count("M") == 2
    assert bars(view(A, B, C).strip[0]) == []
    key = view(A, B, C, trials=(trial,)).key
    assert key is not None
    assert [one.text for one in key.words] == ["no break between these; double: a trial"]
    assert view(A, B, C).key is None


def test_strip_has_a_rule_only_over_a_section_with_a_title() -> None:
    (plain,), (titled,) = view(A).strip, view(replace(A, section="s")).strip
    assert len(titled.strokes) == len(plain.strokes) + 1


def test_step_done_instead_of_another_is_not_on_the_strip() -> None:
    plan = Plan(("a", "c"), fallbacks={"a": ("b",)})
    choice = OneOf(steps=links("step", "a", "b"))
    assert words(view(A, B, C, plan=plan, one_of=(choice,)).strip) == [["1", "2"]]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_printed_strip_has_every_number_once_inside_the_page(paper: str) -> None:
    from sequencer.sheets.packet import packet_html

    html = packet_html(
        winch(), winch_plan(), fingerprint=FINGERPRINT, sheets=("before",), paper=paper
    )
    printed = Printed.of(html)
    assert printed.logged == ()
    large = [run for page in printed.reader.pages for run in runs(page) if 14.5 < run.size < 15.5]
    assert [run.text for run in large] == [str(number + 1) for number in range(len(ORDER))]
    left = 22 * POINTS_A_MM
    assert all(left <= run.x < left + STRIP_WIDTH * POINTS_A_MM for run in large)
    rows = sorted({round(run.y) for run in large}, reverse=True)
    assert [round(run.y) for run in large] == sorted(
        (round(run.y) for run in large), key=rows.index
    )
