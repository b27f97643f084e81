"""Models joined into the one that uses them, so that no later stage knows of several files."""

from __future__ import annotations

from dataclasses import dataclass, field, fields, replace
from typing import TYPE_CHECKING, Any

from sequencer.model.assembly import Assembly
from sequencer.model.fields import Many, Record, declared
from sequencer.model.options import Taken
from sequencer.model.prefixing import SHARED, under_prefix, with_own_defaults
from sequencer.model.resolving import Settled
from sequencer.model.rewriting import tables, things_named
from sequencer.model.steps import Section, Unit
from sequencer.model.uses import BETWEEN, Included
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.steps import Step
    from sequencer.model.uses import Use
    from sequencer.problem import Path

OWN = ""
"""In `Joined.moved`, the model itself, where others stand by their prefix."""

_BY_DEFAULT = ("source", "time", "surface", "grade")
_ADDED_UP = ("wear", "warning", "caution")


@dataclass(frozen=True, slots=True)
class Joined:
    """A model with those that it uses, and where each piece comes from.

    Attributes
    ----------
    settled : Settled
        The whole, and what is not there of it; nothing is left out yet.
    moved : mapping of Path to tuple of str and Path
        For the beginning of a path: which of the used models it is in (`OWN`: the model itself),
        and its path there. What stands under a prefix is not listed.
    problems : tuple of Problem
        Things of one id that are two, with paths of the whole.
    """

    settled: Settled
    moved: dict[Path, tuple[str, Path]] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()


def join(outer: Settled, used: Mapping[str, Settled]) -> Joined:
    """Join used models into a model.

    Parameters
    ----------
    outer : Settled
        The model with its `uses`.
    used : mapping of str to Settled
        For each entry of its `uses` that model, joined with those that it uses itself.

    Returns
    -------
    Joined
        Each used model is a unit and its ids are prefixed, but for sources, tools and compounds:
        one of the same id and content is one thing. Its steps stand before the first step of the
        outer model that names the unit or something in it, but for `before`. What it says for the
        whole job (what to wear, warnings, its notice) is added to what the outer model says;
        its defaults go with its own figures.
    """
    uses = {use.id: use for use in outer.assembly.uses}
    apart = _by_default(outer.assembly, *(settled.assembly for settled in used.values()))
    whole = replace(with_own_defaults(outer.assembly, apart), uses=())
    gone = dict(outer.gone)
    moved: dict[Path, tuple[str, Path]] = {}
    problems: list[Problem] = []
    first_named = _first_named(outer.assembly)
    blocks: dict[int, tuple[Step, ...]] = {}
    for unit, settled in used.items():
        inner = with_own_defaults(settled.assembly, apart)
        one = _One(uses[unit], inner, outer.assembly, whole)
        problems += one.clashes()
        at = first_named.get(unit, 0)
        blocks[at] = (*blocks.get(at, ()), *one.steps)
        whole = one.joined_in(moved)
        gone.update({(kind, one.named(name)): why for (kind, name), why in settled.gone.items()})
    whole = _under_own_title(whole) if used else whole
    steps = list(whole.steps)
    for at in sorted(blocks, reverse=True):
        steps[at:at] = blocks[at]
    return Joined(Settled(replace(whole, steps=tuple(steps)), gone), moved, tuple(problems))


def _first_named(outer: Assembly) -> dict[str, int]:
    """Return the number of the first step that names each used model or something in it."""
    uses = {use.id for use in outer.uses}
    found: dict[str, int] = {}
    for number, step in enumerate(outer.steps):
        for _, name in things_named(replace(step, before=(), not_while=())):
            use = name.partition(BETWEEN)[0]
            if use in uses:
                found.setdefault(use, number)
    return found


def _under_own_title(whole: Assembly) -> Assembly:
    """Return a model whose steps without a section are in one called as the model itself.

    They would seem to belong to the section of the used model before them.
    """
    if all(step.section for step in whole.steps):
        return whole
    own = Section(id=BETWEEN, title=whole.title or whole.assembly)
    steps = (step if step.section else replace(step, section=BETWEEN) for step in whole.steps)
    return replace(whole, steps=tuple(steps), sections=(*whole.sections, own))


def _by_default(*assemblies: Assembly) -> frozenset[str]:
    """Return the defaults in which models differ; sources may, under one id, be different ones."""
    return frozenset(
        name
        for name in _BY_DEFAULT
        if len({getattr(one.defaults, name) for one in assemblies}) > 1
        or (name == "source" and assemblies[0].defaults.source)
    )


