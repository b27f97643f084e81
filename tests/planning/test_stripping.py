"""Taking apart: against the rules said plainly, and on small units that one sees through."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations
from typing import TYPE_CHECKING

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sequencer.model.checking import Check
from sequencer.model.steps import Undo
from sequencer.planning.stripping import Strip, strip
from tests.helpers import assembly, links, step, way
from tests.oracle import Oracle, variants
from tests.reading.models import model
from tests.strategies import models, rich_models

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly

either = st.one_of(models(), rich_models(), rich_models())


def _oracle(unit: Assembly, found: Strip) -> Oracle:
    there = set(found.plan.order or ())
    return next(Oracle(one) for one in variants(unit) if {s.id for s in one.steps} == there)


def _held(oracle: Oracle, name: str, done: frozenset[str]) -> bool:
    """Whether something that must follow a step is still done."""
    return any(name in befores and after in done for befores, after in oracle.precedences)


@settings(max_examples=80, deadline=None)
@given(either)
def test_turned_round_it_is_part_of_a_valid_order_and_every_prefix_can_be_taken_off(
    unit: Assembly,
) -> None:
    found = strip(unit)
    if found.order is None:
        assert not any(Oracle(one).has_order() for one in variants(unit))
        return
    oracle, building = _oracle(unit, found), found.plan.order or ()
    assert oracle.is_valid(building)
    assert tuple(reversed(found.order)) == tuple(one for one in building if one in found.order)
    done = frozenset(building) - set(oracle.trial_of)
    for name in found.order:
        done -= {name}
        assert not _held(oracle, name, done & set(found.order))
        assert all(oracle.open_ways(name, done))


@settings(max_examples=80, deadline=None)
@given(either)
def test_all_that_is_on_comes_off_and_no_aid_stays_on(unit: Assembly) -> None:
    found = strip(unit)
    if found.order is None:
        return
    oracle, building = _oracle(unit, found), found.plan.order or ()
    assume(_takes_off_only_what_is_on(oracle))
    aids = {part.id for part in unit.parts if part.aid}
    on = {
        part.id
        for part in unit.parts
        for stay in oracle.stays(part.id)
        if stay.off is None and stay.fits and part.id not in aids
    }
    off = {part for one in found.steps.values() for part in one.comes_off}
    assert off - aids == on
    for aid in aids:
        goes_on = [one.goes_on.get(aid, 0) for one in found.steps.values()]
        comes_off = [one.comes_off.get(aid, 0) for one in found.steps.values()]
        assert sum(goes_on) == sum(comes_off)
    assert set(found.order) == {one for one in building if _leaves_something(oracle, one)}


def _takes_off_only_what_is_on(oracle: Oracle) -> bool:
    """Whether the model has no step that takes off what is not on where it is written, an error."""
    return all(
        any(stay.off == name for stay in oracle.stays(link.to))
        for name, one in oracle.steps.items()
        if name not in oracle.trial_of
        for link in one.takes_off
    )


def _leaves_something(oracle: Oracle, name: str) -> bool:
    """Say once more, by stays and turns, whether a step has something on at the end."""
    one, parts = oracle.steps[name], {part.id: part for part in oracle.assembly.parts}
    if name in oracle.trial_of:
        return False
    for fit in one.fits:
        stays = [stay for stay in oracle.stays(fit.part) if name in stay.fits]
        if stays and (stays[0].off is None or parts[fit.part].aid):
            return True
    for link in one.takes_off:
        ended = [stay for stay in oracle.stays(link.to) if stay.off == name]
        if parts[link.to].aid and ended and ended[0].fits:
            return True
    joints = {link.to for link in one.tighten} | {link.to for link in one.secures}
    later = oracle.written[oracle.written.index(name) :]
    again = {link.to for other in later for link in oracle.steps[other].loosens}
    return bool(joints - again)


@settings(max_examples=80, deadline=None)
@given(models(), st.data())
def test_a_step_that_never_comes_off_keeps_on_no_more_than_it_must(
    unit: Assembly, data: st.DataObject
) -> None:
    fixed = data.draw(st.sampled_from([one.id for one in unit.steps]))
    riveted = tuple(
        replace(one, undo=Undo(never="Riveted.")) if one.id == fixed else one for one in unit.steps
    )
    found = strip(replace(unit, steps=riveted))
    if found.order is None:
        return
    oracle, left = Oracle(unit), frozenset(found.plan.order or ())
    has_something = {one for one in left if _leaves_something(oracle, one)}
    groups = [members for _, members in oracle.groups if len(members) > 1]
    grouped = {one for members in groups for one in members}
    candidates = [*groups, *({one} for one in left - grouped)]

    def comes_off(members: set[str], done: frozenset[str]) -> bool:
        for way_out in permutations(members):
            rest = done
            for name in way_out:
                rest -= {name}
                shut = name in has_something and not all(oracle.open_ways(name, rest))
                if shut or _held(oracle, name, rest):
                    break
            else:
                return True
        return False

    changed = True
    while changed:
        changed = False
        for members in candidates:
            if members <= left and fixed not in members and comes_off(members, left):
                left -= members
                changed = True
    assert set(found.stays) == (has_something | {fixed}) & left
    assert set(found.order) == has_something - left
    (point,) = found.points
    assert set(point.stays) == set(found.stays) - {fixed}


# Small units.

# Case A22 of the collection of open cases: a casing with four bolts and a hidden set screw under a
# bush.
CASING = """
assembly: gearbox-end
parts:
  box: {name: Gearbox, at_start: fitted}
  casing: Rear casing
  bolts: 4 × Bolt M8 × 30
  set-screw: Set screw M6
  bush: Speedometer bush
