"""What a short model leaves unsaid is filled in."""

from __future__ import annotations

from sequencer.model.assembly import Assembly
from sequencer.model.common import Link
from sequencer.model.complete import complete
from sequencer.model.fastening import Tool
from sequencer.model.parts import Part
from sequencer.model.steps import Fit, Section, Step, Unit


def test_units_are_parts_that_are_listed_after_the_others() -> None:
    found = complete(
        Assembly(
            assembly="x",
            parts=(Part(id="cap"),),
            units=(Unit(id="rotor", name="Rotor"), Unit(id="head")),
            steps=(Step(id="a", do="A.", fits=(Fit("rotor"), Fit("pin", 2))),),
        )
    )
    assert found.parts == (
        Part(id="cap"),
        Part(id="rotor", name="Rotor"),
        Part(id="head"),
        Part(id="pin", quantity=2),
    )


def test_a_step_builds_the_unit_of_its_section_unless_it_names_another() -> None:
    found = complete(
        Assembly(
            assembly="x",
            units=(Unit(id="rotor"), Unit(id="head")),
            sections=(Section(id="bench", unit="rotor"), Section(id="rest")),
            steps=(
                Step(id="a", do="A.", section="bench"),
                Step(id="b", do="B."),
                Step(id="c", do="C.", unit="head"),
                Step(id="d", do="D.", section="rest"),
            ),
        )
    )
    assert [step.section for step in found.steps] == ["bench", "bench", "bench", "rest"]
    assert [step.unit for step in found.steps] == ["rotor", "rotor", "head", ""]


def test_alternatives_are_tools_too() -> None:
    tools = ((Link("key", "tool"), Link("driver", "tool")), (Link("bar", "tool"),))
    found = complete(
        Assembly(
            assembly="x",
            tools=(Tool(id="key", name="Key"),),
            steps=(Step(id="a", do="A.", tools=tools),),
        )
    )
    assert found.tools == (Tool(id="key", name="Key"), Tool(id="driver"), Tool(id="bar"))


def test_a_complete_model_stays_as_it_is() -> None:
    once = complete(
        Assembly(assembly="x", units=(Unit(id="u"),), steps=(Step(id="a", do="A.", unit="u"),))
    )
    assert complete(once) == once
