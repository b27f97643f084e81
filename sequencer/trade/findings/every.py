"""Every finding of the trade's numbers, in the order in which they are told."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Problem

_FINDERS: tuple[Callable[[Assembly], Iterator[Problem]], ...] = ()


def findings(assembly: Assembly) -> Iterator[Problem]:
    """Yield what the numbers of a model say: cross-checks that never change the maker's figure."""
    for find in _FINDERS:
        yield from find(assembly)
