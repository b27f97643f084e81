"""Least handling on assembly graphs, beside a general constraint solver in the same run.

A graph is a JSON file: `steps`, `edges` (pairs, counted from 1), and for each step `position`,
`tools` (numbers) and `compound` (or null). The solver is OR-Tools CP-SAT, an optional dependency.
"""

from __future__ import annotations

import json
from statistics import median
from time import perf_counter
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from sequencer.model.assembly import Assembly
from sequencer.model.common import Link
from sequencer.model.steps import Step
from sequencer.planning.compiling import compile_network
from sequencer.planning.handling import Attributes, least_handling, seconds_of
from sequencer.planning.masks import Masks

if TYPE_CHECKING:
    from pathlib import Path


class _Graph(NamedTuple):
    name: str
    edges: tuple[tuple[int, int], ...]
    steps: tuple[Attributes, ...]


class _Solved(NamedTuple):
    seconds: float | None
    bound: float


def _read(file: Path) -> _Graph:
    data = json.loads(file.read_text(encoding="utf-8"))
    steps = tuple(
        Attributes(
            position=position,
            tools=tuple((str(tool),) for tool in tools),
            compounds=(compound,) if compound else (),
        )
        for position, tools, compound in zip(
            data["position"], data["tools"], data["compound"], strict=True
        )
    )
    return _Graph(data["graph"], tuple((a - 1, b - 1) for a, b in data["edges"]), steps)


def _masks(graph: _Graph) -> Masks:
    after: list[list[Link]] = [[] for _ in graph.steps]
    for before, step in graph.edges:
        after[step].append(Link(f"s{before}"))
    steps = tuple(
        Step(id=f"s{number}", do=f"Step {number}.", after=tuple(links))
        for number, links in enumerate(after)
    )
    return Masks(compile_network(Assembly(assembly=graph.name.lower(), steps=steps)))


def by_constraint_solver(graph: _Graph, seconds: float) -> _Solved:
    """Solve by a circuit through all steps and a depot, with two workers, within the time given.

    Every step of these graphs states its position, so that a cost belongs to a pair of steps.
    """
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    size = len(graph.steps)
    turn = [model.new_int_var(0, size - 1, f"turn {step}") for step in range(size)]
    for before, after in graph.edges:
        model.add(turn[before] < turn[after])
    arcs: list[Any] = []
    costs: list[Any] = []
    for step in range(size):
        first, last = model.new_bool_var(""), model.new_bool_var("")
        arcs += [(size, step, first), (step, size, last)]
        costs.append(int(seconds_of([0], [graph.steps[step]])) * first)
        model.add(turn[step] == 0).only_enforce_if(first)
        for other in range(size):
            if other != step:
                arcs.append((step, other, _arc(model, turn, graph, costs, (step, other))))
    model.add_circuit(arcs)
    model.minimize(sum(costs))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    status = solver.solve(model)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return _Solved(solver.objective_value if found else None, solver.best_objective_bound)


def _arc(
    model: Any, turn: list[Any], graph: _Graph, costs: list[Any], pair: tuple[int, int]
) -> Any:
    """Return the choice of one step right after another, its cost noted."""
    step, other = pair
    chosen = model.new_bool_var("")
    model.add(turn[other] == turn[step] + 1).only_enforce_if(chosen)
    both = [graph.steps[step], graph.steps[other]]
    cost = seconds_of([0, 1], both) - seconds_of([0], both[:1])
    if cost:
        costs.append(int(cost) * chosen)
    return chosen


def run(folder: Path, seconds: float) -> None:
    """Print, for each graph of a folder, our seconds and bound beside the solver's.

    Parameters
    ----------
    folder : Path
        Holds the graphs, as JSON files.
    seconds : float
        What the solver is given for each graph; nought leaves it out.
    """
    click.echo("Least handling, in seconds of handling; ours by a budget of states\n")
    head = ("graph", "steps", "ours", "bound", "gap", "time", "solver", "its bound", "ours/solver")
    click.echo(" ".join(f"{name:>11}" for name in head))
    gaps: list[float] = []
    for file in sorted(folder.glob("*.json")):
        graph = _read(file)
        masks = _masks(graph)
        start = perf_counter()
        ours = least_handling(masks, graph.steps)
        took = perf_counter() - start
        theirs = by_constraint_solver(graph, seconds) if seconds else _Solved(None, 0)
        gap = (ours.seconds - ours.bound) / ours.seconds if ours.seconds else 0.0
        if gap:
            gaps.append(gap)
        ratio = f"{ours.seconds / theirs.seconds:.3f}" if theirs.seconds else "-"
        solver = f"{theirs.seconds:.0f}" if theirs.seconds is not None else "none"
        figures = f"{len(graph.steps)} {ours.seconds:.0f} {ours.bound:.0f} {gap:.1%} {took:.1f}s"
        row = (graph.name, *figures.split(), solver, f"{theirs.bound:.0f}", ratio)
        click.echo(" ".join(f"{text:>11}" for text in row))
    if gaps:
        click.echo(f"\nmedian gap where the optimum is not proved: {median(gaps):.1%}")
