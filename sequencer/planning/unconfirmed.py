"""Steps that can never be undone, and before which nothing has to be looked at."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.planning.decide import decide
from sequencer.planning.network import Relation
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from sequencer.model.steps import Step
    from sequencer.planning.network import Network
    from sequencer.planning.telling import Teller

_ASKED = "asked"
_MOST = 100  # steps that are asked about: each takes as long as to find an order


def unconfirmed(teller: Teller) -> Iterator[Problem]:
    """Yield a warning for each point of no return that may be passed unlooked.

    Parameters
    ----------
    teller : Teller
        The model, with its rules.

    Yields
    ------
    Problem
        Code `unconfirmed`: a step is marked `never`, takes no check itself, and in some order it
        comes before every step that takes a check or has a hold point. Of very many such steps
        that no relation keeps behind one only the first are asked about.
    """
    steps, network = teller.assembly.steps, teller.network
    lookers = [number for number, step in enumerate(steps) if step.check or step.hold]
    for_good = [(n, s, s.undo.never) for n, s in enumerate(steps) if s.undo and s.undo.never]
    behind = _behind(network, lookers) if for_good else frozenset()
    unsure = [one for one in for_good if one[0] not in behind and not one[1].check]
    for number, step, never in unsure[:_MOST]:
        after = tuple(looker for looker in lookers if looker != number)
        asked = Relation((number,), after, _ASKED, "step", step.id, (), "")
        relations = (*network.relations, asked) if after else network.relations
        if decide(replace(network, relations=relations)).order is not None:
            yield _told(step, never)


def _behind(network: Network, lookers: Iterable[int]) -> frozenset[int]:
    """Return the steps that relations alone keep behind one of these: quick, and mostly enough."""
    followers: dict[int, list[int]] = defaultdict(list)
    for relation in network.relations:
        for before in relation.befores:
            followers[before] += (after for after in relation.afters if after != before)
    behind: set[int] = set()
    ahead = list(lookers)
    while ahead:
        new = set(followers.pop(ahead.pop(), ())) - behind
        behind |= new
        ahead += new
    return frozenset(behind)


def _told(step: Step, never: str) -> Problem:
    path = ("steps", step.id, "undo", "never")
    return Problem(
        "unconfirmed",
        "warning",
        f"`{step.id}` cannot be undone, and nothing has to be checked or signed before it",
        step=step.id,
        path=path,
        facts=(Fact(f"`{step.id}` is marked: {never}", path),),
        why="what is wrong before it is found behind it, when it is too late",
        fix=f"let a step with a `check`, and better a `hold`, come before it, and name that in "
        f"`after` of `{step.id}`",
    )
