"""Cautions that follow from a model's data."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from sequencer.model.assembly import Assembly, Isolation
from sequencer.model.common import Link
from sequencer.model.complete import complete
from sequencer.model.compounds import Apply, Cold, Compound, Heat
from sequencer.model.parts import Part
from sequencer.model.quantities import read_amount
from sequencer.model.steps import Unit
from sequencer.trade.cautions import cautions
from sequencer.trade.hazards import OF_COMPOUNDS, OF_STEPS, hazard_named
from tests.helpers import links, step

if TYPE_CHECKING:
    from sequencer.model.quantities import Amount


def _amount(text: str) -> Amount:
    return read_amount(text, ("mass", "temperature", "time"))


def _of(model: dict[str, Any] | None = None, **fields: Any) -> list[tuple[str, str]]:
    one = step("one", **fields)
    whole = complete(Assembly(assembly="test", steps=(one,), **(model or {})))
    return [(found.word, found.text) for found in cautions(whole, one)]


def _puts(*compounds: str) -> tuple[Apply, ...]:
    to = links("face", "surface")
    return tuple(Apply(compound=links(name, "compound"), to=to) for name in compounds)


def test_a_step_without_any_hazard_has_no_caution() -> None:
    assert _of() == []


def test_what_a_compound_can_do_is_told_with_its_name() -> None:
    glue = Compound(id="glue", name="Contact glue", hazards=("skin", "flammable"))
    assert _of({"compounds": (glue,)}, apply=_puts("glue")) == [
        (
            "WARNING",
            "Contact glue can catch fire, the vapour too. No flame, no spark and nothing hot "
            "nearby; let air through.",
        ),
        (
            "CAUTION",
            "Contact glue can harm the skin. Wear gloves made for it, and wash splashes off at "
            "once.",
        ),
    ]


def test_a_hazard_of_two_compounds_is_told_once() -> None:
    both = tuple(
        Compound(id=name, name=name.title(), hazards=("eyes",)) for name in ("oil", "glue")
    )
    told = _of({"compounds": both}, apply=_puts("oil", "glue", "oil"), hazards=("eyes",))
    assert told == [
        (
            "CAUTION",
            "Oil and Glue can harm the eyes. Wear safety glasses; rinse splashes out with water "
            "at once, and see a doctor.",
        )
    ]


def test_words_that_are_not_known_are_told_as_they_are() -> None:
    glue = Compound(id="glue", hazards=("It stains for good.",))
    told = _of({"compounds": (glue,)}, apply=_puts("glue"), hazards=("The lid swings back.",))
    assert told == [("CAUTION", "glue: It stains for good."), ("CAUTION", "The lid swings back.")]


@pytest.mark.parametrize("word", OF_STEPS)
def test_each_hazard_of_a_step_says_what_may_happen_and_what_to_do(word: str) -> None:
    ((signal, text),) = _of(hazards=(word, word.upper()))
    assert signal in ("WARNING", "CAUTION")
    assert text == OF_STEPS[word][1]
    happens, _, do = text.partition(". ")
    assert happens
    assert do.endswith(".")


def test_stored_energy_is_isolated_released_and_proved_gone() -> None:
    for word in ("hydraulic", "gas", "pressure", "electric"):
        assert "off" in OF_STEPS[word][1]
        assert "prove" in OF_STEPS[word][1]
    assert "prove that it is slack" in OF_STEPS["spring"][1]


def test_where_energy_is_shut_off_is_named() -> None:
    points = (Isolation(point="Main switch"), Isolation(point="Valve V2."))
    (_, electric), (_, spring) = _of({"isolation": points}, hazards=("electrical", "spring"))
    assert electric.endswith("that nothing is live. Shut off at: Main switch; Valve V2.")
    assert "Main switch" not in spring


def test_other_spellings_mean_the_same_hazard() -> None:
    assert hazard_named(" Rotating ") == "rotation"
    assert hazard_named("Vapour") in OF_COMPOUNDS
    assert hazard_named("mind the step") == "mind the step"


# 23 kg: the load constant of the published lifting equation; see trade/lifting.py.


def _lifted(mass: str, people: int = 1) -> list[tuple[str, str]]:
    part = Part(id="drum", name="Drum", mass=_amount(mass), quantity=2)
    return _of({"parts": (part,)}, fits="drum", people=people)


def test_what_one_person_should_not_lift_takes_two_or_a_hoist() -> None:
    assert _lifted("23 kg") == []
    assert _lifted("23.4 kg") == [
        (
            "CAUTION",
            "Drum weighs 23.4 kg, more than one person should lift (23 kg). Lift it with two "
            "people, 11.7 kg each, or a hoist, and keep feet clear.",
        )
    ]


def test_what_two_people_should_not_lift_takes_a_hoist() -> None:
    ((_, text),) = _lifted("47 kg")
    assert text.endswith("(23 kg). Lift it with a hoist, and keep feet clear.")
    ((_, text),) = _lifted("47 kg", people=2)
    assert text == (
        "Drum weighs 47 kg, more than 2 people should lift (23 kg each). Lift it with a hoist, "
        "and keep feet clear."
    )


def test_two_people_where_two_are_enough_need_no_caution() -> None:
    assert _lifted("46 kg", people=2) == []
    assert _lifted("100 lb", people=2) == []


def test_the_heaviest_part_and_a_unit_of_many_are_told_of() -> None:
    one = step("in", fits="crank-set")
    many = step("build", fits="crank rod", unit="crank-set")
    parts = (
        Part(id="crank", mass=_amount("19 kg")),
        Part(id="rod", mass=_amount("3 kg"), quantity=4),
    )
    whole = complete(
        Assembly(
            assembly="test",
            steps=(many, one),
            parts=parts,
            units=(Unit(id="crank-set", name="Crank set"),),
        )
    )
    (found,) = cautions(whole, one)
    assert found.text.startswith("Crank set weighs 31 kg or more, more than one person")
    assert cautions(whole, many) == ()


def test_parts_taken_off_are_lifted_too() -> None:
    part = Part(id="drum", mass=_amount("80 lb"), at_start="fitted")
    ((_, text),) = _of({"parts": (part,)}, takes_off=links("drum", "part"))
    assert text.startswith("drum weighs 80 lb, more than one person should lift (23 kg). Lift it")


# Above 60 °C skin burns: common practice, no source.


def _heated(to: str, cold: str = "", **fields: Any) -> list[tuple[str, str]]:
    chilled = Cold(part=(Link("pin", "part"),), to=_amount(cold)) if cold else None
    heat = Heat(part=(Link("race", "part"),), to=_amount(to), cold=chilled)
    parts = (Part(id="race", name="Inner race"), Part(id="pin", name="Pin"))
    return _of({"parts": parts}, heat=heat, fits="race", **fields)


def test_heat_above_sixty_degrees_burns_and_is_told_once() -> None:
    assert _heated("60 °C") == []
    assert _heated("110 °C", hazards=("hot",)) == [
        (
            "CAUTION",
            "Inner race at 110 °C burns whoever touches it. Wear gloves that stand the heat, and "
            "let nobody near it until it is cool.",
        )
    ]
    assert len(_heated("160 °F")) == 1


def test_what_is_chilled_freezes_to_the_skin_and_may_drive_out_the_air() -> None:
    assert _heated("50 °C", "5 °C") == []
    assert _heated("50 °C", "-30 °C") == [
        ("CAUTION", "Pin at -30 °C freezes to the skin. Wear dry, lined gloves.")
    ]
    ((word, text),) = _heated("50 °C", "-196 °C")
    assert word == "WARNING"
    assert text.endswith("drives out the air: open the doors, and never work alone.")


def test_the_gravest_stands_first_and_danger_is_left_to_the_author() -> None:
    words = [word for word, _ in _of(hazards=("sharp", "mind it", "spring", "dust", "gas"))]
    assert words == ["WARNING", "WARNING", "CAUTION", "CAUTION", "CAUTION"]
    every = [word for word, _ in (*OF_STEPS.values(), *OF_COMPOUNDS.values())]
    assert "DANGER" not in every
