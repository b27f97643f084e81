"""Surfaces loaded before what is on them has set."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from sequencer.planning.timing.clock import lasting, seconds_in
from sequencer.problem import Fact, Problem
from sequencer.trade.basics import Unknown, in_unit
from sequencer.trade.compounds import cure_time

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.model.compounds import Compound
    from sequencer.planning.timing.along import Along
    from sequencer.planning.timing.coats import Coat
    from sequencer.problem import Path


class Setting(NamedTuple):
    """How long a compound needs before it may be loaded, as far as that is known.

    `text` is the time as typed, `what` what it is for, `path` where it is said. `unknown` says
    why nobody knows its cure time. Where the shop is hotter than it bears no cure time counts.
    """

    seconds: Fraction
    text: str
    what: str
    path: Path
    unknown: str = ""


def setting_of(compound: Compound, assembly: Assembly) -> Setting:
    """Return how long a compound needs to set in this shop: its fixture or cure, the longer."""
    root: Path = ("compounds", compound.id)
    longest = Setting(Fraction(0), "", "", root)
    if compound.fixture is not None:
        text = compound.fixture.text.strip()
        longest = Setting(seconds_in(compound.fixture), text, "to hold", (*root, "fixture"))
    cure = compound.cure
    if cure is None:
        return longest
    shop = assembly.defaults.temperature
    at_c = None if shop is None else float(in_unit(shop, "°C"))
    hottest = None if compound.hottest is None else float(in_unit(compound.hottest, "°C"))
    rows = {float(in_unit(at, "°C")): time for at, time in cure.rows}
    table: float | dict[float, float]
    if cure.any_ is not None:
        table = float(seconds_in(cure.any_))
    else:
        table = {at: float(seconds_in(time)) for at, time in rows.items()}
    found = cure_time(table, at_c, hottest)
    if found == "too hot":
        return longest
    if isinstance(found, Unknown):
        asked = f"no time is given for {shop.text.strip()}" if shop is not None else found.words
        return longest._replace(unknown=asked)
    time = cure.any_ if found.row_c is None else rows[found.row_c]
    if time is not None and seconds_in(time) >= longest.seconds:
        warm = f" at {shop.text.strip()}" if shop is not None and rows else ""
        return Setting(seconds_in(time), time.text.strip(), f"to cure{warm}", (*root, "cure"))
    return longest


class Loaded(NamedTuple):
    """A step that loads a surface with a compound on it.

    `passed` is the time since the end of `since`: the last step that closed the surface over it
    before, else the one that put it on. None where the same step puts it on.
    """

    step: int
    coat: Coat
    since: int
    passed: Fraction | None
    setting: Setting

    @property
    def is_too_soon(self) -> bool:
        """Whether it has not set yet, as far as that is known."""
        return (self.passed or 0) < self.setting.seconds


def loaded(along: Along) -> list[Loaded]:
    """Return every loading of a compound that has to set: of each step and compound the soonest.

    Of several coats of one compound on a surface the last is the soonest loaded: what closes the
    surface over an earlier one closes it over the last too, or came before that.
    """
    settings = {
        compound.id: setting_of(compound, along.model.assembly)
        for compound in along.model.assembly.compounds
        if compound.fixture is not None or compound.cure is not None
    }
    found: dict[tuple[int, str], Loaded] = {}
    for surface, turns in along.coats.loaded.items() if settings else ():
        for turn, coat in _last_coats(along.coats.of_surface[surface], turns):
            if turn < coat.gone and coat.compound.id in settings:
                one = _loading(along, coat, turn, settings[coat.compound.id])
                key = one.step, coat.compound.id
                if key not in found or (one.passed or 0) < (found[key].passed or 0):
                    found[key] = one
    return list(found.values())


def _last_coats(coats: Sequence[Coat], turns: Sequence[int]) -> Iterator[tuple[int, Coat]]:
    """Yield each of the turns with the last coat of each compound up to it."""
    last: dict[str, Coat] = {}
    at = 0
    for turn in turns:
        while at < len(coats) and coats[at].turn <= turn:
            last[coats[at].compound.id] = coats[at]
            at += 1
        yield from ((turn, coat) for coat in last.values())


def _loading(along: Along, coat: Coat, turn: int, setting: Setting) -> Loaded:
    step = along.order[turn]
    if turn == coat.turn:
        return Loaded(step, coat, step, None, setting)
    closed = [at for at in coat.closed if at < turn]
    since = along.order[closed[-1]] if closed else coat.step
    return Loaded(step, coat, since, along.clock.begins[step] - along.clock.ends[since], setting)


def told_loading(along: Along, one: Loaded) -> Iterator[Problem]:
    """Yield what is wrong with a loading, if anything."""
    if one.is_too_soon:
        yield _too_soon(along, one)
    if one.setting.unknown:
        yield _unknown(along, one)


def _too_soon(along: Along, one: Loaded) -> Problem:
    step, since, coat, setting = along.name(one.step), along.name(one.since), one.coat, one.setting
    compound, surface = coat.compound.id, coat.surface
    needs = f"needs {setting.text} {setting.what}"
    if one.passed is None:
        message = f"{step} loads `{surface}` in the step that puts `{compound}` on, which {needs}"
        fix = f"make the loading a step of its own, after {step} with `wait: {setting.text}`"
    else:
        passed = f"{lasting(one.passed)} after" if one.passed else "right after"
        message = f"{step} loads `{surface}` {passed} {since}, and `{compound}` on it {needs}"
        fix = f"let {step} come after {since} with `wait: {setting.text}`"
    return Problem(
        "loaded-too-soon",
        "warning",
        message,
        step=along.id(one.step),
        path=along.fact_of(one.step, "loads", surface).path,
        facts=(
            Fact(f"{along.name(coat.step)} puts `{compound}` on `{surface}`", coat.path),
            *_closing(along, one),
            along.fact_of(one.step, "loads", surface),
            Fact(f"`{compound}` {needs}", setting.path),
        ),
        why="loaded before it has set, it lets go or leaks, and has to be done afresh",
        fix=fix,
    )


def _closing(along: Along, one: Loaded) -> tuple[Fact, ...]:
    surface = one.coat.surface
    if one.since != one.coat.step and one.passed is not None:
        return (along.fact_of(one.since, "closes", surface),)
    return ()


def _unknown(along: Along, one: Loaded) -> Problem:
    step, compound = along.name(one.step), one.coat.compound
    is_asked = along.model.assembly.defaults.temperature is None
    return Problem(
        "cure-unknown",
        "warning",
        f"{step} loads `{one.coat.surface}`, and nobody can say when `{compound.id}` on it has "
        f"cured: {one.setting.unknown}",
        step=along.id(one.step),
        path=along.fact_of(one.step, "loads", one.coat.surface).path,
        facts=(
            Fact(
                f"`{compound.id}` cures in {compound.cure.text if compound.cure else ''}",
                ("compounds", compound.id, "cure"),
            ),
            along.fact_of(one.step, "loads", one.coat.surface),
        ),
        why="a guess would be too short in the cold, and the joint would look sound",
        fix="write how warm the shop is, as `temperature` under `defaults`"
        if is_asked
        else "ask its maker, and write his answer into the table; or bring the work into its range",
    )
