"""The way from a model file to the model: text, tree, fields, names, rules."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from sequencer.model.assembly import Assembly
from sequencer.model.complete import complete
from sequencer.model.fields import Record
from sequencer.model.quantities import unit_named
from sequencer.problem import Place, Problem, has_errors, located
from sequencer.reading.binder import Binder
from sequencer.reading.decoding import (
    UnreadableError,
    character_problems,
    lines_of,
    text_of_file,
    without_mark,
)
from sequencer.reading.names import Names
from sequencer.reading.naming import naming_problems
from sequencer.reading.nodes import Mapping, Scalar, compose, is_empty
from sequencer.reading.places import Places
from sequencer.reading.rules import rule_problems
from sequencer.reading.source import Faults, Source, shortened

if TYPE_CHECKING:
    import pathlib
    from collections.abc import Mapping as MappingType

    from sequencer.problem import Path
    from sequencer.reading.nodes import Node

MOST_STEPS = 20_000
"""The most steps that a model may have."""

_NOTHING = "there is nothing to plan"


@dataclass(frozen=True, slots=True)
class Reading:
    """What came of reading a file.

    Attributes
    ----------
    assembly : Assembly or None
        The model, completed; None if any problem is an error.
    problems : tuple of Problem
        Everything found, in the order of the file, each with its place where it has one.
    lines : mapping of str to tuple of str
        The lines of each file by its name, to show beside a problem.
    """

    assembly: Assembly | None
    problems: tuple[Problem, ...]
    lines: MappingType[str, tuple[str, ...]]
    _places: Places = field(repr=False, compare=False)

    def place_of(self, path: Path) -> Place | None:
        """Return where a path of the model stands, as far as it goes; None if it begins nowhere.

        A value on one line is shown itself, anything longer by the key it stands under.
        """
        return self._places.value(path)

    def key_place_of(self, path: Path) -> Place | None:
        """Return where the last key on the way to a path stands; None if it begins nowhere."""
        return self._places.key(path)


def read_file(path: pathlib.Path) -> Reading:
    """Read a model file; whatever is wrong with it comes back as problems."""
    name = str(path)
    try:
        text = text_of_file(path, name)
    except UnreadableError as error:
        source = Source.of(name, error.lines)
        lines = MappingProxyType({name: error.lines})
        return Reading(None, (error.problem,), lines, Places(None, source))
    return read_text(text, name)


def read_text(text: str, name: str) -> Reading:
    r"""Read a model from its text; `name` is what problems call the file.

    Examples
    --------
    >>> reading = read_text("assembly: lamp\nsteps: {screw: Screw the bulb in.}", "lamp.yaml")
    >>> [step.do for step in reading.assembly.steps]
    ['Screw the bulb in.']
    >>> reading.place_of(("steps", "screw"))
    Place(file='lamp.yaml', line=2, column=16, width=18)
    """
    text = without_mark(text)
    source = Source.of(name, lines_of(text))
    faults = Faults()
    for problem in character_problems(text, source.lines, name):
        faults.add(problem)
    root = None if has_errors(faults.in_order()) else compose(text, source, faults)
    assembly = None
    places = Places(root, source)
    if isinstance(root, Mapping) and not is_empty(root):
        if _few_steps(root, source, faults):
            assembly = _bound(root, source, faults, places)
    elif not has_errors(faults.in_order()):
        faults.add(_no_model(root, source), Place(name, 1, 1, max(len(source.line(0)), 1)))
    problems = faults.in_order()
    if assembly is None or has_errors(problems):
        assembly = None
    else:
        assembly = complete(_with_symbols(assembly))
    return Reading(assembly, problems, MappingProxyType({name: source.lines}), places)


def _bound(root: Mapping, source: Source, faults: Faults, places: Places) -> Assembly | None:
    names = Names(root)
    assembly: Assembly | None = Binder(source, names, faults).read(Record(Assembly), root, ())
    names.tell(source, faults)
    if assembly is not None:
        for problem in (
            *rule_problems(assembly, faults.sound),
            *naming_problems(assembly, faults.sound, names, source),
        ):
            faults.add(located(problem, places.value))
    return assembly


def _few_steps(root: Mapping, source: Source, faults: Faults) -> bool:
    for key, value in root.entries():
        if isinstance(key, Scalar) and key.text == "steps" and isinstance(value, Mapping):
            count = len(value.items) // 2
            if count > MOST_STEPS:
                message = f"the model has {count:,} steps, and {MOST_STEPS:,} are the most"
                why = "beyond that neither plan nor paper is of use to anybody"
                problem = Problem("too-many", "error", message, why=why, fix="divide the model")
                faults.add(problem, source.place(key))
                return False
    return True


def _no_model(root: Node | None, source: Source) -> Problem:
    if root is None or is_empty(root):
        message = f"`{source.name}` holds no model: there is no text in it but remarks and spaces"
        fix = "begin with `assembly: …` and `steps:`"
        return Problem("empty-file", "error", message, why=_NOTHING, fix=fix)
    what = "a list" if not isinstance(root, Scalar) else f"one text, `{shortened(root.text)}`"
    message = f"a model is a set of fields, and this file holds {what}"
    fix = "begin with `assembly: …` and `steps:`, with a space after each colon"
    return Problem("not-a-mapping", "error", message, why=_NOTHING, fix=fix)


def _with_symbols(assembly: Assembly) -> Assembly:
    """Write the units to print in as they are printed, however they were spelt."""
    prints = assembly.prints
    return replace(
        assembly,
        prints=replace(
            prints,
            torque=tuple(_symbol(unit, "torque") for unit in prints.torque),
            length=tuple(_symbol(unit, "length") for unit in prints.length),
        ),
    )


def _symbol(spelling: str, quantity: str) -> str:
    unit = unit_named(spelling, (quantity,))
    return unit.symbol if unit else spelling
