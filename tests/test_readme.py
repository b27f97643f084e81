"""The README tells the truth: its models read, its commands print what it shows."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from sequencer.commands import main
from sequencer.reading import read_text

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
CUT = "[…]"


def _blocks(language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```", README, re.DOTALL | re.MULTILINE)


@pytest.mark.parametrize("block", _blocks("console"), ids=lambda block: block.splitlines()[0])
def test_a_command_prints_what_the_readme_shows(
    block: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "assemblies").symlink_to(ROOT / "assemblies")
    for session in block.removeprefix("$ sequencer ").split("\n$ sequencer "):
        command, _, shown = session.partition("\n")
        printed = CliRunner().invoke(main, shlex.split(command)).output
        at = 0
        for piece in shown.strip("\n").split(CUT):
            found = printed.find(piece.strip("\n"), at)
            assert found >= 0, f"not printed:\n{piece}\nbut:\n{printed[at:]}"
            at = found + len(piece.strip("\n"))


@pytest.mark.parametrize("block", _blocks("yaml"), ids=lambda block: block.splitlines()[0])
def test_a_model_in_the_readme_is_one_that_ships(block: str) -> None:
    shipped = [file.read_text(encoding="utf-8") for file in (ROOT / "assemblies").glob("*.yaml")]
    assert any(block.removeprefix("steps:\n") in text for text in shipped)
    if block.startswith("assembly:"):
        assert not read_text(block, "README.md").problems


def test_there_are_two_commands_that_set_up_and_go() -> None:
    assert len(_blocks("sh")) == 2
    assert "sequencer packet assemblies/hoist-head.yaml" in _blocks("sh")[0]
    assert "pytest" in _blocks("sh")[1]
