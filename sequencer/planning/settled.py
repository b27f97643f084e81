"""Packs of shims that are fitted for good before a check, or a trial, has settled them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.planning.compiling import compile_network
from sequencer.planning.decide import decide
from sequencer.planning.lookups import Lookups
from sequencer.planning.network import Relation
from sequencer.planning.variants import variants
from sequencer.problem import Fact, Problem

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.parts import Pack, Part
    from sequencer.planning.network import Network
    from sequencer.problem import Path


@dataclass(frozen=True, slots=True)
class _Settling:
    """A pack, the step that fits it for good, and the steps that settle it; all by number."""

    part: Part
    pack: Pack
    fit: int
    settlers: tuple[int, ...]
    by: Fact


def unsettled(assembly: Assembly, order: Sequence[str]) -> Iterator[Problem]:
    """Yield each pack that is fitted for good before it is settled, or that nothing keeps after.

    A pack is settled by a trial that says so, and by each step that takes its `settled_by`; it is
    fitted for good by the steps outside trials after which nothing takes it off again. Where the
    check fails back to that step or an earlier one (`else: again_from`), the pack is tried in
    rounds, and that is no matter for a finding.

    Parameters
    ----------
    assembly : Assembly
        The model.
    order : sequence of str
        Step ids, each at most once; steps that it lacks are passed over.

    Yields
    ------
    Problem
        Code `unsettled`: an error where this order fits the pack first, a warning where it does
        not but another valid order does.

    Examples
    --------
    >>> from sequencer.model.assembly import Assembly
    >>> from sequencer.model.checking import Check
    >>> from sequencer.model.common import Link
    >>> from sequencer.model.parts import Pack, Part
    >>> from sequencer.model.steps import Fit, Step
    >>> shims = Part(id="shims", pack=Pack(settled_by=(Link("play", "check"),)))
    >>> fit = Step(id="cap-on", do="Fit shims and cap.", fits=(Fit("shims"),))
    >>> read = Step(id="read", do="Read the play.", check=(Link("play", "check"),))
    >>> model = Assembly(
    ...     assembly="box",
    ...     parts=(shims,),
    ...     checks=(Check(id="play", measure="Play."),),
    ...     steps=(fit, read),
    ... )
    >>> [(found.step, found.severity) for found in unsettled(model, ["cap-on", "read"])]
    [('cap-on', 'error')]
    >>> [(found.step, found.severity) for found in unsettled(model, ["read", "cap-on"])]
    [('cap-on', 'warning')]
    """
    if all(part.pack is None for part in assembly.parts):
        return
    turns = {step: turn for turn, step in enumerate(order)}
    names = [step.id for step in assembly.steps]
    for one in _settlings(assembly):
        if names[one.fit] not in turns:
            continue
        fitted = turns[names[one.fit]]
        known = [step for step in one.settlers if names[step] in turns]
        before = [step for step in known if turns[names[step]] < fitted]
        if not before:
            if not _in_rounds(assembly, one, turns, fitted):
                yield _too_early(assembly, one, known)
        elif _may_come_first(assembly, one):
            yield _free(assembly, one, max(before, key=lambda step: turns[names[step]]))


def with_settled(assembly: Assembly, network: Network, order: Sequence[int]) -> Network:
    """Return the rules with those that keep each pack from being fitted before it is settled.

    Parameters
    ----------
    assembly : Assembly
        The model.
    network : Network
        Its rules; `assembly` has no `one_of` open.
    order : sequence of int
        An order that is wanted: where a pack can be settled in several ways, one that this order
        keeps to is preferred, then the first.

    Returns
    -------
    Network
        With an order wherever the rules had one: what no order can settle is left as it is.
    """
    if all(part.pack is None for part in assembly.parts):
        return network
    turns = {step: turn for turn, step in enumerate(order)}
    for one in _settlings(assembly):
        earlier = [*one.settlers, *_begun_again(assembly, one, network.index)]
        if one.fit in earlier[len(one.settlers) :]:
            continue
        kept = [step for step in earlier if turns.get(step, len(turns)) < turns.get(one.fit, -1)]
        for settler in dict.fromkeys((*kept, *earlier)):
            before = Relation((settler,), (one.fit,), "settles", "part", one.part.id, (), "")
            tried = replace(network, relations=(*network.relations, before))
            if settler != one.fit and decide(tried).order is not None:
                network = tried
                break
    return network


def _begun_again(assembly: Assembly, one: _Settling, index: Mapping[str, int]) -> tuple[int, ...]:
    """Return the steps from which a failing check of a pack starts again."""
    wanted = {link.to for link in one.pack.settled_by}
    others = [check.else_ for check in assembly.checks if check.id in wanted]
    return tuple(
        index[link.to]
        for other in others
        if other is not None
        for link in other.again_from
        if one.settlers and link.to in index
    )


def _settlings(assembly: Assembly) -> Iterator[_Settling]:
    lookups = Lookups(assembly)
    for part in assembly.parts:
        if part.pack is None:
            continue
        settlers, by = _settlers(lookups, part, part.pack)
        if by is None:
            continue
        stays = lookups.stays.get(part.id)
        fits = lookups.fitters.get(part.id, ())
        if stays is not None:
            fits = stays[-1].fits if stays and stays[-1].off < 0 else ()
        for fit in fits:
            yield _Settling(part, part.pack, fit, settlers, by)


def _settlers(lookups: Lookups, part: Part, pack: Pack) -> tuple[tuple[int, ...], Fact | None]:
    """Return the steps that settle a pack, and the words of the model that say so."""
    found: list[int] = []
    by: Fact | None = None
    for trial in lookups.assembly.trials:
        for item, link in enumerate(trial.settles):
            if link.to == part.id:
                found += [step for member in trial.steps for step in lookups.named(member)]
                path: Path = ("trials", trial.id, "settles", item)
                by = by or Fact(f"trial `{trial.id}` settles `{part.id}`", path, trial.why)
    for item, link in enumerate(pack.settled_by):
        found += lookups.steps_of["check"].get(link.to, ())
        path = ("parts", part.id, "pack", "settled_by", item)
        by = by or Fact(f"check `{link.to}` settles `{part.id}`", path, pack.why)
    return tuple(dict.fromkeys(found)), by


def _in_rounds(assembly: Assembly, one: _Settling, turns: dict[str, int], fitted: int) -> bool:
    """Tell whether a failing check leads back to before the pack was fitted."""
    names = {step.id: number for number, step in enumerate(assembly.steps)}
    again = _begun_again(assembly, one, names)
    return any(turns.get(assembly.steps[step].id, fitted + 1) <= fitted for step in again)


def _may_come_first(assembly: Assembly, one: _Settling) -> bool:
    """Tell whether any valid order fits a pack before all that settles it."""
    names = [step.id for step in assembly.steps]
    for variant in variants(assembly):
        network = compile_network(variant)
        index = network.index
        settlers = tuple(index[names[step]] for step in one.settlers if names[step] in index)
        if names[one.fit] not in index or not settlers:
            continue
        fit = (index[names[one.fit]],)
        asked = Relation(fit, settlers, "asked", "part", one.part.id, (), "")
        decision = decide(replace(network, relations=(*network.relations, asked)))
        if decision.order is not None:
            return True
    return False


def _too_early(assembly: Assembly, one: _Settling, known: Sequence[int]) -> Problem:
    step, part = assembly.steps[one.fit].id, one.part.id
    facts = [_fits(assembly, one), one.by]
    checked = one.by.text.partition(" settles ")[0]
    if not known:
        message = f"`{step}` fits `{part}` for good, and {checked}, which settles it, is not taken"
        fix = f"take {checked} in a step before `{step}`, in a trial or with another pack in"
    else:
        settler = assembly.steps[known[0]].id
        message = f"`{step}` fits `{part}` for good before {checked} has settled it"
        fix = f"measure before that: move `{settler}` up, and write `after: {settler}` in `{step}`"
        if known[0] == one.fit:
            fix = f"measure in a step of its own before `{step}`, best in a trial"
        else:
            facts.append(Fact(f"`{settler}` comes later", ("steps", settler)))
    return Problem(
        "unsettled",
        "error",
        message,
        step=step,
        path=_path(assembly, one),
        facts=tuple(facts),
        why="the pack is a guess, and what is fitted over it comes off again when the check tells",
        fix=fix,
    )


def _free(assembly: Assembly, one: _Settling, settler: int) -> Problem:
    step, part, before = assembly.steps[one.fit].id, one.part.id, assembly.steps[settler].id
    return Problem(
        "unsettled",
        "warning",
        f"nothing in the model keeps `{step}`, which fits `{part}` for good, "
        f"after `{before}`, which settles it",
        step=step,
        path=_path(assembly, one),
        facts=(
            _fits(assembly, one),
            one.by,
            Fact(f"`{before}` stands before `{step}`", ("steps", before)),
        ),
        why="this order is right, and another may fit the pack first",
        fix=f"write `after: {before}` in `{step}`",
    )


def _fits(assembly: Assembly, one: _Settling) -> Fact:
    step = assembly.steps[one.fit].id
    return Fact(f"`{step}` fits `{one.part.id}`, and nothing takes it off", _path(assembly, one))


def _path(assembly: Assembly, one: _Settling) -> Path:
    step = assembly.steps[one.fit]
    item = next(item for item, fit in enumerate(step.fits) if fit.part == one.part.id)
    return ("steps", step.id, "fits", item)
