"""Rules that one record, or two that speak of each other, must keep.

Each rule takes the model as far as it was read and yields problems with paths; it leaves alone
what was not read whole, so that one slip is told once.
"""

from __future__ import annotations

import difflib
from typing import TYPE_CHECKING, TypeAlias

from sequencer.model.quantities import unit_named
from sequencer.model.units import UNITS
from sequencer.problem import Fact, Problem
from sequencer.reading.coated import compounds_go_on_surfaces
from sequencer.reading.groups import (
    alternatives_are_free,
    groups_are_apart,
    nothing_is_spoiled_by_a_trial,
    states_begin_and_end,
)
from sequencer.reading.lines import lines_can_be_followed
from sequencer.reading.names import either
from sequencer.reading.source import shortened
from sequencer.reading.units import units_are_whole_before_they_are_fitted, units_have_one_base

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.model.fastening import Joint, Torque
    from sequencer.model.steps import Step
    from sequencer.problem import Path
    from sequencer.reading.source import Sound

    Rule: TypeAlias = Callable[[Assembly, Sound], Iterator[Problem]]

_MOST_UNITS = 2
_WAYS_TO_CHECK = ("measure", "look", "feel", "listen", "readings")


def rule_problems(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    """Yield the problems that every rule finds."""
    for rule in _RULES:
        yield from rule(assembly, sound)


def _what_is_secured_is_loose(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    steps = {step.id: step for step in assembly.steps}
    loose = {step.id for step in assembly.steps if "loose" in step.leaves}
    loose.update(link.to for step in assembly.steps for link in step.loosens if link.kind == "step")
    for step in assembly.steps:
        for index, link in enumerate(step.loosens):
            if link.kind == "step" and link.to == step.id:
                yield _loosens_itself(step, index)
        for index, link in enumerate(step.secures):
            there: Path = ("steps", link.to)
            if link.to == step.id:
                yield _secures_itself(step, index)
                continue
            if link.to not in steps or not sound(there) or link.to in loose:
                continue
            yield Problem(
                "nothing-loose",
                "error",
                f"step `{step.id}` secures `{shortened(link.to)}`, which leaves nothing loose",
                step=step.id,
                path=("steps", step.id, "secures", index),
                facts=(Fact(f"`{link.to}` says nothing of `leaves`", path=there),),
                why="what is left loose is followed to the step that makes it fast",
                fix=f"write `leaves: loose` under `{link.to}`, or leave `secures` out",
            )


def _secures_itself(step: Step, index: int) -> Problem:
    return Problem(
        "nothing-loose",
        "error",
        f"step `{step.id}` secures itself",
        step=step.id,
        path=("steps", step.id, "secures", index),
        why="what a step makes fast in itself is not left loose for another",
        fix="name the step that left something loose, or leave `secures` out",
    )


def _loosens_itself(step: Step, index: int) -> Problem:
    return Problem(
        "nothing-loose",
        "error",
        f"step `{step.id}` loosens itself",
        step=step.id,
        path=("steps", step.id, "loosens", index),
        why="a step loosens what was made fast before it",
        fix="name the joint or step that made it fast; or write `leaves: loose` if that is meant",
    )


def _checks_say_how(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    for check in assembly.checks:
        path: Path = ("checks", check.id)
        if sound(path):
            yield from _check_says_how(check, path)


def _check_says_how(check: Check, path: Path) -> Iterator[Problem]:
    for reading in check.readings:
        if reading.is_ is not None and reading.line:
            yield Problem(
                "check-way",
                "error",
                f"reading `{reading.name}` of check `{check.id}` has both `is` and `line`",
                path=(*path, "readings", reading.name, "line"),
                why="one of them is the figure, and the other would not be looked at",
                fix="keep one of them",
            )
    ways = [way for way in _WAYS_TO_CHECK if getattr(check, way)]
    words = either(f"`{way}`" for way in _WAYS_TO_CHECK)
    if len(ways) != 1:
        said = (
            "does not say what to do" if not ways else f"has {' and '.join(f'`{w}`' for w in ways)}"
        )
        yield Problem(
            "check-way",
            "error",
            f"check `{check.id}` {said}",
            path=(*path, ways[1]) if ways else path,
            why="the sheet has one line and one box for it",
            fix=f"write one of {words}" + (", and make a second check of the rest" if ways else ""),
        )
    elif check.limit and not (check.measure or check.readings):
        yield Problem(
            "check-way",
            "error",
            f"check `{check.id}` has a limit, and `{ways[0]}` gives no figure to hold against it",
            path=(*path, "limit"),
            why="a limit is for a reading, and what is seen or felt is judged in words",
            fix=f"write `measure` for `{ways[0]}`, or say it in words under `good` and `bad`",
        )
    elif check.measure and not (check.limit or check.good or check.go or check.no_go):
        yield Problem(
            "no-limit",
            "warning",
            f"check `{check.id}` measures something, and nothing says what is good",
            path=(*path, "measure"),
            why="the builder has a reading and no way to judge it",
            fix="write a `limit`, or `good` and `bad` in words",
        )


def _rework_is_measured_alike(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    for check in assembly.checks:
        again = check.rework.limit if check.rework else None
        if not sound(("checks", check.id)) or again is None or check.limit is None:
            continue
        one, other = check.limit.value.quantity, again.value.quantity
        if one != other:
            yield Problem(
                "check-way",
                "error",
                f"check `{check.id}` has its limit in {one} and that of `rework` in {other}",
                path=("checks", check.id, "rework", "limit"),
                facts=(Fact("the limit", path=("checks", check.id, "limit")),),
                why="one reading is held against both",
                fix="write both in units of what is measured",
            )


def _rounds_begin_somewhere(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    for check in assembly.checks:
        after = check.else_
        path: Path = ("checks", check.id, "else")
        if after is None or after.again_from or not sound(path):
            continue
        for field in ("change", "most"):
            if getattr(after, field):
                yield Problem(
                    "missing",
                    "error",
                    f"`{field}` of check `{check.id}` speaks of another round, but from where?",
                    path=(*path, field),
                    why="the builder would not know which steps to do again",
                    fix="write `again_from: …` with the step to start again from",
                )


def _one_torque_for_one_job(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    joints = {joint.id: joint for joint in assembly.joints}
    for step in assembly.steps:
        if step.torque is None or not sound(("steps", step.id, "torque")):
            continue
        for link in step.tighten:
            joint = joints.get(link.to)
            if joint is None or joint.torque is None or not sound(("joints", joint.id, "torque")):
                continue
            if _measures(step.torque) != _measures(joint.torque):
                yield _two_torques(step, joint)


def _measures(torque: Torque) -> tuple[object, ...]:
    return tuple(
        amount and (amount.low, amount.high, amount.unit)
        for amount in (torque.value.amount, torque.value.angle)
    )


def _two_torques(step: Step, joint: Joint) -> Problem:
    return Problem(
        "torque-twice",
        "error",
        f"step `{step.id}` has a torque, and joint `{joint.id}` that it tightens has another",
        step=step.id,
        path=("steps", step.id, "torque"),
        facts=(
            Fact("the step says this", path=("steps", step.id, "torque")),
            Fact("the joint says this", path=("joints", joint.id, "torque")),
        ),
        why="the builder would have two figures for one job",
        fix="keep the torque of the joint, and delete that of the step",
    )


def _units_to_print_are_known(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    for quantity in ("torque", "length"):
        units = getattr(assembly.prints, quantity)
        path: Path = ("prints", quantity)
        if not sound(path):
            continue
        known = dict.fromkeys(unit.symbol for unit in UNITS[quantity].values())
        for index, unit in enumerate(units):
            if unit_named(unit, (quantity,)) is None:
                near = difflib.get_close_matches(unit[:20], UNITS[quantity], n=1)
                some = ", ".join(f"`{symbol}`" for symbol in known)
                fix = (
                    f"did you mean `{UNITS[quantity][near[0]].symbol}`?" if near else f"use {some}"
                )
                message = f"`{shortened(unit)}` is no unit of {quantity} known here"
                why = "every figure of that kind is printed in these units"
                yield Problem("figure", "error", message, path=(*path, index), why=why, fix=fix)
        if len(units) > _MOST_UNITS:
            message = f"`prints` names {len(units)} units of {quantity}, and two are printed"
            fix = "keep two: the first is printed large, the second small"
            here = (*path, _MOST_UNITS)
            why = "there is room for two"
            yield Problem("too-many", "error", message, path=here, why=why, fix=fix)


def _what_is_declared_is_used(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    if not sound(("steps",)):
        return
    tightened = {link.to for step in assembly.steps for link in step.tighten}
    taken = {link.to for step in assembly.steps for link in step.check}
    taken |= {link.to for part in assembly.parts for link in part.inspect}
    for joint in assembly.joints:
        if joint.id not in tightened:
            yield _unused("joint", joint.id, "is tightened by no step", "tighten")
    for check in assembly.checks:
        if check.id not in taken:
            yield _unused("check", check.id, "is taken in no step", "check")


def _unused(kind: str, name: str, what: str, field: str) -> Problem:
    return Problem(
        "unused",
        "warning",
        f"{kind} `{name}` {what}",
        path=(f"{kind}s", name),
        why="it would be on no step page, so nobody would do it",
        fix=f"write `{field}: {name}` in the step that does it",
    )


_RULES: tuple[Rule, ...] = (
    groups_are_apart,
    compounds_go_on_surfaces,
    nothing_is_spoiled_by_a_trial,
    alternatives_are_free,
    states_begin_and_end,
    units_are_whole_before_they_are_fitted,
    units_have_one_base,
    lines_can_be_followed,
    _what_is_secured_is_loose,
    _checks_say_how,
    _rework_is_measured_alike,
    _rounds_begin_somewhere,
    _one_torque_for_one_job,
    _units_to_print_are_known,
    _what_is_declared_is_used,
)
