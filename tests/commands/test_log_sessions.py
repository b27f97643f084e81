"""Sessions of `sequencer log` typed at random: nothing is lost, and all that is said agrees."""

from __future__ import annotations

import json
import random
import shlex
from typing import TYPE_CHECKING, Any

import pytest
from click.testing import CliRunner

from sequencer.commands import main
from tests.commands.log_runs import SHEET, bench_in

if TYPE_CHECKING:
    from pathlib import Path

    from tests.commands.log_runs import Bench

VALUES = (
    "good",
    "bad",
    "12.04",
    "2,1 N·m",
    "22",
    "-1 mm",
    "9e9",
    "nan",
    "3 kg",
    "",
    "0.1 to 0.2 mm",
)
STRANGE = ("zz", "99", "0", "", "9-2", "é")
TIMES = ("07:00", "25:00", "yesterday", "2031-05-01", "2031-05-02 06:30", "2099-01-01")
_FAULT = 3


def _line(at_random: random.Random, told: dict[str, Any]) -> str:
    """Return a line that somebody might type, with more or less sense in it."""
    pick = at_random.choice
    step = pick((*told["done"], *told["open"], *STRANGE, "2-4", "3"))
    check, joint = pick(("depth", "drag", "marks", "zz")), pick(("cover-screws", "zz"))
    part, value = pick(("seal", "sleeve", "guard", "race", "zz")), pick(VALUES)
    step, value = shlex.quote(step), shlex.quote(value)
    line = pick(
        (
            f"done {step} {SHEET}",
            f"done {step} nut-on {SHEET}",
            f"undone {step}",
            f"skip {step} --allowed-by Jo",
            f"part-done {step} --pass {pick('0129')} --count {pick('17')}",
            f"reading {check}={value} {SHEET}",
            f"reading {check}.{pick('1b')}={value} --round {pick('013')} {SHEET}",
            f"torque {joint}={value} {SHEET}",
            f"accept {check} --by Jo",
            f"sign {pick(('inspector', 'nobody'))} --by Jo",
            f"fitted {part} --serial {value}",
            f"spoiled {part}",
            f"short {part}",
            f"arrived {part}",
            f"correct {pick('0123456789')} --why slip",
            f"note {value} --step {step}",
        )
    )
    at = f" --at '{pick(TIMES)}'" if at_random.random() < 1 / 5 else ""
    return line + at + (" --anyway" if at_random.random() < 2 / 3 else "")


def _typed(line: str) -> tuple[int, str]:
    """Type a line, and say no to whatever is asked; nothing may ever be a fault of the program."""
    result = CliRunner().invoke(main, shlex.split(line), input="n\n" * 3)
    assert result.exit_code < _FAULT, (line, result.output)
    return result.exit_code, result.stdout


def _mends(told: dict[str, Any]) -> None:
    """See that the mend by the log speaks of the same steps as its status."""
    exit_code, text = _typed("revise --json")
    mend = json.loads(text)
    assert mend["ok"] == (exit_code == 0)
    if mend["ok"]:
        done, left_out = set(told["done"]), set(told["skipped"])
        out, do = set(mend["undo"]), set(mend["do"])
        assert out <= done
        assert (done - out) & do == set(mend["in_place"])
        assert (done - out) | do | left_out == done | set(told["open"]) | left_out


@pytest.mark.parametrize("number", range(4))
def test_whatever_is_typed_nothing_is_lost_and_all_that_is_said_agrees(
    number: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    bench = bench_in(tmp_path, monkeypatch)
    bench.run("start pinion.yaml")
    at_random = random.Random(number)  # noqa: S311  # the same lines every time
    told = bench.json("status")
    every = sorted(told["open"])
    for _ in range(20):
        before = bench.log.read_bytes()
        line = _line(at_random, told)
        exit_code, _ = _typed(f"log {line}")
        after = bench.log.read_bytes()
        assert after.startswith(before), line
        assert (after != before) == (exit_code == 0), (line, "ok is said of what is written")
        told = bench.json("status")
        assert sorted((*told["done"], *told["open"], *told["skipped"])) == every, line
        assert set(told["next"]) <= set(told["open"]), line
    assert len(bench.run("list").stdout.splitlines()) >= len(bench.entries)
    _mends(told)
    _goes_on(bench, told)


def _goes_on(bench: Bench, told: dict[str, Any]) -> None:
    """See that the step said to be next is one that is recorded without a word against it."""
    if told["next"]:
        bench.run(f"done {told['next'][0]} {SHEET}")
