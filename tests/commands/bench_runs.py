"""How the tests of the bench calculators call them."""

from __future__ import annotations

import json
import shlex
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result

from sequencer.commands import main

GOLDEN = Path(__file__).resolve().parent.parent / "golden" / "bench"
MAKER = "The maker's figure comes first"


def run(line: str, exit_code: int = 0) -> Result:
    """Call a calculator as typed in a shell; nothing but a result may be on standard output."""
    result = CliRunner().invoke(main, shlex.split(line))
    assert result.exit_code == exit_code, result.output
    assert (result.stdout == "") == (exit_code == 2), result.output
    return result


def run_json(line: str, exit_code: int = 0) -> dict[str, Any]:
    result = CliRunner().invoke(main, [*shlex.split(line), "--json"])
    assert result.exit_code == exit_code, result.output
    assert result.stderr == ""
    loaded: dict[str, Any] = json.loads(result.stdout)
    return loaded


def values(line: str, exit_code: int = 0) -> dict[str, Any]:
    loaded: dict[str, Any] = run_json(line, exit_code)["values"]
    return loaded


def check_same_fields(line: str, exit_code: int = 0) -> None:
    """Check that text and JSON say the same: result, formula, numbers, source, notes, maker."""
    text = " ".join(run(line, exit_code).stdout.split())
    told = run_json(line, exit_code)
    assert told["ok"] is (exit_code == 0)
    assert MAKER in told["maker"]
    pieces = [*told["result"], *told["notes"], told["maker"]]
    for working in told["working"]:
        assert working["source"]
        pieces += [working["formula"], *working["numbers"], working["source"]]
    for piece in pieces:
        assert " ".join(piece.split()) in text


def check_refused(line: str, *words: str) -> None:
    """Check that bad input is told plainly, what and fix, in text and in JSON, and exits with 2."""
    told = run(line, exit_code=2).stderr
    assert "Traceback" not in told
    assert told.startswith("error: ")
    assert "\n  = fix: " in told
    for word in words:
        assert word in told
    error = run_json(line, exit_code=2)
    assert error["ok"] is False
    assert told == f"error: {error['error']['what']}\n  = fix: {error['error']['fix']}\n"
