"""Figures of several sources for one joint, of which one is taken or none."""

from __future__ import annotations

import pytest

from sequencer.model.fastening import OtherTorque, Torque, TorqueValue
from sequencer.trade.choosing import Choice, choice_of
from tests.trade.figures_typed import angle, torque


def _chosen(*texts: str, because: str = "") -> Choice:
    first, *others = (TorqueValue(text=text, amount=torque(text)) for text in texts)
    also = tuple(OtherTorque(value=other) for other in others)
    return choice_of(Torque(value=first, also=also, because=because), "the sheet")


@pytest.mark.parametrize(
    "texts",
    [
        ("55 to 60 ft-lb", "81 N·m"),
        ("at least 60 N·m", "65 N·m"),
        ("30 N·m", "25 to 34 N·m"),
        ("at least 60 N·m", "at least 80 N·m"),
        ("60 N·m", "44 ft-lb"),  # 59.7 N·m: as near as whole numbers come
    ],
    ids=" and ".join,
)
def test_the_first_figure_is_taken_where_all_allow_one_value(texts: tuple[str, ...]) -> None:
    choice = _chosen(*texts)
    assert not choice.disagree
    assert choice.taken is not None
    assert (choice.taken.text, choice.taken.source) == (texts[0], "the sheet")


@pytest.mark.parametrize(
    "texts",
    [
        ("55 to 60 ft-lb", "65 ft-lb"),
        ("at least 60 N·m", "at most 50 N·m"),
        ("25 ft-lb", "37 ft-lb"),
        ("36 N·m", "30 N·m", "25 to 34 N·m"),
    ],
    ids=" and ".join,
)
def test_nothing_is_taken_while_sources_disagree_and_nobody_has_chosen(
    texts: tuple[str, ...],
) -> None:
    choice = _chosen(*texts, because=" ")
    assert choice.disagree
    assert choice.taken is None
    assert [one.text for one in choice.candidates] == list(texts)


def test_a_reason_makes_the_choice_and_the_disagreement_stays_on_record() -> None:
    choice = _chosen("55 to 60 ft-lb", "65 ft-lb", because="the card is for the old stud")
    assert choice.disagree
    assert choice.taken == choice.candidates[0]


def test_a_figure_and_finger_tight_disagree() -> None:
    by_hand = OtherTorque(value=TorqueValue(text="finger tight"))
    by_wrench = TorqueValue(text="9 N·m", amount=torque("9 N·m"))
    assert choice_of(Torque(value=by_wrench, also=(by_hand,)), "").disagree


def test_angles_have_to_agree_as_torques_do() -> None:
    def after(degrees: str) -> TorqueValue:
        text = f"20 N·m then {degrees}"
        return TorqueValue(text=text, amount=torque("20 N·m"), angle=angle(degrees))

    same, other = after("90°"), after("60°")
    assert not choice_of(Torque(value=same, also=(OtherTorque(value=same),)), "").disagree
    assert choice_of(Torque(value=same, also=(OtherTorque(value=other),)), "").disagree
