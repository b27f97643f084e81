"""Order the assembly of a mechanical unit, find the traps, and print the work package."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sequencer.entries import check as check
    from sequencer.entries import load as load
    from sequencer.entries import packet as packet
    from sequencer.entries import plan as plan
    from sequencer.entries import revise as revise
    from sequencer.entries import strip as strip

__all__ = ["__version__", "check", "load", "packet", "plan", "revise", "strip"]

__version__ = "0.1.0"


def __getattr__(name: str) -> object:
    """Load what other programs call when it is first used, so that importing takes no time."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from sequencer import entries

    globals()[name] = found = getattr(entries, name)
    return found
