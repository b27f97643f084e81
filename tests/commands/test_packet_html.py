"""`sequencer packet --html`: the page is written where the PDF would be."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from sequencer.commands import main

ASSEMBLIES = Path(__file__).resolve().parent.parent.parent / "assemblies"
HOIST = str(ASSEMBLIES / "hoist-head.yaml")


def run(*arguments: str, exit_code: int = 0) -> Result:
    result = CliRunner().invoke(main, ["packet", *arguments])
    assert result.exit_code == exit_code, result.output
    return result


def test_the_page_is_written_beside_the_pdf(tmp_path: Path) -> None:
    said = run(HOIST, "--html", "--into", str(tmp_path)).stdout
    assert said == f"{tmp_path / 'hoist-head-B.html'}\n"
    page = (tmp_path / "hoist-head-B.html").read_text(encoding="utf-8")
    assert page.startswith('<!DOCTYPE html>\n<html lang="en">')
    assert "DRAFT: do not work from this." not in page


def test_the_page_needs_no_renderer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "weasyprint", None)  # as where Pango is missing
    run(HOIST, "--html", "--into", str(tmp_path))


def test_a_draft_says_so_on_the_page(tmp_path: Path) -> None:
    told = json.loads(run(HOIST, "--html", "--draft", "--into", str(tmp_path), "--json").stdout)
    assert told["draft"]
    page = Path(told["file"]).read_text(encoding="utf-8")
    assert "DRAFT: do not work from this." in page
    assert "asked for with --draft" in page


def test_each_model_has_a_page_of_its_own(tmp_path: Path) -> None:
    wheel = str(ASSEMBLIES / "potters-wheel.yaml")
    told = json.loads(run(wheel, "--each", "--html", "--into", str(tmp_path), "--json").stdout)
    assert len(told["files"]) == 4
    assert {Path(file).suffix for file in told["files"]} == {".html"}


@pytest.mark.parametrize(("option", "value"), [("--paper", "A4"), ("--sheets", "steps")])
def test_what_only_paper_has_does_not_go_with_it(option: str, value: str) -> None:
    refused = run(HOIST, "--html", option, value, exit_code=2)
    assert f"{option} is about paper: it does not go with --html" in refused.stderr


def test_nothing_is_written_while_there_are_errors(tmp_path: Path) -> None:
    mistakes = str(ASSEMBLIES / "hoist-head-mistakes.yaml")
    refused = run(mistakes, "--html", "--into", str(tmp_path), exit_code=1)
    assert "nothing printed: there are errors" in refused.stdout
    assert list(tmp_path.iterdir()) == []
