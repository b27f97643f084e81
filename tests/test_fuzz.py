"""A short run of the fuzzer, the same models every time; the long one is `python -m tests.fuzz`."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.fuzz.__main__ import fault_of, shrunk
from tests.fuzz.mutating import mutated
from tests.fuzz.trying import try_model


@pytest.mark.parametrize("first", range(0, 90, 10))
def test_spoiled_models_are_read_planned_and_printed_or_told_why_not(
    first: int, tmp_path: Path
) -> None:
    for number in range(first, first + 10):
        assert fault_of(tmp_path / "x.yaml", mutated(number), seconds=60) == ""


def test_a_number_gives_the_same_model_every_time() -> None:
    assert [mutated(number) for number in range(50)] == [mutated(number) for number in range(50)]


def test_a_fault_is_found_and_made_short(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(file: Path, _seconds: float) -> None:
        if b"bolt" in file.read_bytes():
            raise ValueError("no bolts here")
        try_model(file)

    monkeypatch.setattr("tests.fuzz.__main__.try_model", fails)
    file = tmp_path / "x.yaml"
    data = b"assembly: x\nsteps:\n  a: Fit the bolt.\n"
    fault = fault_of(file, data, 10)
    assert fault.startswith("ValueError in ")
    assert shrunk(file, data, fault, 10) == b"bolt"
