"""A plan as people read it: the order, and what it tells about each step."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from sequencer.sheets.words import counted

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly
    from sequencer.planning.results import Plan, StepFacts, Times


def plan_text(assembly: Assembly, planned: Plan) -> str:
    """Return the order as text: each step with its way in, its last chances and its times."""
    order = planned.order or ()
    steps = {step.id: step for step in assembly.steps}
    sections = {section.id: section.label for section in assembly.sections}
    turn = {step: number for number, step in enumerate(order, 1)}
    widest = max((len(step) for step in order), default=0)
    lines = [
        f"{assembly.title}, issue {assembly.issue}: {counted(len(order), 'step')}, "
        f"{_total_time(assembly, planned)}; {_moved(planned)}"
    ]
    lines.extend(f"{taken.label}: {taken.choice}" for taken in assembly.taken)
    lines.extend(_handling(planned))
    section = None
    rests = _notable_rests(planned)
    for name in order:
        step, facts = steps[name], planned.steps[name]
        if step.section != section:
            section = step.section
            lines.append(f"\n{sections.get(section, section)}" if section else "")
        lines.extend(_last_chances(assembly, planned, facts, turn))
        lines.append(f"{turn[name]:>4}  {name:<{widest}}  {_shortened(step.do, 78 - widest)}")
        told = _told(facts, turn)
        told += _forgetting(planned, name)
        told += [f"or instead: {other}" for other in planned.fallbacks.get(name, ())]
        told += _times(planned.times, name, turn)
        told += ["rest point: the job may be left here"] if name in rests else []
        lines.extend(f"      {' ' * widest}  {line}" for line in told)
    return "\n".join(lines)


def _times(times: Times, name: str, turn: dict[str, int]) -> list[str]:
    """Say what a step waits for, and what has to be done in time with it."""
    waits = [
        f"not before {wait.text} after step {turn[wait.since]}"
        + (f": {wait.compound} has to set" if wait.compound else "")
        for wait in times.waits.get(name, ())
    ]
    windows = [
        f"{'closes' if window.compound else 'begins'} within {window.text} of step "
        f"{turn[window.since]}" + (f": {window.compound} is open" if window.compound else "")
        for window in times.windows
        if window.until == name
    ]
    return waits + windows


def _last_chances(
    assembly: Assembly, planned: Plan, facts: StepFacts, turn: dict[str, int]
) -> list[str]:
    """Return the STOP line, and a plain one for what costs little to forget."""
    from sequencer.planning.mending import is_dear

    forget = planned.forget_minutes
    stops: list[str] = []
    plain: list[str] = []
    for one in facts.last_chance_for:
        dear = one not in forget or is_dear(assembly, forget[one])
        (stops if dear else plain).append(f"{one} ({turn[one]})")
    lines = [f"      STOP  last chance for {', '.join(stops)}"] if stops else []
    return [*lines, f"            last chance for {', '.join(plain)}"] if plain else lines


def _forgetting(planned: Plan, step: str) -> list[str]:
    if step not in planned.forget_minutes:
        return []
    minutes = planned.forget_minutes[step]
    if minutes is None:
        return ["forgotten, and found at the end: it cannot be put right"]
    return [f"forgotten, and found at the end: {minutes:.0f} min"] if minutes else []


def _notable_rests(planned: Plan) -> set[str]:
    """Return the rest points that need saying: the last one before a stretch without any."""
    order, rests = planned.order or (), set(planned.rest_after)
    if len(rests) == len(order):
        return set()
    following = dict(pairwise(order))
    return {step for step in rests if step in following and following[step] not in rests}


def _total_time(assembly: Assembly, planned: Plan) -> str:
    from sequencer.model.complete import step_minutes

    minutes = [step_minutes(step, assembly) for step in assembly.steps]
    guessed = sum(time for time, is_guess in minutes if is_guess)
    total = f"{sum(time for time, _ in minutes):.0f} min"
    total = f"{total} ({guessed:.0f} of them guessed)" if guessed else total
    done = [planned.times.ends[step] - planned.times.begins[step] for step in planned.times.ends]
    waited = max(planned.times.ends.values(), default=0) - sum(done)
    return f"{total} and {waited:.0f} min of waiting" if round(waited) else total


def _handling(planned: Plan) -> list[str]:
    made = planned.handling
    if made is None:
        return []
    hands = f"{counted(made.turns, 'turn')} of a unit, {counted(made.tools, 'tool')} picked up"
    hands += f", {counted(made.compounds, 'compound')} got ready" if made.compounds else ""
    told = f"handling: {hands}, {made.seconds / 60:.1f} min"
    if made.bound is None:
        return [told]
    if made.bound >= made.seconds:
        return [f"{told}; no order takes less"]
    return [f"{told}; no order takes less than {made.bound / 60:.1f} min"]


def _moved(planned: Plan) -> str:
    if not planned.moves:
        return "the order as written"
    fewest = ", the fewest that will do" if planned.fewest else ""
    return f"{counted(planned.moves, 'step')} moved from the written order{fewest}"


def _told(facts: StepFacts, turn: dict[str, int]) -> list[str]:
    told = [f"way in: {way}" for way in dict.fromkeys(facts.ways_in)]
    if facts.until is not None:
        told.append(f"can still be done until after step {turn[facts.until]}")
    return ["; ".join(told)] if told else []


def _shortened(text: str, width: int) -> str:
    line = " ".join(text.split())
    width = max(width, 30)
    return line if len(line) <= width else line[: width - 1].rstrip() + "…"
