"""What is found about fastening, joint by joint, then what joints say of each other.

What few joints have is looked at by modules that are loaded only for them: `check` is quick.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.trade.findings.bolts import about_bolts
from sequencer.trade.findings.sources import about_sources
from sequencer.trade.findings.tightened import tightened
from sequencer.trade.findings.wrenches import about_wrenches
from sequencer.trade.worked import bench_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.fastening import Joint
    from sequencer.problem import Problem
    from sequencer.trade.findings.tightened import Tightened


def about_fastening(assembly: Assembly) -> Iterator[Problem]:
    """Yield what is found about the joints and torques of a model."""
    every = tuple(tightened(assembly, bench_of(assembly)))
    for one in every:
        yield from about_sources(one)
        yield from _meant(one)
        yield from about_bolts(one)
        yield from about_wrenches(one)
        if one.worked is not None:
            yield from _passes(one, one.worked.joint)
            yield from _places(one, one.worked.joint)
    if len(assembly.joints) > 1:
        from sequencer.trade.findings.sizes import about_sizes

        yield from about_sizes(every)


def _meant(one: Tightened) -> Iterator[Problem]:
    taken = one.torque.choice.taken if one.torque is not None else None
    says = taken is not None and (taken.surface or taken.grade)
    if says or any(step.apply for step in one.steps):
        from sequencer.trade.findings.meant_for import about_what_it_is_for

        yield from about_what_it_is_for(one)


def _passes(one: Tightened, joint: Joint) -> Iterator[Problem]:
    if joint.adapter is not None:
        from sequencer.trade.findings.adapters import about_adapters

        yield from about_adapters(one)
    if joint.passes:
        from sequencer.trade.findings.passes import about_passes

        yield from about_passes(one)
    if joint.turn_limit is not None:
        from sequencer.trade.findings.turns import about_turns

        yield from about_turns(one)


def _places(one: Tightened, joint: Joint) -> Iterator[Problem]:
    if joint.pattern or joint.places or joint.at:
        from sequencer.trade.findings.patterns import about_patterns

        yield from about_patterns(one)
    if one.worked is not None and one.worked.length is not None:
        from sequencer.trade.findings.lengths import about_lengths

        yield from about_lengths(one)
