"""Messages on paper: steps by their numbers, everything else by its name."""

from __future__ import annotations

import pytest

from sequencer.model.checking import Check
from sequencer.model.compounds import Compound, Surface
from sequencer.model.fastening import Joint, Tool
from sequencer.model.parts import Part
from sequencer.sheets.names import worded
from tests.sheets.views import MEASURE, TIGHTEN, job

JOB = job(
    MEASURE,
    TIGHTEN,
    parts=(Part(id="seal", name="Shaft seal"), Part(id=TIGHTEN.id, name="Lid")),
    joints=(Joint(id="lid-joint", name="Lid screws"), Joint(id="bare", thread="M8")),
    checks=(Check(id="float", measure="End float"),),
    tools=(Tool(id="tw", name="Torque wrench 5 to 25 N·m"),),
    compounds=(Compound(id="paste", name="Jointing paste"),),
    surfaces=(Surface(id="face", name="Joint face"),),
)


@pytest.mark.parametrize(
    ("message", "printed"),
    [
        (f"`{MEASURE.id}` shuts the way to `{TIGHTEN.id}`", "step 1 shuts the way to step 2"),
        (f"step 2 (`{TIGHTEN.id}`) fits part `{TIGHTEN.id}`", "step 2 fits part Lid"),
        (f"do step `{MEASURE.id}` first", "do step 1 first"),
        ("check `float` comes after `seal`", "check “End float” comes after Shaft seal"),
        ("tool `tw` on joint `lid-joint`", "tool Torque wrench 5 to 25 N·m on joint Lid screws"),
        ("joint `bare` has no grade", "joint M8 has no grade"),
        ("compound `paste` on surface `face`", "compound Jointing paste on surface Joint face"),
        ("write `leaves: loose` at part `nowhere`", "write leaves: loose at part nowhere"),
    ],
)  # fmt: skip
def test_ids_become_numbers_and_names(message: str, printed: str) -> None:
    assert worded(JOB, message) == printed
