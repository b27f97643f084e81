"""Facts and deadlocks put into sentences; the only part of the planner that writes prose."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.model.quantities import converted
from sequencer.planning.network import Group, Obstacle, Relation
from sequencer.planning.reaching import handled
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import WayIn
    from sequencer.model.quantities import Amount
    from sequencer.model.steps import Step
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
    if len(marked) < 2:  # noqa: PLR2004  # one has no joint
        return "".join(marked)
    return f"{', '.join(marked[:-1])} {joint} {marked[-1]}"


class Teller:
    """Puts the facts of one model into words."""

    def __init__(self, assembly: Assembly, network: Network) -> None:
        self.assembly = assembly
        self.network = network
        self.steps = assembly.steps
        self.parts = {part.id: part for part in assembly.parts}
        self.checks = {check.id: check for check in assembly.checks}
        self.lines = {line.id: line for line in assembly.lines}

    def name(self, step: int) -> str:
        """Return the id of a step in backticks."""
        return f"`{self.network.ids[step]}`"

    def names(self, steps: Iterable[int]) -> str:
        """Return the ids of steps as a list in a sentence."""
        if isinstance(steps, tuple) and len(steps) == 1:
            return self.name(steps[0])
        return quoted(self.network.ids[step] for step in steps)

    def fact(self, rule: Rule) -> Fact:
        """Return one fact: its sentence, its path and the author's reason."""
        if isinstance(rule, Relation):
            text = self._relation(rule)
        elif isinstance(rule, Group):
            text = f"{self.names(rule.steps)} go in together, with nothing foreign in between"
        elif rule.blockers or rule.clearers:
            text = self._shut(rule)
        else:
            text = self._too_small(rule)
        return Fact(text, rule.path, rule.why)

    def _relation(self, rule: Relation) -> str:
        if rule.kind in ("after", "before"):
            return self._written(rule, f"`{rule.path[1]}`" if len(rule.path) > 1 else "")
        befores, afters = self.names(rule.befores), self.names(rule.afters)
        fit = _verb(rule.befores, "fit")
        about = f"`{rule.about}`"
        if rule.kind == "secures":
            return f"{afters} makes fast what {befores} leaves loose"
        return {
            "onto": f"{afters} builds on {about}, which {befores} {fit}",
            "line": f"{afters} goes on to {about}, which {befores} {fit}",
            "takes_off": f"{afters} takes off {about}, which {befores} {fit}",
            "again": f"{befores} takes off {about} before {afters} {_verb(rule.afters, 'fit')} it",
            "under": f"{befores} builds on {about}, which {afters} takes off",
            "uncovered": f"{about} comes off, in {befores}, before what it is built on does, "
            f"in {afters}",
            "covered": f"{afters} takes off what {about} is built on, and {about} stays on",
            "loosens": f"{befores} loosens {about}, which {afters} makes fast again",
            "needs": f"{befores} and then {afters}: `{rule.path[1]}` needs {about} to last",
            "state": f"{about} lasts from {befores} to {afters}",
            "unit": f"{about} is built by {befores}, and fitted as one by {afters}",
            "one_of": f"{befores} is to be done before {afters}",
            "upset_by": f"check {about}, taken in {afters}, is upset by {befores}",
            "in_order": f"section {about} is done in the order written: {befores}, then {afters}",
            "asked": f"{befores} comes before {afters}",
            "cleared": f"{afters} comes after {befores}, which clears the way",
        }[rule.kind]

    def _written(self, rule: Relation, owner: str) -> str:
        if rule.path[0] == "sections":
            owner = f"every step of section {owner}"
        others = rule.befores if rule.kind == "after" else rule.afters
        at = self.names(others)
        if rule.sort == "all":
            return f"{owner} comes {rule.kind} all that fits or tightens ({at})"
        other = at if rule.sort == "step" else f"{rule.sort} `{rule.about}` ({at})"
        return f"{owner} comes {rule.kind} {other}"

    def _shut(self, rule: Obstacle) -> str:
        need = self.network.needs[rule.need]
        name, way = self.name(need.step), need.ways[rule.way].name
        if need.barred:
            return self._barring(rule, name)
        name += self._purpose(rule)
        until = f" until {self.names(rule.clearers)} takes it off" if rule.clearers else ""
        if not rule.blockers:
            return (
                f"`{rule.part}` is on from the start{until}, and shuts “{way}”, a way in of {name}"
            )
        fits = f"{self.names(rule.blockers)} {_verb(rule.blockers, 'fit')} `{rule.part}`"
        return f"{fits}, which shuts “{way}”, a way in of {name}{until}"

    def still(self, rule: Obstacle) -> str:
        """Say why the unit must lie as it is, from what begins a stretch to what ends it."""
        begins = self.name(rule.blockers[0])
        if rule.part == self.network.ids[rule.blockers[0]]:
            return f"while what {begins} left loose is not yet made fast"
        return f"while `{rule.part}`, begun in {begins}, keeps it as it lies"

    def _barring(self, rule: Obstacle, name: str) -> str:
        begins, ends = self.names(rule.blockers), self.names(rule.clearers)
        if rule.path[2] == "not_while":
            return f"{name} is not done while `{rule.part}` lasts, from {begins} to {ends}"
        step = self.steps[self.network.needs[rule.need].step]
        held = self.steps[rule.blockers[0]].position
        return f"{name} needs “{step.position}”, and from {begins} to {ends} “{held}” is kept"

    def _too_small(self, rule: Obstacle) -> str:
        need = self.network.needs[rule.need]
        name = self.name(need.step)
        if rule.path[0] == "lines":
            return self._stopped(rule, name)
        step = self.steps[need.step]
        way = self._way(rule, step)
        if rule.path[-1] == "room":
            room = way.room.value.text if way.room else ""
            tools = self._tools(rule.part.split(" or "))
            return f"“{way.name}” leaves {room}, too little for {tools}, which {name} needs"
        if rule.path[-1] != "opening":
            name += self._purpose(rule)
            return f"`{rule.part}` is on from the start, and shuts “{way.name}”, a way in of {name}"
        if way.opening is None:
            raise ValueError(f"{way.name} has no opening that could be too small")
        opening, (through, what) = way.opening.value, self._through(step)
        over = converted(through.value, through.unit, opening.unit) - opening.value
        much = f"{float(over):.4g} {opening.unit.symbol} too much"
        small = f"“{way.name}” ({opening.text}) is too small for {name}"
        return f"{small}: {what} is {through.text}, {much}"

    def _purpose(self, rule: Obstacle) -> str:
        """Return what a step has to be reached for, where that is a check taken in it."""
        return f" for check `{rule.path[1]}`" if rule.path[0] == "checks" else ""

    def _tools(self, names: Iterable[str]) -> str:
        """Return tools, any of which would do, with the room that each needs."""
        needs = {tool.id: tool.needs.value.text for tool in self.assembly.tools if tool.needs}
        return " or ".join(f"`{name}` ({needs[name]})" for name in names)

    def _way(self, rule: Obstacle, step: Step) -> WayIn:
        if rule.path[0] == "steps":
            return step.ways_in[rule.way]
        return self.checks[str(rule.path[1])].needs_open[rule.way]

    def _stopped(self, rule: Obstacle, name: str) -> str:
        line = self.lines[str(rule.path[1])]
        way = self.network.needs[rule.need].ways[rule.way].name
        if rule.part:
            return f"`{rule.part}` is on from the start, and shuts “{way}”, a way in of {name}"
        if rule.path[2] == "ends":
            end = next(end for end in line.ends if end.name == rule.path[3])
            return f"{name} cannot come from “{way}”, which is {end.is_.text}"
        place = line.order[int(rule.path[3])]
        seat = place.shoulder or place.seat
        what = f"the seat of `{place.part[0].to}`" if place.part else "the shoulder"
        return f"{name} cannot come from “{way}” past {what} ({seat.text if seat else ''})"

    def _through(self, step: Step) -> tuple[Amount, str]:
        if step.largest is not None:
            return step.largest.value, "what must get through"
        sizes = [
            (part.largest.value, f"`{part.id}`")
            for part in (self.parts[name] for name in sorted(handled(step)) if name in self.parts)
            if part.largest is not None
        ]
        return max(sizes, key=lambda size: size[0].si)


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
    obstacles = [rule for rule in clash.rules if isinstance(rule, Obstacle)]
    return told_no_way(teller.names(clash.steps), obstacles)


def told_no_way(name: str, obstacles: Iterable[Obstacle]) -> tuple[str, str]:
    """Return what to say, and what to do, of a step to which no order opens a way."""
    stay = dict.fromkeys(
        rule.part for rule in obstacles if rule.part and rule.path[-1] not in ("opening", "room")
    )
    if not stay:
        fix = "check the sizes; if they are right, the unit needs another way in here"
        return f"{name} fits through none of its ways in", fix
    there = "is on from the start and stays" if len(stay) == 1 else "are on from the start and stay"
    fix = f"add `takes_off: {next(iter(stay))}` to the step that takes it off, or add that step"
    return f"{name} has no way in: {quoted(stay)} {there} on", fix


def _no_order(teller: Teller, clash: Clash) -> tuple[str, str]:
    reached = dict.fromkeys(
        teller.network.needs[rule.need].step for rule in clash.rules if isinstance(rule, Obstacle)
    )
    names = teller.names(reached)
    if len(reached) == 1:
        return f"{names} can be reached in no order: see what shuts each way in", _CHANGE_ONE
    return f"{names} shut each other out: no order reaches them all", _CHANGE_ONE
