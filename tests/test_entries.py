"""What other programs call by `import sequencer`."""

from __future__ import annotations

import subprocess
import sys
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

import sequencer

HOIST = Path(__file__).resolve().parent.parent / "assemblies" / "hoist-head.yaml"


def test_importing_loads_nothing() -> None:
    loaded = "import sys; before = set(sys.modules); import sequencer; print(*sorted(m for m in "
    loaded += "set(sys.modules) - before if m.startswith('sequencer') or m == 'yaml'))"
    told = subprocess.run(  # noqa: S603  # our own interpreter on our own code
        [sys.executable, "-c", loaded], capture_output=True, text=True, check=True
    )
    assert told.stdout.split() == ["sequencer"]


def test_model_is_read_checked_ordered_mended_and_taken_apart() -> None:
    reading = sequencer.load(str(HOIST))
    assembly = reading.assembly
    assert assembly is not None
    assert not [one for one in sequencer.check(assembly) if one.severity == "error"]
    order = sequencer.plan(assembly).order
    assert order is not None
    assert sorted(order) == sorted(step.id for step in assembly.steps)
    forgotten, *later = order[:6]
    mend = sequencer.revise(assembly, later).mend
    assert mend is not None
    assert set(mend.do) == {*mend.undo, forgotten, *order[6:]}
    assert set(sequencer.strip(assembly).order or ()) <= set(order)


def test_option_is_chosen_by_its_name() -> None:
    reading = sequencer.load(HOIST.with_name("belt-drive.yaml"), {"seals": "hot"})
    assert reading.assembly is not None
    assert ("seals", "hot") in [(one.option, one.choice) for one in reading.assembly.taken]


def test_what_cannot_be_read_is_told() -> None:
    reading = sequencer.load(HOIST.with_name("no-such.yaml"))
    assert reading.assembly is None
    assert [problem.code for problem in reading.problems] == ["no-file"]


def test_packet_is_printed() -> None:
    assembly = sequencer.load(HOIST).assembly
    assert assembly is not None
    pages = PdfReader(BytesIO(sequencer.packet(assembly, sheets=("checklist",), paper="Letter")))
    words = "".join(page.extract_text() for page in pages.pages)
    assert "Bench checklist" in words
    assert "DRAFT" not in words
    assert pages.pages[0].mediabox.height == 792  # points, of US Letter


def test_packet_of_a_model_with_errors_is_a_draft() -> None:
    assembly = sequencer.load(HOIST.with_name("hoist-head-mistakes.yaml")).assembly
    assert assembly is not None
    pages = PdfReader(BytesIO(sequencer.packet(assembly, sheets=("checklist",)))).pages
    assert all("DRAFT" in page.extract_text() for page in pages)


def test_strange_name_is_told() -> None:
    with pytest.raises(AttributeError, match="module 'sequencer' has no attribute 'chek'"):
        sequencer.chek  # noqa: B018  # asking for it is the test
