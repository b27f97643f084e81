"""How long packets take to print beside their words in plain paragraphs, and in how much memory.

A paragraph is what stands in a block of the page: a line of text, a cell of a table, a caution.
They too make a tagged PDF.
Each is measured in a process of its own, so that neither feels what the other has left behind.
"""

from __future__ import annotations

import gc
import multiprocessing
import resource
import sys
from html import escape
from pathlib import Path
from time import perf_counter
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from multiprocessing.queues import SimpleQueue
    from xml.etree.ElementTree import Element

_MODELS = ("hoist-head", "gear-reducer", "air-compressor")
_FOLDER = Path(__file__).resolve().parent.parent.parent / "assemblies"
_UNSAID = frozenset(("style", "script", "title"))
_WITHIN = frozenset(("a", "b", "i", "img", "span"))  # go on with the paragraph they stand in
_BREAK = "\f"
_KIB = 1024 * 1024 if sys.platform == "darwin" else 1024


def run_printing() -> None:
    """Print what each packet takes, every sheet of it, beside its words; memory is of one print."""
    click.echo("\nPrinting: all sheets of a packet, beside its words in plain paragraphs\n")
    click.echo(f"{'model':>15} {'steps':>6} {'pages':>6} {'packet':>8} {'plain':>8}  ratio    MiB")
    for name in _MODELS:
        steps, pages, ours, memory = _alone(_packet, name)
        _, _, plain, _ = _alone(_plain, name)
        click.echo(
            f"{name:>15} {steps:>6} {pages:>6} {ours:>7.2f}s {plain:>7.2f}s {ours / plain:>6.2f}"
            f" {memory:>6.0f}"
        )


_Measured = tuple[int, int, float, float]


def _alone(measure: Callable[[str, SimpleQueue[_Measured]], None], name: str) -> _Measured:
    """Return what a process of its own measures: steps, pages, seconds, and MiB at the most."""
    context = multiprocessing.get_context("spawn")
    answer: SimpleQueue[_Measured] = context.SimpleQueue()
    process = context.Process(target=measure, args=(name, answer))
    process.start()
    process.join()
    if process.exitcode:
        raise click.ClickException(f"{name} cannot be printed")
    return answer.get()


def _composed(name: str) -> tuple[str, int]:
    from sequencer.planning.mending import with_forgetting
    from sequencer.planning.plan import plan
    from sequencer.reading import read_file
    from sequencer.sheets.packet import SHEETS, packet_html

    assembly = read_file(_FOLDER / f"{name}.yaml").assembly
    if assembly is None:
        raise click.ClickException(f"{name} cannot be read")
    planned = with_forgetting(assembly, plan(assembly))
    html = packet_html(assembly, planned, fingerprint="benchmark", sheets=SHEETS)
    return html, len(assembly.steps)


def _packet(name: str, answer: SimpleQueue[_Measured]) -> None:
    from io import BytesIO

    from pypdf import PdfReader

    from sequencer.sheets.pdf import write_pdf

    html, steps = _composed(name)
    took, pdf = _timed(lambda: write_pdf(html))
    memory = _most_mib()
    again = min(_timed(lambda: write_pdf(html))[0] for _ in range(2))
    answer.put((steps, len(PdfReader(BytesIO(pdf)).pages), min(took, again), memory))


def _plain(name: str, answer: SimpleQueue[_Measured]) -> None:
    import weasyprint

    html, steps = _composed(name)
    said = "".join(_said(weasyprint.HTML(string=html).etree_element))
    paragraphs = (" ".join(words.split()) for words in said.split(_BREAK))
    plain = "".join(f"<p>{escape(words)}</p>" for words in paragraphs if words)
    both = [
        _timed(lambda: weasyprint.HTML(string=plain).write_pdf(pdf_tags=True)) for _ in range(3)
    ]
    answer.put((steps, 0, min(took for took, _ in both), _most_mib()))


def _said(element: Element) -> Iterator[str]:
    """Yield what an element says, with breaks around what stands in a block of its own."""
    name = element.tag.rpartition("}")[2]  # a drawing's elements stand in a namespace
    ends = "" if name in _WITHIN else _BREAK
    yield ends
    if name not in _UNSAID:
        yield element.text or ""
        for part in element:
            yield from _said(part)
    yield ends
    yield element.tail or ""


def _timed(work: Callable[[], bytes]) -> tuple[float, bytes]:
    gc.collect()  # what an earlier round has left
    start = perf_counter()
    made = work()
    return perf_counter() - start, made


def _most_mib() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / _KIB
