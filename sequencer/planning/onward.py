"""From the steps done to the rest: is a step in its turn, and how does the job go on."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.planning.compiling import compile_network
from sequencer.planning.decide import decide
from sequencer.planning.in_turn import in_turn
from sequencer.planning.mending.skipped import with_skipped
from sequencer.planning.network import Relation
from sequencer.planning.telling import Teller, quoted
from sequencer.planning.tested import judged
from sequencer.planning.variants import fallbacks, variants
from sequencer.problem import Problem

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.planning.network import Network


class Onward:
    """Tells how a job can go on; the rules of the model are worked out once.

    Steps that the model does not have are passed over. Of each `one_of` the step done counts, or
    else the one that stands in the printed order. What is `skipped`, left out with leave, is never
    to be done; it counts as done once its turn has come, and nothing of it is on.
    """

    def __init__(
        self, assembly: Assembly, printed: Sequence[str], skipped: Sequence[str] = ()
    ) -> None:
        self._assembly = assembly
        self._printed = printed
        self._skipped = tuple(skipped)
        self._tellers: dict[frozenset[str], Teller] = {}

    def rest(self, done: Sequence[str]) -> tuple[str, ...] | None:
        """Return the steps still to be done, in an order near the printed one.

        Returns
        -------
        tuple of str or None
            None where what was done leaves no order for the rest: something has to come out
            first. The steps done are not judged here: they went in.
        """
        teller = self._teller(done)
        network = teller.network
        now, order = self._now(teller, done)
        found = _finish(network, now, order)
        if found is None:
            return None
        rest = (network.ids[step] for step in found)
        return tuple(step for step in rest if step not in self._skipped)

    def objections(self, done: Sequence[str], steps: Sequence[str]) -> tuple[Problem, ...]:
        """Return why steps are out of turn, done one after the other once these are done.

        Returns
        -------
        tuple of Problem
            For each step, in the order given, the rules that it breaks at its turn. Where after
            all of them no finish is left, a step that lost it without breaking a rule itself gets
            a finding for each step still to be done whose last way in it shut. All are warnings;
            steps done already are passed over.

        Notes
        -----
        One judgement of the whole order tells what each step breaks, for that depends on what
        comes before it alone. The step that lost the finish is found by halving.
        """
        teller = self._teller((*done, *steps))
        network = teller.network
        fresh = [step for step in dict.fromkeys(steps) if step not in set(done)]
        known = [step for step in fresh if step in network.index]
        broken: dict[str, list[Problem]] = {step: [] for step in known}
        for one in judged(teller, self._listed(teller, (*done, *known))):
            if one.step in broken:
                broken[one.step].append(one)
        found: list[Problem] = []
        losing = self._losing(teller, done, known)
        for at, step in enumerate(fresh):
            if step not in network.index:
                found.append(_one_too_many(step))
            elif broken[step]:
                before, _ = self._now(teller, (*done, *fresh[:at]))
                missing = _missing(network, before, step, self._skipped)
                instead = self._instead(teller, missing)
                found += [_in_its_turn(teller, one, missing, instead) for one in broken[step]]
            elif step == losing:
                found += self._lost(teller, (*done, *known[: known.index(step)]), step)
        return tuple(found)

    def _instead(self, teller: Teller, missing: Sequence[int]) -> str:
        """Say which steps of a choice would do as well, where only one is missing."""
        if len(missing) != 1:
            return ""
        others = fallbacks(self._assembly, teller.network.ids[missing[0]])
        return f" (or in its place {quoted(others, 'or')})" if others else ""

    def _losing(self, teller: Teller, done: Sequence[str], steps: Sequence[str]) -> str | None:
        """Return a step after which no finish is left, though one was before it.

        None where a finish is left after all of them, or was not there before.
        """

        def is_open(count: int) -> bool:
            now, order = self._now(teller, (*done, *steps[:count]))
            return _finish(teller.network, now, order) is not None

        if not steps or is_open(len(steps)) or not is_open(0):
            return None
        opened, shut = 0, len(steps)
        while shut - opened > 1:
            middle = (opened + shut) // 2
            if is_open(middle):
                opened = middle
            else:
                shut = middle
        return steps[opened]

    def _lost(self, teller: Teller, done: Sequence[str], step: str) -> list[Problem]:
        """Return what a step does to others by which no finish is left."""
        before = {one.step for one in judged(teller, self._listed(teller, done))}
        after = judged(teller, self._listed(teller, (*done, step)))
        shut = [one for one in after if one.code == "shut-out" and one.step not in before]
        return [_shuts(step, one) for one in shut] or [_no_finish(step)]

    def _teller(self, done: Sequence[str]) -> Teller:
        """Return the choice of `one_of` that fits what was done, else the printed order best."""
        alternatives = {
            link.to: choice for choice in self._assembly.one_of for link in choice.steps
        }
        wanted = [step for step in (*done, *self._printed) if step in alternatives]
        chosen: dict[int, str] = {}
        for step in wanted:
            chosen.setdefault(id(alternatives[step]), step)
        key = frozenset(chosen.values())
        if key not in self._tellers:
            fitting = (
                variant
                for variant in variants(self._assembly)
                if key <= {step.id for step in variant.steps}
            )
            variant = next(fitting, None) or next(variants(self._assembly))
            network = compile_network(variant)
            skipped = frozenset(network.index[s] for s in self._skipped if s in network.index)
            self._tellers[key] = Teller(variant, with_skipped(network, skipped))
        return self._tellers[key]

    def _listed(self, teller: Teller, done: Sequence[str]) -> list[int]:
        """Return the steps done, then the others as printed, then those not printed."""
        return self._now(teller, done)[1]

    def _now(self, teller: Teller, done: Sequence[str]) -> tuple[list[int], list[int]]:
        """Return what counts as done, and that with all the others behind it."""
        network = teller.network
        now = in_turn(network, done, self._skipped) if self._skipped else done
        names = dict.fromkeys((*now, *self._printed, *network.ids))
        order = [network.index[name] for name in names if name in network.index]
        return order[: _known(network, now)], order


def _known(network: Network, done: Sequence[str]) -> int:
    return sum(1 for step in dict.fromkeys(done) if step in network.index)


def _finish(network: Network, now: Sequence[int], wanted: Sequence[int]) -> list[int] | None:
    """Return the steps that are left, in a valid order near the one wanted, if there is one."""
    begun = set(now)
    rest = tuple(step for step in range(len(network.ids)) if step not in begun)
    if now and rest:
        first = Relation(tuple(now), rest, "now", "step", "", (), "")
        network = replace(network, relations=(*network.relations, first))
    ranks = [0] * len(network.ids)
    for rank, step in enumerate(wanted):
        ranks[step] = rank
    order = decide(network, ranks).order
    return None if order is None else [step for step in order if step not in begun]


def _missing(
    network: Network, done: Sequence[int], name: str, skipped: Sequence[str] = ()
) -> list[int]:
    """Return the steps that must come before a step and are not done, as written.

    What is left out is passed over to what must come before that.
    """
    found: set[int] = set()
    asked = [network.index[name]]
    while asked:
        step = asked.pop()
        befores = {b for one in network.relations if step in one.afters for b in one.befores}
        new = befores.difference(done, found, [step])
        found |= new
        asked += (one for one in new if network.ids[one] in skipped)
    return sorted(one for one in found if network.ids[one] not in skipped)


def _in_its_turn(
    teller: Teller, found: Problem, missing: Sequence[int], instead: str = ""
) -> Problem:
    """Return a finding about an order as an objection to doing a step now.

    `instead` names the steps that would do in place of what is missing.
    """
    if found.code == "not-yet" and missing and found.path == ("steps", found.step):
        names = teller.names(missing)
        one = len(missing) == 1
        found = replace(
            found,
            message=f"`{found.step}` comes after {names}, which {'is' if one else 'are'} not done",
            fix=f"do {names} first{instead}, or record {'it' if one else 'them'} if that was done",
        )
    return replace(found, severity="warning")


def _shuts(step: str, found: Problem) -> Problem:
    """Return what a step does to another that is still to be done."""
    return Problem(
        "shut-out",
        "warning",
        f"`{step}` would leave no way for `{found.step}`, which is not done yet",
        step=step,
        path=found.path,
        facts=found.facts,
        why=f"`{step}` would have to come out again",
        fix=f"do `{found.step}` first",
    )


def _no_finish(step: str) -> Problem:
    return Problem(
        "no-order",
        "warning",
        f"once `{step}` is done the job cannot be finished without taking something out again",
        step=step,
        path=("steps", step),
        why="the rest of the model leaves no order then",
        fix="do the steps printed before it first",
    )


def _one_too_many(step: str) -> Problem:
    return Problem(
        "one-too-many",
        "warning",
        f"`{step}` is one of several steps of which exactly one is done, and another is there",
        step=step,
        path=("steps", step),
        why="the work would be done twice",
        fix=f"leave `{step}` out",
    )
