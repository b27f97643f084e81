"""Packs of shims: whether the model says all that choosing one needs, and whether any can serve."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.trade.basics import TradeError
from sequencer.trade.packs import pack_rule
from sequencer.trade.spelt import spelt

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from fractions import Fraction

    from sequencer.model.assembly import Assembly
    from sequencer.model.checking import Check
    from sequencer.model.parts import Pack, Part
    from sequencer.model.quantities import Amount
    from sequencer.problem import Path
    from sequencer.trade.packs import PackRule
    from sequencer.trade.shims import RoundingRule

# With more sizes than this, all packs are not gone through: sizes so many lie close together.
_MANY_SIZES = 60


def about_packs(assembly: Assembly) -> Iterator[Problem]:
    """Yield what is wrong with the packs of shims of a model: codes `pack` and `no-pack`."""
    checks = {check.id: check for check in assembly.checks}
    for part in assembly.parts:
        if part.pack is not None:
            settling = [checks[link.to] for link in part.pack.settled_by if link.to in checks]
            yield from _about(part, part.pack, settling[0] if settling else None)


def _about(part: Part, pack: Pack, check: Check | None) -> Iterator[Problem]:
    if check is None:
        if not pack.settled_by:
            words = "nothing says which figure it sets", "write `settled_by` with the check of it"
            yield _unclear(part, (), *words)
        return
    limit = _limit(check)
    if limit is None:
        words = f"check `{check.id}`, which settles it, has no limit", "give that check a `limit`"
        yield _unclear(part, ("settled_by",), *words)
        return
    try:
        rule = pack_rule(pack, limit)
    except TradeError as error:
        yield _unclear(part, (), error.what, error.fix)
        return
    yield from _none_serves(part, rule, check, limit)


def _limit(check: Check) -> Amount | None:
    """Return the limit of the figure that a pack sets: the check's, or that of its one result."""
    if check.limit is not None:
        return check.limit.value
    limits = [result.limit.value for result in check.results if result.limit is not None]
    return limits[0] if len(limits) == 1 else None


def _unclear(part: Part, below: Path, what: str, fix: str) -> Problem:
    return Problem(
        "pack",
        "warning",
        f"no pack of `{part.id}` can be chosen: {what}",
        path=("parts", part.id, "pack", *below),
        facts=(Fact(f"`{part.id}` is a pack of shims", ("parts", part.id, "pack")),),
        why="the card has no table to choose from, and the builder has to guess the pack",
        fix=fix,
    )


def _none_serves(part: Part, rule: PackRule, check: Check, limit: Amount) -> Iterator[Problem]:
    """Yield a finding where no pack serves any figure, or most figures, or keeps to the table."""
    sizes = sorted(rule.supply.sizes)
    totals = _totals(rule, sizes)
    if _out_of_reach(rule, (sizes[0], sizes[-1] * rule.supply.at_most)):
        start = f"with {spelt(rule.start, rule.unit)} of pack" if rule.start else "without a pack"
        message = (
            f"no pack of `{part.id}` brings any figure of check `{check.id}` within its limit: "
            f"measured {start}, it would have to be below nothing"
        )
        fix = "mend the `effect` (more pack, or less?), the `start`, or the sizes"
        yield _no_pack(part, check, limit, message, fix)
    elif (apart := _too_far_apart(rule, totals)) is not None:
        width = (rule.limits.high or 0) - (rule.limits.low or 0)
        message = (
            f"packs of `{part.id}` are at least {spelt(apart, rule.unit)} apart, which is "
            f"{spelt(apart * abs(rule.effect), rule.unit)} of the figure of check `{check.id}`, "
            f"and its limit is {spelt(width, rule.unit)} wide"
        )
        fix = "add sizes between these, or allow more shims with `at_most`"
        yield _no_pack(part, check, limit, message, fix)
    elif rule.rounding is not None and not _keeps(rule.rounding, totals):
        what = "no pack from its sizes has a total that its rounding rule allows"
        fix = "mend the rule, or list the sizes that it was made for"
        yield _unclear(part, ("rounding",), what, fix)


def _keeps(rounding: RoundingRule, totals: Sequence[Fraction]) -> bool:
    """Tell whether any pack has a total that a rule allows, as far as the packs are known."""
    return not totals or any(rounding.round(total) == total for total in totals)


def _too_far_apart(rule: PackRule, totals: Sequence[Fraction]) -> Fraction | None:
    """Return how far apart the nearest packs are, where that is more than the limit is wide.

    Then most figures lie between two packs, and none serves them.
    """
    width = (rule.limits.high or 0) - (rule.limits.low or 0)
    apart = min((more - less for less, more in pairwise(totals)), default=None)
    return apart if apart is not None and apart * abs(rule.effect) > width else None


def _out_of_reach(rule: PackRule, ends: tuple[Fraction, Fraction]) -> bool:
    """Tell whether every pack wants a figure below nothing, where the limit has none such."""
    low, high = rule.limits.low, rule.limits.high
    if low is None or high is None or low < 0:
        return False
    return all(high - rule.effect * (total - rule.start) < 0 for total in ends)


def _totals(rule: PackRule, sizes: Sequence[Fraction]) -> Sequence[Fraction]:
    """Return the totals of all packs; none where they are too many to go through."""
    if len(sizes) > _MANY_SIZES:
        return ()
    try:
        found = rule.supply.totals(sizes[-1] * rule.supply.at_most)
    except TradeError:
        return ()
    return sorted(total for total in found if total)


def _no_pack(part: Part, check: Check, limit: Amount, message: str, fix: str) -> Problem:
    return Problem(
        "no-pack",
        "warning",
        message,
        path=("parts", part.id, "pack"),
        facts=(
            Fact(f"the limit is `{limit.text.strip()}`", ("checks", check.id, "limit")),
            Fact(f"sizes and effect of `{part.id}`", ("parts", part.id, "pack")),
        ),
        why="the unit is apart and measured, and then no pack does it",
        fix=fix,
    )
