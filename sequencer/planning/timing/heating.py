"""Parts and compounds that get hotter than they bear."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.timing.clock import typed
from sequencer.problem import Fact, Problem
from sequencer.trade.basics import in_unit
from sequencer.trade.heating import BEARING_LIMIT_C, is_bearing

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.parts import Part
    from sequencer.model.quantities import Amount
    from sequencer.model.steps import Step
    from sequencer.planning.timing.along import Along
    from sequencer.planning.timing.coats import Coat


class HotOver(NamedTuple):
    """A step that heats something on which a compound lies that bears less; both by number."""

    step: int
    coat: Coat


def hot_over(along: Along) -> Iterator[HotOver]:
    """Yield each hot step that follows a compound which bears less, on the same part or surface.

    Two steps have a part in common if both handle it, build on it or heat it; a surface, if the
    hot step closes or loads the one that the compound is on. What has been cleaned off again does
    not count. Of each compound the first coat is told.
    """
    bearing = [coat for coat in along.coats.on if coat.compound.hottest is not None]
    if not bearing:
        return
    for turn, number in enumerate(along.order):
        step = along.step(number)
        if step.heat is None:
            continue
        told: set[str] = set()
        for coat in bearing:
            if coat.turn <= turn < coat.gone and coat.compound.id not in told:
                most = coat.compound.hottest
                hotter = most is not None and _celsius(step.heat.to) > _celsius(most)
                if hotter and _in_common(step, along.step(coat.step), coat.surface):
                    told.add(coat.compound.id)
                    yield HotOver(number, coat)


def _celsius(amount: Amount) -> float:
    return float(in_unit(amount, "°C"))


def _in_common(hot: Step, applying: Step, surface: str) -> bool:
    touched = {link.to for link in (*hot.closes, *hot.loads)}
    return surface in touched or bool(_parts_of(hot) & _parts_of(applying))


def _parts_of(step: Step) -> set[str]:
    links = [*step.onto, *step.takes_off]
    if step.heat is not None:
        links += step.heat.part
        links += step.heat.cold.part if step.heat.cold is not None else ()
    return {fit.part for fit in step.fits} | {link.to for link in links}


def told_hot_over(along: Along, found: HotOver) -> Problem:
    """Return the finding for heat on a compound that bears less."""
    coat, step = found.coat, along.step(found.step)
    compound, to = coat.compound, typed(step.heat.to if step.heat is not None else None)
    bears = f"bears {typed(compound.hottest)}"
    return Problem(
        "too-hot",
        "warning",
        f"`{step.id}` works at {to} on what `{compound.id}` is on since "
        f"{along.name(coat.step)}, and that {bears} at the most",
        step=step.id,
        path=("steps", step.id, "heat", "to"),
        facts=(
            Fact(f"{along.name(coat.step)} puts `{compound.id}` on `{coat.surface}`", coat.path),
            Fact(f"`{compound.id}` {bears}", ("compounds", compound.id, "hottest")),
            Fact(f"`{step.id}` heats to {to}", ("steps", step.id, "heat", "to"), _why(step)),
        ),
        why="it softens or burns, and what it holds comes loose",
        fix=f"do `{step.id}` first where that goes; else keep the heat off it and look at it after",
    )


def _why(step: Step) -> str:
    return step.heat.why if step.heat is not None else ""


def told_hot_shop(along: Along) -> Iterator[Problem]:
    """Yield a finding for each compound that is put on where it is warmer than it bears."""
    shop = along.model.assembly.defaults.temperature
    told: set[str] = set()
    for coat in along.coats.on if shop is not None else ():
        most = coat.compound.hottest
        if shop is None or most is None or coat.compound.id in told:
            continue
        if _celsius(shop) <= _celsius(most):
            continue
        told.add(coat.compound.id)
        warm, compound = typed(shop), coat.compound.id
        bears = f"bears {typed(most)}"
        yield Problem(
            "too-hot",
            "warning",
            f"{along.name(coat.step)} puts `{compound}` on at {warm}, and it {bears} at the most",
            step=along.id(coat.step),
            path=coat.path,
            facts=(
                Fact(f"it is {warm} where the work is done", ("defaults", "temperature")),
                Fact(f"`{compound}` {bears}", ("compounds", compound, "hottest")),
            ),
            why="no cure time holds there, and what it holds may come loose",
            fix="let it cool down where the work is done, or take a compound that bears it",
        )


def told_hot_parts(along: Along) -> Iterator[Problem]:
    """Yield a finding for each part that is heated above what it bears.

    A rolling bearing whose maker's figure is not given bears 120 °C.
    """
    parts = {part.id: part for part in along.model.assembly.parts}
    for number in along.order:
        step = along.step(number)
        for link in step.heat.part if step.heat is not None else ():
            part = parts.get(link.to)
            if part is not None:
                yield from _hot_part(step, part)


def _hot_part(step: Step, part: Part) -> Iterator[Problem]:
    if step.heat is None:
        return
    here, to = ("steps", step.id, "heat", "to"), step.heat.to
    facts = [Fact(f"`{step.id}` heats `{part.id}` to {typed(to)}", here, step.heat.why)]
    if part.hottest is not None:
        if _celsius(to) <= _celsius(part.hottest):
            return
        bears = typed(part.hottest)
        limit = f"and that bears {bears} at the most"
        facts.append(Fact(f"`{part.id}` bears {bears}", ("parts", part.id, "hottest")))
        fix = f"heat it to {bears} at the most; chill the other part if that is not enough"
    elif is_bearing(part) and _celsius(to) > BEARING_LIMIT_C:
        limit = f"a bearing, for which more than {BEARING_LIMIT_C:g} °C takes its maker's word"
        fix = "heat it less; or write the maker's figure as `hottest` of the part"
    else:
        return
    yield Problem(
        "too-hot",
        "warning",
        f"`{step.id}` heats `{part.id}` to {typed(to)}, {limit}",
        step=step.id,
        path=here,
        facts=tuple(facts),
        why="too much heat changes the steel, or spoils seals and grease in it, unseen",
        fix=fix,
    )
