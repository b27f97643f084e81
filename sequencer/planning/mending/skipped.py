"""Steps left out with leave: they bind the order of the others, and nothing of them is on."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.planning.network import Need, Network, Obstacle, Way


def with_skipped(network: Network, skipped: frozenset[int]) -> Network:
    """Return a network in which some steps are done only in name.

    They need no way in, fit nothing that shuts one, and take nothing off that does. What must
    precede what, and what goes together, stays; so does what bars steps for a while, as it is
    from one step to another, whether or not something of them is on.
    """
    needs = tuple(
        need if need.barred else _without(need, skipped)
        for need in network.needs
        if need.barred or need.step not in skipped
    )
    return replace(network, needs=_numbered(needs))


def _without(need: Need, skipped: frozenset[int]) -> Need:
    return need._replace(ways=tuple(_way(way, skipped) for way in need.ways))


def _way(way: Way, skipped: frozenset[int]) -> Way:
    return way._replace(obstacles=tuple(_left(way, skipped)))


def _left(way: Way, skipped: frozenset[int]) -> Iterator[Obstacle]:
    for obstacle in way.obstacles:
        blockers = tuple(step for step in obstacle.blockers if step not in skipped)
        if obstacle.blockers and not blockers:
            continue
        clearers = obstacle.clearers if skipped.isdisjoint(obstacle.clearers) else ()
        yield obstacle._replace(blockers=blockers, clearers=clearers)


def _numbered(needs: tuple[Need, ...]) -> tuple[Need, ...]:
    """Return needs whose obstacles know the number of theirs."""
    return tuple(
        need._replace(
            ways=tuple(
                way._replace(obstacles=tuple(one._replace(need=number) for one in way.obstacles))
                for way in need.ways
            )
        )
        for number, need in enumerate(needs)
    )
