"""What follows by the model where a check passes or fails, in a word and as an instruction."""

from __future__ import annotations

from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal, TypeAlias

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from sequencer.model.checking import Check, Otherwise

Word: TypeAlias = Literal[
    "accept",
    "recorded",
    "rework",
    "renew",
    "again",
    "sign",
    "stop",
    "out of limit",
    "measure again",
    "cannot be told",
]

NAMES: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Follows:
    """What follows: a word for it, the instruction, and what that speaks of, by ids."""

    word: Word
    words: str = ""
    renew: tuple[str, ...] = ()
    again_from: tuple[str, ...] = ()
    role: str = field(default="", kw_only=True)

    @property
    def goes_on(self) -> bool:
        """Whether work goes on."""
        return self.word in ("accept", "recorded")


def what_follows(
    check: Check, turn: int = 1, *, in_rework: bool = False, names: Mapping[str, str] = NAMES
) -> Follows:
    """Return what follows where a check fails.

    Parameters
    ----------
    check : Check
        The check, with its `rework` and `else`.
    turn : int
        How many times it has been taken by now: the first is 1.
    in_rework : bool
        Whether the figure is where rework is still allowed. Rework without a limit of its own is
        tried once, before all else; where the model names a step to start again from, it is the
        way there.
    names : mapping of str to str
        What parts are called; their ids where it lacks them.

    Notes
    -----
    Where the model names both parts to renew and a step to start again from, `most` says which
    comes first: with it, so many rounds are tried before anything is renewed; without it, the
    parts are renewed and the steps done again with new ones.
    """
    rework, other = check.rework, check.else_
    first = other is None or (turn == 1 and not other.again_from)
    if rework is not None and (in_rework or (first and rework.limit is None)):
        return Follows("rework", f"{_sentence(rework.how) or 'rework it'}, then check again")
    if other is None:
        return Follows("out of limit", "do not go on: the model does not say what follows")
    if other.again_from and other.most is not None and turn < other.most:
        return _again(other)
    return _in_the_end(other, names)


def _again(other: Otherwise) -> Follows:
    steps = tuple(link.to for link in other.again_from)
    words = f"do not go on: {_change(other)}start again from {_listed(f'`{s}`' for s in steps)}"
    return Follows("again", words, again_from=steps)


def _in_the_end(other: Otherwise, names: Mapping[str, str]) -> Follows:
    if other.renew:
        parts = tuple(link.to for link in other.renew)
        words = f"do not go on: renew {_listed(names.get(part, f'`{part}`') for part in parts)}"
        steps = tuple(link.to for link in other.again_from)
        if steps:
            words += f", and start again from {_listed(f'`{step}`' for step in steps)}"
        return Follows("renew", words, parts, steps)
    if other.again_from and other.most is None:
        return _again(other)
    if other.stop:
        return Follows("stop", f"stop, and tell: {other.stop}", role=other.stop)
    if other.accept_by:
        words = f"do not go on unless this role accepts it as it is and signs: {other.accept_by}"
        return Follows("sign", words, role=other.accept_by)
    if other.again_from:
        words = f"do not go on: {other.most} rounds were tried, and the model allows no more"
        return Follows("out of limit", words)
    return Follows("out of limit", f"do not go on: {_change(other) or 'tell who is in charge'}")


def _change(other: Otherwise) -> str:
    return f"change {_sentence(other.change)}, then " if other.change else ""


def _sentence(text: str) -> str:
    """Return words as they stand inside a longer sentence."""
    return text.strip().removesuffix(".")


def _listed(names: Iterable[str]) -> str:
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last
