"""How tests call the program: by its commands, with the exit code that they expect."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result

from sequencer.commands import main

ASSEMBLIES = Path(__file__).resolve().parent.parent.parent / "assemblies"
HUB = str(ASSEMBLIES / "front-hub.yaml")
HOIST = str(ASSEMBLIES / "hoist-head.yaml")
MISTAKES = str(ASSEMBLIES / "hoist-head-mistakes.yaml")


def run(*arguments: str, exit_code: int = 0) -> Result:
    result = CliRunner().invoke(main, list(arguments))
    assert result.exit_code == exit_code, result.output
    return result


def run_json(*arguments: str, exit_code: int = 0) -> dict[str, Any]:
    result = run(*arguments, "--json", exit_code=exit_code)
    assert result.stderr == ""
    loaded: dict[str, Any] = json.loads(result.stdout)
    return loaded
