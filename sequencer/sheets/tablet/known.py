"""What the scripts of the page know of the job: the order, what holds steps up, how to judge."""

from __future__ import annotations

from math import ceil, floor
from typing import TYPE_CHECKING

from sequencer.model.fastening import Joint
from sequencer.records.isolating import STAGES, isolation_role
from sequencer.records.sets import is_measured
from sequencer.records.tightening import tightening_of
from sequencer.sheets.handled import fitted_parts
from sequencer.sheets.tablet.exact import dimensions, no_units, units
from sequencer.sheets.tablet.forms import seen_on, stops_of
from sequencer.sheets.tablet.rules import check_rules, torque_rules
from sequencer.sheets.words import first_sentence, shortened

if TYPE_CHECKING:
    from sequencer.model.checking import Check
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job
    from sequencer.sheets.tablet.exact import Plain

_SHORT = 70


def known_to_scripts(job: Job) -> Plain:
    """Return what the scripts know, as plain values for JSON."""
    model = job.assembly
    shown = [step for one in job.steps for step in (one, *job.instead_of(one))]
    joints = {link.to for step in shown for link in step.tighten}
    rules = {name: _of_joint(job, job.joints[name]) for name in joints}
    own = {step.id: Joint(id=step.id, torque=step.torque) for step in shown if step.torque}
    return {
        "assembly": model.assembly,
        "title": model.title or model.assembly,
        "issue": model.issue,
        "fingerprint": job.fingerprint,
        "steps": [_step(job, step) for step in shown],
        "windows": [
            {
                "since": window.since,
                "until": window.until,
                "seconds": floor(window.minutes * 60),
                "text": window.text,
                "compound": _label(job, window.compound),
            }
            for window in job.times.windows
        ],
        "checks": {
            link.to: check_rules(job, job.checks[link.to]) for step in shown for link in step.check
        },
        "joints": dict(sorted(rules.items())),
        "isolation": [
            isolation_role(number, point.tag, stage)
            for number, point in enumerate(model.isolation, start=1)
            for stage in STAGES[:-1]
        ],
        "parts": {part.id: part.label for part in model.parts},
        "ownTorques": {name: torque_rules(joint, model.prints) for name, joint in own.items()},
        "units": units(),
        "noUnits": no_units(),
        "dimensions": dimensions(),
    }


def _of_joint(job: Job, joint: Joint) -> Plain:
    return {"name": joint.name or joint.id, **torque_rules(joint, job.assembly.prints)}


def _step(job: Job, step: Step) -> Plain:
    choice = job.choices.get(step.id)
    tightening = tightening_of(job.assembly, step.id)
    return {
        "id": step.id,
        "number": job.number.get(step.id),
        "short": shortened(first_sentence(step.do), _SHORT),
        "stops": [{"step": told.step, "text": told.text} for told in stops_of(job, step)],
        "seen": [one.text for seen in seen_on(fitted_parts(job, step)) for one in seen],
        "hold": step.hold,
        "settles": [link.to for link in choice.steps] if choice is not None else [],
        "checks": [link.to for link in step.check],
        "reads": [link.to for link in step.check if is_measured(job.checks[link.to])],
        "upsets": [
            check.id
            for check in job.assembly.checks
            if any(link.to == step.id for link in check.upset_by)
        ],
        "begins": [check.id for check in job.assembly.checks if _begins_again(check, step)],
        "fits": list(dict.fromkeys(fit.part for fit in step.fits)),
        "fasteners": tightening.fasteners,
        "passes": len(tightening.passes),
        "waits": [
            {
                "since": wait.since,
                "seconds": ceil(wait.minutes * 60),
                "text": wait.text,
                "compound": _label(job, wait.compound),
            }
            for wait in job.times.waits.get(step.id, ())
        ],
    }


def _begins_again(check: Check, step: Step) -> bool:
    """Tell whether a step done again is what a check that failed asks for."""
    follows = check.else_
    if follows is None:
        return False
    renewed = {link.to for link in follows.renew}
    return any(link.to == step.id for link in follows.again_from) or any(
        fit.part in renewed for fit in step.fits
    )


def _label(job: Job, compound: str) -> str:
    return job.compounds[compound].label if compound else ""
