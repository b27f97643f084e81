"""Cautions that follow from the data of a model, in our own words.

Signal words as published standards for safety signs and texts define them (ANSI Z535.4, Z535.6
and ISO 3864-2, retold from memory): a person will be killed or badly injured where DANGER is not
minded, may be where WARNING is not, and may be injured lightly or moderately where CAUTION is
not; NOTICE is about things alone. Data say what may happen and not how likely it is, so DANGER
is never derived: who knows that much writes it himself.

Each text says what may happen and what to do. It is no substitute for a safety data sheet, the
maker's manual or local rules, and no list of them is complete: the cover says so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.trade.basics import in_unit
from sequencer.trade.hazards import (
    OF_COMPOUNDS,
    OF_STEPS,
    SHUT_OFF,
    hazard_named,
)
from sequencer.trade.lifting import LOAD_CONSTANT_KG, one_may_lift

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.compounds import Compound
    from sequencer.model.steps import Step
    from sequencer.trade.hazards import SignalWord

HOT_C = 60.0
"""What is hotter than this burns the skin that touches it; common practice, no source."""

_FREEZING_C = 0.0
_DRY_ICE_C = -78.0  # at and below which what chills a part drives out the air; common knowledge

_ORDER = ("DANGER", "WARNING", "CAUTION", "NOTICE")


@dataclass(frozen=True, slots=True)
class Caution:
    """A signal word, and what may happen and what to do about it."""

    word: SignalWord
    text: str


def cautions(assembly: Assembly, step: Step) -> tuple[Caution, ...]:
    """Return the cautions of a step that follow from its data, the gravest first.

    Parameters
    ----------
    assembly : Assembly
        The model, completed.
    step : Step
        A step of it. What its author warns of is not in the result: that stands as written.

    Returns
    -------
    tuple of Caution
        Of each hazard one: of the compounds it puts on, of its `hazards` (words that are not
        known as they are written), of what it heats and chills, and of what it lifts above the
        limit for one person.

    Examples
    --------
    >>> from sequencer.model.assembly import Assembly
    >>> from sequencer.model.steps import Step
    >>> step = Step(id="in", do="Press it in.", hazards=("sharp",))
    >>> [found.word for found in cautions(Assembly(assembly="a", steps=(step,)), step)]
    ['CAUTION']
    """
    found: dict[str, Caution] = {}
    for hazard, caution in (
        *_of_compounds(assembly, step),
        *_of_heat(assembly, step),
        *_of_masses(assembly, step),
        *_of_hazards(assembly, step),
    ):
        found.setdefault(hazard, caution)
    return tuple(sorted(found.values(), key=lambda one: _ORDER.index(one.word)))


def _of_compounds(assembly: Assembly, step: Step) -> Iterator[tuple[str, Caution]]:
    known = {compound.id: compound for compound in assembly.compounds}
    ids = dict.fromkeys(link.to for applied in step.apply for link in applied.compound)
    by_hazard: dict[str, list[Compound]] = {}
    for compound in (known[one] for one in ids if one in known):
        for words in compound.hazards:
            by_hazard.setdefault(hazard_named(words), []).append(compound)
    for hazard, compounds in by_hazard.items():
        what = " and ".join(compound.label for compound in compounds)
        if hazard in OF_COMPOUNDS:
            word, text = OF_COMPOUNDS[hazard]
            yield hazard, Caution(word, text.format(what=what))
        elif hazard in OF_STEPS:
            word, text = OF_STEPS[hazard]
            yield hazard, Caution(word, f"{what}: {text[0].lower()}{text[1:]}")
        else:
            yield hazard, Caution("CAUTION", f"{what}: {hazard}")


def _of_hazards(assembly: Assembly, step: Step) -> Iterator[tuple[str, Caution]]:
    for words in step.hazards:
        hazard = hazard_named(words)
        if hazard in OF_STEPS:
            word, text = OF_STEPS[hazard]
            yield hazard, Caution(word, text + _points(assembly, hazard))
        elif hazard in OF_COMPOUNDS:
            word, text = OF_COMPOUNDS[hazard]
            yield hazard, Caution(word, text.format(what="What is used here"))
        else:
            yield hazard, Caution("CAUTION", hazard)


def _points(assembly: Assembly, hazard: str) -> str:
    """Return where energy is shut off, where the model names it."""
    points = [one.point.rstrip(".") for one in assembly.isolation]
    if hazard not in SHUT_OFF or not points:
        return ""
    return f" Shut off at: {'; '.join(points)}."


def _of_heat(assembly: Assembly, step: Step) -> Iterator[tuple[str, Caution]]:
    heat = step.heat
    if heat is None:
        return
    labels = {part.id: part.label for part in assembly.parts}
    if float(in_unit(heat.to, "°C")) > HOT_C:
        what = _listed([labels.get(link.to, link.to) for link in heat.part])
        yield (
            "hot",
            Caution(
                "CAUTION",
                f"{what} at {heat.to.text.strip()} burns whoever touches it. Wear gloves that "
                "stand the heat, and let nobody near it until it is cool.",
            ),
        )
    cold = heat.cold
    if cold is None or cold.to is None or float(in_unit(cold.to, "°C")) > _FREEZING_C:
        return
    what = _listed([labels.get(link.to, link.to) for link in cold.part])
    air = float(in_unit(cold.to, "°C")) <= _DRY_ICE_C
    text = f"{what} at {cold.to.text.strip()} freezes to the skin. Wear dry, lined gloves."
    if air:
        text += " What chills it drives out the air: open the doors, and never work alone."
    yield "cold", Caution("WARNING" if air else "CAUTION", text)


def _of_masses(assembly: Assembly, step: Step) -> Iterator[tuple[str, Caution]]:
    """Yield one caution for the heaviest thing that is too heavy for those who lift it."""
    heaviest = max(_lifted(assembly, step), default=None)
    if heaviest is None:
        return
    mass, what, weighs = heaviest
    if one_may_lift(mass / step.people):
        return
    limit = f"one person should lift ({LOAD_CONSTANT_KG:g} kg)"
    if step.people > 1:
        limit = f"{step.people} people should lift ({LOAD_CONSTANT_KG:g} kg each)"
    share = mass / 2
    pair = step.people == 1 and one_may_lift(share)
    how = f"two people, {share:.3g} kg each, or a hoist" if pair else "a hoist"
    text = f"{what} weighs {weighs}, more than {limit}. Lift it with {how}, and keep feet clear."
    yield "heavy", Caution("CAUTION", text)


def _lifted(assembly: Assembly, step: Step) -> Iterator[tuple[float, str, str]]:
    """Yield what a step fits or takes off, one at a time: kilograms, name, and how it is said.

    A unit without a mass of its own weighs at least what its parts do.
    """
    parts = {part.id: part for part in assembly.parts}
    ids = dict.fromkeys((*(fit.part for fit in step.fits), *(link.to for link in step.takes_off)))
    units = {unit.id for unit in assembly.units}
    for part in (parts[one] for one in ids if one in parts):
        if part.mass is not None:
            yield float(in_unit(part.mass, "kg")), part.label, part.mass.text.strip()
        elif part.id in units:
            mass = _of_unit(assembly, part.id)
            yield mass, part.label, f"{mass:.3g} kg or more"


def _of_unit(assembly: Assembly, unit: str) -> float:
    """Return the kilograms of all parts that the steps of a unit fit, as far as they are known."""
    parts = {part.id: part for part in assembly.parts}
    fitted = [fit for step in assembly.steps if step.unit == unit for fit in step.fits]
    total = 0.0
    for one in dict.fromkeys(fit.part for fit in fitted):
        part = parts.get(one)
        if part is not None and part.mass is not None:
            total += part.quantity * float(in_unit(part.mass, "kg"))
    return total


def _listed(names: Sequence[str]) -> str:
    return " and ".join(names)
