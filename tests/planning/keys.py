"""The oracle's name for each fact of a network."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.network import Group, Relation

if TYPE_CHECKING:
    from sequencer.planning.network import Network, Rule
    from tests.oracle import Key


def key_of(network: Network, rule: Rule) -> Key:
    """Name a fact as the oracle does."""
    ids = network.ids
    if isinstance(rule, Group):
        return ("group", rule.path)
    if not isinstance(rule, Relation):
        need = network.needs[rule.need]
        earlier = network.needs[: rule.need]
        turn = sum(other.step == need.step and not other.barred for other in earlier)
        which = -1 if need.barred else turn
        return ("way", ids[need.step], which, need.ways[rule.way].name, rule.part, rule.path)
    before, after = ids[rule.befores[0]], ids[rule.afters[0]]
    apart: dict[str, tuple[str, ...]] = {
        "onto": (after,),
        "line": (after,),
        "under": (before,),
        "loosens": (after,),
        "in_order": (before, after),
        "one_of": (before, after),
        "needs": ("begins" if rule.path[1] == after else "ends",),
    }
    if rule.kind in ("covered", "uncovered"):
        return ("above", rule.path, rule.about, before)
    return (rule.kind, rule.path, *apart.get(rule.kind, ()))
