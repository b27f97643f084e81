"""Other models that a model uses: each under a prefix, and built as a unit."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.model.fields import Record, Table, Text, holds

BETWEEN = "/"
"""What stands between the prefix of a used model and the ids in it, as in `pump/rotor`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Passed:
    """What an option of a used model is set to: a choice, or what an option of this one is."""

    id: str
    choice: str = holds(
        Text(), "A choice of the used model's option, or an option of this model.", default=""
    )
    option: str = holds(Text(), "An option of this model, whose choice is passed on.", default="")


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """Another model, whose ids get this one's id and a `/` before them, and which is one unit."""

    id: str
    file: str = holds(
        Text(), "The file, in the folder of this one or below, such as `pump.yaml`.", required=True
    )
    name: str = holds(
        Text(), "What the unit is called on the sheets; the default is its title.", default=""
    )
    options: tuple[Passed, ...] = holds(
        Table(Record(Passed, "choice")), "What its options are set to; others keep their defaults."
    )
    when: str = holds(Text(), "The condition on which the unit is there at all.", default="")


@dataclass(frozen=True, slots=True)
class Included:
    """A model that was joined into another: as which unit, what it is, and its issue."""

    unit: str
    assembly: str
    title: str
    issue: str
