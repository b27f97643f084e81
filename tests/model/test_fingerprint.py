"""The fingerprint: the same for the same model, another for any other, and always there."""

from __future__ import annotations

import re

import pytest

from sequencer.model.fingerprint import fingerprint
from tests.reading.models import model
from tests.reading.spoiling import MODEL

SMALL = "assembly: x\nparts: {p: {price: 2.5, mass: 1 kg}}\nsteps: {a: {do: Fit., fits: p}}\n"


@pytest.mark.parametrize("text", [SMALL, MODEL])
def test_every_model_has_one(text: str) -> None:
    assert re.fullmatch(r"[0-9a-f]{4}·[0-9a-f]{4}", fingerprint(model(text)))


def test_remarks_and_layout_do_not_change_it() -> None:
    other = SMALL.replace("steps:", "\n# a remark\nsteps:").replace("price: 2.5", "price: 2.50")
    assert fingerprint(model(other)) == fingerprint(model(SMALL))


@pytest.mark.parametrize(("old", "new"), [("2.5", "2.6"), ("1 kg", "1.0 kg"), ("Fit.", "Fit it.")])
def test_whatever_the_model_says_otherwise_changes_it(old: str, new: str) -> None:
    assert fingerprint(model(SMALL.replace(old, new))) != fingerprint(model(SMALL))
