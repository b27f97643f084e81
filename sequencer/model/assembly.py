"""The parts of a model: frozen dataclasses that say what each field may hold.

A model can be read from a file or made in Python; defaults are those of the file format.
References between things are ids; `Link` keeps the reason that the author gave.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.model.checking import Check
from sequencer.model.compounds import Compound, Surface
from sequencer.model.fastening import SURFACES, Grade, Joint, Tool
from sequencer.model.fields import Figure, Many, Number, Record, Table, Text, Word, holds
from sequencer.model.lines import Line
from sequencer.model.options import Option
from sequencer.model.parts import Part
from sequencer.model.steps import OneOf, Section, State, Step, Together, Trial, Unit
from sequencer.model.uses import Use

if TYPE_CHECKING:
    from fractions import Fraction

    from sequencer.model.options import Taken
    from sequencer.model.quantities import Amount
    from sequencer.model.uses import Included


@dataclass(frozen=True, slots=True, kw_only=True)
class Prints:
    """The units to print in: the first large, the second small."""

    torque: tuple[str, ...] = holds(Many(Text()), "Units of torque.")
    length: tuple[str, ...] = holds(Many(Text()), "Units of length.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Defaults:
    """What holds where a thing says nothing else."""

    source: str = holds(Text(), "The source of figures.", default="")
    time: Amount | None = holds(Figure(("time",)), "The time of a step.")
    money: str = holds(Text(), "What prices are in, such as `EUR`.", default="")
    surface: str = holds(Word(SURFACES, or_a="compound"), "What is on threads.", default="")
    grade: Grade | None = holds(Record(Grade, "name"), "The strength of fasteners.")
    temperature: Amount | None = holds(
        Figure(("temperature",)), "How warm it is where the work is done."
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HandlingTimes:
    """What it takes to turn a unit over and to pick something up; for `plan --by handling`."""

    turn: Amount | None = holds(Figure(("time",)), "To turn a unit over; 120 s if not given.")
    tool: Amount | None = holds(Figure(("time",)), "To pick a tool up; 15 s if not given.")
    compound: Amount | None = holds(
        Figure(("time",)), "To get a compound ready; 20 s if not given."
    )
    rate: Fraction | None = holds(
        Number(), "Money a minute, to weigh the price of spoiled parts by; 1 if not given."
    )
    stop_above: Amount | None = holds(
        Figure(("time",)), "What forgetting must cost for a STOP line; 15 min if not given."
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Isolation:
    """A point where energy is shut off before the work, and restored after it."""

    point: str = holds(Text(), "What is shut off, and where.", required=True)
    tag: str = holds(Text(), "The mark of its lock or tag.", default="")
    how: str = holds(Text(), "How it is shut off, released and proved dead.", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where figures come from."""

    id: str
    name: str = holds(Text(), "The document, with its issue or date.", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """One model: the machine or unit that is put together, and how.

    Once it is resolved it has no `options` and `uses` any more, nor conditions on its parts and
    steps: `taken` says by which choices, and `included` which models were joined into it.
    """

    assembly: str = holds(Text(), "A short name without spaces.", required=True)
    title: str = holds(Text(), "What it is called on the sheets.", default="")
    issue: str = holds(Text(), "The revision letter of the model and its paper.", default="A")
    notice: str = holds(Text(), "A line for the foot of every page.", default="")
    scope: str = holds(Text(), "What the job covers and what it does not.", default="")
    wear: tuple[str, ...] = holds(Many(Text()), "Protective equipment for the whole job.")
    warning: tuple[str, ...] = holds(Many(Text()), "Warnings that hold for the whole job.")
    caution: tuple[str, ...] = holds(Many(Text()), "Cautions that hold for the whole job.")
    prints: Prints = holds(Record(Prints), "Units to print in.", default=Prints())
    options: tuple[Option, ...] = holds(
        Table(Record(Option, "choices")), "What is chosen before the work."
    )
    uses: tuple[Use, ...] = holds(
        Table(Record(Use, "file")), "Other models, each built as a unit and fitted as one part."
    )
    sources: tuple[Source, ...] = holds(Table(Record(Source, "name")), "Where figures come from.")
    defaults: Defaults = holds(
        Record(Defaults), "What holds unless said otherwise.", default=Defaults()
    )
    handling: HandlingTimes = holds(
        Record(HandlingTimes), "What handling takes.", default=HandlingTimes()
    )
    parts: tuple[Part, ...] = holds(Table(Record(Part, "name")), "What is fitted.")
    tools: tuple[Tool, ...] = holds(Table(Record(Tool, "name")), "What it is done with.")
    compounds: tuple[Compound, ...] = holds(
        Table(Record(Compound, "name")), "What is put on surfaces."
    )
    surfaces: tuple[Surface, ...] = holds(
        Table(Record(Surface, "name")), "Faces and threads that are cleaned, coated and loaded."
    )
    isolation: tuple[Isolation, ...] = holds(
        Many(Record(Isolation, "point")), "Where energy is shut off before the work."
    )
    joints: tuple[Joint, ...] = holds(Table(Record(Joint)), "Fasteners tightened as one.")
    checks: tuple[Check, ...] = holds(Table(Record(Check)), "What is measured and looked at.")
    sections: tuple[Section, ...] = holds(
        Table(Record(Section, "title")), "The stretches of the job."
    )
    steps: tuple[Step, ...] = holds(Table(Record(Step, "do")), "The operations.", required=True)
    units: tuple[Unit, ...] = holds(
        Table(Record(Unit, "name")), "What is built on the bench and then fitted as one part."
    )
    trials: tuple[Trial, ...] = holds(
        Table(Record(Trial)), "What is fitted to measure, and taken apart again."
    )
    lines: tuple[Line, ...] = holds(Table(Record(Line)), "Parts along one axis.")
    one_of: tuple[OneOf, ...] = holds(
        Many(Record(OneOf, "steps")), "Steps of which exactly one is done."
    )
    states: tuple[State, ...] = holds(Table(Record(State)), "What holds from one step to another.")
    together: tuple[Together, ...] = holds(
        Many(Record(Together, "steps")), "Steps done as one operation."
    )
    taken: tuple[Taken, ...] = ()
    included: tuple[Included, ...] = ()
