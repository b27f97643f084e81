"""What compounds ask for when they are opened again: the coat afresh, and its cleaning first."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from sequencer.model.compounds import Apply, Compound, Surface
from sequencer.model.quantities import read_amount
from sequencer.model.steps import Undo
from sequencer.records.coats import Cleaning, cleaning_for, opened_again
from sequencer.records.entries import Undone
from sequencer.records.state import mending
from tests.helpers import assembly, links, step
from tests.records.making import state

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly

PASTE = Compound(id="paste", open=read_amount("15 min", ("time",)))
GREASE = Compound(id="grease")
FACE = links("face", "surface")
ORDER = ("wipe", "bead", "lid", "bolts")


def sealed(compound: Compound = PASTE) -> Assembly:
    put_on = (Apply(compound=links(compound.id, "compound"), to=FACE),)
    return replace(
        assembly(
            step("wipe", cleans=FACE),
            step("bead", after="wipe", apply=put_on),
            step("lid", after="bead"),
            step("bolts", after="lid", closes=FACE),
        ),
        compounds=(compound,),
        surfaces=(Surface(id="face"),),
    )


def _asked_afresh(model: Assembly) -> dict[str, list[str]]:
    return {
        one.id: [link.to for link in one.undo.again] for one in model.steps if one.undo is not None
    }


def test_what_closes_a_compound_asks_for_it_afresh() -> None:
    assert _asked_afresh(opened_again(sealed(), ORDER)) == {"bolts": ["bead"]}
    assert opened_again(sealed(), ORDER[:3]) == sealed(), "what is not closed is not opened"


def test_what_the_author_says_about_undoing_stays_and_nothing_is_named_twice() -> None:
    model = sealed()
    stated = Undo(do="Pull.", again=links("wipe bead"))
    model = replace(model, steps=(*model.steps[:3], replace(model.steps[3], undo=stated)))
    assert opened_again(model, ORDER) == model
    model = replace(model, steps=(*model.steps[:3], replace(model.steps[3], undo=Undo(do="Pull."))))
    (undo,) = (one.undo for one in opened_again(model, ORDER).steps if one.undo is not None)
    assert (undo.do, undo.again) == ("Pull.", links("bead"))


def test_what_never_sets_is_not_done_afresh() -> None:
    model = sealed(GREASE)
    assert opened_again(model, ORDER) == model
    assert cleaning_for(model, ORDER, {"bead"}) == ()


def test_a_coat_laid_afresh_wants_the_cleaning_before_it() -> None:
    one = Cleaning("wipe", "bead", "paste", "face")
    assert cleaning_for(sealed(), ORDER, {"bead", "bolts"}) == (one,)
    assert cleaning_for(sealed(), ORDER, {"bolts"}) == ()
    assert cleaning_for(sealed(), ORDER[1:], {"bead"}) == (), "there was none"
    assert one.said == "`bead` is to put `paste` on anew: what is left of it comes off"


@pytest.mark.parametrize(
    ("whats", "again"),
    [
        (("wipe bead", Undone(steps=("bead",))), ["wipe"]),
        (("wipe", "bead", Undone(steps=("bead",))), ["wipe"]),
        (("wipe", "bead", Undone(steps=("bead",)), "wipe"), []),
        (("wipe", "bead"), []),
        (("wipe",), []),
        (("wipe", "bead", Undone(steps=("bead", "wipe"))), []),
    ],
)
def test_cleaning_is_used_up_by_a_coat_that_was_taken_off(
    whats: tuple[str | Undone, ...], again: list[str]
) -> None:
    assert list(mending(state(sealed(), *whats)).again) == again
