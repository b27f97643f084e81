"""Readings judged by the model: the verdict and what follows, whole."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from sequencer.model.assembly import Assembly
from sequencer.model.checking import Check, Otherwise, Rework
from sequencer.model.common import Limit
from sequencer.model.complete import complete
from sequencer.model.fastening import Joint, OtherTorque, Tool, Torque, TorqueValue
from sequencer.model.parts import Part
from sequencer.model.quantities import read_amount
from sequencer.model.steps import Step
from sequencer.records.entries import Reading
from sequencer.records.sets import judged_with
from sequencer.records.verdicts import Verdict, judge_torque, times_off, with_unit
from tests.helpers import links


def limit(text: str) -> Limit:
    return Limit(value=read_amount(text, ("length", "torque")))


MODEL = complete(
    Assembly(
        assembly="test",
        parts=(Part(id="sleeve", name="Crush sleeve"),),
        tools=(
            Tool(id="dial", reads=read_amount("0.01 mm", ("length",))),
            Tool(id="tape", reads=read_amount("1 mm", ("length",))),
            Tool(id="scale", reads=read_amount("1 kg", ("mass",))),
        ),
        steps=(Step(id="a", do="Do a."),),
    )
)
FLOAT = "0.02 to 0.06 mm"


def check(limits: str = FLOAT, **fields: Any) -> Check:
    return Check(id="float", measure="Float", limit=limit(limits), **fields)


AGAIN = Otherwise(again_from=links("seat"), change="shim pack")
RENEW = Otherwise(renew=links("sleeve", "part"))
REWORK = Rework(limit=limit("0.06 to 0.10 mm"), how="Face the ring")

# A check, what was read, the gauge, and the verdict whole.
JUDGED = [
    (check(), "0.04 mm", "", Verdict("accept", FLOAT)),
    (check(), "0.06 mm", "dial", Verdict("accept", FLOAT)),
    (check(), "0.0015 in", "", Verdict("accept", f"0.0381 mm is within {FLOAT}")),
    (
        check(),
        "0.08 mm",
        "dial",
        Verdict(
            "out of limit",
            f"above the limit ({FLOAT})",
            "do not go on: the model does not say what follows",
        ),
    ),
    (
        check(else_=AGAIN),
        "0.08 mm",
        "",
        Verdict(
            "again",
            f"above the limit ({FLOAT})",
            "do not go on: change shim pack, then start again from `seat`",
        ),
    ),
    (
        check("15 to 30 in-lb", else_=RENEW),
        "34 in-lb",
        "",
        Verdict("renew", "above the limit (15 to 30 in-lb)", "do not go on: renew Crush sleeve"),
    ),
    (
        check(rework=REWORK, else_=RENEW),
        "0.08 mm",
        "",
        Verdict("rework", f"above the limit ({FLOAT})", "Face the ring, then check again"),
    ),
    (
        check(rework=REWORK, else_=RENEW),
        "0.12 mm",
        "",
        Verdict("renew", f"above the limit ({FLOAT})", "do not go on: renew Crush sleeve"),
    ),
    (
        check(rework=Rework(how="Change the shims")),
        "0.01 mm",
        "",
        Verdict("rework", f"below the limit ({FLOAT})", "Change the shims, then check again"),
    ),
    (
        check(rework=Rework(how="Change the shims"), else_=AGAIN),
        "0.01 mm",
        "",
        Verdict(
            "again",
            f"below the limit ({FLOAT})",
            "do not go on: change shim pack, then start again from `seat`",
        ),
    ),
    (
        check(else_=Otherwise(accept_by="engineer")),
        "0.07 mm",
        "",
        Verdict(
            "needs a signature",
            f"above the limit ({FLOAT})",
            "do not go on unless this role accepts it as it is and signs: engineer",
        ),
    ),
    (
        check(else_=Otherwise(stop="foreman")),
        "0.07 mm",
        "",
        Verdict("stop", f"above the limit ({FLOAT})", "stop, and tell: foreman"),
    ),
    (
        check(with_="tape"),
        "0.04 mm",
        "",
        Verdict(
            "cannot be told",
            f"told only to 1 mm, and the limit ({FLOAT}) is narrower than that",
            "take a finer gauge, or read it finer and type every decimal",
        ),
    ),
    (check(with_="tape"), "0.04 mm", "dial", Verdict("accept", FLOAT)),
    (check(with_="scale"), "0.04 mm", "", Verdict("accept", FLOAT)),
    (
        check(),
        "0 mm",
        "",
        Verdict(
            "cannot be told",
            f"told only to 1 mm, and the limit ({FLOAT}) is narrower than that",
            "take a finer gauge, or read it finer and type every decimal",
        ),
    ),
    (
        check(),
        "at most 0.04 mm",
        "",
        Verdict(
            "cannot be told", "`at most 0.04 mm` is not one figure", "give the figure that was read"
        ),
    ),
    (
        Check(id="depth", measure="Depth", limit=limit("at least 1.00 in"), else_=AGAIN),
        "0.50 in",
        "",
        Verdict(
            "again",
            "below the limit (at least 1.00 in)",
            "do not go on: change shim pack, then start again from `seat`",
        ),
    ),
    (
        Check(id="gap", measure="Gap"),
        "3 mm",
        "",
        Verdict("recorded", "the model does not say what is good"),
    ),
    (
        Check(id="turns", feel="It", good="even", bad="catch"),
        "Even",
        "",
        Verdict("accept", "even"),
    ),
    (
        Check(id="turns", feel="It", good="even", bad="catch", else_=AGAIN),
        "bad",
        "",
        Verdict("again", "catch", "do not go on: change shim pack, then start again from `seat`"),
    ),
    (
        Check(id="turns", feel="It", good="even", bad="catch"),
        "rather stiff",
        "",
        Verdict(
            "cannot be told",
            "`rather stiff` is neither the good nor the bad finding",
            "write `good` (even) or `bad` (catch)",
        ),
    ),
]


def judged(model: Check, value: str, gauge: str = "") -> Verdict:
    return judged_with(MODEL, model, (), Reading(check=model.id, value=value, gauge=gauge), 1)


@pytest.mark.parametrize(("model", "value", "gauge", "verdict"), JUDGED)
def test_a_reading_is_judged_with_what_follows(
    model: Check, value: str, gauge: str, verdict: Verdict
) -> None:
    assert judged(model, value, gauge) == verdict


def test_a_reading_that_is_no_figure_is_told_as_that() -> None:
    found = judged(check(), "somewhat loose")
    assert found.word == "cannot be told"
    assert found.why
    assert not found.ok


def joint(text: str, *others: str, because: str = "") -> Joint:
    amount = read_amount(text, ("torque",))
    also = tuple(
        OtherTorque(value=TorqueValue(text=other, amount=read_amount(other, ("torque",))))
        for other in others
    )
    value = TorqueValue(text=text, amount=amount)
    return Joint(id="cap", torque=Torque(value=value, also=also, because=because))


TIGHTENED = [
    (joint("28 to 32 N·m"), "30 N·m", Verdict("accept", "asked: 28 to 32 N·m")),
    (
        joint("28 to 32 N·m"),
        "25 N·m",
        Verdict("out of limit", "below the figure (28 to 32 N·m)", "tighten on to the figure"),
    ),
    (
        joint("28 to 32 N·m"),
        "40 N·m",
        Verdict("out of limit", "above the figure (28 to 32 N·m)", "do not back it off: ask"),
    ),
    (joint("22 N·m"), "25 N·m", Verdict("recorded", "asked: 22 N·m, without a tolerance")),
    (Joint(id="cap"), "25 N·m", Verdict("recorded", "the model settles on no figure")),
    (
        joint("28 to 32 N·m", "40 N·m"),
        "30 N·m",
        Verdict("recorded", "the model settles on no figure"),
    ),
    (
        joint("28 to 32 N·m", "40 N·m", because="The card is newer"),
        "30 N·m",
        Verdict("accept", "asked: 28 to 32 N·m"),
    ),
]


@pytest.mark.parametrize(("model", "value", "verdict"), TIGHTENED)
def test_a_torque_is_judged_where_there_is_a_band(
    model: Joint, value: str, verdict: Verdict
) -> None:
    assert judge_torque(model, value) == verdict


@pytest.mark.parametrize(
    ("model", "value", "times"),
    [
        (joint("22 N·m"), "220 N·m", 10),
        (joint("22 N·m"), "44 N·m", 2),
        (joint("22 N·m"), "43 N·m", None),
        (joint("20 to 24 N·m"), "11 N·m", Fraction(1, 2)),
        (joint("22 N·m"), "12 N·m", None),
        (joint("22 N·m"), "0 N·m", None),
        (joint("22 N·m"), "tight", None),
        (joint("22 N·m", "220 N·m"), "220 N·m", None),
        (Joint(id="cap"), "220 N·m", None),
    ],
)
def test_twice_what_is_asked_or_half_of_it_is_a_slip(
    model: Joint, value: str, times: Fraction | None
) -> None:
    assert times_off(model, value) == times


@pytest.mark.parametrize(
    ("typed", "prints", "whole"),
    [
        ("0.04", (), "0.04 mm"),
        ("0,04", (), "0,04 mm"),
        ("0.04", ("in", "mm"), "0.04 in"),
        ("0.04 in", ("mm",), "0.04 in"),
        ("good", (), "good"),
    ],
)
def test_a_bare_number_is_in_the_unit_that_its_limit_is_printed_in(
    typed: str, prints: tuple[str, ...], whole: str
) -> None:
    assert with_unit(typed, read_amount(FLOAT, ("length",)), prints) == whole
    assert with_unit(typed, None, prints) == typed
