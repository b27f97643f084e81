"""Models spoiled at random against the whole program: `python -m tests.fuzz --minutes 10`."""

from __future__ import annotations

import resource
import tempfile
import traceback
from pathlib import Path
from time import monotonic, process_time

import click

from tests.fuzz.mutating import mutated
from tests.fuzz.trying import try_model

_MOST_MEMORY = 2 * 2**30  # bytes that the whole run may take
_SHRINK_SECONDS = 60


@click.command()
@click.option("--minutes", default=10.0, show_default=True, help="How long to go on.")
@click.option("--first", default=0, show_default=True, help="The number of the first model.")
@click.option(
    "--seconds",
    default=20.0,
    show_default=True,
    help="What one model may take, of the processor's time.",
)
@click.option(
    "--into",
    default=Path("fuzz-found"),
    show_default=True,
    type=click.Path(file_okay=False, path_type=Path),
    help="Where to keep the models that something is wrong with, made as short as they can be.",
)
def main(minutes: float, first: int, seconds: float, into: Path) -> None:
    """Spoil models at random and look for tracebacks, hangs and blown-up memory."""
    resource.setrlimit(resource.RLIMIT_AS, (_MOST_MEMORY, _MOST_MEMORY))
    end = monotonic() + 60 * minutes
    known: set[str] = set()
    number, slowest, slowest_number = first, 0.0, first
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "model.yaml"
        while monotonic() < end:
            data = mutated(number)
            start = process_time()
            fault = fault_of(file, data, seconds)
            if process_time() - start > slowest:
                slowest, slowest_number = process_time() - start, number
            if fault and fault not in known:
                known.add(fault)
                _keep(into, number, fault, shrunk(file, data, fault, seconds))
            number += 1
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    click.echo(
        f"{number - first} models from number {first}, {len(known)} faults; the slowest took "
        f"{slowest:.1f} s (number {slowest_number}); at most {peak} MiB"
    )
    raise SystemExit(bool(known))


def fault_of(file: Path, data: bytes, seconds: float) -> str:
    """Return where the program failed on a model, and how; empty if it did not."""
    file.write_bytes(data)
    try:
        try_model(file, seconds)
    except Exception as fault:  # noqa: BLE001  # whatever it is, it is what this looks for
        frames = traceback.extract_tb(fault.__traceback__)
        ours = [frame for frame in frames if "sequencer" in frame.filename] or frames[-1:]
        where = f"{Path(ours[-1].filename).name}:{ours[-1].name}"
        what = "" if isinstance(fault, RecursionError) else str(fault)[:60]
        kind = type(fault).__name__
        return kind if kind == "TooSlowError" else f"{kind} in {where}: {what}"
    return ""


def shrunk(file: Path, data: bytes, fault: str, seconds: float) -> bytes:
    """Return a model as short as can be found that fails in the same way."""
    end = monotonic() + _SHRINK_SECONDS
    size = max(len(data) // 2, 1)
    while size and monotonic() < end:
        at = 0
        while at < len(data) and monotonic() < end:
            shorter = data[:at] + data[at + size :]
            if fault_of(file, shorter, seconds) == fault:
                data = shorter
            else:
                at += size
        size //= 2
    return data


def _keep(into: Path, number: int, fault: str, data: bytes) -> None:
    into.mkdir(parents=True, exist_ok=True)
    kept = into / f"{number}.yaml"
    kept.write_bytes(data)
    click.echo(f"{number}: {fault}\n  kept as {kept}")


if __name__ == "__main__":
    main()
