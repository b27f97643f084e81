"""The page judges every reading as the log does: the same word, the same reason, what follows."""

from __future__ import annotations

import json
import random
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sequencer.model.assembly import Assembly
from sequencer.records.entries import Entry, Reading, Start, What
from sequencer.records.replay import state_of
from sequencer.records.verdicts import judge_torque
from tests.tablet.browsing import Screen

AT = "2031-05-02T14:05:09+02:00"

# In, out, on the limit, by comma, in other units, with a spread, as a range; then what is no
# figure, or not one, or of something else.
FLOAT = """
0.04 mm; 0,04 mm; .04 mm; 0.02 mm; 0.06 mm; 0.060 mm; 0.0601 mm; 0.019 mm; 0.0016 in; 0.0016"
1.6 thou; 40 µm; 40 μm; 4e-2 mm; 0.04 ± 0.01 mm; 0.04 mm ± 0.03; 0.03 to 0.05 mm; 0.05 to 0.08 mm
0.05 mm +0.01/-0.02; 1/25 mm; ½ mm; 1 1/2 mm; –0.04 mm; 0.04 mm ± 5 %; +0.04 mm; 0.1 mm; 0 mm
loose; 0.04; 0.04 N·m; 0.04 furlong; at most 0.05 mm; 0.05 mm max; 1,234 mm; 1.2.3 mm; 5 to 3 mm
0.04 mm 0.05; 1e99 mm; 3/0 mm; < 0.05 mm; 0.04 mmm; 1 000 mm; 1'000 mm; 0.04 mm mm; 0.04 m m; 0.04 °
"""
GAP = "0.05 mm; 0.10 mm; 0.1 mm; 0.12 mm; 0.16 mm; 0.004 in"
COARSE = "12.1 mm; 12 mm; 11.4 mm; 13 mm; 12.70 mm; 12.7 mm"
TURNS = """
good; Good ; x; even, no catch; EVEN, NO CATCH; bad; a catch; no; so-so; right; ok; yes; accept
wrong; not ok
"""
PLUG = """
yes, no; no, no; yes, yes; goes in, does not go in; x, n; y, does not go; goes, maybe; ok, no
perhaps, no
"""
RUN_OUT = """
5.02 mm & 5.00 mm; 5.02 & 5.00; 5,02 & 5,00; 5.06 mm & 5.00 mm; 5.020 mm & 5.016 mm
0.2 in & 5.07 mm; 5.0 mm & 5.0 mm; 5.02 ± 0.01 mm & 5.00; 5.02 mm & 4.00 mm; 5.02 N·m & 5.00 mm
high & 5 mm; 5.01 & 5.00 mm; 5.52 mm & 5.00 mm; -5.02 mm & 5.00 mm; 0 mm & 0 mm
at most 5 mm & 5 mm; 5.02 °C & 5 °C; 5.02 mm & 5.00 mm ± 0.03
"""


def _listed(text: str) -> list[str]:
    return [one for line in text.strip().splitlines() for one in line.split("; ")]


def _one_by_one(check: str, text: str) -> list[tuple[str, list[tuple[str, str]]]]:
    return [(check, [("", one)]) for one in _listed(text)]


def _in_pairs(check: str, text: str, mark: str, *places: str) -> list[Any]:
    return [(check, list(zip(places, one.split(mark), strict=True))) for one in _listed(text)]


# Readings of one check in the order in which they are taken: place and text.
TYPED: list[tuple[str, list[tuple[str, str]]]] = [
    *_one_by_one("float", FLOAT),
    *_one_by_one("gap", GAP),
    *_one_by_one("coarse", COARSE),
    *_one_by_one("turns", TURNS),
    *_in_pairs("plug", PLUG, ", ", "go", "no_go"),
    *_in_pairs("run-out", RUN_OUT, " & ", "high", "low"),
    ("float", [("", "")]),
    ("float", [("", "9" * 201 + " mm")]),
    ("turns", [("", "")]),
    ("run-out", [("high", "5.02 mm")]),
    ("run-out", [("low", "5.00 mm"), ("high", "5.30 mm"), ("high", "5.02 mm")]),
    ("bolts", [("left", "0.12 mm"), ("right", "0.20 mm")]),
    ("bolts", [("left", "0.12 mm"), ("left", "0.09 mm")]),
    ("bolts", [("middle", "0.12 mm")]),
    ("float", [("", "0.08 mm"), ("", "0.04 mm")]),
]


@dataclass(frozen=True)
class Said:
    """A verdict as people read it."""

    word: str
    why: str
    follow: str


def _numbered(words: str, number: dict[str, int]) -> str:
    """Return words as the page says them, which has numbers for steps."""

    def said(found: re.Match[str]) -> str:
        return f"step {number[found[1]]}" if found[1] in number else found[0]

    return re.sub(r"`([^`]*)`", said, words)


