"""`sequencer log reading` and `torque`: what was measured, and what was tightened to what."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sequencer.commands.log_names import pair, strange
from sequencer.commands.log_run import Recorder, recording
from sequencer.problem import Problem
from sequencer.records.chosen_packs import packs_asked_for
from sequencer.records.entries import Reading, Torque
from sequencer.records.moved_on import check_gates
from sequencer.records.reachable import as_it_stood
from sequencer.records.read_again import nothing_done_since
from sequencer.records.sets import check_of, judged_with, place_of, wanted
from sequencer.records.verdicts import Verdict, judge_torque, times_off, with_unit

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import datetime

    from sequencer.model.checking import Check
    from sequencer.model.fastening import Joint
    from sequencer.records.state import State


@click.command("reading")
@click.argument("words", nargs=-1, metavar="CHECK=V…", required=True)
@click.option("--round", "round_", type=click.IntRange(1), help="Which round it is.")
@click.option("--place", default="", help="Where it was taken.")
@click.option("--gauge", default="", help="What it was taken with: a tool's id, or words.")
@recording
def reading_command(
    recorder: Recorder, words: tuple[str, ...], *, round_: int | None, place: str, gauge: str
) -> None:
    """Record readings: worm-float=0.04, or seat=good. Each is judged at once.

    One of several readings or places goes behind a point: cold.5=0.20, or bore.no-go=no.
    """
    readings = [_reading(recorder, word, round_, place, gauge) for word in _joined(words)]
    record_readings(recorder, readings)
    judged = [(what, verdict_of(recorder.state, what, recorder.said_at)) for what in readings]
    told = "; ".join(read_out(what, verdict) for what, verdict in judged)
    good = {what.check: verdict for what, verdict in judged if verdict.ok}
    verdicts = good | {what.check: verdict for what, verdict in judged if not verdict.ok}
    told += still_to_come(recorder.state, verdicts)
    for what in readings:
        packs = packs_asked_for(recorder.state, what.check, what.value)
        told += "".join(f"; {words}" for words in packs)
    recorder.done(told, verdicts={check: verdict.word for check, verdict in verdicts.items()})


def record_readings(recorder: Recorder, readings: Sequence[Reading]) -> None:
    """Record readings, after what there is against them was told."""
    recorder.record(readings, against_readings(recorder, readings), paper=True)


def against_readings(recorder: Recorder, readings: Sequence[Reading]) -> list[Problem]:
    """Return what there is against recording readings."""
    state = recorder.state
    known = [check.id for check in state.assembly.checks]
    findings = strange((what.check for what in readings), known, "check")
    for what in readings:
        model = check_of(state.assembly, what.check)
        if model is None:
            continue
        verdict = verdict_of(state, what)
        findings += check_gates(state, what.check, recorder.said_at)
        findings += _strange_place(model, what)
        findings += _too_many_rounds(model, what)
        findings += untold(what.check, what, verdict)
        findings += nothing_done_since(state, model, what, verdict)
    return list(dict.fromkeys(findings))


def untold(name: str, what: Reading | Torque, verdict: Verdict) -> list[Problem]:
    """Return an objection where nobody can tell what a value means."""
    if verdict.word != "cannot be told":
        return []
    message = f"{name} {what.value}: {verdict.why}"
    why = "recorded so, it says neither that all is well nor that it is not"
    return [Problem("cannot-be-told", "warning", message, why=why, fix=verdict.follow)]


def _joined(words: Sequence[str]) -> list[str]:
    """Return readings of which a shell has split the spaces: `a=0.04`, `mm`."""
    joined: list[str] = []
    for word in words:
        if "=" in word or not joined:
            joined.append(word)
        else:
            joined[-1] += f" {word}"
    return joined


def _reading(recorder: Recorder, word: str, round_: int | None, place: str, gauge: str) -> Reading:
    try:
        check, value = pair(word)
    except ValueError:
        raise click.BadParameter(
            f"{word!r} is no reading: write the check, `=`, and what was read", param_hint="CHECK=V"
        ) from None
    return reading_of(recorder.state, check, value, round_, place, gauge)


def reading_of(  # all that a reading says
    state: State,
    check: str,
    value: str,
    round_: int | None = None,
    place: str = "",
    gauge: str = "",
) -> Reading:
    """Return a reading, a bare number with the unit that its limit is printed in first."""
    check, name = _check_and_name(state, check)
    model = check_of(state.assembly, check)
    limit = model.limit.value if model is not None and model.limit is not None else None
    if model is not None:
        place = place_of(model, place, name)
        limit = None if model.readings else limit
    prints = state.assembly.prints
    units = {"length": prints.length, "torque": prints.torque}
    whole = with_unit(value, limit, units.get(limit.quantity, ()) if limit else ())
    return Reading(check=check, value=whole, round=round_, place=place, gauge=gauge)


def verdict_of(state: State, what: Reading, moment: datetime | None = None) -> Verdict:
    """Return the verdict on a reading, taken at a moment where that is said.

    For a check that the model lacks there is none.
    """
    model = check_of(state.assembly, what.check)
    if model is None:
        return Verdict("cannot be told", "the model has no such check")
    taken = state.readings.get(what.check, ())
    number = what.round or max((one.round for one in taken), default=1)
    verdict = judged_with(state.assembly, model, taken, what, number)
    return as_it_stood(state.assembly, model, state.done_by, moment, verdict)


def read_out(what: Reading, verdict: Verdict) -> str:
    """Say a reading with its verdict and what follows, in one line."""
    follow = f"; {verdict.follow}" if verdict.follow else ""
    place = f" at {what.place}" if what.place else ""
    return f"{what.check} {what.value}{place}: {verdict.beside(what.value)}{follow}"


def _check_and_name(state: State, typed: str) -> tuple[str, str]:
    """Return the check and the reading or place that ``cold.5`` means; a check may have none."""
    if check_of(state.assembly, typed) is not None:
        return typed, ""
    several = [check.id for check in state.assembly.checks if wanted(check) != ("",)]
    found = max((one for one in several if typed.startswith(f"{one}.")), key=len, default="")
    return (found, typed[len(found) + 1 :]) if found else (typed, "")


def _strange_place(check: Check, what: Reading) -> list[Problem]:
    places = wanted(check)
    if places == ("",) or what.place in (*places, *check.each):
        return []
    message = (
        f"check `{what.check}` has no reading `{what.place}`"
        if what.place
        else (f"check `{what.check}` is read at several places, and none is said")
    )
    why = f"it is read as {', '.join(places)}"
    fix = f"write it as `{what.check}.{places[0]}=…`, or with --place"
    return [Problem("unknown", "warning", message, why=why, fix=fix)]


def still_to_come(state: State, checks: Iterable[str]) -> str:
    """Say which readings of checks that are read at several places are still to come."""
    return "".join(
        f"; {check.id} still to come: {', '.join(state.missing(check))}"
        for check in state.assembly.checks
        if check.id in checks and wanted(check) != ("",) and state.missing(check)
    )


def _too_many_rounds(check: Check, what: Reading) -> list[Problem]:
    most = check.else_.most if check.else_ is not None else None
    if most is None or what.round is None or what.round <= most:
        return []
    message = f"round {what.round} of check `{what.check}`, which allows {most} rounds at the most"
    why = "what has not come right by then will not come right this way"
    return [Problem("too-many-rounds", "warning", message, why=why, fix="stop, and ask")]


@click.command("torque")
@click.argument("words", nargs=-1, metavar="JOINT=V", required=True)
@click.option("--wrench", default="", help="Which wrench: its number, or a tool's id.")
@click.option("--place", default="", help="Which fastener, where one is meant.")
@recording
def torque_command(recorder: Recorder, words: tuple[str, ...], *, wrench: str, place: str) -> None:
    """Record what joints were tightened to, such as cover-joint='22 N·m'."""
    whats = [_torque(recorder.state, word, wrench, place) for word in _joined(words)]
    record_torques(recorder, whats)
    recorder.done("; ".join(torque_out(recorder.state, what) for what in whats))


def record_torques(recorder: Recorder, whats: Sequence[Torque]) -> None:
    """Record torques, after what there is against them was told."""
    recorder.record(whats, against_torques(recorder, whats), paper=True)


def against_torques(recorder: Recorder, whats: Sequence[Torque]) -> list[Problem]:
    """Return what there is against recording torques."""
    joints = {joint.id: joint for joint in recorder.assembly.joints}
    findings = strange((what.joint for what in whats), joints, "joint")
    for what in whats:
        if what.joint in joints:
            verdict = judge_torque(joints[what.joint], what.value)
            findings += untold(what.joint, what, verdict) + _far_off(joints[what.joint], what)
    return findings


def _far_off(joint: Joint, what: Torque) -> list[Problem]:
    """Return an objection where a torque is too far from what is asked to be a real one."""
    times = times_off(joint, what.value)
    if times is None or joint.torque is None:
        return []
    asked = joint.torque.value.text.strip()
    message = f"{what.joint} {what.value}: that is {float(times):.2g} times what is asked, {asked}"
    why = "a digit, the unit or the joint may have slipped; if not, it may be stretched beyond use"
    if times < 1:
        why = "a digit, the unit or the joint may have slipped; if not, it is not tight"
    return [Problem("far-off", "warning", message, why=why, fix="look at the wrench again")]


def _torque(state: State, word: str, wrench: str, place: str) -> Torque:
    try:
        joint, value = pair(word)
    except ValueError:
        raise click.BadParameter(
            f"{word!r} is no torque: write the joint, `=`, and the figure", param_hint="JOINT=V"
        ) from None
    return torque_of(state, joint, value, wrench, place)


def torque_of(state: State, joint: str, value: str, wrench: str = "", place: str = "") -> Torque:
    """Return a torque, a bare number with the unit that the figure asked is printed in first."""
    model = next((one for one in state.assembly.joints if one.id == joint), None)
    asked = model.torque.value.amount if model is not None and model.torque is not None else None
    whole = with_unit(value, asked, state.assembly.prints.torque)
    return Torque(joint=joint, value=whole, wrench=wrench, place=place)


def torque_out(state: State, what: Torque) -> str:
    """Say a torque with its verdict, in one line."""
    model = next((one for one in state.assembly.joints if one.id == what.joint), None)
    if model is None:
        return f"{what.joint} {what.value}: the model has no such joint"
    verdict = judge_torque(model, what.value)
    follow = f"; {verdict.follow}" if verdict.follow else ""
    return f"{what.joint} {what.value}: {verdict.said}{follow}"
