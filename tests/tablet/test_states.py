"""The page reads a log as the log is read: after any entries it tells the same state."""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

import pytest

from sequencer.model.assembly import Assembly
from sequencer.model.fingerprint import fingerprint
from sequencer.records.entries import (
    Accept,
    Arrived,
    Correct,
    Done,
    Entry,
    Fitted,
    Note,
    PartDone,
    Reading,
    Short,
    Sign,
    Skip,
    Spoiled,
    Start,
    Undone,
    What,
)
from sequencer.records.lines import to_line
from sequencer.records.replay import state_of
from sequencer.records.state import State, spoiled_in
from tests.tablet.browsing import Screen

pytestmark = pytest.mark.xdist_group("browser")

TIME = "2031-05-02T14:05:09+02:00"
PLACES = {"run-out": ["high", "low"], "plug": ["go", "no_go"], "bolts": ["left", "right"]}
VALUES = {
    "float": ["0.04 mm", "0.08 mm"],
    "gap": ["0.10 mm", "0.12 mm", "0.2 mm"],
    "turns": ["good", "bad"],
    "plug": ["yes", "no"],
    "run-out": ["5.02 mm", "5.00 mm", "5.30 mm"],
    "bolts": ["0.12 mm", "0.2 mm"],
}
ROLES = ["inspector", "foreman", "isolation 1 (K-1): locked"]


def _kinds(chance: random.Random, model: Assembly, number: int) -> list[Callable[[], What]]:
    """Return how each kind of entry is made, the common ones more often."""

    def step() -> str:
        return chance.choice(model.steps).id

    def part() -> str:
        return chance.choice(model.parts).id

    def reading() -> Reading:
        check = chance.choice(list(VALUES))
        place = chance.choice(PLACES.get(check, [""]))
        value, turn = chance.choice(VALUES[check]), chance.choice([None, 1, 2])
        return Reading(check=check, value=value, place=place, round=turn)

    def correct() -> Correct:
        value = chance.choice(["", "", "0.04 mm"])
        named = "" if value else chance.choice(["", step()])
        return Correct(corrects=chance.randint(2, max(2, number)), value=value, step=named)

    return [
        *(lambda: Done(steps=tuple(step() for _ in range(chance.randint(1, 3)))),) * 5,
        *(reading,) * 4,
        lambda: Undone(steps=(step(),)),
        lambda: PartDone(step=step(), pass_=chance.randint(1, 3), count=chance.randint(0, 4)),
        lambda: Skip(step=step(), allowed_by="C. Dee"),
        lambda: Accept(check=chance.choice(list(VALUES))),
        lambda: Sign(role=chance.choice(ROLES), step=chance.choice(["", "cover-on"])),
        lambda: Spoiled(part=part(), step=chance.choice(["", step()])),
        lambda: Short(part=part()),
        lambda: Arrived(part=part()),
        lambda: Fitted(part=part(), serial="S-1"),
        lambda: Note(text="Tea.", step=chance.choice(["", step()])),
        correct,
    ]


def _any_log(chance: random.Random, model: Assembly) -> list[Entry]:
    order = tuple(step.id for step in model.steps)
    start = Start(
        file="", text="", assembly="", issue="", fingerprint=fingerprint(model), order=order
    )
    entries = [Entry(number=1, time=TIME, what=start)]
    for number in range(2, chance.randint(8, 30)):
        what = chance.choice(_kinds(chance, model, number - 1))()
        entries.append(Entry(number=number, time=TIME, what=what, by=chance.choice("AB")))
    return entries


def _told(state: State) -> dict[str, Any]:
    checks = [check.id for check in state.assembly.checks]
    return {
        "done": sorted(state.done),
        "open": list(state.open),
        "skipped": sorted(state.skipped),
        "partDone": {step: [part.pass_, part.count] for step, part in state.part_done.items()},
        "signed": {step: entry.by for step, entry in state.signed.items()},
        "roles": {role: entry.by for role, entry in state.roles.items()},
        "holds": sorted(map(list, state.holds)),
        "accepted": {check: entry.by for check, entry in state.accepted.items() if check in checks},
        "short": sorted(state.short),
        "spoiled": sorted(state.spoiled),
        "afresh": sorted(spoiled_in(state)),
        "failing": [check for check in checks if state.failing(check) is not None],
        "readings": {
            check: [[one.place, one.value, one.round, one.verdict.word] for one in counting]
            for check in checks
            if (counting := state.current(check))
        },
    }


_BY_THE_PAGE = """
const { data } = Page.bench;
return arguments[0].map((text) => {
  const state = Entries.replay(data, Exchange.read(data, "", text));
  const by = (map) => Object.fromEntries([...map].map(([name, entry]) => [name, entry.by]));
  const readings = Object.keys(data.checks)
    .map((check) => [check, state.current(check)])
    .filter(([, counting]) => counting.length)
    .map(([check, all]) =>
      [check, all.map((one) => [one.place, one.entry.value, one.round, one.verdict.word])]);
  return {
    done: [...state.done.keys()].sort(),
    open: state.open().map((step) => step.id),
    skipped: [...state.skipped.keys()].sort(),
    partDone: Object.fromEntries(
      [...state.partDone].map(([step, one]) => [step, [one.pass, one.count]])),
    signed: by(state.signed),
    roles: by(state.roles),
    holds: state.holds().sort(),
    accepted: by(state.accepted),
    short: [...state.short.keys()].sort(),
    spoiled: [...state.spoiled.keys()].sort(),
    afresh: [...new Set(state.spoiledIn().map(([step]) => step))].sort(),
    failing: Object.keys(data.checks).filter((check) => state.failing(check)),
    readings: Object.fromEntries(readings),
  };
});
"""


def test_the_page_tells_of_any_log_what_the_log_tells(screen: Screen, capstan: Assembly) -> None:
    chance = random.Random(20310502)  # noqa: S311  # the same logs every time
    logs = [_any_log(chance, capstan) for _ in range(150)]
    texts = [b"".join(map(to_line, entries)).decode() for entries in logs]
    number = {
        step: at
        for at, step in enumerate(screen.run("return Page.bench.data.steps.map(one => one.id)"))
    }
    told: set[str] = set()
    never: set[str] = set()
    for entries, text, found in zip(logs, texts, screen.run(_BY_THE_PAGE, texts), strict=True):
        expected = _told(state_of(entries, capstan))
        expected["open"].sort(key=number.__getitem__)
        found["failing"].sort(key=[check.id for check in capstan.checks].index)
        assert found == expected, text
        told |= {name for name, value in expected.items() if value}
        never = {name for name in expected if name not in told}
    assert not never, "nothing of this ever came about"
