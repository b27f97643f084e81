"""Speed and memory, as ratios side by side in the same run: `python -m tests.benchmarks`."""

from __future__ import annotations

import os
import subprocess
import sys
import tracemalloc
from pathlib import Path
from time import perf_counter
from typing import TYPE_CHECKING, TypeVar

import click
import networkx as nx

from sequencer.planning.chances import told_by_order
from sequencer.planning.compiling import compile_network
from sequencer.planning.network import Network
from sequencer.planning.peel import peel
from sequencer.planning.plan import check
from tests.benchmarks.handling import run as run_handling
from tests.benchmarks.mending import run as run_mending
from tests.benchmarks.printing import run_printing
from tests.benchmarks.random_model import random_model
from tests.benchmarks.reading import run as run_reading

if TYPE_CHECKING:
    from collections.abc import Callable

_Result = TypeVar("_Result")
_ROOT = Path(__file__).resolve().parent.parent.parent


def best_of(times: int, work: Callable[[], _Result]) -> tuple[float, _Result]:
    """Return the least time in seconds that the work took, and its result."""
    least, result = float("inf"), work()
    for _ in range(times):
        start = perf_counter()
        result = work()
        least = min(least, perf_counter() - start)
    return least, result


def _peak(work: Callable[[], object]) -> float:
    """Return the peak of memory that the work took, in MiB."""
    tracemalloc.start()
    work()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 2**20


def _graph(network: Network) -> nx.DiGraph[str]:
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(network.ids)
    graph.add_edges_from(
        (network.ids[before], network.ids[after])
        for relation in network.relations
        for before in relation.befores
        for after in relation.afters
    )
    return graph


_COLUMNS = (
    ("steps", 7),
    ("sort", 9),
    ("decide", 9),
    ("ratio", 6),
    ("and last chances", 17),
    ("ratio", 6),
    ("from the model", 15),
    ("all findings", 13),
    ("build and sort", 15),
    ("ratio", 6),
    ("ratio", 6),
    ("memory", 9),
    ("graph", 9),
)


def feasibility(sizes: tuple[int, ...]) -> None:
    """Print what deciding an order costs beside networkx's topological sort of the same graph."""
    click.echo("Feasibility: random models with groups and ways in, beside networkx's")
    click.echo("topological sort of the graph of their must-precede relations alone\n")
    click.echo(" ".join(f"{name:>{width}}" for name, width in _COLUMNS))
    for size in sizes:
        row = _feasibility_row(size, times=7 if size < sizes[-1] else 2)
        click.echo(
            " ".join(f"{text:>{width}}" for text, (_, width) in zip(row, _COLUMNS, strict=True))
        )


def _feasibility_row(size: int, times: int) -> tuple[str, ...]:
    model = random_model(size)
    compiling, network = best_of(times, lambda: compile_network(model))
    building, graph = best_of(times, lambda: _graph(network))
    sorting, _ = best_of(times, lambda: list(nx.topological_sort(graph)))
    peeling, peeled = best_of(times, lambda: peel(network))
    telling, _ = best_of(times, lambda: told_by_order(network, peeled.order))
    finding, _ = best_of(times, lambda: check(model))
    return (
        str(size),
        f"{sorting:.4f}s",
        f"{peeling:.4f}s",
        f"{peeling / sorting:.1f}",
        f"{peeling + telling:.4f}s",
        f"{(peeling + telling) / sorting:.1f}",
        f"{compiling + peeling:.4f}s",
        f"{finding:.4f}s",
        f"{building + sorting:.4f}s",
        f"{(compiling + peeling) / (building + sorting):.1f}",
        f"{finding / (building + sorting):.1f}",
        f"{_peak(lambda: peel(network)):.0f} MiB",
        f"{_peak(lambda: _graph(network)):.0f} MiB",
    )


def start_up() -> None:
    """Print how long `check` of the demo takes beside the bare import of three libraries."""
    model = _ROOT / "assemblies" / "hoist-head.yaml"
    check = [sys.executable, "-m", "sequencer", "check", str(model)]
    bare = [sys.executable, "-c", "import networkx, yaml, pint"]
    ours, _ = best_of(5, lambda: _run(check))
    theirs, _ = best_of(5, lambda: _run(bare))
    click.echo("\nStart-up: `check` of the demo beside `python -c 'import networkx, yaml, pint'`\n")
    click.echo(f"check {ours:.2f}s, bare imports {theirs:.2f}s, ratio {ours / theirs:.2f}")


def _run(command: list[str]) -> None:
    """Run a command on byte code kept from the run before, as an installed program has it."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    subprocess.run(  # noqa: S603  # our own
        command, check=True, capture_output=True, cwd=_ROOT, env=kept
    )


@click.command()
@click.option("--largest", default=100_000, show_default=True, help="Steps of the largest model.")
@click.option(
    "--handling",
    "graphs",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="Measure least handling on the graphs of this folder instead.",
)
@click.option(
    "--solver-seconds",
    default=60.0,
    show_default=True,
    help="What OR-Tools CP-SAT is given for each graph; 0 leaves it out.",
)
@click.option("--reading", is_flag=True, help="Measure the reading of large models instead.")
@click.option("--mending", is_flag=True, help="Measure mending and forgetting instead.")
def main(
    largest: int, graphs: Path | None, solver_seconds: float, *, reading: bool, mending: bool
) -> None:
    """Measure speed and memory, and print them beside what they are compared with."""
    if mending:
        run_mending()
        return
    if graphs is not None:
        run_handling(graphs, solver_seconds)
        return
    if reading:
        run_reading(best_of)
        return
    feasibility(tuple(size for size in (1_000, 10_000, 100_000) if size <= largest))
    start_up()
    run_printing()


if __name__ == "__main__":
    main()
