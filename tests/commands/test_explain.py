"""`sequencer explain`: whole pages, the list, and codes without a page."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from click.testing import CliRunner, Result

from sequencer.commands import main
from sequencer.commands.explain import (
    WHILE_PRINTING,
    WHILE_READING,
    WHILE_RECORDING,
    WHILE_WRITING,
)
from sequencer.planning.pages import PAGES

if TYPE_CHECKING:
    from collections.abc import Callable

ROOT = Path(__file__).resolve().parent.parent.parent
GOLDEN = ROOT / "tests" / "golden" / "explain"
LIST = "all-codes"
EXPLAINED = {*PAGES, *WHILE_READING, *WHILE_PRINTING, *WHILE_WRITING, *WHILE_RECORDING}


def run(*arguments: str, exit_code: int = 0) -> Result:
    result = CliRunner().invoke(main, ["explain", *arguments])
    assert result.exit_code == exit_code, result.output
    return result


@pytest.mark.parametrize("code", PAGES)
def test_the_whole_page(code: str, golden: Callable[[Path, str], None]) -> None:
    result = run(code)
    assert result.stderr == ""
    assert max(map(len, result.stdout.splitlines())) <= 80
    golden(GOLDEN / f"{code}.expected", result.stdout)


def test_without_a_code_all_are_listed(golden: Callable[[Path, str], None]) -> None:
    listed = run().stdout
    assert [line.split()[0] for line in listed.split("\n\n")[0].splitlines()] == list(PAGES)
    golden(GOLDEN / f"{LIST}.expected", listed)


def test_every_page_kept_is_one_that_there_is() -> None:
    assert {kept.stem for kept in GOLDEN.iterdir()} == {*PAGES, LIST}


@pytest.mark.parametrize("typed", ["Circle", "[circle]", "error[circle]:", "error[circle]"])
def test_a_code_may_be_pasted_from_a_finding(typed: str) -> None:
    assert run(typed).stdout == run("circle").stdout


def test_a_code_that_does_not_exist_is_told_with_the_nearest() -> None:
    result = run("no-orders", exit_code=1)
    assert result.stdout == ""
    assert result.stderr.splitlines() == [
        "error[unknown]: there is no finding `no-orders`",
        "  = why: only what stands in brackets at the head of a finding can be explained",
        "  = fix: did you mean `no-order`?",
    ]
    assert "see `sequencer explain` for all codes" in run("42", exit_code=1).stderr


def test_of_a_code_without_a_page_the_message_is_all_there_is() -> None:
    assert run("cut-off").stdout == (
        "cut-off is found while a file is read and has no page: its message says all\n"
        "there is to say, what is wrong and where, why it matters and how to mend it.\n"
    )
    assert run("no-renderer").stdout.startswith("no-renderer is found while a packet is printed ")


def test_every_code_of_a_message_kept_can_be_explained() -> None:
    kept = (ROOT / "tests" / "golden" / "reading").glob("*.expected")
    text = "\n".join(file.read_text(encoding="utf-8") for file in kept)
    codes = set(re.findall(r"\b(?:error|warning|note)\[([a-z-]+)\]", text))
    assert codes
    assert codes <= EXPLAINED


def test_every_code_in_the_source_can_be_explained() -> None:
    codes = {
        node.args[0].value
        for node in _nodes("")
        if isinstance(node, ast.Call)
        and ast.unparse(node.func) == "Problem"
        and isinstance(node.args[0], ast.Constant)
    }
    assert codes <= EXPLAINED


def test_every_code_without_a_page_is_one_that_there_is() -> None:
    words = {node.value for node in _nodes("reading") if isinstance(node, ast.Constant)}
    assert words >= WHILE_READING
    assert not (WHILE_READING | WHILE_PRINTING | WHILE_RECORDING) & set(PAGES)


def test_every_code_of_a_log_is_one_that_there_is() -> None:
    words = {
        node.value
        for room in ("records", "commands")
        for node in _nodes(room)
        if isinstance(node, ast.Constant)
    }
    assert words >= WHILE_RECORDING


def _nodes(room: str) -> list[ast.AST]:
    files = (ROOT / "sequencer" / room).rglob("*.py")
    trees = [ast.parse(file.read_text(encoding="utf-8")) for file in files]
    return [node for tree in trees for node in ast.walk(tree)]


def test_explaining_loads_nothing_slow() -> None:
    script = (
        "import atexit, sys\n"
        "atexit.register(lambda: print(*sys.modules, file=sys.stderr))\n"
        "from sequencer.commands import main\n"
        "main(['explain', 'circle'])"
    )
    done = subprocess.run(  # noqa: S603  # our own interpreter on our own code
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=ROOT
    )
    loaded = set(done.stderr.split())
    assert "sequencer.planning.pages" in loaded
    assert not loaded & {"weasyprint", "networkx", "pint", "jinja2", "yaml"}