def _by_the_log(model: Assembly, check: str, taken: list[tuple[str, str]], round_: int) -> Said:
    order = tuple(step.id for step in model.steps)
    start = Start(file="", text="", assembly="", issue="", fingerprint="", order=order)
    whats: list[What] = [
        start,
        *(Reading(check=check, value=text, place=place, round=round_) for place, text in taken),
    ]
    entries = [Entry(number=at, time=AT, what=what) for at, what in enumerate(whats, 1)]
    verdict = state_of(entries, model).readings[check][-1].verdict
    number = {step: at for at, step in enumerate(order, start=1)}
    return Said(verdict.word, verdict.why, _numbered(verdict.follow, number))


_IN_THE_PAGE = """
const [sequences] = arguments;
const data = Page.bench.data;
return sequences.map(([check, taken, round]) => {
  const entries = taken.map(([place, value], at) =>
    ({ id: String(at), kind: "reading", check, place, value, round }));
  return Entries.replay(data, entries).readings.get(check).pop().verdict;
});
"""


def _by_the_page(screen: Screen, sequences: list[Any]) -> list[Said]:
    found = screen.run(_IN_THE_PAGE, sequences)
    return [Said(one["word"], one["why"], one["follow"]) for one in found]


def test_the_page_says_of_each_reading_what_the_log_says(screen: Screen, capstan: Assembly) -> None:
    sequences = [(check, taken, round_) for check, taken in TYPED for round_ in (1, 2, 3)]
    page = _by_the_page(screen, sequences)
    for (check, taken, round_), said in zip(sequences, page, strict=True):
        expected = _by_the_log(capstan, check, taken, round_)
        assert _but_for_spelling(said) == _but_for_spelling(expected), (check, taken, round_)


def _but_for_spelling(said: Said) -> Said:
    """Leave out what to type instead of what is no figure: the log knows more ways of saying it."""
    return Said(said.word, said.why, "") if said.word == "cannot be told" else said


def test_the_page_and_the_log_agree_on_figures_made_at_random(
    screen: Screen, capstan: Assembly
) -> None:
    chance = random.Random(20310502)  # noqa: S311  # the same figures every time
    sequences = [_any_sequence(chance) for _ in range(800)]
    page = _by_the_page(screen, sequences)
    words = set()
    for (check, taken, round_), said in zip(sequences, page, strict=True):
        expected = _by_the_log(capstan, check, taken, round_)
        words.add(said.word)
        assert _but_for_spelling(said) == _but_for_spelling(expected), (check, taken, round_)
    wanted = {"accept", "rework", "renew", "again", "stop", "out of limit", "cannot be told"}
    assert words >= wanted


def _any_sequence(chance: random.Random) -> tuple[str, list[tuple[str, str]], int]:
    check = chance.choice(["float", "gap", "coarse", "run-out", "bolts"])
    middle = {"float": 0.04, "gap": 0.1, "coarse": 12.1, "run-out": 5.0, "bolts": 0.12}[check]
    places = {"run-out": ["high", "low"], "bolts": ["left", "right"]}.get(check, [""])
    return (
        check,
        [(place, _any_figure(chance, middle)) for place in places],
        chance.choice([1, 2, 3]),
    )


def _any_figure(chance: random.Random, middle: float) -> str:
    number = middle + chance.choice([0.001, 0.02, 0.2]) * chance.uniform(-1, 1)
    unit, scale = chance.choice([("mm", 1.0), ("mm", 1.0), ("in", 25.4), ("µm", 0.001), ("", 1.0)])
    typed = f"{number / scale:.{chance.randint(0, 5)}f}"
    spread = chance.choice(["", "", "", f" ± 0.0{chance.randint(1, 9)}", " +0.01/-0.02", " to 9"])
    return f"{typed}{spread} {unit}".replace(".", chance.choice([".", ".", ","]))


TORQUES = """
22 N·m; 22; 22 Nm; 22,0 N·m; 20 N·m; 24 N·m; 24.1 N·m; 19 N·m; 16 ft-lb; 17 lbf·ft; 200 in-lb; 16 lb
20 to 24 N·m; 22 N·m ± 1; tight; 22 mm; 2.2 kgf·m; 2200 N·cm; 22 nm
"""


def test_the_page_says_of_each_torque_what_the_log_says(screen: Screen, capstan: Assembly) -> None:
    joint = capstan.joints[0]
    rules = "Page.bench.data.joints['cover-screws']"
    script = f"return arguments[0].map((one) => Judging.torque({rules}, one))"
    typings = [*_listed(TORQUES), ""]
    for typed, found in zip(typings, screen.run(script, typings), strict=True):
        verdict = judge_torque(joint, typed)
        expected = Said(verdict.word, verdict.why, verdict.follow)
        said = Said(found["word"], found["why"], found["follow"])
        assert _but_for_spelling(said) == _but_for_spelling(expected), typed


def test_no_float_reaches_the_page(page: Path) -> None:
    text = page.read_text(encoding="utf-8").partition('id="job">')[2].partition("</script>")[0]

    def refuse(number: str) -> object:
        raise AssertionError(f"{number} is not exact")

    json.loads(text, parse_float=refuse)
