"""What `revise` finds, in the words of the bench."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.mending import not_among_parts
from sequencer.sheets.words import counted

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.assembly import Assembly
    from sequencer.planning.mending import Fasteners, Mend, Mistake, Revised, Wait


class Told:
    """Tells a mend in the words of the bench; numbers are those of the printed order."""

    def __init__(self, assembly: Assembly, mistake: Mistake) -> None:
        self.assembly = assembly
        self.mistake = mistake
        self.steps = {step.id: step for step in assembly.steps}
        self.joints = {joint.id: joint for joint in assembly.joints}
        self.parts = {part.id: part for part in assembly.parts}
        self.number = {step: number for number, step in enumerate(mistake.order, 1)}

    def whole(self, revised: Revised) -> str:
        """Say what comes out and how the job goes on, and the next best ways."""
        if revised.mend is None:
            return "nothing mends this"
        lines = list(self._mend(revised.mend))
        if not revised.proved:
            lines.append(f"not proved the least: another may save up to {revised.gap:.0f} min")
        for place, other in enumerate(revised.others, 2):
            lines += ["", f"Next best, {_ordinal(place)}:", *self._mend(other)]
        return "\n".join(lines)

    def given(self, log: str, revised: Revised) -> str:
        """Say what a log tells that bears on the mend, before the mend itself."""
        out = revised.mend.undo if revised.mend is not None else ()
        mistake, was, now = self.mistake, self.mistake.was, self.mistake.now
        done = len(mistake.done) - len(mistake.skipped)
        lines = [f"by {log}: {counted(done, 'step')} done, model {was.fingerprint}"]
        if was != now:
            lines.append(f"the model has changed since: it is {now.fingerprint} now")
        if mistake.numbered_by != was:
            lines.append(f"steps are numbered as in the packet of model {now.fingerprint}")
        redo = [self._because(step, why) for step, why in mistake.redo.items()]
        redo += [
            self._because(s, why, "" if s in out else ", where it is")
            for s, why in mistake.again.items()
        ]
        awaited = [
            f"{self._part_name(part)}{f', until {until}' if until else ''}{self._goes_in(part)}"
            for part, until in mistake.awaited.items()
        ]
        for title, items in (
            ("To be redone", redo),
            ("Left out with leave", [self._named(step) for step in mistake.skipped]),
            ("Begun, not done", [f"{self._named(s)}: {far}" for s, far in mistake.begun.items()]),
            ("Awaited", awaited),
        ):
            if items:
                lines += [f"\n{title}:", *(f"  {item}" for item in items)]
        return "\n".join(lines) + "\n\n"

    def _because(self, step: str, why: str, how: str = "") -> str:
        return f"{self._named(step)}{how}{f': {why}' if why else ''}"

    def _goes_in(self, part: str) -> str:
        """Say which step still to be done waits for a part."""
        done = set(self.mistake.done)
        waiting = (
            step
            for step in self.mistake.order
            if step not in done and any(fit.part == part for fit in self.steps[step].fits)
        )
        step = next(waiting, None)
        return f": {self._named(step)} waits for it" if step else ""

    def _mend(self, mend: Mend) -> Iterator[str]:
        if mend.undo:
            yield f"{counted(len(mend.undo), 'step')} must come out; {self._cost(mend)}"
            yield "\nOut, in this order:"
            yield from self._out(mend)
        else:
            in_place = f"; {self._cost(mend)}" if mend.in_place else ""
            yield f"nothing has to come out{in_place}"
        yield from self._lists(mend)
        yield from self._back_in(mend)

    def _cost(self, mend: Mend) -> str:
        made = mend.made
        pieces = [
            (made.back, f"{_minutes(made.back)} to take out"),
            (made.once_more, f"{_minutes(made.once_more)} to do again"),
            (made.in_place, f"{_minutes(made.in_place)} to do afresh in place"),
            (made.parts, f"{self._money(made.money)} for parts, as {_minutes(made.parts)}"),
        ]
        told = ", ".join(text for minutes, text in pieces if minutes)
        return f"it costs {_minutes(mend.minutes)}" + (f" ({told})" if told else "")

    def _money(self, money: float) -> str:
        return f"{money:.2f} {self.assembly.defaults.money}".strip()

    def _out(self, mend: Mend) -> Iterator[str]:
        for step in mend.undo:
            yield f"  {self._named(step)}"
            fact = mend.why[step]
            yield f"        why: {fact.text}{f' – {fact.why}' if fact.why else ''}"
            undo = self.steps[step].undo
            if undo is not None and undo.do:
                yield f"        how: {' '.join(undo.do.split())}"

    def _lists(self, mend: Mend) -> Iterator[str]:
        again = self.mistake.again
        spoils = {part: mend.renew.get(part, 1) for part in mend.spoiled}
        spoiled = [self._part(part, count) for part, count in spoils.items()]
        loosened = self._besides(mend, spoils)
        bought = [self._part(part, count) for part, count in mend.renew.items()]
        fasteners = self._besides(mend, mend.renew)
        signed = [f"{self._named(step)}, by {self.steps[step].hold}" for step in mend.void]
        waits = [self._wait(wait) for wait in mend.waits]
        for title, items in (
            ("Spoiled", [*spoiled, *(f"{one}, turned by an angle" for one in loosened)]),
            ("Have ready new", [*bought, *(f"{one}; not in the cost" for one in fasteners)]),
            ("To prepare again", [self._because(s, again.get(s, "")) for s in mend.prepare]),
            ("Signatures that no longer hold", signed),
            ("To wait once more, not in the cost", waits),
        ):
            if items:
                yield f"\n{title}:"
                yield from (f"  {item}" for item in items)

    def _back_in(self, mend: Mend) -> Iterator[str]:
        """Yield what is to be done, as far as it differs from going on as printed."""
        if not mend.do:
            yield "\nNothing is left to do."
            return
        out = {*mend.undo, *mend.in_place}
        back_in = mend.back_in
        yield "\nThen do, in this order:"
        for step in back_in:
            afresh = ", afresh where it is" if step in mend.in_place else ""
            missing = "" if step in out else ", not done yet"
            yield f"  {self._named(step)}{afresh}{missing}"
        rest = mend.do[len(back_in) :]
        if rest:
            steps = "the last step" if len(rest) == 1 else f"the other {len(rest)} steps"
            yield f"and then {steps}:\n  {','.join(rest)}"

    def _named(self, step: str) -> str:
        number = self.number.get(step)
        return f"{step} (step {number})" if number else step

    def _part(self, part: str, count: int) -> str:
        known = self.parts.get(part)
        number = f", no. {known.number}" if known is not None and known.number else ""
        return f"{count} {self._part_name(part)}{number}"

    def _besides(self, mend: Mend, parts: Mapping[str, int]) -> list[str]:
        """Return the fasteners that a mend spoils, but for those among these parts."""
        spoiled = not_among_parts(self.assembly, mend.fasteners, parts)
        return [self._fasteners(one) for one in spoiled]

    def _fasteners(self, one: Fasteners) -> str:
        joint = self.joints.get(one.joint)
        if joint is None:
            return f"what {self._named(one.step)} tightens"
        words = (f"{one.how_many} × {joint.thread}".rstrip(), joint.name or joint.id)
        return ", ".join(words) if joint.thread else f"{words[0]} {words[1]}"

    def _wait(self, wait: Wait) -> str:
        between = f"from {self._named(wait.after)} to {self._named(wait.step)}"
        setting = self._setting(wait.compound)
        if wait.minutes is None:
            return f"nobody can say how long {between}{setting}: look it up"
        return f"{_minutes(wait.minutes)} {between}{setting}"

    def _setting(self, compound: str) -> str:
        names = {one.id: one.label for one in self.assembly.compounds}
        return f", for {names.get(compound, compound)} to set" if compound else ""

    def _part_name(self, part: str) -> str:
        return self.parts[part].label if part in self.parts else part


def _ordinal(place: int) -> str:
    return f"{place}{({2: 'nd', 3: 'rd'}).get(place, 'th')}"


def _minutes(minutes: float) -> str:
    """Return a time in words of the bench.

    Examples
    --------
    >>> _minutes(12.5), _minutes(135), _minutes(0.25)
    ('12.5 min', '2 h 15 min', '0.25 min')
    """
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{minutes:.3g} min"
    return f"{hours:.0f} h {rest:.0f} min" if round(rest) else f"{hours:.0f} h"
