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
    """Yield what is found about gauges, formulas and packs, where there are any."""
    if assembly.checks:
        from sequencer.trade.findings.gauges import about_gauges

        yield from about_gauges(assembly)
    if any(c.readings or c.compute or c.results or c.go or c.no_go for c in assembly.checks):
        from sequencer.trade.findings.formulas import about_formulas

        yield from about_formulas(assembly)
    if any(check.readings for check in assembly.checks):
        from sequencer.trade.findings.coarse import about_coarse_results

        yield from about_coarse_results(assembly)
    if any(reading.is_known for check in assembly.checks for reading in check.readings):
        from sequencer.trade.findings.stacks import about_stacks

        yield from about_stacks(assembly)
    if any(part.pack is not None for part in assembly.parts):
        from sequencer.trade.findings.packs import about_packs

        yield from about_packs(assembly)


def _about_heat(assembly: Assembly) -> Iterator[Problem]:
    if any(step.heat is not None for step in assembly.steps):
        from sequencer.trade.findings.heated import about_heated_parts

        yield from about_heated_parts(assembly)


def _about_kit(assembly: Assembly) -> Iterator[Problem]:
    said = ((p.matched, p.bag, p.bought_as, p.on_hand is not None) for p in assembly.parts)
    if any(any(each) for each in said):
        from sequencer.trade.findings.kit import about_kit

        yield from about_kit(assembly)


_FINDERS: tuple[Callable[[Assembly], Iterator[Problem]], ...] = (
    _about_fastening,
    _about_measuring,
    _about_heat,
    _about_kit,
)


def findings(assembly: Assembly) -> Iterator[Problem]:
    """Yield what the numbers of a model say: cross-checks that never change the maker's figure."""
    for find in _FINDERS:
        yield from find(assembly)
