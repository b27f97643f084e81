"""The whole model that files make once all is chosen: joined, resolved, held to the rules."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.model.complete import complete
from sequencer.model.joining import OWN, Joined, join
from sequencer.model.leaving_out import leave_out, path_before
from sequencer.model.prefixing import finished
from sequencer.model.quantities import unit_named
from sequencer.model.resolving import Settled, settle
from sequencer.model.rewriting import things_in
from sequencer.model.uses import BETWEEN
from sequencer.problem import has_errors, located
from sequencer.reading.rules import rule_problems
from sequencer.reading.settings import chosen
from sequencer.reading.uses import passed_values

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

    from sequencer.model.assembly import Assembly
    from sequencer.model.options import Choice
    from sequencer.model.rewriting import Thing
    from sequencer.problem import Path, Place, Problem
    from sequencer.reading.files import OneFile

    Find = Callable[[Path], tuple[OneFile, Path]]


@dataclass(frozen=True, slots=True)
class Whole:
    """What a file and its used ones make: the model, what was found, and where each path stands.

    `find` leads from a path of the model to the file that it is in, and to the path there; `layer`
    is what it was made of, where files use others.
    """

    assembly: Assembly | None
    problems: tuple[Problem, ...]
    find: Find
    layer: Layer | None = None


def whole_of(file: OneFile, settings: Mapping[str, str]) -> Whole:
    """Return the model of a file for the settings of a call.

    Parameters
    ----------
    file : OneFile
        The file as read, with those that it uses.
    settings : mapping of str to str
        Choices by the names of options.
    """
    assembly = file.assembly

    def find(path: Path) -> tuple[OneFile, Path]:
        return file, path

    if assembly is None or not file.is_decidable:
        return Whole(None, file.problems(), find)
    values, unset = chosen(assembly.options, settings)
    if unset:  # what else is found may depend on it
        told = (located(problem, file.places.value) for problem in unset)
        return _done(assembly, file, told, find)
    if not assembly.options and not assembly.uses:
        return _done(complete(assembly), file, _by_rules(assembly, find), find)
    if assembly.uses and file.is_broken():
        return Whole(None, file.problems(), find)
    return _resolved(file, assembly, values)


def _resolved(file: OneFile, assembly: Assembly, values: Mapping[str, Choice]) -> Whole:
    layer = _layer_of(file, assembly, values)
    joined = layer.joined.settled
    left = leave_out(joined.assembly, joined.gone)

    def find(path: Path) -> tuple[OneFile, Path]:
        return layer.find(path_before(left.kept, path))

    found = [located(problem, layer.place) for problem in left.problems]
    found += [*layer.problems(), *_by_rules(left.assembly, find)]
    return replace(_done(finished(left.assembly), file, found, find), layer=layer)


@dataclass(frozen=True, slots=True)
class Layer:
    """One use of a file in the whole, with what it uses itself.

    Attributes
    ----------
    file : OneFile
        The file as read.
    settled : Settled
        The model of the file alone, its conditions decided.
    joined : Joined
        The same with those that it uses in it.
    used : mapping of str to Layer
        Those by their prefixes.
    """

    file: OneFile
    settled: Settled
    joined: Joined
    used: Mapping[str, Layer]

    def find(self, path: Path) -> tuple[OneFile, Path]:
        """Return the file that a path of this layer is in, and the path there."""
        moved = self.joined.moved.get(path[:2])
        if moved is not None:
            use, begins = moved
            there = (*begins, *path[2:])
            return (self.file, there) if use == OWN else self.used[use].find(there)
        if len(path) > 1 and isinstance(path[1], str):
            use, between, rest = path[1].partition(BETWEEN)
            if between and use in self.used:
                return self.used[use].find((path[0], rest, *path[2:]))
        return self.file, path

    def place(self, path: Path) -> Place | None:
        """Return where a path of this layer stands."""
        file, there = self.find(path)
        return file.places.value(there)

    def problems(self) -> Iterator[Problem]:
        """Yield what was found in joining, in this layer and in those that it uses."""
        for problem in self.joined.problems:
            yield located(problem, self.place)
        for used in self.used.values():
            yield from used.problems()


def _layer_of(file: OneFile, assembly: Assembly, values: Mapping[str, Choice]) -> Layer:
    """Settle a model and those that it uses, and join those that are there."""
    settled = settle(assembly, values)
    used: dict[str, Layer] = {}
    gone = dict(settled.gone)
    for use in assembly.uses:
        inner = file.used[use.id]
        if inner.assembly is None:
            continue
        passed = passed_values(use, inner.assembly.options, values)
        layer = _layer_of(inner, inner.assembly, passed)
        if ("use", use.id) in gone:
            gone.update(dict.fromkeys(_of_unit(use.id, layer), ""))
        else:
            used[use.id] = layer
    settled = replace(settled, gone=gone)
    if not used:
        return Layer(file, settled, Joined(settled), used)
    joined = join(settled, {use: layer.joined.settled for use, layer in used.items()})
    return Layer(file, settled, joined, used)


def _of_unit(use: str, layer: Layer) -> Iterator[Thing]:
    """Yield a used model as a part, and everything in it by its name in the using model."""
    yield "part", use
    yield "unit", use
    whole = layer.joined.settled
    for kind, name in (*things_in(whole.assembly), *whole.gone):
        yield kind, f"{use}{BETWEEN}{name}"


def _by_rules(assembly: Assembly, find: Find) -> Iterator[Problem]:
    def sound(path: Path) -> bool:
        file, there = find(path)
        return file.faults.sound(there)

    def place(path: Path) -> Place | None:
        file, there = find(path)
        return file.places.value(there)

    for problem in rule_problems(assembly, sound):
        yield located(problem, place)


def _done(assembly: Assembly, file: OneFile, found: Iterable[Problem], find: Find) -> Whole:
    """Return the whole with its problems in the order of the files; without errors the model."""
    files = {one.source.name: number for number, one in enumerate(file.all_files())}

    def turn(problem: Problem) -> tuple[int, int, int]:
        place = problem.place
        return (files.get(place.file, -1), place.line, place.column) if place else (-1, 0, 0)

    told = found if file.models == 1 else _once(found)
    problems = tuple(sorted((*file.problems(), *told), key=turn))
    return Whole(None if has_errors(problems) else with_symbols(assembly), problems, find)


def _once(found: Iterable[Problem]) -> Iterable[Problem]:
    """Return the problems without what is told again of a file that is used twice."""
    once: dict[tuple[object, ...], Problem] = {}
    for problem in found:
        places = tuple(fact.place for fact in problem.facts)
        is_placed = problem.place is not None
        once.setdefault((problem.code, problem.place, places) if is_placed else (problem,), problem)
    return once.values()


def with_symbols(assembly: Assembly) -> Assembly:
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
