"""The files that a model is read from: the top one, and those that it uses, each read once."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, NamedTuple

from sequencer.model.assembly import Assembly
from sequencer.model.fields import Record
from sequencer.problem import Problem, has_errors, located
from sequencer.reading import uses
from sequencer.reading.binder import Binder
from sequencer.reading.conditions import condition_problems
from sequencer.reading.decoding import (
    UnreadableError,
    character_problems,
    lines_of,
    text_of_file,
    without_mark,
)
from sequencer.reading.names import Names, Used
from sequencer.reading.naming import naming_problems
from sequencer.reading.nodes import Mapping, Scalar, compose, is_empty
from sequencer.reading.options import options_are_sound, options_decide_something
from sequencer.reading.places import Places
from sequencer.reading.source import Faults, Source, shortened

if TYPE_CHECKING:
    from collections.abc import Mapping as MappingType
    from collections.abc import Sequence

    from sequencer.model.uses import Use
    from sequencer.problem import Place
    from sequencer.reading.names import Mention
    from sequencer.reading.nodes import Node

MOST_STEPS = 20_000
"""The most steps that a model may have, with those of the models that it uses."""
MOST_USED = 100
"""The most models that one may use in all, each counted as often as it is used."""
DEEPEST = 8
"""The most models that may use each other one inside the other."""

_KEPT = Path("/")  # the folder of a model whose texts are kept elsewhere than on the disk
_NOTHING = "there is nothing to plan"


@dataclass(slots=True, eq=False)
class OneFile:
    """One file as read, before anything is chosen in it.

    Attributes
    ----------
    source : Source
        The file.
    faults : Faults
        What was found in it, but for what rules find in the whole model.
    places : Places
        Where each path stands.
    names : Names or None
        What it names; None where it could not be read so far.
    assembly : Assembly or None
        The model as far as it was read; None where that is nothing.
    used : dict of str to OneFile
        The files that it uses, by their prefixes.
    is_decidable : bool
        Whether its options and conditions are sound.
    models, steps : int
        How many models there are in it with those that it uses, and how many steps in all.
    copies : dict of str to str
        Of the top file: the texts of all that it uses, by their paths from its folder.
    """

    source: Source
    faults: Faults
    places: Places
    names: Names | None = None
    assembly: Assembly | None = None
    used: dict[str, OneFile] = field(default_factory=dict)
    is_decidable: bool = True
    models: int = 1
    steps: int = 0
    copies: dict[str, str] = field(default_factory=dict)

    def all_files(self) -> list[OneFile]:
        """Return this file and all that it uses, at any depth, each once."""
        found = [self]
        for file in found:
            found += [used for used in dict.fromkeys(file.used.values()) if used not in found]
        return found

    def problems(self) -> tuple[Problem, ...]:
        """Return what was found in this file and all that it uses, file by file."""
        return tuple(problem for file in self.all_files() for problem in file.faults.in_order())

    def is_broken(self) -> bool:
        """Tell whether no whole model can be made of it."""
        return self.assembly is None or has_errors(self.problems())


class _Used(NamedTuple):
    """A file on the way to the one being read: where it is, its name, and where it is used.

    `inside` is how it was come to from the folder of the first, whatever links there are.
    """

    path: Path
    name: str
    inside: PurePosixPath
    used_at: Place | None = None


class Files:
    """Reads a file and those that it uses, none of them outside the folder of the first.

    With `kept`, texts by their paths from that folder, they are read from there instead of from
    the disk. `copies` are the texts of all files used that were read, in the same way.
    """

    def __init__(self, path: Path | None, kept: MappingType[str, str] | None = None) -> None:
        self._kept = None if kept is None else {_KEPT / name: kept[name] for name in kept}
        self._way: list[_Used] = []
        if path is not None:
            whole = path.resolve() if kept is None else _KEPT / path.name
            self._way.append(_Used(whole, str(path), PurePosixPath(path.name)))
        self._read: dict[Path, OneFile] = {}
        self._texts: dict[Path, str] = {}
        self.copies: dict[str, str] = {}

    def read(self, text: str, name: str) -> OneFile:
        """Read a file from its text."""
        text = without_mark(text)
        source = Source.of(name, lines_of(text))
        faults = Faults()
        for problem in character_problems(text, source.lines, name):
            faults.add(problem)
        root = None if has_errors(faults.in_order()) else compose(text, source, faults)
        file = OneFile(source, faults, Places(root, source))
        if isinstance(root, Mapping) and not is_empty(root):
            if _few_steps(root, source, faults):
                self._bind(file, root)
        elif not has_errors(faults.in_order()):
            faults.add(_no_model(root, source), source.start())
        return file

    def _bind(self, file: OneFile, root: Mapping) -> None:
        source, faults = file.source, file.faults
        unreadable = self._follow_all(file, uses.uses_in(root, source))
        used = Used(
            {use: used.names for use, used in file.used.items() if used.names},
            {use: used.source for use, used in file.used.items()},
            unreadable,
        )
        names = file.names = Names(root, used)
        binder = Binder(source, names, faults)
        assembly = file.assembly = binder.read(Record(Assembly), root, ())
        names.tell(source, faults)
        if assembly is None:
            return
        for problem in naming_problems(assembly, faults.sound, names, source):
            faults.add(located(problem, file.places.value))
        _decide(file, assembly, binder.conditions)
        _count(file, assembly)
        for use in assembly.uses:
            inner = file.used.get(use.id)
            if inner is not None and inner.assembly is not None and inner.is_decidable:
                of_inner = (use, inner.assembly, inner.source.name)
                for problem in uses.what_is_passed(assembly.options, *of_inner):
                    faults.add(located(problem, file.places.value), path=problem.path)

    def _follow_all(self, file: OneFile, entries: Sequence[Use]) -> tuple[str, ...]:
        """Read the files that a file uses; return the prefixes of those that are unreadable."""
        unreadable = []
        for use in entries:
            place = file.places.value(("uses", use.id, "file"))
            found = self._follow(use.file, place)
            if isinstance(found, OneFile):
                file.used[use.id] = found
                if found.is_broken():
                    unreadable.append(use.id)
            else:
                unreadable.append(use.id)
                file.faults.add(found, place, ("uses", use.id, "file"))
        return tuple(unreadable)

    def _follow(self, text: str, place: Place | None) -> OneFile | Problem:
        """Return a used file as read, or why it cannot be."""
        problem = uses.path_problem(text) or (None if self._way else uses.in_no_folder(text))
        if problem is not None:
            return problem
        try:
            path, is_there = self._found(self._way[-1].path.parent / text)
        except (OSError, RuntimeError):  # a name too long, or links that lead to each other
            return uses.is_no_file(text)
        problem = (
            self._refused(text, path, is_there=is_there)
            or self._circle(path, place)
            or self._bound(path)
        )
        if problem is not None:
            return problem
        name = str(Path(self._way[-1].name).parent / text)
        inside = self._way[-1].inside.parent / text
        found = self._read_once(_Used(path, name, inside, place))
        if path in self._texts:
            self.copies[str(inside)] = self._texts[path]
        return found

    def _found(self, path: Path) -> tuple[Path, bool]:
        """Return where a file is, and whether there is one."""
        if self._kept is not None:
            return path, path in self._kept
        path = path.resolve()
        return path, path.is_file()

    def _refused(self, text: str, path: Path, *, is_there: bool) -> Problem | None:
        if not path.is_relative_to(self._way[0].path.parent):
            return uses.leads_out(text)
        return None if is_there else uses.is_no_file(text)

    def _circle(self, path: Path, place: Place | None) -> Problem | None:
        paths = [used.path for used in self._way]
        if path not in paths:
            return None
        way = self._way[paths.index(path) :]
        places = [*(used.used_at for used in way[1:]), place]
        return uses.circle([(used.name, at) for used, at in zip(way, places, strict=True)])

    def _bound(self, path: Path) -> Problem | None:
        if len(self._way) > DEEPEST:
            return uses.too_deep(DEEPEST)
        is_new = path not in self._read
        return uses.too_many_used(MOST_USED) if is_new and len(self._read) >= MOST_USED else None

    def _read_once(self, used: _Used) -> OneFile | Problem:
        known = self._read.get(used.path)
        if known is not None:
            return known
        try:
            text = self._text(used)
        except UnreadableError as error:
            if error.problem.place is None:
                return error.problem
            return unreadable(error, used.name)
        self._way.append(used)
        file = self._read[used.path] = self.read(text, used.name)
        self._way.pop()
        self._texts[used.path] = text
        return file

    def _text(self, used: _Used) -> str:
        return text_of_file(used.path, used.name) if self._kept is None else self._kept[used.path]


def unreadable(error: UnreadableError, name: str) -> OneFile:
    """Return a file that gives no text, with the reason."""
    source = Source.of(name, error.lines)
    faults = Faults()
    faults.add(error.problem)
    return OneFile(source, faults, Places(None, source))


def _decide(file: OneFile, assembly: Assembly, conditions: Sequence[Mention]) -> None:
    """Tell what is wrong with options and conditions, whatever is chosen."""
    faults = file.faults
    for problem in options_are_sound(assembly, faults.sound):
        faults.add(located(problem, file.places.value), path=problem.path)
    file.is_decidable = faults.sound(("options",))
    if not file.is_decidable:
        return
    options = {option.id: option for option in assembly.options}
    for mention, problem in condition_problems(conditions, options, file.source):
        faults.add(problem, path=mention.path)
        file.is_decidable = False
    if not has_errors(faults.in_order()):  # a condition may be among what was not read
        for problem in options_decide_something(assembly, [one.name for one in conditions]):
            faults.add(located(problem, file.places.value))


def _count(file: OneFile, assembly: Assembly) -> None:
    """Count models and steps with those of used models, and tell if they are too many."""
    file.models = 1 + sum(used.models for used in file.used.values())
    file.steps = len(assembly.steps) + sum(used.steps for used in file.used.values())
    place = file.places.key(("uses",))
    if file.models > MOST_USED + 1:
        file.faults.add(uses.too_many_used(MOST_USED), place, ("uses",))
    elif file.steps > MOST_STEPS:
        file.faults.add(uses.too_many_steps(file.steps, MOST_STEPS), place, ("uses",))


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
