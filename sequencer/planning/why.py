"""Must this step come before that one, and by which facts."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.planning.clash import clashes
from sequencer.planning.compiling import compile_network
from sequencer.planning.decide import decide
from sequencer.planning.network import Network, Relation
from sequencer.planning.telling import Teller
from sequencer.planning.variants import variants

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly
    from sequencer.planning.decide import Decision
    from sequencer.problem import Fact

_ASKED = "asked"


@dataclass(frozen=True, slots=True)
class Why:
    """The answer to which of two steps comes first.

    Attributes
    ----------
    first, second : str
        The steps asked about; where one must come first, that one is `first`.
    must : bool
        Whether `first` comes before `second` in every order.
    facts : tuple of Fact
        What forces it, in the order to tell it in; they are irreducible. Empty if it is free, or
        if no order exists at all.
    examples : tuple of tuple of str
        An order with `first` before `second`, and where it is free one the other way round.
    undecided : bool
        Whether a search was cut short by its bound on work.
    """

    first: str
    second: str
    must: bool
    facts: tuple[Fact, ...] = ()
    examples: tuple[tuple[str, ...], ...] = ()
    undecided: bool = False


def why(assembly: Assembly, first: str, second: str) -> Why:
    """Tell whether one step must come before another.

    Parameters
    ----------
    assembly : Assembly
        The model.
    first, second : str
        Ids of two different steps.

    Raises
    ------
    KeyError
        If the model lacks one of the steps.

    Notes
    -----
    The opposite is added as a fact. If no order is left, the clash without that fact is the
    reason; else both are possible. Where `one_of` leaves choices, an order of any of them counts.
    """
    known = {step.id for step in assembly.steps}
    for step in (first, second):
        if step not in known:
            raise KeyError(step)
    one_way = _orders(assembly, first, second)
    other_way = _orders(assembly, second, first)
    undecided = one_way.undecided or other_way.undecided
    if one_way.order is not None and other_way.order is not None:
        return Why(first, second, must=False, examples=(one_way.order, other_way.order))
    if one_way.order is not None:
        return Why(first, second, not undecided, other_way.facts, (one_way.order,), undecided)
    if other_way.order is not None:
        return Why(second, first, not undecided, one_way.facts, (other_way.order,), undecided)
    return Why(first, second, must=False, undecided=undecided)


@dataclass(frozen=True, slots=True)
class _Found:
    order: tuple[str, ...] | None
    facts: tuple[Fact, ...] = ()
    undecided: bool = False


def _orders(assembly: Assembly, before: str, after: str) -> _Found:
    """Find an order with one step before another, or the facts that forbid it."""
    facts: tuple[Fact, ...] = ()
    undecided = False
    for variant in variants(assembly):
        network = compile_network(variant)
        if before not in network.index or after not in network.index:
            continue
        asked = _asking(network, before, after)
        decision = decide(asked)
        if decision.order is not None:
            return _Found(tuple(network.ids[step] for step in decision.order))
        undecided |= decision.undecided
        facts = facts or _facts(Teller(variant, asked), decision)
    return _Found(None, facts, undecided)


def _asking(network: Network, before: str, after: str) -> Network:
    pair = ((network.index[before],), (network.index[after],))
    asked = Relation(*pair, _ASKED, "step", after, (), "")
    return replace(network, relations=(*network.relations, asked))


def _facts(teller: Teller, decision: Decision) -> tuple[Fact, ...]:
    """Return the facts of the first clash that rests on what was asked."""
    for clash in clashes(teller.network, decision):
        rules = [
            rule for rule in clash.rules if not (isinstance(rule, Relation) and rule.kind == _ASKED)
        ]
        if len(rules) < len(clash.rules):
            return tuple(teller.fact(rule) for rule in rules)
    return ()
