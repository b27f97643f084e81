"""What reading a model costs beside PyYAML's own `compose` of the same text, by its C parser."""

from __future__ import annotations

import resource
from functools import partial
from typing import TYPE_CHECKING

import click
import yaml

from sequencer.reading import read_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

_STEPS = 10_000
_FAULTS = (
    "    tume: 5 min",  # a field that there is not
    "    people: two",  # no whole number
    "    onto: p-none",  # a name that nothing has
    "    torque: 5 nm",  # no torque
)


def large_model(faults: int = 0) -> str:
    """Return the text of a model of 10,000 parts and steps with so many faults."""
    lines = ["assembly: large", "parts:"]
    lines += [
        f"  p{n}: {{name: Part number {n}, mass: {n % 9 + 1} kg, number: 00{n}}}"
        for n in range(_STEPS)
    ]
    lines.append("steps:")
    for number in range(_STEPS):
        lines += _step(number)
        if number < faults:
            lines.append(_FAULTS[number % len(_FAULTS)])
    return "\n".join([*lines, ""])


def _step(number: int) -> Iterator[str]:
    yield f"  s{number}:"
    yield f"    section: section {number // 100}"
    yield f"    do: Fit part {number} and press it home."
    yield f"    fits: p{number}"
    yield f"    time: {number % 9 + 1} min"
    if number > 7:
        yield f"    after: [s{number - 1}, {{step: s{number - 7}, why: it must cool}}]"
    if number % 3 == 0:
        yield f"    ways_in: {{top: {{opening: 40 mm, shut_by: p{min(number + 3, _STEPS - 1)}}}}}"


def run(best_of: Callable[[int, Callable[[], object]], tuple[float, object]]) -> None:
    """Print the ratios; the aims are 1.5 for a sound model, and 2 for one full of faults."""
    click.echo(f"Reading: {_STEPS:,} parts and {_STEPS:,} steps, beside PyYAML's C `compose`\n")
    click.echo(f"{'faults':>7} {'lines':>7} {'compose':>9} {'read':>9} {'ratio':>6} {'aim':>4}")
    for faults, aim in ((0, 1.5), (_STEPS, 2)):
        text = large_model(faults)
        reading = read_text(text, "large.yaml")
        if len(reading.problems) != faults:
            raise click.ClickException(f"{len(reading.problems)} faults told instead of {faults}")
        theirs, _ = best_of(3, partial(yaml.compose, text, Loader=yaml.CSafeLoader))
        ours, _ = best_of(3, partial(read_text, text, "large.yaml"))
        click.echo(
            f"{faults:>7,} {text.count(chr(10)):>7,} {theirs:>8.2f}s {ours:>8.2f}s "
            f"{ours / theirs:>6.2f} {aim:>4g}"
        )
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    click.echo(f"\nat most {peak} MiB in all")