joints:
  ends: {name: Casing bolts, thread: M8, count: 4, torque: 25 N·m}
checks:
  proud: {measure: How far the screw stands proud, limit: at most 0 mm}
steps:
  casing-on: {do: Push the casing on to its dowels., fits: casing, onto: box}
  bolts-in: {do: Tighten the four bolts., fits: bolts, onto: casing, tighten: ends}
  screw-in: {do: Run the set screw in below the bore., fits: set-screw, onto: casing}
  feel: {do: Feel that its head is below the bore., after: screw-in, check: proud}
  bush-in: {do: Press the bush in over it., fits: bush, after: feel}
"""


def test_all_five_fixings_are_listed_and_the_bush_comes_first() -> None:
    found = strip(model(CASING))
    assert found.order == ("bush-in", "screw-in", "bolts-in", "casing-on")
    assert [dict(one.comes_off) for one in found.steps.values()] == [
        {"bush": 1},
        {"set-screw": 1},
        {"bolts": 4},
        {"casing": 1},
    ]
    assert found.steps["bolts-in"].loosens == ("ends",)
    assert found.steps["screw-in"].reads == ("proud",)


def test_a_unit_comes_out_as_one_and_then_apart() -> None:
    unit = model(
        """
        assembly: x
        parts: {shaft: Shaft, gear: Gear, box: Box}
        units: {train: {name: Train, base: shaft}}
        steps:
          shaft-down: {do: Lay it down., fits: shaft, unit: train}
          gear-on: {do: Press it on., fits: gear, onto: shaft, unit: train}
          box-down: {do: Stand it., fits: box}
          train-in: {do: Lower it in., fits: train, onto: box}
        """
    )
    assert strip(unit).order == ("train-in", "box-down", "gear-on", "shaft-down")


def test_an_aid_goes_on_again_and_comes_off_again() -> None:
    unit = model(
        """
        assembly: x
        parts: {rod: Rod, gland: Gland, sleeve: {name: Sleeve, aid: true}}
        steps:
          rod-in: {do: Clamp it., fits: rod}
          sleeve-on: {do: Push it on., fits: sleeve, onto: rod}
          gland-on: {do: Slide it over., fits: gland, onto: sleeve}
          sleeve-off: {do: Pull it off., takes_off: sleeve, after: gland-on}
        """
    )
    found = strip(unit)
    assert found.order == ("sleeve-off", "gland-on", "sleeve-on", "rod-in")
    assert found.steps["sleeve-off"].goes_on == {"sleeve": 1}
    assert found.steps["sleeve-on"].comes_off == {"sleeve": 1}


def test_what_came_off_on_the_way_is_not_put_back() -> None:
    unit = model(
        """
        assembly: x
        parts: {hatch: {name: Hatch, at_start: fitted}, pump: Pump, strap: {at_start: fitted}}
        steps:
          strap-off: {do: Cut it., takes_off: strap}
          hatch-off: {do: Take it off., takes_off: hatch}
          pump-in: {do: Fit it., fits: pump, ways_in: {opening: [hatch]}}
          hatch-on: {do: Fit it again., fits: hatch, after: pump-in}
        """
    )
    found = strip(unit)
    assert found.order == ("hatch-on", "pump-in")
    assert found.steps["pump-in"].ways == ("opening",)


def test_what_was_loosened_again_is_loosened_once() -> None:
    unit = model(
        """
        assembly: x
        parts: {cap: Cap}
        joints: {caps: {name: Cap bolts, count: 2, torque: 20 N·m}}
        steps:
          cap-on: {do: Fit it and tighten it., fits: cap, tighten: caps}
          slack: {do: Slacken it for the bore., loosens: caps, after: cap-on}
          tight: {do: Tighten it for good., tighten: caps, after: slack}
        """
    )
    found = strip(unit)
    assert [(name, one.loosens) for name, one in found.steps.items()] == [
        ("tight", ("caps",)),
        ("cap-on", ()),
    ]


def test_a_reading_is_due_before_the_step_that_ends_it() -> None:
    unit = assembly(
        step("a", fits="a"),
        step("read", after="a", check=links("gap", "check")),
        step("b", fits="b", after="read"),
    )
    unit = replace(unit, checks=(Check(id="gap", measure="The gap"),))
    found = strip(unit)
    assert [(name, one.reads) for name, one in found.steps.items()] == [("b", ()), ("a", ("gap",))]


def test_a_reading_that_a_riveted_cover_shuts_is_not_asked_for() -> None:
    unit = assembly(
        step("a", fits="a"),
        step("read", check=links("gap", "check"), ways=(way("door", "cover"),)),
        step("cover", fits="cover", undo=Undo(never="Riveted.")),
    )
    unit = replace(unit, checks=(Check(id="gap", measure="The gap"),))
    found = strip(unit)
    assert (found.order, found.stays) == (("a",), ("cover",))
    assert found.findings[0].message == "`cover` cannot be undone"
    assert found.steps["a"].reads == ()


def test_a_point_of_no_return_says_what_stays_with_it_and_where_it_is_met() -> None:
    unit = model(
        """
        assembly: x
        parts: {body: Body, core: Core, lid: Lid, knob: Knob}
        steps:
          body-down: {do: Stand it., fits: body}
          core-in: {do: Drop it in., fits: core, onto: body, ways_in: {mouth: [lid]}}
          knob-on: {do: Screw it on., fits: knob, onto: body}
          lid-on:
            do: Roll the lid on.
            fits: lid
            onto: body
            undo: {never: The rim tears}
        """
    )
    found = strip(unit)
    assert (found.order, found.stays) == (("knob-on",), ("body-down", "core-in", "lid-on"))
    (point,) = found.points
    assert (point.step, point.why) == ("lid-on", "The rim tears")
    assert (point.stays, point.before) == (("body-down", "core-in"), "knob-on")
    (told,) = found.findings
    assert (told.code, told.severity) == ("no-return", "warning")
    assert told.message == ("`lid-on` cannot be undone: `body-down` and `core-in` stay on with it")


def test_to_buy_is_what_is_renewed_what_serves_once_and_what_is_spoiled() -> None:
    unit = model(
        """
        assembly: x
        parts:
          body: Body
          ring: {name: Ring, renew: always, quantity: 2}
          race: {name: Race, once: true}
          gauze: Gauze
          plug: {name: Plug, renew: always, at_start: fitted}
        steps:
          body-down: {do: Stand it., fits: body}
          rings-in: {do: Lay them in., fits: ring, onto: body}
          gauze-in: {do: Tack it in., fits: gauze, onto: body}
          race-in:
            do: Press it in.
            fits: race
            onto: body
            undo: {spoils: gauze, time: 20 min, do: Cut it out.}
        """
    )
    found = strip(unit)
    assert found.buy == {"race": 1, "ring": 2, "gauze": 1}
    assert found.steps["race-in"].spoils == ("gauze", "race")
    assert found.steps["rings-in"].renews == ("ring",)
    assert (found.steps["race-in"].minutes, found.steps["race-in"].is_guess) == (20, False)


def test_a_step_that_has_a_place_and_leaves_nothing_known_is_to_be_minded() -> None:
    unit = assembly(
        step("box", fits="box"),
        step("slide", onto="box"),
        step("wipe", after="slide"),
        step("lid", fits="lid", after="wipe"),
    )
    assert [one.mind for one in strip(unit).steps.values()] == [(), ("slide",)]


def test_a_model_without_an_order_has_none_apart_either() -> None:
    found = strip(assembly(step("a", after="b"), step("b", after="a")))
    assert found.order is None
    assert [one.code for one in found.findings] == ["circle"]
