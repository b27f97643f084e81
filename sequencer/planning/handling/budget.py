"""How much may be looked at: counted in states, so that results are the same on every machine."""

from __future__ import annotations

_STEPS = 300  # so many steps more make a state count once more


class Budget:
    """A number of states that may be looked at, and how many have been.

    A state counts once where it is made, and once in every table in which it is looked up or
    held against others; one of many steps counts for more.
    """

    def __init__(self, states: int, size: int) -> None:
        self.states = states
        self.spent = 0
        self._each = 1 + size // _STEPS

    @property
    def left(self) -> int:
        """How many may still be looked at."""
        return max(self.states - self.spent, 0)

    def share(self, part: int) -> int:
        """Return one part in so many of the whole, or what is left of it; at least 1."""
        return max(min(self.states // part, self.left) // self._each, 1)

    def spend(self, states: int) -> None:
        """Note states that have been looked at."""
        self.spent += states * self._each
