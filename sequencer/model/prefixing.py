"""A used model as a unit of another: its ids under a prefix, its steps building the unit."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from sequencer.model.assembly import Assembly, Defaults
from sequencer.model.complete import with_all_declared
from sequencer.model.fields import Figure, TorqueText, declared
from sequencer.model.rewriting import Rewriter, tables
from sequencer.model.steps import Section, Step
from sequencer.model.uses import BETWEEN

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from sequencer.model.common import Link
    from sequencer.model.parts import Part
    from sequencer.model.rewriting import Thing
    from sequencer.model.steps import Fit
    from sequencer.problem import Path

SHARED = ("source", "tool", "compound")
"""Kinds of things that models share: one of the same id and content is one thing."""


def under_prefix(
    assembly: Assembly, unit: str, name: str, renamed: Mapping[Thing, str]
) -> Assembly:
    """Return a used model with its ids under a prefix.

    Parameters
    ----------
    assembly : Assembly
        The used model, each step in its section and unit already.
    unit, name : str
        The prefix, which is the id of the unit that its steps build, and what that is called.
    renamed : mapping of Thing to str
        New ids of shared things; all others keep theirs.

    Returns
    -------
    Assembly
        Its shared things are renamed, and everything else is prefixed. Each of its sections is
        titled with the name of the unit before its own title, and a step that is in none is in
        one called as the unit.
    """
    made: Assembly = _Prefixing(unit, renamed).record(assembly, ())
    prefixed: dict[str, Any] = {
        field: tuple(_with_id(kind, record, unit, renamed) for record in getattr(made, field))
        for kind, field in tables(Assembly).items()
    }
    steps = tuple(_building(step, unit) for step in prefixed.pop("steps"))
    sections = tuple(_titled(assembly, prefixed.pop("sections"), steps, unit, name))
    return replace(made, steps=steps, sections=sections, **prefixed)


class _Prefixing(Rewriter):
    """Puts the prefix before every name but those of shared things."""

    def __init__(self, unit: str, renamed: Mapping[Thing, str]) -> None:
        super().__init__()
        self._unit = unit
        self._renamed = renamed

    def link(self, link: Link) -> Link | None:
        to = self.words((link.kind, link.to))
        return link if to == link.to else replace(link, to=to)

    def fit(self, fit: Fit) -> Fit | None:
        return replace(fit, part=f"{self._unit}{BETWEEN}{fit.part}")

    def words(self, thing: Thing) -> str:
        kind, name = thing
        if kind in SHARED:
            return self._renamed.get(thing, name)
        return name if kind == "all" else f"{self._unit}{BETWEEN}{name}"


def _with_id(kind: str, record: Any, unit: str, renamed: Mapping[Thing, str]) -> Any:
    if kind in SHARED:
        return replace(record, id=renamed.get((kind, record.id), record.id))
    prefixed = replace(record, id=f"{unit}{BETWEEN}{record.id}")
    if kind in ("part", "unit"):
        return replace(prefixed, name=record.name or record.id)
    return prefixed


def _building(step: Step, unit: str) -> Step:
    section = step.section or f"{unit}{BETWEEN}"
    return replace(step, section=section, unit=step.unit or unit)


def _titled(
    assembly: Assembly, sections: tuple[Section, ...], steps: tuple[Step, ...], unit: str, name: str
) -> Iterator[Section]:
    titles = {section.id: section.label for section in assembly.sections}
    declared_ids = {section.id for section in sections}
    for section in sections:
        own = section.id.removeprefix(f"{unit}{BETWEEN}")
        title = name if own == BETWEEN else f"{name}: {titles[own]}"
        yield replace(section, title=title, unit="")
    for used in dict.fromkeys(step.section for step in steps):
        if used not in declared_ids:
            title = used.removeprefix(f"{unit}{BETWEEN}")
            yield Section(id=used, title=f"{name}: {title}" if title else name)


def finished(assembly: Assembly) -> Assembly:
    """Return a joined model completed; parts that are declared by use are called as in their own.

    See Also
    --------
    sequencer.model.complete.complete : The same for a model that uses no others.
    """
    whole = with_all_declared(assembly)
    if not whole.included:
        return whole
    prefixes = sorted((f"{one.unit}{BETWEEN}" for one in whole.included), key=len, reverse=True)

    def named(part: Part) -> Part:
        prefix = next((prefix for prefix in prefixes if part.id.startswith(prefix)), "")
        is_short = prefix and not part.name
        return replace(part, name=part.id.removeprefix(prefix)) if is_short else part

    return replace(whole, parts=tuple(map(named, whole.parts)))


def with_own_defaults(assembly: Assembly, fields: frozenset[str]) -> Assembly:
    """Return a model whose figures, steps and joints say what its `defaults` say for them.

    Parameters
    ----------
    assembly : Assembly
        The model.
    fields : frozenset of str
        Which of `source`, `time`, `surface` and `grade`.
    """
    defaults = assembly.defaults
    if "source" in fields and defaults.source:
        assembly = _Sourcing(defaults.source).record(assembly, ())
    if "time" in fields and defaults.time is not None:
        steps = (replace(step, time=step.time or defaults.time) for step in assembly.steps)
        assembly = replace(assembly, steps=tuple(steps))
    of_joints = {
        field: value
        for field in sorted(fields & {"surface", "grade"})
        if (value := getattr(defaults, field))
    }
    if of_joints:
        joints = (
            replace(joint, **{f: getattr(joint, f) or value for f, value in of_joints.items()})
            for joint in assembly.joints
        )
        assembly = replace(assembly, joints=tuple(joints))
    nothing = Defaults()
    plain = replace(defaults, **{field: getattr(nothing, field) for field in fields})
    return replace(assembly, defaults=plain)


class _Sourcing(Rewriter):
    """Gives each figure without a source that of what it stands in, at last the default."""

    def __init__(self, source: str) -> None:
        super().__init__()
        self._source = source

    def record(self, record: Any, path: Path) -> Any:
        outer = self._source
        own = getattr(record, "source", None)
        self._source = own or outer
        made = super().record(record, path)
        self._source = outer
        return replace(made, source=outer) if own == "" and _is_a_figure(type(record)) else made


def _is_a_figure(cls: type) -> bool:
    return any(isinstance(field.kind, Figure | TorqueText) for field in declared(cls))
