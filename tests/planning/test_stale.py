"""A reading that is upset later and taken again is a note, and only that."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.assembly import Assembly
from sequencer.model.checking import Check
from sequencer.model.common import Link
from sequencer.planning.plan import check, try_order
from sequencer.planning.stale import stale
from sequencer.problem import Fact
from tests.helpers import assembly, links, step

FLOAT = links("float", "check")


def _model(*takers: str, upset_by: tuple[Link, ...], others: str) -> Assembly:
    """Steps by name, written in alphabetical order; the takers take check `float`."""
    names = sorted({*takers, *others.split()})
    steps = [step(name, check=FLOAT if name in takers else ()) for name in names]
    float_ = Check(id="float", feel="Rock it.", upset_by=upset_by)
    return replace(assembly(*steps), checks=(float_,))


def _told(model: Assembly, order: str) -> list[str]:
    return [note.message for note in stale(model, order.split())]


def test_a_reading_before_what_upsets_it_is_told_whole() -> None:
    upset_by = (Link("b-gear", why="Pressing moves the race"),)
    model = _model("a-nut", "c-look", upset_by=upset_by, others="b-gear")
    (note,) = stale(model, ["a-nut", "b-gear", "c-look"])
    assert (note.code, note.severity, note.step) == ("stale", "note", "a-nut")
    assert note.message == (
        "`a-nut` takes check `float` before `b-gear`, which upsets it: "
        "that reading does not count in the end"
    )
    assert note.path == ("steps", "a-nut", "check", 0)
    assert note.facts == (
        Fact("`a-nut` takes it", ("steps", "a-nut", "check", 0)),
        Fact(
            "check `float` is upset by `b-gear`",
            ("checks", "float", "upset_by", 0),
            "Pressing moves the race",
        ),
        Fact("`c-look` takes it again", ("steps", "c-look", "check", 0)),
    )
    assert note.why == "a good figure here is no proof of how the unit leaves the bench"
    assert note.fix == "sign for the reading of `c-look`; leave this one out if it serves nothing"


def test_the_order_given_decides_and_not_the_written_one() -> None:
    model = _model("a", "z", upset_by=links("m"), others="m")
    assert len(_told(model, "a m z")) == 1
    assert _told(model, "m a z") == []


def test_every_reading_but_those_after_it_is_told_in_its_turn() -> None:
    model = _model("a", "b", "c", "z", upset_by=links("m"), others="m")
    assert [note.step for note in stale(model, ["b", "a", "m", "c", "z"])] == ["b", "a"]


def test_only_what_comes_later_is_named_as_upsetting() -> None:
    model = _model("d", "z", upset_by=links("a m n"), others="a m n")
    assert _told(model, "a d n m z") == [
        "`d` takes check `float` before `m` and `n`, which upset it: "
        "that reading does not count in the end"
    ]
    facts = [fact.path for note in stale(model, ["a", "d", "n", "m", "z"]) for fact in note.facts]
    assert facts[1:3] == [("checks", "float", "upset_by", 1), ("checks", "float", "upset_by", 2)]


def test_a_step_that_upsets_the_check_and_then_takes_it_has_a_good_reading() -> None:
    model = _model("a", "z", upset_by=links("a"), others="")
    assert _told(model, "a z") == []


def test_the_last_written_reading_is_no_matter_for_a_note() -> None:
    model = _model("a", "z", upset_by=links("m"), others="m")
    assert [note.step for note in stale(model, ["a", "z", "m"])] == ["a"]
    findings = try_order(model, ["a", "z", "m"]).findings
    assert [one.code for one in findings if one.severity == "error"] == ["not-yet"]


def test_a_check_taken_once_has_no_earlier_reading() -> None:
    model = _model("a", upset_by=links("m"), others="m")
    assert _told(model, "a m") == []
    assert "not-yet" in [finding.code for finding in check(model)]


def test_a_check_that_nothing_upsets_stays_good() -> None:
    assert _told(_model("a", "z", upset_by=(), others="m"), "a m z") == []


def test_steps_that_the_order_lacks_are_passed_over() -> None:
    model = _model("a", "b", "z", upset_by=links("m"), others="m")
    assert _told(model, "a z") == []
    assert [note.step for note in stale(model, ["b", "m"])] == ["b"]


def test_the_right_check_of_a_step_is_pointed_at() -> None:
    both = (Link("drag", "check"), *FLOAT)
    model = _model("a", "z", upset_by=links("m"), others="m")
    first, *others = model.steps
    model = replace(model, steps=(replace(first, check=both), *others))
    (note,) = stale(model, ["a", "m", "z"])
    assert note.path == ("steps", "a", "check", 1)
