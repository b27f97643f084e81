"""What taking a unit apart is: frozen results that speak of steps and parts by their ids."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sequencer.planning.results import Plan
    from sequencer.problem import Problem


@dataclass(frozen=True, slots=True)
class TakenBack:
    """What it means to take one step back.

    Attributes
    ----------
    comes_off : mapping of str to int
        How many of each part come off; of a unit, the unit as one.
    goes_on : mapping of str to int
        Aids that have to be put on for a time: the step took them off.
    loosens : tuple of str
        Joints to loosen.
    frees : tuple of str
        Steps whose parts are loose from here on.
    spoils : tuple of str
        Parts that this spoils: those that serve once, and those that the model names.
    renews : tuple of str
        Parts that come off and are a new one each time.
    ways : tuple of str
        For each access need the first open way out, as written.
    reads : tuple of str
        Checks to read before anything is undone here: afterwards nobody can.
    mind : tuple of str
        Steps passed over on the way here that fit nothing and say nothing of how they are undone,
        and yet have a place in the unit: something may have to be done all the same.
    minutes : float
        How long it takes.
    is_guess : bool
        Whether the model gives no time for it.
    """

    comes_off: Mapping[str, int] = field(default_factory=dict)
    goes_on: Mapping[str, int] = field(default_factory=dict)
    loosens: tuple[str, ...] = ()
    frees: tuple[str, ...] = ()
    spoils: tuple[str, ...] = ()
    renews: tuple[str, ...] = ()
    ways: tuple[str, ...] = ()
    reads: tuple[str, ...] = ()
    mind: tuple[str, ...] = ()
    minutes: float = 0.0
    is_guess: bool = False


@dataclass(frozen=True, slots=True)
class PointOfNoReturn:
    """A step that cannot be undone, why, what stays on with it, and where that is met.

    `before` is the step in front of which it is met when the unit is taken apart; None at the end.
    """

    step: str
    why: str
    stays: tuple[str, ...]
    before: str | None


@dataclass(frozen=True, slots=True)
class Strip:
    """The order in which a unit comes apart.

    Attributes
    ----------
    order : tuple of str or None
        The steps to take back, the first to come off first; None where no order exists in which
        the unit goes together.
    steps : mapping of str to TakenBack
        What each of them means, in that order.
    stays : tuple of str
        Steps that have something on and cannot be taken back, in the order of building.
    points : tuple of PointOfNoReturn
        Why not.
    buy : mapping of str to int
        Parts that are needed new when it goes together again: renewed each time, or spoiled.
    findings : tuple of Problem
        What there is to tell; without an order, why there is none.
    plan : Plan
        The order of building that it is the reverse of.
    """

    order: tuple[str, ...] | None
    plan: Plan
    steps: Mapping[str, TakenBack] = field(default_factory=dict)
    stays: tuple[str, ...] = ()
    points: tuple[PointOfNoReturn, ...] = ()
    buy: Mapping[str, int] = field(default_factory=dict)
    findings: tuple[Problem, ...] = ()
