"""Messages as a sheet prints them: steps by their numbers, everything else by its name."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from sequencer.sheets.words import first_sentence, shortened

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from sequencer.sheets.job import Job

_ID = re.compile(r"(?:\b(step|part|joint|check|tool|compound|surface) )?`([^`]*)`")
_BESIDE_A_NUMBER = re.compile(r" \(`[^`]*`\)")
_LENGTH = 110


def worded(job: Job, text: str) -> str:
    """Return a message with a number or a name for every id in it; an id not known stays.

    Where the message says what kind of thing an id is, it is looked for among those only.
    """
    return _ID.sub(lambda found: _said(job, found[1], found[2]), _BESIDE_A_NUMBER.sub("", text))


def doing(job: Job, step: str) -> str:
    """Return what a step says to do, in one sentence."""
    return shortened(first_sentence(job.by_id[step].do), _LENGTH)


def name_of(job: Job, name: str) -> str:
    """Return what is printed for an id: the number of a step, the name of anything else."""
    return next((words for kind in _KINDS if (words := _KINDS[kind](job, name))), name)


def _said(job: Job, kind: str | None, name: str) -> str:
    if kind is None:
        return name_of(job, name)
    words = _KINDS[kind](job, name) or name
    return words if words.startswith(kind) else f"{kind} {words}"


def _step(job: Job, name: str) -> str:
    if name in job.number:
        return f"step {job.number[name]}"
    return f"“{doing(job, name)}”" if name in job.by_id else ""


def _part(job: Job, name: str) -> str:
    return job.parts[name].label if name in job.parts else ""


def _joint(job: Job, name: str) -> str:
    joint = job.joints.get(name)
    return joint.name or joint.thread if joint is not None else ""


def _check(job: Job, name: str) -> str:
    return f"“{job.checks[name].label}”" if name in job.checks else ""


def _tool(job: Job, name: str) -> str:
    return job.tool_name(name) if name in job.tools else ""


def _compound(job: Job, name: str) -> str:
    return job.compounds[name].label if name in job.compounds else ""


def _surface(job: Job, name: str) -> str:
    return job.surfaces[name].label if name in job.surfaces else ""


_KINDS: Mapping[str, Callable[[Job, str], str]] = {
    "step": _step,
    "part": _part,
    "joint": _joint,
    "check": _check,
    "tool": _tool,
    "compound": _compound,
    "surface": _surface,
}