class _One:
    """One used model on its way into the whole."""

    def __init__(self, use: Use, inner: Assembly, outer: Assembly, whole: Assembly) -> None:
        self._use = use
        self._inner = inner
        self._outer = outer
        self._whole = whole
        self._name = use.name or inner.title or inner.assembly
        self._renamed = {
            (kind, record.id): _alike(kind, record, whole) or self.named(record.id)
            for kind, record in _different(whole, inner)
        }
        self._prefixed = under_prefix(inner, use.id, self._name, self._renamed)

    @property
    def steps(self) -> tuple[Step, ...]:
        """The steps of the used model under its prefix."""
        return self._prefixed.steps

    def named(self, name: str) -> str:
        """Return an id of the used model as it is called outside."""
        return f"{self._use.id}{BETWEEN}{name}"

    def clashes(self) -> Iterator[Problem]:
        """Tell of each shared thing that is a different one under the same id."""
        for (kind, name), new in sorted(self._renamed.items()):
            table = tables(Assembly)[kind]
            if new != self.named(name):
                continue
            yield Problem(
                "two-of-one-name",
                "note" if kind == "source" else "warning",
                f"{kind} `{name}` of `{self._use.id}` is another one than the {kind} `{name}` "
                f"met before, and is called `{new}`",
                path=(table, new),
                facts=(
                    Fact(f"the {kind} of `{self._use.id}`", (table, new)),
                    Fact("the one met before", (table, name)),
                ),
                why="if they are one thing, it is listed twice on the sheets",
                fix="write both alike if they are one thing; if not, give one of them another id",
            )
        one, other = self._outer.defaults.money, self._inner.defaults.money
        if one and other and one != other:
            yield Problem(
                "two-of-one-name",
                "warning",
                f"prices are in {one} here, and in {other} in `{self._use.id}`",
                path=("uses", self._use.id),
                why="they are added up as if they were in one money",
                fix="write all prices in one money",
            )

    def joined_in(self, moved: dict[Path, tuple[str, Path]]) -> Assembly:
        """Return the whole with this model in it, but for its steps; note what came from where."""
        changes: dict[str, Any] = {}
        for kind, table in tables(Assembly).items():
            if kind in SHARED:
                changes[table] = self._shared(kind, table, moved)
            elif kind not in ("step", "option", "use"):
                changes[table] = (*getattr(self._whole, table), *getattr(self._prefixed, table))
        for known in declared(Assembly):
            is_list = isinstance(known.kind, Many) and isinstance(known.kind.of, Record)
            if is_list or known.name in _ADDED_UP:
                changes[known.attribute] = self._added(known.attribute, known.name, moved)
        for table in ("units", "parts"):
            moved[table, self._use.id] = (OWN, ("uses", self._use.id))
        changes["units"] = (*changes["units"], Unit(id=self._use.id, name=self._name))
        return replace(self._whole, **changes, **self._in_words())

    def _shared(
        self, kind: str, table: str, moved: dict[Path, tuple[str, Path]]
    ) -> tuple[Any, ...]:
        """Return shared things of one kind, where a fuller one stands for a bare one."""
        found = {record.id: record for record in getattr(self._whole, table)}
        inner, prefixed = getattr(self._inner, table), getattr(self._prefixed, table)
        for before, record in zip(inner, prefixed, strict=True):
            if (kind, before.id) in self._renamed:
                found.setdefault(record.id, record)
            elif record.id not in found or _is_bare(found[record.id]):
                found[record.id] = record
                moved[table, record.id] = (self._use.id, (table, record.id))
        return tuple(found.values())

    def _added(
        self, attribute: str, name: str, moved: dict[Path, tuple[str, Path]]
    ) -> tuple[Any, ...]:
        """Return a list of the whole with what the used model adds to it at its end."""
        added = list(getattr(self._whole, attribute))
        for number, entry in enumerate(getattr(self._prefixed, attribute)):
            if name not in _ADDED_UP or entry not in added:
                moved[name, len(added)] = (self._use.id, (name, number))
                added.append(entry)
        return tuple(added)

    def _in_words(self) -> dict[str, Any]:
        """Return what the whole says of itself, with what the used model says added."""
        whole, inner = self._whole, self._inner
        scope = f"{self._name}: {inner.scope}" if inner.scope else ""
        own = Included(self._use.id, inner.assembly, self._name, inner.issue)
        others = (replace(other, unit=self.named(other.unit)) for other in inner.included)
        return {
            "notice": _joined(whole.notice, inner.notice, " "),
            "scope": _joined(whole.scope, scope, "\n\n"),
            "prints": whole.prints if _says(whole.prints) else inner.prints,
            "handling": whole.handling if _says(whole.handling) else inner.handling,
            "defaults": _filled(whole.defaults, inner.defaults),
            "taken": (*whole.taken, *self._taken()),
            "included": (*whole.included, own, *others),
        }

    def _taken(self) -> Iterator[Taken]:
        """Yield the choices of the used model that no option of the outer one made."""
        outer = {taken.option for taken in self._outer.taken}
        passed = {one.id: one.option or one.choice for one in self._use.options}
        for taken in self._inner.taken:
            if passed.get(taken.option) not in outer:
                label = f"{self._name}: {taken.label}"
                yield Taken(self.named(taken.option), taken.choice, label)


def _different(whole: Assembly, inner: Assembly) -> Iterator[tuple[str, Any]]:
    """Yield the shared things of a model, by kind, that are others in the whole under one id."""
    for kind in SHARED:
        known = {record.id: record for record in _shared_of(kind, whole)}
        for record in _shared_of(kind, inner):
            other = known.get(record.id, record)
            if other != record and not _is_bare(other) and not _is_bare(record):
                yield kind, record


def _alike(kind: str, record: Any, whole: Assembly) -> str:
    """Return the id of a thing that says the same in the whole, if there is one."""
    things = _shared_of(kind, whole)
    return next((one.id for one in things if replace(one, id=record.id) == record), "")


def _shared_of(kind: str, assembly: Assembly) -> tuple[Any, ...]:
    table = tables(Assembly).get(kind)
    return getattr(assembly, table) if table else ()


def _is_bare(record: Any) -> bool:
    """Tell whether nothing but its id is known of a thing."""
    return not any(getattr(record, one.name) for one in fields(record) if one.name != "id")


def _says(record: Any) -> bool:
    return any(getattr(record, one.name) for one in fields(record))


def _filled(record: Any, other: Any) -> Any:
    """Return a record with its empty fields as in another."""
    empty = [one.name for one in fields(record) if not getattr(record, one.name)]
    return replace(record, **{name: getattr(other, name) for name in empty})


def _joined(text: str, more: str, between: str) -> str:
    """Return two texts, each once."""
    if not more or more in text:
        return text
    return f"{text}{between}{more}" if text else more
