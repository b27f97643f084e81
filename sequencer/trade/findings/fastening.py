"""What is found about fastening, joint by joint, then what joints say of each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.trade.findings.adapters import about_adapters
from sequencer.trade.findings.bolts import about_bolts
from sequencer.trade.findings.lengths import about_lengths
from sequencer.trade.findings.meant_for import about_what_it_is_for
from sequencer.trade.findings.passes import about_passes
from sequencer.trade.findings.patterns import about_patterns
from sequencer.trade.findings.sizes import about_sizes
from sequencer.trade.findings.sources import about_sources
from sequencer.trade.findings.tightened import tightened
from sequencer.trade.findings.turns import about_turns
from sequencer.trade.findings.wrenches import about_wrenches
from sequencer.trade.worked import bench_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Problem

_FINDERS = (
    about_sources,
    about_what_it_is_for,
    about_bolts,
    about_wrenches,
    about_adapters,
    about_passes,
    about_turns,
    about_patterns,
    about_lengths,
)


def about_fastening(assembly: Assembly) -> Iterator[Problem]:
    """Yield what is found about the joints and torques of a model."""
    every = tuple(tightened(assembly, bench_of(assembly)))
    for one in every:
        for find in _FINDERS:
            yield from find(one)
    yield from about_sizes(every)
