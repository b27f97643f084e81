"""Rules about steps that belong together: groups, trials, alternatives and states."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from sequencer.problem import Fact, Problem
from sequencer.reading.source import shortened

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import Link
    from sequencer.model.steps import OneOf, State, Trial
    from sequencer.problem import Path
    from sequencer.reading.source import Sound

_FEWEST = 2


class _Set(NamedTuple):
    """Some steps that the model names together: where, what that is called, and why."""

    path: Path
    called: str
    steps: tuple[Link, ...]
    why: str


def _groups(assembly: Assembly, sound: Sound) -> Iterator[_Set]:
    for number, group in enumerate(assembly.together):
        path: Path = ("together", number)
        if not sound(path):  # it may be missing here, and the numbers of the others wrong
            return
        yield _Set(path, f"group {number + 1} of `together`", group.steps, group.why)


def _trials(assembly: Assembly, sound: Sound) -> Iterator[_Set]:
    for trial in assembly.trials:
        path: Path = ("trials", trial.id)
        if sound(path):
            yield _Set(path, f"trial `{trial.id}`", trial.steps, trial.why)


def _choices(assembly: Assembly, sound: Sound) -> Iterator[tuple[_Set, OneOf]]:
    for number, choice in enumerate(assembly.one_of):
        path: Path = ("one_of", number)
        if not sound(path):  # as above
            return
        called = f"entry {number + 1} of `one_of`"
        yield _Set(path, called, choice.steps, choice.why), choice


def groups_are_apart(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    """Yield groups of fewer than two steps, and steps in two groups or trials."""
    groups = list(_groups(assembly, sound))
    for group in groups:
        if _count(group) < _FEWEST:
            yield Problem(
                "together",
                "error",
                f"{group.called} holds fewer than two steps",
                path=group.path,
                why="steps go together with other steps; one alone has nothing to go with",
                fix="name the other steps of the group, or delete it",
            )
    yield from _in_two(
        (*groups, *_trials(assembly, sound)),
        "together",
        "groups and trials are done one after the other, so no step can be in two",
        "make one of both, or take the step out of one",
    )


def alternatives_are_free(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    """Yield what is wrong with the steps of which exactly one is done."""
    choices = list(_choices(assembly, sound))
    taken = _what_needs_all_its_steps(assembly, sound)
    for group, choice in choices:
        if _count(group) < _FEWEST:
            yield Problem(
                "one-of",
                "error",
                f"{group.called} names fewer than two steps",
                path=group.path,
                why="with one step alone there is nothing to choose from",
                fix="name the other steps, or delete the entry",
            )
        yield from _before_itself(group, choice)
        for index, link in enumerate(group.steps):
            for fact in taken.get(link.to, ())[:1]:
                yield Problem(
                    "one-of",
                    "error",
                    f"step `{link.to}` cannot be an alternative: {fact.text}",
                    path=(*group.path, "steps", index),
                    facts=(Fact("it is an alternative here", (*group.path, "steps", index)), fact),
                    why="where another step is chosen, this one is not done at all",
                    fix="take it out of `one_of`, or put a step there that is always done",
                )
    yield from _in_two(
        (group for group, _ in choices),
        "one-of",
        "where another step is chosen for one of them, it could no longer be chosen for the other",
        "make one entry of both, or take the step out of one",
    )


def _count(group: _Set) -> int:
    return len({link.to for link in group.steps})


def _in_two(sets: Iterable[_Set], code: str, why: str, fix: str) -> Iterator[Problem]:
    """Yield each step that is named by two of the sets, where it is named again."""
    taken: dict[str, tuple[_Set, Path]] = {}
    for one in sets:
        for index, link in enumerate(one.steps):
            here = (*one.path, "steps", index)
            first, there = taken.setdefault(link.to, (one, here))
            if first is one or link.to in (earlier.to for earlier in one.steps[:index]):
                continue
            yield Problem(
                code,
                "error",
                f"step `{shortened(link.to)}` is both in {first.called} and in {one.called}",
                path=here,
                facts=(
                    Fact("it is named here too", path=here, why=one.why),
                    Fact("it is named here first", path=there, why=first.why),
                ),
                why=why,
                fix=fix,
            )


def _before_itself(group: _Set, choice: OneOf) -> Iterator[Problem]:
    own = {link.to for link in choice.steps}
    for index, link in enumerate(choice.before):
        if link.to in own:
            yield Problem(
                "one-of",
                "error",
                f"{group.called} is to be done before `{link.to}`, one of its own steps",
                path=(*group.path, "before", index),
                why="no step comes before itself",
                fix="name the step that needs one of them done, or leave `before` out",
            )


def _what_needs_all_its_steps(assembly: Assembly, sound: Sound) -> dict[str, list[Fact]]:
    """Return for each step in a trial, or at the border of a state, where that is said."""
    found: dict[str, list[Fact]] = {}
    for trial in _trials(assembly, sound):
        for index, link in enumerate(trial.steps):
            fact = Fact(f"it is in {trial.called}", (*trial.path, "steps", index), trial.why)
            found.setdefault(link.to, []).append(fact)
    for state in assembly.states:
        if sound(("states", state.id)):
            for field, links in (("begins", state.begins), ("ends", state.ends)):
                for index, link in enumerate(links):
                    path = ("states", state.id, field, index)
                    fact = Fact(f"it {field} state `{state.id}`", path, state.why)
                    found.setdefault(link.to, []).append(fact)
    return found


def nothing_is_spoiled_by_a_trial(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    """Yield parts that a trial fits, though taking them off again spoils them.

    An aid may be spoiled: it is not wanted afterwards.
    """
    spoiled = {p.id: p for p in assembly.parts if (p.once or p.renew) and not p.aid}
    steps = {step.id: step for step in assembly.steps}
    for trial in assembly.trials if spoiled else ():
        names = dict.fromkeys(link.to for link in trial.steps)
        for name in names if sound(("trials", trial.id)) else ():
            step = steps.get(name)
            for index, fit in enumerate(step.fits if step else ()):
                if fit.part in spoiled and sound(("parts", fit.part)):
                    field = "once" if spoiled[fit.part].once else "renew"
                    path: Path = ("steps", name, "fits", index)
                    yield _spoiled(trial, fit.part, (path, ("parts", fit.part, field)))


def _spoiled(trial: Trial, part: str, paths: tuple[Path, Path]) -> Problem:
    here, said = paths
    return Problem(
        "spoiled",
        "error",
        f"trial `{trial.id}` takes `{part}` off again, which spoils it",
        step=str(here[1]),
        path=here,
        facts=(
            Fact(f"it is fitted in trial `{trial.id}`", here, trial.why),
            Fact("it cannot be used twice", said),
        ),
        why="what is fitted to measure comes off again, and then another one is needed",
        fix="fit an old one in the trial, declared as a part with `aid: true`, or measure without",
    )


def states_begin_and_end(assembly: Assembly, sound: Sound) -> Iterator[Problem]:
    """Yield states that begin or end at several steps or at the same, and such as are not used."""
    used = {link.to for step in assembly.steps for link in (*step.needs, *step.not_while)}
    for state in assembly.states:
        path: Path = ("states", state.id)
        if not sound(path):
            continue
        yield from _borders(state, path)
        if state.id not in used and not state.keep and sound(("steps",)):
            yield Problem(
                "unused",
                "warning",
                f"state `{state.id}` is needed by no step, and keeps none out",
                path=path,
                why="it would change nothing in the plan",
                fix=f"write `needs: {state.id}` or `not_while: {state.id}` in a step",
            )


def _borders(state: State, path: Path) -> Iterator[Problem]:
    for field, links in (("begins", state.begins), ("ends", state.ends)):
        if len({link.to for link in links}) > 1:
            yield Problem(
                "state",
                "error",
                f"state `{state.id}` {field} at several steps",
                path=(*path, field, 1),
                why="between them nobody could tell whether it holds",
                fix="name the one step, or make a state for each",
            )
    if state.begins and state.ends and state.begins[0].to == state.ends[0].to:
        yield Problem(
            "state",
            "error",
            f"state `{state.id}` begins and ends at the same step, `{state.begins[0].to}`",
            path=(*path, "ends", 0),
            facts=(
                Fact("it ends here", (*path, "ends", 0)),
                Fact("it begins here", (*path, "begins", 0)),
            ),
            why="nothing could be done inside it",
            fix="name two steps",
        )
