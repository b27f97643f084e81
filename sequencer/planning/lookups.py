"""Look-ups from the names in a model to its steps, and the stays of parts that come off again."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import Link
    from sequencer.model.steps import Step
    from sequencer.planning.network import Steps


class Stay(NamedTuple):
    """One time that a part is on: the steps that fit it and the step that takes it off (or -1).

    `start` is where it begins in the written order; -1 for a part that is on from the start.
    """

    fits: Steps
    off: int
    start: int

    @property
    def from_start(self) -> bool:
        """Whether the part is on before the job begins."""
        return self.start < 0


class Standing(NamedTuple):
    """When a part is on: once any of `blockers` is done, until all `clearers` are."""

    blockers: Steps
    clearers: Steps


@dataclass(frozen=True, slots=True)
class _Trials:
    number: dict[int, int]  # of each step in a trial, which trial
    fits: dict[tuple[int, str], Steps]  # in a trial, the steps that fit a part
    off: dict[tuple[int, str], Steps]


class Lookups:
    """The names of one model, looked up once and used by each kind of rule."""

    def __init__(self, assembly: Assembly) -> None:
        self.assembly = assembly
        self.steps = assembly.steps
        self.index = {step.id: number for number, step in enumerate(assembly.steps)}
        self.alone: list[Steps] = [(number,) for number in range(len(assembly.steps))]
        self.trials = self._find_trials()
        self.parts = {part.id: part for part in assembly.parts}
        self.units = frozenset(unit.id for unit in assembly.units)
        fitters: defaultdict[str, list[int]] = defaultdict(list)
        of_section: defaultdict[str, list[int]] = defaultdict(list)
        of_check: defaultdict[str, list[int]] = defaultdict(list)
        self._taken_off: set[str] = set()
        for number, step in enumerate(assembly.steps):
            of_section[step.section].append(number)
            for link in step.check:
                of_check[link.to].append(number)
            if number not in self.trials.number:
                self._taken_off.update(link.to for link in step.takes_off)
                for fit in step.fits:
                    fitters[fit.part].append(number)
        self.fitters = {part: self._as_steps(steps) for part, steps in fitters.items()}
        self.steps_of = {
            "part": self.fitters,
            "section": {section: tuple(steps) for section, steps in of_section.items()},
            "check": {check: tuple(steps) for check, steps in of_check.items()},
            "step": {step: self.alone[number] for step, number in self.index.items()},
        }
        self.home = (
            {part: assembly.steps[steps[0]].unit for part, steps in self.fitters.items()}
            if self.units
            else {}
        )
        self.stays = self._find_stays()
        self.secured_by = self._by_name(lambda step: step.secures)
        self.tightened_by = self._by_name(lambda step: step.tighten)
        self.of_unit: defaultdict[str, list[int]] = defaultdict(list)
        for number, step in enumerate(assembly.steps):
            self.of_unit[step.unit].append(number)

    def _by_name(self, links: Callable[[Step], tuple[Link, ...]]) -> dict[str, Steps]:
        """Return for each name that the links of steps give the steps that give it."""
        found: defaultdict[str, list[int]] = defaultdict(list)
        for number, step in enumerate(self.steps):
            for link in links(step):
                found[link.to].append(number)
        return {name: tuple(dict.fromkeys(steps)) for name, steps in found.items()}

    def fitting(self, parts: Iterable[str]) -> list[int]:
        """Return the steps that fit any of the parts, in trials too, as written."""
        wanted = set(parts)
        steps = {step for part in wanted for step in self.fitters.get(part, ())}
        for (_, part), others in self.trials.fits.items():
            if part in wanted:
                steps.update(others)
        return sorted(steps)

    def _as_steps(self, steps: list[int]) -> Steps:
        return self.alone[steps[0]] if len(steps) == 1 else tuple(dict.fromkeys(steps))

    def _find_trials(self) -> _Trials:
        trials = _Trials({}, {}, {})
        for number, trial in enumerate(self.assembly.trials):
            fits: defaultdict[str, list[int]] = defaultdict(list)
            off: defaultdict[str, list[int]] = defaultdict(list)
            for link in trial.steps:
                step = self.index.get(link.to)
                if step is None:
                    continue
                trials.number[step] = number
                for fit in self.steps[step].fits:
                    fits[fit.part].append(step)
                for part in self.steps[step].takes_off:
                    off[part.to].append(step)
            trials.fits.update({(number, part): tuple(steps) for part, steps in fits.items()})
            trials.off.update({(number, part): tuple(steps) for part, steps in off.items()})
        return trials

    def _find_stays(self) -> dict[str, list[Stay]]:
        """Return the stays of each part that comes off again or is on from the start."""
        passing = self._taken_off | {part.id for part in self.parts.values() if part.at_start}
        if not passing:
            return {}
        events: dict[str, list[tuple[int, bool]]] = {part: [] for part in passing}
        for number, step in enumerate(self.steps):
            if number in self.trials.number:
                continue
            for part in dict.fromkeys(link.to for link in step.takes_off):
                events[part].append((number, False))
            for part in dict.fromkeys(fit.part for fit in step.fits):
                if part in passing:
                    events[part].append((number, True))
        return {part: self._stays_of(part, found) for part, found in events.items()}

    def _stays_of(self, part: str, events: list[tuple[int, bool]]) -> list[Stay]:
        stays: list[Stay] = []
        at_start = part in self.parts and bool(self.parts[part].at_start)
        fits: list[int] = []
        start = -1 if at_start else None
        for number, is_fit in events:
            if is_fit:
                start = number if start is None else start
                fits.append(number)
            elif start is not None:
                stays.append(Stay(tuple(fits), number, start))
                fits, start = [], None
        if start is not None:
            stays.append(Stay(tuple(fits), -1, start))
        return stays

    def stay_of(self, part: str, step: int) -> Stay | None:
        """Return the stay of a part in which a step is written, else the last before it.

        A step written before every stay means the first; None where the part is never on.
        """
        stays = self.stays.get(part)
        if stays is None:
            fits = self.fitters.get(part)
            return Stay(fits, -1, fits[0]) if fits else None
        begun = [stay for stay in stays if stay.start <= step]
        return begun[-1] if begun else stays[0] if stays else None

    def standings(
        self, part: str, step: int, within: frozenset[str] = frozenset()
    ) -> list[Standing]:
        """Return when a part is on, seen from a step; empty if it never is.

        A part of a unit is on for the steps of that unit; for others while the unit itself is.
        What a trial fits is on for the steps of that trial only.
        """
        home = self.home.get(part, "")
        if home and self.steps[step].unit != home and home not in within:
            return self.standings(home, step, within | {home})
        found = [Standing(*whole) for whole in self._whole_stays(part)]
        trial = self.trials.number.get(step, -1)
        own = self.trials.fits.get((trial, part), ())
        if own:
            found.append(Standing(own, self.trials.off.get((trial, part), ())))
        return found

    def _whole_stays(self, part: str) -> list[tuple[Steps, Steps]]:
        stays = self.stays.get(part)
        if stays is None:
            fits = self.fitters.get(part)
            return [(fits, ())] if fits else []
        return [
            (() if stay.from_start else stay.fits, () if stay.off < 0 else (stay.off,))
            for stay in stays
        ]

    def named(self, link: Link) -> Steps:
        """Return the steps that a reference to a step, part, section or check means."""
        return self.steps_of[link.kind].get(link.to, ())
