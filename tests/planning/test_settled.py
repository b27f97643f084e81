"""Packs in an order that is given or planned: settled before they are fitted for good."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.model.checking import Check, Otherwise
from sequencer.model.common import Link
from sequencer.model.parts import Pack, Part
from sequencer.planning.plan import check, plan, plan_by_handling, try_order
from sequencer.problem import Fact, Problem
from tests.helpers import assembly, links, step

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly

PLAY = (Link("play", "check"),)


def model(*pairs: tuple[str, str], again: str = "") -> Assembly:
    """Return a gearbox of which `shim` is fitted for good, and settled by `read` or `look`."""
    waits = {
        name: " ".join(before for before, after in pairs if after == name)
        for name in ("read", "look", "shim", "lid")
    }
    else_ = Otherwise(again_from=links(again)) if again else None
    steps = (
        step("read", after=waits["read"], check=PLAY),
        step("look", after=waits["look"], check=PLAY),
        step("shim", after=waits["shim"], fits="pack"),
        step("lid", after=waits["lid"]),
    )
    pack = Part(id="pack", pack=Pack(settled_by=PLAY))
    return replace(
        assembly(*steps), parts=(pack,), checks=(Check(id="play", feel="It.", else_=else_),)
    )


def told(findings: tuple[Problem, ...]) -> list[tuple[str, str | None, str]]:
    return [(one.code, one.step, one.severity) for one in findings if one.code == "unsettled"]


ERROR = [("unsettled", "shim", "error")]


def test_an_order_of_ones_own_that_fits_a_pack_first_is_mended() -> None:
    tested = try_order(model(), ["shim", "read", "look", "lid"])
    assert not tested.ok
    assert tested.findings == (
        Problem(
            "unsettled",
            "error",
            "`shim` fits `pack` for good before check `play` has settled it",
            step="shim",
            path=("steps", "shim", "fits", 0),
            facts=(
                Fact("`shim` fits `pack`, and nothing takes it off", ("steps", "shim", "fits", 0)),
                Fact("check `play` settles `pack`", ("parts", "pack", "pack", "settled_by", 0)),
                Fact("`read` comes later", ("steps", "read")),
            ),
            why="the pack is a guess, and what is fitted over it comes off again when the check "
            "tells",
            fix="measure before that: move `read` up, and write `after: read` in `shim`",
        ),
    )
    assert (tested.mended, tested.moves) == (("read", "shim", "look", "lid"), 1)


def test_an_order_that_settles_the_pack_another_way_is_left_as_it_is() -> None:
    tested = try_order(model(), ["look", "shim", "read", "lid"])
    assert tested.ok
    assert tested.mended == ("look", "shim", "read", "lid")


def test_where_nothing_can_settle_a_pack_first_the_order_stands_and_that_is_told() -> None:
    late = model(("shim", "read"), ("shim", "look"))
    tested = try_order(late, ["shim", "read", "look", "lid"])
    assert told(tested.findings) == ERROR
    assert tested.mended == ("shim", "read", "look", "lid")
    assert told(plan(late).findings) == told(plan_by_handling(late).findings) == ERROR


@pytest.mark.parametrize("again", ["shim", "lid"])
def test_a_pack_that_is_tried_in_rounds_needs_only_what_the_rounds_begin_with(again: str) -> None:
    rounds = model(("shim", "read"), ("shim", "look"), again=again)
    assert told(try_order(rounds, ["lid", "shim", "read", "look"]).findings) == []
    assert told(plan(rounds).findings) == []


NAMES = ("read", "look", "shim", "lid")


@given(st.sets(st.sampled_from([(a, b) for a in NAMES for b in NAMES if a != b]), max_size=4))
def test_a_plan_settles_its_pack_wherever_any_order_does(pairs: set[tuple[str, str]]) -> None:
    asked = model(*sorted(pairs))
    valid = [
        order
        for order in permutations(NAMES)
        if all(order.index(before) < order.index(after) for before, after in pairs)
    ]
    settled = [
        order
        for order in valid
        if min(order.index("read"), order.index("look")) < order.index("shim")
    ]
    for planned in (plan(asked), plan_by_handling(asked)):
        assert (planned.order is None) == (not valid)
        if planned.order is not None:
            assert (planned.order in settled) == bool(settled)
            assert (told(planned.findings) == ERROR) == (not settled)
    given_first = try_order(asked, NAMES)
    if valid:
        assert (given_first.mended in settled) == bool(settled)
    assert [one.code for one in check(asked)].count("unsettled") <= 1
