"""What a set of steps taken back still lacks, and which steps more would have to come out for it.

Each lack is a clause: some options, of which any set that holds this one and will do must take at
least one. So a search that tries the options of one clause after the other misses nothing. A
clause without options says that no such set will do.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

from sequencer.planning.decide import decide
from sequencer.planning.mending.left import left_to_do, left_to_take_back
from sequencer.planning.mending.pulls import Cause
from sequencer.planning.mending.straight import doing, taking_back

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from sequencer.planning.mending.case import Case, Node, Option
    from sequencer.planning.mending.left import Left
    from sequencer.planning.mending.rules import Rules
    from sequencer.planning.network import Need, Obstacle, Way

Clause: TypeAlias = list["Option"]


class Lacks:
    """The lacks of one set, cheapest to find first; later kinds only where earlier ones fail.

    Attributes
    ----------
    clauses : list of list of Option
        Empty if the set will do.
    doubtful : bool
        Whether a bound on work left something undecided.
    """

    def __init__(self, case: Case, node: Node) -> None:
        self.case = case
        self.node = node
        self.staying = case.staying(node)
        self.doubtful = False
        self.clauses: list[Clause] = [
            *self._strays(),
            *self._barred(),
            *self._unreached(),
            *self._in_place(),
        ]
        for more in (self._shut_in, self._not_taken_back, self._no_order):
            if not self.clauses:
                self.clauses = more()

    def _some(self, steps: Iterable[int]) -> list[int]:
        return [step for step in steps if self.staying[step]]

    # The order in which the rest was done.

    def _strays(self) -> Iterator[Clause]:
        for step, members in self.case.strays:
            if self.staying[step] and self.staying[members[0]]:
                group = self.case.rules.network.groups[self.case.rules.network.group_of[members[0]]]
                cause = Cause("stray", (group,), step)
                yield [self.case.option([step], cause), self.case.option(members, cause)]

    def _barred(self) -> Iterator[Clause]:
        turn = self.case.history.turn
        for bar in self.case.bars:
            step = self.case.rules.network.needs[bar.need].step
            if not self.staying[step]:
                continue
            here = turn[step]
            begun = [one for one in self._some(bar.blockers) if turn[one] < here]
            ended = all(self.staying[one] and turn[one] < here for one in bar.clearers)
            if begun and not ended:
                cause = Cause("barred", (bar,), step)
                yield [self.case.option([step], cause), self.case.option(begun, cause)]

    # Ways in.

    def _unreached(self) -> Iterator[Clause]:
        """Yield a clause for each need to which what stays shuts every way."""
        network, node = self.case.rules.network, self.node
        if node.parent is None or node.parent.unmet is None:
            steps = [*self.case.not_done, *self.case.pulls.steps(node.mask)]
            numbers = [n for step in steps for n in self.case.rules.needs_of.get(step, ())]
        else:
            new = self.case.pulls.steps(node.mask & ~node.parent.mask)
            numbers = [
                *node.parent.unmet,
                *(n for step in new for n in self.case.rules.needs_of.get(step, ())),
            ]
        unmet = []
        for number in numbers:
            clause = self._unreached_by(network.needs[number])
            if clause is not None:
                unmet.append(number)
                yield clause
        node.unmet = tuple(unmet)

    def _unreached_by(self, need: Need) -> Clause | None:
        if need.barred or not self.case.rules.there[need.step]:
            return None
        shut_ways = []
        for way in need.ways:
            shut = self._shut_for_good(way)
            if shut is None:
                continue
            if not shut:
                return None
            shut_ways.append(shut)
        return [self._opened(shut, need.step) for shut in shut_ways]

    def _shut_for_good(self, way: Way) -> list[Obstacle] | None:
        """Return what shuts a way as long as what stays does; None if it is shut whatever does."""
        found = []
        staying = self.staying
        for obstacle in way[1]:
            if obstacle.clearers:
                continue
            blockers = obstacle[3]
            if not blockers:
                return None
            for step in blockers:
                if staying[step]:
                    found.append(obstacle)
                    break
        return found

    def _opened(self, shut: list[Obstacle], step: int) -> Option:
        blockers = (one for obstacle in shut for one in self._some(obstacle.blockers))
        return self.case.option(blockers, Cause("way", tuple(shut), step))

    def _in_place(self) -> Iterator[Clause]:
        """Yield a clause for each step to be done again where it is that cannot be reached."""
        network = self.case.rules.network
        for step in self.case.history.again:
            if not self.staying[step]:
                continue
            for number in self.case.rules.needs_of.get(step, ()):
                need = network.needs[number]
                clause = None if need.barred else self._shut_in_place(need)
                if clause is not None:
                    yield [*clause, self.case.option([step], Cause("redo"))]

    def _shut_in_place(self, need: Need) -> Clause | None:
        clause: Clause = []
        for way in need.ways:
            standing = [one for one in way.obstacles if self._stands(one, need.step)]
            if not standing:
                return None
            if all(one.blockers for one in standing):
                blockers = (b for one in standing for b in self._some(one.blockers))
                cause = Cause("way", tuple(standing), need.step)
                clause.append(self.case.option((b for b in blockers if b != need.step), cause))
        return clause

    def _stands(self, obstacle: Obstacle, besides: int) -> bool:
        raised = not obstacle.blockers or any(
            self.staying[step] and step != besides for step in obstacle.blockers
        )
        cleared = obstacle.clearers and all(
            self.staying[step] and step != besides for step in obstacle.clearers
        )
        return raised and not cleared

    # The rest of the job.

    def _shut_in(self) -> list[Clause]:
        """Return a clause where the steps left shut each other in, by a peel that goes on.

        An order that is found at once, near to the one wanted, makes the peel needless.
        """
        case, node = self.case, self.node
        steps = self._left_to_do(case.wanted)
        standing = self.staying[:]
        for step in steps:
            standing[step] = 1
        begun = case.rules.network.groups[case.kept].steps if case.kept >= 0 else ()
        node.do = doing(case.rules, standing, steps, begun)
        if node.do is not None:
            node.do.reverse()
            return []
        peeling = (node.last_peeling() or case.rules.peeling).copied()
        held = self.staying
        if case.kept >= 0:
            held = held[:]
            for step in case.rules.network.groups[case.kept].steps:
                held[step] = 1
        peeling.take_off(held)
        node.peeling = peeling
        left = [*case.not_done, *case.pulls.steps(node.mask)]
        stuck = {s for s in left if case.rules.there[s] and not held[s] and not peeling.is_off[s]}
        return [list(self._ways_among(stuck))] if stuck else []

    def _ways_among(self, stuck: set[int]) -> Iterator[Option]:
        """Yield the ways of stuck steps that nothing but what stays shuts for good.

        One step (or group) of them has to be the first to come off, with the others still there.
        """
        rules = self.case.rules
        for step in stuck:
            group = rules.network.group_of[step]
            own = set(rules.network.groups[group].steps) if group >= 0 else {step}
            if self._is_held(own, stuck):
                continue
            for number in rules.needs_of.get(step, ()):
                need = rules.network.needs[number]
                for way in need.ways if not need.barred else ():
                    shut = self._shut_for_good(way)
                    if shut and not self._is_shut_among(way, stuck - own):
                        yield self._opened(shut, step)

    def _is_held(self, own: set[int], stuck: set[int]) -> bool:
        relations = (r for member in own for r in self.case.rules.as_before[member])
        return any(after in stuck and after not in own for r in relations for after in r.afters)

    def _is_shut_among(self, way: Way, others: set[int]) -> bool:
        return any(
            not obstacle.clearers and not others.isdisjoint(obstacle.blockers)
            for obstacle in way.obstacles
        )

    def _not_taken_back(self) -> list[Clause]:
        """Return a clause where no order takes the steps back one at a time."""
        case, node = self.case, self.node
        steps = case.pulls.steps(node.mask)
        standing = case.history.flags[:]
        node.undo = taking_back(case.undoing, standing, steps, case.finished_trials)
        if node.undo is not None:
            return []
        steps.sort()
        if case.kept < 0 and case.undoing is case.rules and not self._meets_passing(steps):
            return []  # what came off in the peel can be taken back in the same order
        left = left_to_take_back(case.undoing, self.staying, steps, case.finished_trials)
        return self._asked(left, case.undoing, "way back")

    def _no_order(self) -> list[Clause]:
        """Return a clause where no order finishes the job, minding what is cleared again."""
        case = self.case
        if self.node.do is not None:
            return []
        steps = self._left_to_do(range(len(self.staying)))
        if case.kept < 0 and not self._meets_passing(steps):
            return []  # the peel was exact
        left = left_to_do(case.rules, self.staying, steps, case.kept)
        return self._asked(left, case.rules, "way")

    def _left_to_do(self, steps: Iterable[int]) -> list[int]:
        """Return those of some steps that are there and not done, or come out."""
        there, staying = self.case.rules.there, self.staying
        return [step for step in steps if there[step] and not staying[step]]

    def _meets_passing(self, steps: Iterable[int]) -> bool:
        needs = self.case.rules.network.needs
        return any(
            obstacle.clearers
            for step in steps
            for number in self.case.rules.needs_of.get(step, ())
            for way in needs[number].ways
            for obstacle in way.obstacles
        )

    def _asked(self, left: Left, rules: Rules, kind: str) -> list[Clause]:
        decision = decide(left.network)
        if decision.order is not None:
            return []
        if decision.undecided:
            self.doubtful = True
            staying = [step for step in self.case.history.done if self.staying[step]]
            return [[self.case.option([step], Cause("undecided")) for step in staying]]
        options: dict[int, Option] = {}
        for obstacle in left.raised(decision):
            blockers = self._some(obstacle.blockers)
            if blockers:
                step = rules.network.needs[obstacle.need].step
                option = self.case.option(blockers, Cause(kind, (obstacle,), step))
                options.setdefault(option.mask, option)
        return [list(options.values())]
