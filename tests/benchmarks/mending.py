"""The least that must come out, and the cost of forgetting: shares proved, times and ratios."""

from __future__ import annotations

import random
from dataclasses import replace
from time import perf_counter, process_time
from typing import TYPE_CHECKING, NamedTuple

import click
import networkx as nx

from sequencer.planning.mending import cost_of_forgetting, revise
from sequencer.planning.mending.history import History
from sequencer.planning.mending.making import Maker
from sequencer.planning.mending.mender import Mender, usual_budget
from sequencer.planning.plan import plan
from tests.benchmarks.random_model import random_model

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.planning.mending import Mend
    from sequencer.problem import Fact

_STEPS, _WAYS, _MISTAKES = 300, 40, 200
_LARGE, _SOON = 10_000, 300


class Mistake(NamedTuple):
    """Steps done, by number in the written order, and what has to be done again."""

    done: tuple[int, ...]
    redo: tuple[int, ...] = ()


def model_with_ways(steps: int, ways: int, seed: int = 1) -> Assembly:
    """Return a random model of which so many steps have two alternative ways in."""
    model = random_model(steps, seed)
    with_ways = [step.id for step in model.steps if step.ways_in]
    kept = set(random.Random(seed).sample(with_ways, ways))  # noqa: S311  # the same each time
    bare = tuple(s if s.id in kept else replace(s, ways_in=()) for s in model.steps)
    return replace(model, steps=bare)


def mistakes(steps: int, count: int, seed: int = 1) -> Iterator[Mistake]:
    """Yield mistakes: one or two steps forgotten, or one to be redone, found after a while."""
    chance = random.Random(seed)  # noqa: S311  # the same each time
    for number in range(count):
        found_at = chance.randrange(2, steps + 1)
        at_fault = chance.sample(range(found_at), 2)
        if number % 4 == 3:  # every fourth one
            yield Mistake(tuple(range(found_at)), (at_fault[0],))
            continue
        missed = set(at_fault[: 1 + number % 2])
        yield Mistake(tuple(n for n in range(found_at) if n not in missed))


def proved_in_time() -> None:
    """Print how many of many mistakes are solved with proof, and how long they take."""
    model = model_with_ways(_STEPS, _WAYS)
    names = [step.id for step in model.steps]
    times: list[float] = []
    proved = 0
    for mistake in mistakes(_STEPS, _MISTAKES):
        done = [names[step] for step in mistake.done]
        start = perf_counter()
        revised = revise(model, done, [names[step] for step in mistake.redo])
        times.append(perf_counter() - start)
        proved += revised.ok and revised.proved and times[-1] <= 2  # seconds
    times.sort()
    at_95 = times[len(times) * 95 // 100 - 1]
    click.echo(f"Mending: {_STEPS} steps, {_WAYS} of them with two ways in, {_MISTAKES} mistakes\n")
    click.echo(
        f"proved within 2 s: {100 * proved / len(times):.1f} %; "
        f"median {times[len(times) // 2]:.3f}s, 95 % {at_95:.3f}s, most {times[-1]:.3f}s"
    )


def beside_sorting() -> None:
    """Print what one mistake in a large model costs beside networkx's topological sort."""
    model = random_model(_LARGE)
    mender = Mender(model)
    network = mender.rules_of(0).network
    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_nodes_from(range(_LARGE))
    graph.add_edges_from(
        (before, after)
        for relation in network.relations
        for before in relation.befores
        for after in relation.afters
    )
    sorting = min(_timed(lambda: list(nx.topological_sort(graph))) for _ in range(5))
    click.echo(f"\nOne step of {_LARGE} forgotten, beside networkx's topological sort of the same")
    click.echo(
        f"graph ({sorting:.4f}s); the rules are looked up before, as the graph is made before;"
    )
    click.echo("last, with the reason of each step that comes out put into words as well\n")
    heads = (f"{'forgotten':>9} {'found after':>11} {'come out':>8}", f"{'time':>8} {'ratio':>6}")
    click.echo(f"{heads[0]} {heads[1]} {heads[1]}")
    chance = random.Random(1)  # noqa: S311  # the same each time
    for soon in (True,) * 5 + (False,) * 3:
        step = chance.randrange(_LARGE - 1)
        found_at = min(_LARGE, step + _SOON) if soon else _LARGE
        done = tuple(n for n in range(chance.randrange(step + 1, found_at) + 1) if n != step)
        took, told, count = _one_mistake(mender, done)
        row = f"{step:>9} {done[-1]:>11} {count:>8} {took:>7.4f}s {took / sorting:>6.1f}"
        click.echo(f"{row} {told:>7.4f}s {told / sorting:>6.1f}")


def _one_mistake(mender: Mender, done: tuple[int, ...]) -> tuple[float, float, int]:
    """Return how long one mistake takes, without reasons and with, and how many come out."""

    def mended() -> Mend:
        history = History(_LARGE, done)
        (found,) = mender.search(history, usual_budget(_LARGE)).plans
        return Maker(mender, history).mend(found)

    least, told = (
        min(_timed(work) for _ in range(5)) for work in (mended, lambda: _told(mended()))
    )
    return least, told, len(mended().undo)


def _told(mend: Mend) -> list[Fact]:
    """Return why each step comes out."""
    return list(mend.why.values())


def _timed(work: Callable[[], object]) -> float:
    """Return the processor's time that the work took, in seconds."""
    start = process_time()
    work()
    return process_time() - start


def forgetting() -> None:
    """Print how long the cost of forgetting each step of a model takes."""
    model = model_with_ways(_STEPS, _WAYS)
    order = plan(model).order or ()
    start = perf_counter()
    costs = cost_of_forgetting(model, order, order)
    click.echo(f"\nForgetting, {len(costs)} steps in turn: {perf_counter() - start:.1f}s")


def run() -> None:
    """Print all of it."""
    proved_in_time()
    beside_sorting()
    forgetting()
