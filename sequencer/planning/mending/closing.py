"""Sets closed under what leads to what, each worked out once however many are asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator


class Closing:
    """For each thing, the union of the sets of all things that it leads to.

    Parameters
    ----------
    following : callable
        The things that a thing leads to, some of them perhaps more than once.
    own : callable
        The set of a thing itself, as a whole number.
    passed_over : iterable of int
        Things that count for nothing: their sets are empty, and nothing is led to through them.

    Notes
    -----
    Things that lead to each other share one set: they are found as the strongly connected
    components of what is reached, by Tarjan's method [1]_, and the unions are made on the way
    back. Linear in what is reached, but for the unions.

    References
    ----------
    .. [1] R. Tarjan, "Depth-first search and linear graph algorithms", SIAM Journal on Computing
       1(2), 1972, pp. 146-160 (from memory).
    """

    def __init__(
        self,
        following: Callable[[int], Iterable[int]],
        own: Callable[[int], int],
        passed_over: Iterable[int] = (),
    ) -> None:
        self._following = following
        self._own = own
        self._closed: dict[int, int] = dict.fromkeys(passed_over, 0)
        self._lowest: dict[int, int] = {}
        self._open: list[int] = []  # met, and not yet in a finished component

    def of(self, thing: int) -> int:
        """Return the set of all that a thing leads to, itself included."""
        if thing not in self._closed:
            self._walk(thing)
        return self._closed[thing]

    def _walk(self, first: int) -> None:
        closed, lowest = self._closed, self._lowest
        walk: list[tuple[int, int, Iterator[int]]] = [self._entered(first)]
        sets = [self._own(first)]
        while walk:
            thing, number, following = walk[-1]
            for other in following:
                if other in closed:
                    sets[-1] |= closed[other]
                elif other in lowest:
                    lowest[thing] = min(lowest[thing], lowest[other])
                else:
                    walk.append(self._entered(other))
                    sets.append(self._own(other))
                    break
            else:
                walk.pop()
                whole = sets.pop()
                if lowest[thing] == number:
                    self._close(thing, whole)
                if walk:
                    sets[-1] |= whole
                    above = walk[-1][0]
                    if thing in lowest and lowest[thing] < lowest[above]:
                        lowest[above] = lowest[thing]

    def _entered(self, thing: int) -> tuple[int, int, Iterator[int]]:
        number = self._lowest[thing] = len(self._lowest)
        self._open.append(thing)
        return thing, number, iter(self._following(thing))

    def _close(self, thing: int, whole: int) -> None:
        """Give all things met since one was entered its set: they lead to each other."""
        while True:
            member = self._open.pop()
            self._closed[member] = whole
            del self._lowest[member]
            if member == thing:
                return
