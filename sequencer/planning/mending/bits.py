"""Sets as whole numbers, for sets of many thousands."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

_DIGITS = bytes.maketrans(b"01", bytes((0, 1)))
_LETTERS = bytes.maketrans(bytes((0, 1)), b"01")


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


def flags_of(mask: int) -> bytes:
    """Return the bits of a set as bytes of 0 and 1, lowest first.

    Examples
    --------
    >>> list(flags_of(0b110))
    [0, 1, 1]
    """
    return bin(mask)[:1:-1].encode().translate(_DIGITS)


def set_of(flags: bytes | bytearray) -> int:
    """Return the set of which these are the bits, as `flags_of` gives them.

    Examples
    --------
    >>> set_of(bytes((0, 1, 1)))
    6
    """
    return int(flags[::-1].translate(_LETTERS) or b"0", 2)
