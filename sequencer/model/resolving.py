"""Conditions decided by the choices made: what is there, and what each part is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.model.complete import in_their_sections
from sequencer.model.conditions import is_met, options_in
from sequencer.model.fields import declared
from sequencer.model.options import Taken
from sequencer.model.parts import Instead

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sequencer.model.assembly import Assembly
    from sequencer.model.options import Choice
    from sequencer.model.parts import Part
    from sequencer.model.rewriting import Thing


@dataclass(frozen=True, slots=True)
class Settled:
    """A model without conditions, and what is not there, each with the condition that is not met.

    That is parts, steps, used models, and everything in those by its name in this model.
    """

    assembly: Assembly
    gone: Mapping[Thing, str]


def settle(assembly: Assembly, values: Mapping[str, Choice]) -> Settled:
    """Decide every condition of a model; nothing is left out of it yet.

    Parameters
    ----------
    assembly : Assembly
        The model as read.
    values : mapping of str to Choice
        What was chosen; a condition that speaks of an option without a choice is not decided, and
        what it stands at stays.

    Examples
    --------
    >>> from sequencer.model.assembly import Assembly
    >>> from sequencer.model.options import Option, choice_of
    >>> from sequencer.model.steps import Step
    >>> model = Assembly(
    ...     assembly="drive",
    ...     options=(Option(id="guard", choices=("mesh", "none")),),
    ...     steps=(Step(id="turn", do="Turn it."), Step(id="hung", do="", when="guard == mesh")),
    ... )
    >>> settle(model, {"guard": choice_of("none")}).gone
    {('step', 'hung'): 'guard == mesh'}
    """
    gone: dict[Thing, str] = {}
    kinds = (("part", assembly.parts), ("step", assembly.steps), ("use", assembly.uses))
    for kind, things in kinds:
        for thing in things:
            if thing.when and not _holds(thing.when, values, unknown=True):
                gone[kind, thing.id] = " ".join(thing.when.split())
    placed = in_their_sections(assembly)
    taken = (
        Taken(option.id, values[option.id].text, option.ask)
        for option in assembly.options
        if option.id in values
    )
    plain = replace(
        placed,
        parts=tuple(_as_chosen(part, values) for part in assembly.parts),
        steps=tuple(replace(step, when="") if step.when else step for step in placed.steps),
        uses=tuple(replace(use, when="") for use in assembly.uses if ("use", use.id) not in gone),
        options=(),
        taken=tuple(taken),
    )
    return Settled(plain, gone)


def _holds(condition: str, values: Mapping[str, Choice], *, unknown: bool) -> bool:
    return is_met(condition, values) if options_in(condition) <= values.keys() else unknown


def _as_chosen(part: Part, values: Mapping[str, Choice]) -> Part:
    """Return a part as it is by option, without its conditions."""
    if not part.when and not part.instead:
        return part
    other = next((one for one in part.instead if _holds(one.when, values, unknown=False)), None)
    given = {
        field.attribute: getattr(other, field.attribute)
        for field in (declared(Instead) if other else ())
        if field.name != "when" and getattr(other, field.attribute) not in (None, "")
    }
    return replace(part, when="", instead=(), **given)
