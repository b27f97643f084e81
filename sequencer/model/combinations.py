"""Combinations of options to try: every one, or so many that each pair of choices is met."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations, islice, product
from math import prod
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sequencer.model.options import Option

    Pair = frozenset[tuple[str, str]]

MOST = 256
"""With more combinations than this, only a covering set is tried."""


@dataclass(frozen=True, slots=True)
class Combinations:
    """What is tried: for each combination the choice of every option.

    `every` is how many combinations there are; where `tried` holds fewer, every pair of choices
    of two options is met in one of them.
    """

    tried: tuple[Mapping[str, str], ...]
    every: int

    @property
    def are_all(self) -> bool:
        """Whether every combination is tried."""
        return len(self.tried) == self.every


def combinations_of(options: Sequence[Option], most: int = MOST) -> Combinations:
    """Return the combinations of choices to try.

    Parameters
    ----------
    options : sequence of Option
        The options; an option with one choice only stays as it is.
    most : int
        With more combinations than this, a covering set is returned.

    Returns
    -------
    Combinations
        Of every combination those of the first choices come first. The result depends on nothing
        but the arguments.

    Examples
    --------
    >>> from sequencer.model.options import Option
    >>> options = [Option(id="fluid", choices=("cold", "hot")), Option(id="guard", choices=("a",))]
    >>> [dict(one) for one in combinations_of(options).tried]
    [{'fluid': 'cold', 'guard': 'a'}, {'fluid': 'hot', 'guard': 'a'}]
    """
    choices = {option.id: option.choices for option in options}
    every = prod(len(each) for each in choices.values())
    if every <= most:
        found = product(*choices.values())
        return Combinations(tuple(dict(zip(choices, one, strict=True)) for one in found), every)
    return Combinations(tuple(covering(choices)), every)


def covering(choices: Mapping[str, Sequence[str]]) -> Iterator[dict[str, str]]:
    """Yield combinations such that each pair of choices of two options is in one of them.

    Notes
    -----
    Greedy, one combination after the other, each built round the first pair that is still open:
    every further option takes the choice that settles the most open pairs with what is taken
    already, the first of equal ones. This is the idea of Cohen and others [1]_, without their
    random candidates, so that the result is always the same; it is seldom the smallest set.

    References
    ----------
    .. [1] D. M. Cohen, S. R. Dalal, M. L. Fredman, G. C. Patton, "The AETG system: an approach to
       testing based on combinatorial design", IEEE Transactions on Software Engineering 23(7),
       1997, pp. 437-444. doi:10.1109/32.605761
    """
    open_ = dict.fromkeys(
        frozenset(((one, this), (other, that)))
        for one, other in combinations(choices, 2)
        for this, that in product(choices[one], choices[other])
    )
    while open_:
        taken = dict(next(iter(open_)))
        for option in choices:
            if option not in taken:
                taken[option] = max(
                    choices[option], key=lambda choice: _settles(option, choice, taken, open_)
                )
        for pair in combinations(taken.items(), 2):
            open_.pop(frozenset(pair), None)
        yield {option: taken[option] for option in choices}


def _settles(option: str, choice: str, taken: Mapping[str, str], open_: Mapping[Pair, None]) -> int:
    """Count the open pairs that a choice settles with those taken already."""
    return sum(frozenset(((option, choice), other)) in open_ for other in taken.items())


def told(combination: Mapping[str, str]) -> str:
    """Return a combination as a person would set it.

    Examples
    --------
    >>> told({"fluid": "hot", "guard": "none"})
    'fluid=hot guard=none'
    """
    return " ".join(f"{option}={choice}" for option, choice in combination.items())


def where(found: Sequence[int], tried: Sequence[Mapping[str, str]], most: int = 3) -> str:
    """Say in which of the combinations tried something is found.

    Parameters
    ----------
    found : sequence of int
        The numbers of those in which it is.
    tried : sequence of mapping of str to str
        All that were tried.
    most : int
        How many are named where they have nothing in common.

    Returns
    -------
    str
        Empty if it is in all of them.

    Examples
    --------
    >>> tried = [{"a": x, "b": y} for x in "12" for y in "345"]
    >>> where([0, 1, 2], tried), where([1], tried), where(range(6), tried)
    ('with a=1', 'with a=1 b=4', '')
    >>> where([0, 1], tried), where([0, 4], tried)
    ('with a=1 and b=3 or 4', 'in 2 of 6 combinations: a=1 b=3; a=2 b=4')
    """
    if len(found) == len(tried):
        return ""
    seen = {option: tuple(dict.fromkeys(tried[at][option] for at in found)) for option in tried[0]}
    every = {option: {one[option] for one in tried} for option in tried[0]}
    telling = {
        option: choices for option, choices in seen.items() if len(choices) < len(every[option])
    }
    alike = [at for at, one in enumerate(tried) if all(one[o] in cs for o, cs in telling.items())]
    if len(alike) == len(found):
        between = " " if all(len(choices) == 1 for choices in telling.values()) else " and "
        return "with " + between.join(f"{o}={' or '.join(cs)}" for o, cs in telling.items())
    named = "; ".join(told(tried[at]) for at in islice(found, most))
    more = "; …" if len(found) > most else ""
    return f"in {len(found)} of {len(tried)} combinations: {named}{more}"
