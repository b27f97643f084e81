"""A model without some of its parts and steps: what else goes with them, and what is then wrong."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from sequencer.model.assembly import Assembly
from sequencer.model.fields import Links, Many, declared
from sequencer.model.lines import Line, LinePlace
from sequencer.model.rewriting import Rewriter, Thing, kind_of, tables, things_named
from sequencer.model.steps import Step, Together
from sequencer.model.uses import BETWEEN
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.common import Link
    from sequencer.model.steps import Fit, State
    from sequencer.problem import Path

_FALL_WITH_THEIR_NAMES = ("joint", "check", "tool", "compound", "surface", "state")


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What is left of a model, and where each entry of its lists stood before.

    Attributes
    ----------
    assembly : Assembly
        What is left.
    kept : mapping of Path to tuple of int or Path
        For each list that lost or gained entries, by its path in the model before: for each entry
        that is left the number that it had there, or the whole path where it stood elsewhere.
    problems : tuple of Problem
        Steps that keep nothing to fit, and states that have lost one of their ends; with paths of
        the model before.
    """

    assembly: Assembly
    kept: Mapping[Path, tuple[int | Path, ...]]
    problems: tuple[Problem, ...] = ()


def path_before(kept: Mapping[Path, tuple[int | Path, ...]], path: Path) -> Path:
    """Return where what a path leads to stood before anything was left out.

    Examples
    --------
    >>> path_before({("together",): (0, 2)}, ("together", 1, "steps", 0))
    ('together', 2, 'steps', 0)
    """
    before: Path = ()
    for step in path:
        entries = kept.get(before)
        if entries is None or not isinstance(step, int):
            before = (*before, step)
            continue
        if step >= len(entries):
            return before
        entry = entries[step]
        before = entry if isinstance(entry, tuple) else (*before, entry)
    return before


def leave_out(assembly: Assembly, gone: Mapping[Thing, str]) -> LeftOut:
    """Leave parts and steps out of a model, and their names out of every list they stand in.

    Parameters
    ----------
    assembly : Assembly
        The model, each step in its section and unit already.
    gone : mapping of Thing to str
        What is to be left out, each with the condition that is not met; in a used model that is
        not there, only the model has one.

    Returns
    -------
    LeftOut
        Joints, checks, tools and the like that only what is left out named are left out too, and
        so are units that nothing builds any more, states without their ends, trials without steps,
        groups of one, and lines without their axis. Of a `one_of` with one step left, that step is
        simply done.
    """
    if not gone:
        return LeftOut(assembly, MappingProxyType({}))
    things: dict[Thing, str] = dict(gone)
    named, built = things_named(assembly), {step.unit for step in assembly.steps}
    while True:
        pass_ = _LeavingOut(things)
        left: Assembly = pass_.record(assembly, ())
        more = _fallen(assembly, left) | _unused(assembly, left, named) | _unbuilt(left, built)
        if more <= things.keys():
            break
        things.update(dict.fromkeys(more, ""))
    left = _chosen(assembly, left, pass_.kept)
    problems = (*_nothing_left(assembly, left, gone), *_half_states(assembly, left, gone))
    return LeftOut(left, MappingProxyType(pass_.kept), problems)


class _LeavingOut(Rewriter):
    """Drops names of what is gone, and records that can say nothing without those."""

    def __init__(self, gone: Mapping[Thing, str]) -> None:
        super().__init__()
        self._gone = gone

    def link(self, link: Link) -> Link | None:
        return None if (link.kind, link.to) in self._gone else link

    def fit(self, fit: Fit) -> Fit | None:
        return None if ("part", fit.part) in self._gone else fit

    def words(self, thing: Thing) -> str:
        return "" if thing in self._gone and thing[0] == "unit" else thing[1]

    def record(self, record: Any, path: Path) -> Any:
        is_of_a_table = len(path) == len(("steps", "id")) and isinstance(path[1], str)
        if is_of_a_table and (kind_of(type(record)), path[1]) in self._gone:
            return None
        made = super().record(record, path)
        if made is record or isinstance(record, Assembly):
            return made
        return None if _says_nothing(record, made, is_held_alone=_is_held_alone(path)) else made


def _is_held_alone(path: Path) -> bool:
    """Tell whether a path leads to the one record of a field of a step, check or the like."""
    return len(path) == len(("checks", "id", "else")) and isinstance(path[-1], str)


def _says_nothing(before: Any, after: Any, *, is_held_alone: bool) -> bool:
    """Tell whether a record has lost what it cannot be without."""
    cls = type(before)
    for field in declared(cls):
        was, now = getattr(before, field.attribute), getattr(after, field.attribute)
        if field.required and isinstance(field.kind, Links | Many) and was and not now:
            return True
    if cls is Together:
        return len(after.steps) < min(len(before.steps), 2)
    if cls is LinePlace:
        return bool(before.part) and not after.part
    if cls is Line:
        return bool(before.shaft or before.bore) and not (after.shaft or after.bore)
    return is_held_alone and all(
        not getattr(after, field.name) for field in fields(cls) if field.name != "id"
    )


def _fallen(assembly: Assembly, left: Assembly) -> set[Thing]:
    """Return what has an id and is not there any more, gone or with nothing left to say."""
    fallen: set[Thing] = set()
    for kind, field in tables(Assembly).items():
        before, after = getattr(assembly, field), getattr(left, field)
        if before is not after:
            still = {record.id for record in after}
            fallen.update((kind, record.id) for record in before if record.id not in still)
    return fallen


