"""Every finding of the trade's numbers, in the order in which they are told."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Problem


def _about_fastening(assembly: Assembly) -> Iterator[Problem]:
    """Yield what is found about fastening; a model without any loads no tables."""
    if assembly.joints or any(step.torque is not None for step in assembly.steps):
        from sequencer.trade.findings.fastening import about_fastening

        yield from about_fastening(assembly)


def _about_measuring(assembly: Assembly) -> Iterator[Problem]:
    """Yield what is found about gauges; a model without checks loads nothing."""
    if assembly.checks:
        from sequencer.trade.findings.gauges import about_gauges

        yield from about_gauges(assembly)


_FINDERS: tuple[Callable[[Assembly], Iterator[Problem]], ...] = (_about_fastening, _about_measuring)


def findings(assembly: Assembly) -> Iterator[Problem]:
    """Yield what the numbers of a model say: cross-checks that never change the maker's figure."""
    for find in _FINDERS:
        yield from find(assembly)
