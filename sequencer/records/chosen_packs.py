"""Which pack of shims a reading asks for, while that pack is not fitted for good."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.model.quantities import AmountError, converted, read_amount
from sequencer.trade.basics import TradeError
from sequencer.trade.packs import choose_pack, pack_rule
from sequencer.trade.spelt import number, spelt

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.parts import Part
    from sequencer.model.quantities import Amount
    from sequencer.records.state import State
    from sequencer.trade.packs import Chosen, PackRule


def packs_asked_for(state: State, check: str, value: str) -> tuple[str, ...]:
    """Return for each pack that a check settles, in words, what its reading makes the best pack.

    With the pack in that the model has for measuring (`start`). A pack whose final step is done
    has none: what is read then is the result.
    """
    assembly = state.assembly
    limit = next((one.limit for one in assembly.checks if one.id == check), None)
    if limit is None:
        return ()
    try:
        figure = read_amount(value, (limit.value.quantity,), limits=False)
    except AmountError:
        return ()
    return tuple(
        f"{part.label}: {words}"
        for part in assembly.parts
        if part.pack is not None
        and any(link.to == check for link in part.pack.settled_by)
        and not _is_fitted(assembly, part, state.done)
        for words in _told(part, limit.value, figure)
    )


def _is_fitted(assembly: Assembly, part: Part, done: tuple[str, ...]) -> bool:
    tried = {link.to for trial in assembly.trials for link in trial.steps}
    fitting = [step.id for step in assembly.steps if any(f.part == part.id for f in step.fits)]
    return any(step in done and step not in tried for step in fitting)


def _told(part: Part, limit: Amount, figure: Amount) -> Iterator[str]:
    if part.pack is None:
        return
    try:
        rule = pack_rule(part.pack, limit)
        found = choose_pack(rule, converted(figure.value, figure.unit, rule.unit))
    except TradeError:
        return  # told as a finding on the model
    yield _best(rule, found)


def _best(rule: PackRule, found: Chosen) -> str:
    best = found.by_table or found.choice.best
    if best is None:
        return "no pack of the sizes at hand does it"
    shims = " + ".join(number(shim) for shim in best.shims)
    gives = spelt(best.result, rule.unit, rule.limits)
    others = len(found.choice.packs) - 1
    more = f"; {others} other{'s' if others > 1 else ''} would do" if others > 0 else ""
    return f"{shims} {rule.unit.symbol} gives {gives}{more}"
