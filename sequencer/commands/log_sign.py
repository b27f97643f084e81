"""`sequencer log accept` and `sign`: who signs that something is used as it is, or may go on."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from sequencer.commands.log_names import steps_named, strange, strange_steps
from sequencer.commands.log_run import Recorder, recording
from sequencer.problem import Problem
from sequencer.records.entries import Accept, Sign
from sequencer.records.gates import named
from sequencer.records.isolating import isolation_roles
from sequencer.records.sets import check_of

if TYPE_CHECKING:
    from sequencer.model.checking import Check
    from sequencer.problem import Severity
    from sequencer.records.state import State


@click.command("accept")
@click.argument("check", metavar="CHECK")
@recording
def accept_command(recorder: Recorder, check: str) -> None:
    """Record that what a check found is used as it is; --by is who signed for that."""
    if not recorder.said.by:
        raise click.UsageError("--by is wanted: who signs that it is used as it is")
    state, what = recorder.state, Accept(check=check)
    role = _may_accept(check_of(state.assembly, check))
    recorder.record([what], against_accept(state, what))
    as_role = f" ({role})" if role else ""
    recorder.done(f"{check} is used as it is, signed by {recorder.said.by}{as_role}")


def against_accept(state: State, what: Accept) -> list[Problem]:
    """Return what there is against using what a check found as it is."""
    check = what.check
    model = check_of(state.assembly, check)
    if model is None:
        return strange([check], (one.id for one in state.assembly.checks), "check")
    findings = []
    if not _may_accept(model):
        message = f"the model lets nobody accept check `{check}` as it is"
        why = "its limit is there for a reason, and no role is named who may pass over it"
        fix = "put it right; or record who took it on himself"
        findings.append(Problem("not-acceptable", "warning", message, why=why, fix=fix))
    if state.failing(check) is None:
        message = f"there is nothing about check `{check}` to accept: it does not stand out"
        why = "an acceptance speaks for the reading before it"
        fix = f"record the reading first: `sequencer log reading {check}=…`"
        findings.append(Problem("nothing-to-accept", "warning", message, why=why, fix=fix))
    return findings


def _may_accept(check: Check | None) -> str:
    """Return the role that may let a check pass; empty if there is none."""
    return check.else_.accept_by if check is not None and check.else_ is not None else ""


@click.command("sign")
@click.argument("role", metavar="ROLE")
@click.option("--step", "word", default="", help="The step; default: all that this role holds.")
@recording
def sign_command(recorder: Recorder, role: str, *, word: str) -> None:
    """Record the signature of a role at its hold points; --by is the name."""
    state = recorder.state
    what = Sign(role=role, step=steps_named([word], state)[0] if word else "")
    held = _held(state, what)
    recorder.record([what], against_sign(state, what))
    at = ", ".join(named(state, one) for one in held) or "no step in particular"
    recorder.done(f"{role} has signed for {at}")


def _held(state: State, what: Sign) -> list[str]:
    """Return the steps whose hold points a signature is for."""
    return [at for at, role in state.holds if role == what.role and what.step in ("", at)]


def against_sign(state: State, what: Sign) -> list[Problem]:
    """Return what there is against recording a signature."""
    role, step = what.role, what.step
    held = _held(state, what)
    findings = strange_steps([step], state) if step else []
    if not held and not findings and role not in isolation_roles(state.assembly):
        roles = dict.fromkeys(one.hold for one in state.assembly.steps if one.hold)
        where = f"at {named(state, step)} " if step else ""
        message = f"no hold point of `{role}` is open {where}now"
        why = "a signature counts for what is done and not signed yet"
        known = ", ".join(roles) or "none"
        fix = f"roles that hold steps of this model: {known}"
        severity: Severity = "note" if role not in roles and not step else "warning"
        findings.append(Problem("nothing-held", severity, message, why=why, fix=fix))
    return findings
