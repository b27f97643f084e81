"""The change sheet says in which order a joint with a pattern is loosened."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner
from pypdf import PdfReader

from sequencer.commands import main

# Invented: a seal behind a cover that is held crosswise.
TEXT = """\
assembly: pump-cover
parts: {seal: Seal, cover: Cover}
joints: {screws: {name: Cover screws, thread: M6, count: 12, pattern: cross, torque: 9 N·m}}
steps:
  seal-in: {do: Press the seal in., fits: seal}
  cover-on: {do: Put the cover on., fits: cover, after: seal-in, tighten: screws}
"""


def test_what_comes_out_is_loosened_as_it_was_tightened_backwards(tmp_path: Path) -> None:
    (tmp_path / "unit.yaml").write_text(TEXT, encoding="utf-8")
    call = ["revise", str(tmp_path / "unit.yaml"), "--done", "1-2", "--redo", "cover-on"]
    result = CliRunner().invoke(main, [*call, "--into", str(tmp_path)])
    assert result.exit_code == 0, result.output
    (sheet,) = tmp_path.glob("*change.pdf")
    text = " ".join(" ".join(page.extract_text() for page in PdfReader(sheet).pages).split())
    assert (
        "Loosen Cover screws and take out Cover. Cover screws: loosen in the order drawn, "
        "backwards: from 12 to 1." in text
    )
