"""Sets as whole numbers, for sets of many thousands."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator


def bits_in(mask: int) -> Iterator[int]:
    """Yield the numbers of the bits that are set, lowest first, in time linear in the highest.

    Examples
    --------
    >>> list(bits_in(0b10110))
    [1, 2, 4]
    """
    text = bin(mask)[:1:-1]
    at = text.find("1")
    while at >= 0:
        yield at
        at = text.find("1", at + 1)
