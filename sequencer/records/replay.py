"""From the entries of a log to the state that they tell, one entry after the other."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from sequencer.records import entries as told
from sequencer.records.corrections import counting
from sequencer.records.lines import kind_of
from sequencer.records.moments import moment_in
from sequencer.records.reachable import as_it_stood
from sequencer.records.running import Running
from sequencer.records.sets import is_one_set, judged_with
from sequencer.records.standing import standing
from sequencer.records.state import State, Taken
from sequencer.records.verdicts import Verdict, judge_torque

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.records.entries import Entry


def model_of(entries: Sequence[Entry]) -> told.Model | None:
    """Return the model that counts last in a log; None if the log has none.

    Its `text` has to be read before `state_of` can tell the rest.
    """
    return _last_model(counting(entries).entries)


def _last_model(counts: Sequence[Entry]) -> told.Model | None:
    models = [entry.what for entry in counts if isinstance(entry.what, told.Model)]
    return models[-1] if models else None


def state_of(entries: Sequence[Entry], assembly: Assembly) -> State:
    """Return what a log tells.

    Parameters
    ----------
    entries : sequence of Entry
        All entries, in the order of the file.
    assembly : Assembly
        The model of `model_of(entries)`, completed. Names that it lacks are kept as strange.

    Raises
    ------
    ValueError
        If no entry holds a model.
    """
    counts = counting(entries)
    model = _last_model(counts.entries)
    if model is None:
        raise ValueError("a log without a model tells nothing")
    replay = _Replay(assembly)
    for entry in counts.entries:
        replay.take(entry)
    done = tuple(replay.done)
    return State(
        assembly=assembly,
        model=model,
        unit=replay.unit,
        entries=counts.entries,
        corrections=counts.corrections,
        done=done,
        done_by=replay.done,
        skipped=replay.skipped,
        part_done=replay.part_done,
        readings={check: tuple(taken) for check, taken in replay.readings.items()},
        accepted=replay.accepted,
        torques=tuple(replay.torques),
        signed=replay.signed,
        roles=replay.roles,
        voided=tuple(replay.voided),
        short=replay.short,
        spoiled=replay.spoiled,
        wet=replay.wet,
        running=Running(assembly, replay.done),
        strange=tuple(replay.strange),
        standing=standing(assembly, done),
        number={step: at for at, step in enumerate(model.order, start=1)},
        holds=tuple(replay.holds()),
        last_taken={link.to: step for step in done for link in replay.steps[step].check},
        gating=frozenset(
            link.to for step in assembly.steps for link in step.after if link.kind == "check"
        ),
    )


class _Replay:
    """The state in the making; each kind of entry has a method of its name."""

    def __init__(self, assembly: Assembly) -> None:
        self.assembly = assembly
        self.steps = {step.id: step for step in assembly.steps}
        self.checks = {check.id: check for check in assembly.checks}
        self.joints = {joint.id: joint for joint in assembly.joints}
        self.known = {
            "step": self.steps.keys(),
            "check": self.checks.keys(),
            "joint": self.joints.keys(),
            "part": {part.id for part in assembly.parts},
        }
        self.unit = ""
        self.done: dict[str, Entry] = {}
        self.skipped: dict[str, Entry] = {}
        self.part_done: dict[str, told.PartDone] = {}
        self.readings: defaultdict[str, list[Taken]] = defaultdict(list)
        self.accepted: dict[str, Entry] = {}
        self.torques: list[tuple[Entry, Verdict]] = []
        self.signed: dict[str, Entry] = {}
        self.roles: dict[str, Entry] = {}
        self.voided: list[tuple[str, Entry]] = []
        self.short: dict[str, Entry] = {}
        self.spoiled: dict[str, Entry] = {}
        self.wet: dict[str, str] = {}
        self.strange: list[tuple[int, str, str]] = []

    def take(self, entry: Entry) -> None:
        """Take one more entry into account."""
        what: Any = entry.what
        for kind, names in self.known.items():
            name = getattr(what, kind, "")
            if name and name not in names:
                self.strange.append((entry.number, kind, name))
                if kind in ("step", "part"):
                    return
        handle = getattr(self, f"_{kind_of(entry).replace('-', '_')}", None)
        if handle is not None:
            handle(entry, what)

    def _of_model(self, entry: Entry, steps: Iterable[str]) -> list[str]:
        """Return those of the steps that the model has; the others are noted as strange."""
        names = list(steps)
        self.strange += [(entry.number, "step", name) for name in names if name not in self.steps]
        return [name for name in names if name in self.steps]

    def _start(self, _: Entry, what: told.Start) -> None:
        self.unit = what.unit

    def _done(self, entry: Entry, what: told.Done) -> None:
        for step in self._of_model(entry, what.steps):
            self._void_signature(step)
            self.done[step] = entry
            self.skipped.pop(step, None)
            self.part_done.pop(step, None)
            self.wet.pop(step, None)
            if what.wet_until:
                self.wet[step] = what.wet_until
            self._upset(step)
            for fit in self.steps[step].fits:
                if self._is_whole_again(fit.part):
                    self.spoiled.pop(fit.part, None)

    def _is_whole_again(self, part: str) -> bool:
        """Tell whether every step done that fits a spoiled part was done since."""
        spoiled = self.spoiled.get(part)
        if spoiled is None:
            return False
        named = getattr(spoiled.what, "step", "")
        fitting = [
            entry
            for step, entry in self.done.items()
            if named in ("", step) and any(fit.part == part for fit in self.steps[step].fits)
        ]
        return bool(fitting) and all(entry.number > spoiled.number for entry in fitting)

    def _undone(self, entry: Entry, what: told.Undone) -> None:
        for step in self._of_model(entry, what.steps):
            self._void_signature(step)
            self.done.pop(step, None)
            self.skipped.pop(step, None)
            self.part_done.pop(step, None)
            self.wet.pop(step, None)
            for link in self.steps[step].check:
                self._void(link.to, f"`{step}` was taken back")

    def _void_signature(self, step: str) -> None:
        signature = self.signed.pop(step, None)
        if signature is not None:
            self.voided.append((step, signature))

    def _upset(self, step: str) -> None:
        """Void the readings that a step that is done makes worthless."""
        fitted = {fit.part for fit in self.steps[step].fits}
        for check in [check for check in self.readings if check in self.checks]:
            model = self.checks[check]
            if any(link.to == step for link in model.upset_by):
                self._void(check, f"`{step}` upset it")
            follows = model.else_
            if follows is not None and any(not one.verdict.ok for one in self.readings[check]):
                begun_again = any(link.to == step for link in follows.again_from)
                if begun_again or any(link.to in fitted for link in follows.renew):
                    self._void(check, f"`{step}` was done again")

    def _void(self, check: str, why: str) -> None:
        """Void the good readings of a check, and all where they were accepted as they are.

        A failed reading goes on failing until the check is read anew.
        """
        was_accepted = self.accepted.pop(check, None) is not None
        self.readings[check] = [
            replace(taken, void=taken.void or why) if taken.verdict.ok or was_accepted else taken
            for taken in self.readings.get(check, ())
        ]

    def _part_done(self, _: Entry, what: told.PartDone) -> None:
        self.part_done[what.step] = what

    def _skip(self, entry: Entry, what: told.Skip) -> None:
        self.skipped[what.step] = entry

    def _reading(self, entry: Entry, what: told.Reading) -> None:
        check = self.checks.get(what.check)
        earlier = self.readings[what.check]
        rounds = [taken.round for taken in earlier]
        number = what.round if what.round is not None else max(rounds, default=1)
        place = what.place.strip()
        if check is None:
            verdict = Verdict("cannot be told", "the model has no such check")
        else:
            verdict = judged_with(self.assembly, check, earlier, replace(what, place=place), number)
            moment = moment_in(entry.happened)
            verdict = as_it_stood(self.assembly, check, self.done, moment, verdict)
            self._speak_together(check, place, number)
        earlier.append(Taken(entry, what.check, what.value, number, place, what.gauge, verdict))
        self.accepted.pop(what.check, None)

    def _speak_together(self, check: Check, place: str, number: int) -> None:
        """Leave the verdict on readings of one set to the one that comes now."""
        self.readings[check.id][:] = [
            replace(taken, verdict=Verdict("recorded"))
            if taken.round <= number and is_one_set(check, taken.place, place)
            else taken
            for taken in self.readings[check.id]
        ]

    def _torque(self, entry: Entry, what: told.Torque) -> None:
        joint = self.joints.get(what.joint)
        if joint is not None:
            self.torques.append((entry, judge_torque(joint, what.value)))

    def _spoiled(self, entry: Entry, what: told.Spoiled) -> None:
        self.spoiled[what.part] = entry

    def _fitted(self, _: Entry, what: told.Fitted) -> None:
        self.short.pop(what.part, None)

    def _short(self, entry: Entry, what: told.Short) -> None:
        self.short[what.part] = entry

    def _arrived(self, _: Entry, what: told.Arrived) -> None:
        self.short.pop(what.part, None)

    def _accept(self, entry: Entry, what: told.Accept) -> None:
        self.accepted[what.check] = entry

    def _sign(self, entry: Entry, what: told.Sign) -> None:
        steps = [at for at, role in self.holds() if role == what.role and what.step in ("", at)]
        for step in steps:
            self.signed[step] = entry
        if not steps:
            self.roles[what.role] = entry

    def holds(self) -> Iterator[tuple[str, str]]:
        """Yield the steps done whose hold point is not signed, each with the role."""
        for step in self.done:
            if self.steps[step].hold and step not in self.signed:
                yield step, self.steps[step].hold
