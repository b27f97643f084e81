"""Stress areas and pitch diameters against ISO 898-1, ASME B1.1 and packages that carry them."""

from __future__ import annotations

import importlib
import math

import pytest

from sequencer.trade.threads import read_thread
from tests.outside.tables import INCH_MM, Row, each_row

# Stress areas in mm² of sizes beyond the stored table, ISO 898-1: from memory.
FROM_MEMORY = {"M1.6": 1.27, "M2": 2.07, "M2.5": 3.39, "M39": 976}


@each_row("threads", "thread")
def test_stress_area_is_the_published_one(row: Row) -> None:
    """Published areas have three figures, so the formula differs by up to 0.4 %."""
    thread = read_thread(row["thread"])
    area = thread.stress_area_mm2 / (INCH_MM**2 if row["unit"] == "in2" else 1)
    tolerance = float(row["tolerance"].rstrip("%")) / 100
    assert area == pytest.approx(float(row["area"]), rel=tolerance)
    assert thread.series == row["series"]


@pytest.mark.parametrize("name", FROM_MEMORY)
def test_stress_area_from_memory(name: str) -> None:
    assert read_thread(name).stress_area_mm2 == pytest.approx(FROM_MEMORY[name], rel=0.005)


@each_row("threads", "thread")
def test_other_published_form_of_the_stress_area_agrees(row: Row) -> None:
    """FED-STD-H28/2B, table II.B.1, formula 1a; ISO 898-1, π/4·((d2 + d3)/2)²; within 0.2 %."""
    thread = read_thread(row["thread"])
    height_mm = math.sqrt(3) / 2 * thread.pitch_mm
    unified = math.pi * (thread.pitch_diameter_mm / 2 - 3 * height_mm / 16) ** 2
    root_mm = thread.diameter_mm - 1.226869 * thread.pitch_mm
    metric = math.pi / 4 * ((thread.pitch_diameter_mm + root_mm) / 2) ** 2
    other_form = metric if thread.metric else unified
    assert thread.stress_area_mm2 == pytest.approx(other_form, rel=0.002)


def _package() -> dict[str, dict[str, float]]:
    data = importlib.import_module("screw_thread_lib.data")  # it ships no type hints
    metric = {name.replace("-", "x"): row for name, row in data.ASME_M_6g6H_dict.items()}
    return {**data.ASME_UN_2A2B_dict, **metric}


@pytest.mark.parametrize("name", sorted(_package()))
def test_sizes_agree_with_a_package_of_screw_threads(name: str) -> None:
    """ASME B1.1-2019 and B1.13, as carried by screw-thread-lib; its limits are rounded inches."""
    package = importlib.import_module("screw_thread_lib")
    thread, other = read_thread(name), package.Assembly(_package()[name])
    assert thread.diameter_mm == pytest.approx(other.dbsc * INCH_MM)
    assert thread.pitch_mm == pytest.approx(INCH_MM / other.n)
    assert thread.pitch_diameter_mm == pytest.approx(other.d2bsc * INCH_MM, rel=1e-6)
    area = other.As_ISO() if thread.metric else other.As_FEDSTD_1b()
    assert thread.stress_area_mm2 == pytest.approx(area * INCH_MM**2, rel=1e-4)
