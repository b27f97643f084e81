"""Facts and deadlocks put into sentences; the only part of the planner that writes prose."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.network import Group, Obstacle, Relation
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from sequencer.model.assembly import Assembly, Step
    from sequencer.planning.clash import Clash
    from sequencer.planning.network import Network, Rule

_MOST_NAMES = 6


def quoted(names: Iterable[str], joint: str = "and") -> str:
    """Return names in backticks as a list in a sentence; a long list is cut, with its count.

    Examples
    --------
    >>> quoted(["a", "b", "c"])
    '`a`, `b` and `c`'
    """
    marked = [f"`{name}`" for name in names]
    if len(marked) > _MOST_NAMES:
        marked = [*marked[: _MOST_NAMES - 1], f"{len(marked) - _MOST_NAMES + 1} more"]
    if len(marked) < 2:  # noqa: PLR2004
        return "".join(marked)
    return f"{', '.join(marked[:-1])} {joint} {marked[-1]}"


class Teller:
    """Puts the facts of one model into words."""

    def __init__(self, assembly: Assembly, network: Network) -> None:
        self.network = network
        self.steps = assembly.steps
        self.parts = {part.id: part for part in assembly.parts}

    def name(self, step: int) -> str:
        """Return the id of a step in backticks."""
        return f"`{self.network.ids[step]}`"

    def names(self, steps: Iterable[int]) -> str:
        """Return the ids of steps as a list in a sentence."""
        return quoted(self.network.ids[step] for step in steps)

    def fact(self, rule: Rule) -> Fact:
        """Return one fact: its sentence, its path and the author's reason."""
        if isinstance(rule, Relation):
            text = self._relation(rule)
        elif isinstance(rule, Group):
            text = f"{self.names(rule.steps)} go in together, with nothing foreign in between"
        elif rule.blockers:
            text = self._shut(rule)
        else:
            text = self._too_small(rule)
        return Fact(text, rule.path, rule.why)

    def _relation(self, rule: Relation) -> str:
        owner = f"`{rule.path[1]}`"
        if rule.path[0] == "sections":
            owner = f"every step of section {owner}"
        others = rule.befores if rule.kind != "before" else rule.afters
        at = self.names(others)
        if rule.kind == "onto":
            return f"{owner} builds on `{rule.about}`, which {at} {_verb(others, 'fit')}"
        if rule.kind == "secures":
            return f"{owner} makes fast what {at} leaves loose"
        other = at if rule.sort == "step" else f"{rule.sort} `{rule.about}` ({at})"
        return f"{owner} comes {rule.kind} {other}"

    def _shut(self, rule: Obstacle) -> str:
        need = self.network.needs[rule.need]
        way = need.ways[rule.way].name
        blockers = self.names(rule.blockers)
        fits = f"{blockers} {_verb(rule.blockers, 'fit')} `{rule.part}`"
        return f"{fits}, which shuts “{way}”, a way in of {self.name(need.step)}"

    def _too_small(self, rule: Obstacle) -> str:
        need = self.network.needs[rule.need]
        step = self.steps[need.step]
        way = step.ways_in[rule.way]
        opening = way.opening.value.text if way.opening else ""
        through, what = self._through(step)
        name = self.name(need.step)
        return f"“{way.name}” ({opening}) is too small for {name}: {what} is {through}"

    def _through(self, step: Step) -> tuple[str, str]:
        if step.largest is not None:
            return step.largest.value.text, "what must get through"
        sizes = [
            (part.largest.value.si, part.largest.value.text, f"`{part.id}`")
            for part in (self.parts[fit.part] for fit in step.fits if fit.part in self.parts)
            if part.largest is not None
        ]
        return max(sizes)[1:]


def _verb(subjects: Sequence[int], verb: str) -> str:
    return verb if len(subjects) > 1 else f"{verb}s"


def told_clash(teller: Teller, clash: Clash) -> Problem:
    """Return the finding for a deadlock, with its facts in the order to tell them in."""
    steps = [teller.network.ids[step] for step in clash.steps]
    message, fix = {
        "circle": _circle,
        "split-pair": _split_pair,
        "too-big": _too_big,
        "no-order": _no_order,
    }[clash.code](teller, clash)
    return Problem(
        clash.code,
        "error",
        message,
        step=steps[0],
        path=clash.rules[0].path,
        facts=tuple(teller.fact(rule) for rule in clash.rules),
        why="whatever is done first, something is left over that can no longer be put in place",
        fix=fix,
    )


def told_undecided() -> Problem:
    """Return the finding for a search that was cut short."""
    return Problem(
        "undecided",
        "warning",
        "no order was found within the bound on work, and it is not proved that none exists",
        why="so many parts come off again, or are barred for a while, that the choices run away",
        fix="say more of what must come before what, with `after`",
    )


_CHANGE_ONE = "one of these facts has to change: check each against the unit on the bench"


def _circle(teller: Teller, clash: Clash) -> tuple[str, str]:
    fix = "take out the relation that is not really needed"
    if len(clash.steps) == 1:
        return f"{teller.names(clash.steps)} waits for itself", "take the relation out"
    names = teller.names(clash.steps)
    return f"{names} wait for each other in a circle, so none of them can be first", fix


def _split_pair(teller: Teller, clash: Clash) -> tuple[str, str]:
    group = next(rule for rule in clash.rules if isinstance(rule, Group))
    foreign = [step for step in clash.steps if step not in group.steps]
    names = teller.names(group.steps)
    between = teller.names(foreign)
    message = f"{names} must go in together, yet {between} would have to come in between"
    if not foreign:
        message = f"{names} must go in together, yet no order among them works"
    return message, "take the step into the group, or take out the relation that is not needed"


def _too_big(teller: Teller, clash: Clash) -> tuple[str, str]:
    message = f"{teller.names(clash.steps)} fits through none of its ways in"
    return message, "check the sizes; if they are right, the unit needs another way in here"


def _no_order(teller: Teller, clash: Clash) -> tuple[str, str]:
    reached = dict.fromkeys(
        teller.network.needs[rule.need].step for rule in clash.rules if isinstance(rule, Obstacle)
    )
    names = teller.names(reached)
    if len(reached) == 1:
        return f"{names} can be reached in no order: see what shuts each way in", _CHANGE_ONE
    return f"{names} shut each other out: no order reaches them all", _CHANGE_ONE
