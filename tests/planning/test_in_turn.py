"""A step left out with leave counts from where its turn has come, however early leave was given."""

from __future__ import annotations

from sequencer.planning.compiling import compile_network
from sequencer.planning.in_turn import in_turn
from sequencer.planning.onward import Onward
from tests.helpers import assembly, step, way

MODEL = assembly(
    step("a"), step("b", after="a"), step("c", after="b"), step("d", after="c"), step("e")
)


def test_what_was_left_out_waits_for_its_turn() -> None:
    network = compile_network(MODEL)
    assert in_turn(network, ("a",), ["c"]) == ("a",)
    assert in_turn(network, ("a", "b", "e"), ["c"]) == ("a", "b", "c", "e")
    assert in_turn(network, ("a", "b", "d"), ["c"]) == ("a", "b", "c", "d")
    assert in_turn(network, ("a",), ["c", "b"]) == ("a", "b", "c"), "one after the other"
    assert in_turn(network, ("e",), ["a", "polish"]) == ("a", "e"), "others are passed over"
    assert in_turn(network, ("a", "c"), ["c"]) == ("a", "c"), "done after all"


def test_the_job_goes_on_without_what_is_left_out() -> None:
    onward = Onward(MODEL, ["a", "b", "c", "d", "e"], ["c"])
    assert onward.rest(("a",)) == ("b", "d", "e")
    assert onward.objections(("a",), ["b", "d"]) == ()
    assert [one.message for one in onward.objections(("a",), ["d"])] == [
        "`d` comes after `b`, which is not done"
    ], "what comes before what is left out still comes first"


def test_what_is_left_out_shuts_no_way() -> None:
    model = assembly(step("lid", fits="lid"), step("oil", ways_in=(way("top", "lid"),)))
    assert Onward(model, ("oil", "lid"), ["lid"]).rest(()) == ("oil",)
    assert Onward(model, ("oil", "lid"), ["oil"]).objections((), ["lid"]) == ()
