"""Sizes at hand, and times by temperature: small tables inside one field."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from sequencer.model.compounds import CureTable
from sequencer.model.fields import Figure
from sequencer.model.parts import ShimSize
from sequencer.model.quantities import AmountError, converted, to_si
from sequencer.problem import Problem
from sequencer.reading.figures import read_figure
from sequencer.reading.nodes import Mapping, Scalar
from sequencer.reading.plain import figure_fault, scalar_of
from sequencer.reading.source import shortened

if TYPE_CHECKING:
    from sequencer.model.fields import ByTemperature, Sizes
    from sequencer.model.quantities import Amount
    from sequencer.problem import Path
    from sequencer.reading.binder import Binder
    from sequencer.reading.nodes import Node

_STEP = re.compile(r"(?<!\s)(?:\s++|\s*+,\s++)(?:in steps of|by|step)\s++", re.IGNORECASE)
_LENGTH = Figure(("length",))
_RUN = Figure(("length",), limits=True)
_TIME = Figure(("time",))
_TEMPERATURE = Figure(("temperature",))
_MOST_SIZES = 1000


def read_sizes(binder: Binder, _kind: Sizes, node: Node, path: Path) -> tuple[ShimSize, ...] | None:
    """Return the sizes at hand: single ones, and runs with their step."""
    sizes = []
    for index, item in binder.items(node, path):
        scalar = scalar_of(binder, item, (*path, index), "a size is")
        if scalar is None:
            continue
        try:
            sizes.append(read_size(scalar.text))
        except AmountError as error:
            figure_fault(binder, error, scalar, (*path, index))
    return tuple(sizes)


def read_size(text: str) -> ShimSize:
    """Return a size such as ``0.10 mm``, or a run such as ``1.00 to 2.00 mm step 0.05 mm``.

    Raises
    ------
    AmountError
        If the text is neither, or names no shim that there could be.
    """
    step = _STEP.search(text)
    if step is None:
        amount = read_figure(_LENGTH, text)
        return _more_than_nothing(ShimSize(text.strip(), amount.unit, amount.value, amount.value))
    run = read_figure(_RUN, text[: step.start()])
    by = read_figure(_LENGTH, " " * step.end() + text[step.end() :])
    if run.low is None or run.high is None:
        what = f"`{text.strip()}` is a run of sizes with an open end"
        raise AmountError(what, "write it like `1.00 to 2.00 mm step 0.05 mm`")
    pitch = converted(by.value, by.unit, run.unit)
    if pitch <= 0 or (run.high - run.low) / pitch > _MOST_SIZES:
        what = f"`{text.strip()}` is a run of more than {_MOST_SIZES:,} sizes"
        raise AmountError(what, "check its step", step.start())
    return _more_than_nothing(ShimSize(text.strip(), run.unit, run.low, run.high, pitch))


def _more_than_nothing(size: ShimSize) -> ShimSize:
    if size.low <= 0:
        what = f"`{size.text}` is a shim of no thickness"
        raise AmountError(what, "leave it out: no shim is always one of the choices")
    return size


def read_by_temperature(
    binder: Binder, _kind: ByTemperature, node: Node, path: Path
) -> CureTable | None:
    """Return a time, or a table of times by temperature, the coldest first."""
    if not isinstance(node, Mapping):
        time: Amount | None = binder.read(_TIME, node, path)
        return None if time is None else CureTable(time)
    rows: list[tuple[Amount, Amount]] = []
    whole = True
    for key, name, value in binder.entries(node, path):
        at = _temperature(binder, key, path)
        time = binder.read(_TIME, value, (*path, name))
        if at is None or time is None:
            whole = False
            continue
        if any(to_si(at.value, at.unit) == to_si(row.value, row.unit) for row, _ in rows):
            message = f"`{shortened(name)}` stands in the table twice"
            why = "only one of the times could count"
            fix = "delete one of them"
            problem = Problem("duplicate-key", "error", message, why=why, fix=fix)
            binder.fault(problem, key, (*path, name))
            continue
        rows.append((at, time))
    rows.sort(key=lambda row: to_si(row[0].value, row[0].unit))
    return CureTable(rows=tuple(rows)) if rows and whole else None


def _temperature(binder: Binder, key: Scalar, path: Path) -> Amount | None:
    try:
        return read_figure(_TEMPERATURE, key.text)
    except AmountError as error:
        figure_fault(binder, error, key, path)
        return None