def _unused(assembly: Assembly, left: Assembly, named: set[Thing]) -> set[Thing]:
    """Return the joints, checks and the like that nothing names any more."""
    still = things_named(left)
    lost = {thing for thing in named - still if thing[0] in _FALL_WITH_THEIR_NAMES}
    fields_of = tables(Assembly)
    return {
        (kind, record.id)
        for kind in {kind for kind, _ in lost} & fields_of.keys()
        for record in getattr(assembly, fields_of[kind])
        if (kind, record.id) in lost and not getattr(record, "keep", "")
    }


def _unbuilt(left: Assembly, built: set[str]) -> set[Thing]:
    """Return the units, which are parts too, that no step builds any more."""
    still = {step.unit for step in left.steps}
    units = {unit.id for unit in left.units if unit.id in built - still}
    return {(kind, unit) for kind in ("unit", "part") for unit in units}


def _chosen(
    assembly: Assembly, left: Assembly, kept: dict[Path, tuple[int | Path, ...]]
) -> Assembly:
    """Return the model where a `one_of` with one step left is no choice, and keeps its `before`."""
    numbers = [at for at in kept.get(("one_of",), range(len(left.one_of))) if isinstance(at, int)]
    open_: list[int] = []
    before: dict[str, list[tuple[Link, Path]]] = {}
    for at, number in enumerate(numbers):
        choice, was = left.one_of[at], assembly.one_of[number]
        if len(choice.steps) > 1 or len(was.steps) == 1:
            open_.append(at)
            continue
        for item, link in enumerate(choice.before):
            path: Path = path_before(kept, ("one_of", at, "before", item))
            reason = replace(link, why=link.why or choice.why)
            before.setdefault(choice.steps[0].to, []).append((reason, path))
    if len(open_) == len(left.one_of):
        return left
    kept["one_of",] = tuple(numbers[at] for at in open_)
    steps = tuple(_with_before(step, before.get(step.id, []), kept) for step in left.steps)
    return replace(left, steps=steps, one_of=tuple(left.one_of[at] for at in open_))


def _with_before(
    step: Step, more: list[tuple[Link, Path]], kept: dict[Path, tuple[int | Path, ...]]
) -> Step:
    known = {link.to for link in step.before}
    more = [(link, path) for link, path in more if link.to not in known]
    if not more:
        return step
    here = ("steps", step.id, "before")
    kept[here] = (*kept.get(here, range(len(step.before))), *(path for _, path in more))
    return replace(step, before=(*step.before, *(link for link, _ in more)))


def _nothing_left(
    assembly: Assembly, left: Assembly, gone: Mapping[Thing, str]
) -> Iterator[Problem]:
    """Yield the steps that had parts to fit and keep none."""
    before = {step.id: step.fits for step in assembly.steps}
    for step in left.steps:
        if step.fits or not before[step.id]:
            continue
        lost = [fit.part for fit in before[step.id]]
        conditions = {_condition(("part", part), gone)[0] for part in lost}
        condition = conditions.pop() if len(conditions) == 1 else ""
        yield Problem(
            "nothing-left",
            "error",
            f"step `{step.id}` keeps nothing to fit: {_listed(lost)} "
            f"{'is' if len(lost) == 1 else 'are'} not there",
            step=step.id,
            path=("steps", step.id, "fits"),
            facts=tuple(
                Fact(f"`{part}` is there only when {why}", path)
                for part in lost
                for why, path in [_condition(("part", part), gone)]
                if why
            ),
            why="its card would tell the builder to fit something that is not in the kit",
            fix=f"write `when: {condition}` in the step as well"
            if condition
            else "write `when: …` in the step as well, or name a part that is there",
        )


def _condition(thing: Thing, gone: Mapping[Thing, str]) -> tuple[str, Path]:
    """Return the condition on which a thing is there, its own or its used model's, and its path."""
    kind, name = thing
    prefixes = name.split(BETWEEN)
    for count in range(1, len(prefixes) + 1):
        use = BETWEEN.join(prefixes[:count])
        if ("use", use) in gone:
            return gone["use", use], ("uses", use, "when")
    return gone.get(thing, ""), (tables(Assembly)[kind], name, "when")


def _listed(names: list[str]) -> str:
    return " and ".join(f"`{name}`" for name in names)


def _half_states(
    assembly: Assembly, left: Assembly, gone: Mapping[Thing, str]
) -> Iterator[Problem]:
    """Yield the states that are not there because one of their ends is not."""
    still = {state.id for state in left.states}
    for state in assembly.states:
        if state.id in still:
            continue
        ends = (("begins", state.begins), ("ends", state.ends))
        lost = [
            (field, links[-1].to)
            for field, links in ends
            if all(("step", link.to) in gone for link in links)
        ]
        if len(lost) == 1:
            yield _half(state, lost[0], gone)


def _half(state: State, end: tuple[str, str], gone: Mapping[Thing, str]) -> Problem:
    field, step = end
    why, path = _condition(("step", step), gone)
    return Problem(
        "state",
        "warning",
        f"state `{state.id}` is not there, because step `{step}`, where it {field}, is not",
        path=("states", state.id, field),
        facts=(Fact(f"`{step}` is done only when {why}", path),),
        why="steps that need it, or must not be done in it, are free of it now",
        fix="write the same condition at both its ends",
    )
