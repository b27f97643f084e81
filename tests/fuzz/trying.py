"""What every model must stand, whatever is in it: reading, planning, printing, tidying."""

from __future__ import annotations

import json
import re
import signal
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from jsonschema import Draft202012Validator

from sequencer.model.fingerprint import fingerprint
from sequencer.planning.plan import check, count, plan
from sequencer.problem import Problem, has_errors, located
from sequencer.reading import Reading, read_file
from sequencer.reading.decoding import UnreadableError, text_of_file
from sequencer.report import as_json, as_text
from sequencer.sheets.job import job_of
from sequencer.sheets.packet import packet_html
from sequencer.sheets.tables import TABLES
from sequencer.writing.schema import schema
from sequencer.writing.tidy import tidy
from tests.writing.seeing import as_an_editor_sees_it

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from sequencer.model.assembly import Assembly

_VALIDATOR = Draft202012Validator(schema())
_MOST_COUNTED = 25  # steps; above that, counting to its own bound takes seconds
_MARKS = str.maketrans("", "", "'\"")


class TooSlowError(Exception):
    """A model that took longer than it may."""


class WrongError(AssertionError):
    """A model of which something is told or done that cannot be."""


def try_model(file: Path, seconds: float = 10.0) -> None:
    """Do with a file what the commands do; whatever escapes is a fault of the program."""
    with _at_most(seconds):
        reading = read_file(file)
        _told(reading, reading.problems)
        if (reading.assembly is None) != has_errors(reading.problems):
            raise WrongError("a model with errors, or no model and no error")
        _tidied(file)
        if reading.assembly is not None:
            _planned(reading, reading.assembly)
            _fits_the_schema(file)


def _told(reading: Reading, problems: Iterable[Problem]) -> None:
    problems = [located(problem, reading.place_of) for problem in problems]
    for problem in problems:
        place = problem.place
        if place is None:
            continue
        lines = reading.lines.get(place.file, ())
        if lines and not 1 <= place.line <= len(lines):
            raise WrongError(f"{problem.code} in line {place.line} of {len(lines)}")
    as_text(problems, reading.lines, None).encode()
    json.dumps([as_json(problem) for problem in problems])


def _tidied(file: Path) -> None:
    try:
        text = text_of_file(file, str(file))
    except UnreadableError:
        return
    once = tidy(text, str(file), file)
    if once.text == text:
        return
    if tidy(once.text, str(file), file).text != once.text:
        raise WrongError("what is tidy was changed again")
    if once.text.translate(_MARKS).replace("\\", "") != text.translate(_MARKS).replace("\\", ""):
        raise WrongError("tidying changed more than quotation marks")
    before = read_file(file).assembly
    if before is not None and once.reading.assembly != before:
        raise WrongError("tidying changed what a sound model says")


def _planned(reading: Reading, assembly: Assembly) -> None:
    findings = check(assembly)
    _told(reading, findings)
    planned = plan(assembly)
    _told(reading, planned.findings)
    if (planned.order is not None) and {step.id for step in assembly.steps} < set(planned.order):
        raise WrongError("the plan has steps that the model has not")
    if len(assembly.steps) <= _MOST_COUNTED:
        count(assembly)
    html = packet_html(assembly, planned, fingerprint=fingerprint(assembly), draft=("DRAFT",))
    if re.search(r"[\0-\x08\x0b-\x1f]", html):
        raise WrongError("an unseen character on the page")
    for table in TABLES.values():
        table(job_of(assembly, planned, fingerprint="7f3a·c91e", sheets=()))


def _fits_the_schema(file: Path) -> None:
    held = as_an_editor_sees_it(text_of_file(file, str(file)))
    fault = next(_VALIDATOR.iter_errors(held), None)
    if fault is not None:
        raise WrongError(f"the schema refuses what the reader takes: {fault.message[:200]}")


@contextmanager
def _at_most(seconds: float) -> Iterator[None]:
    """Stop after so many seconds of the processor's own time, however busy the machine is."""

    def stop(_signal: int, _frame: object) -> None:
        raise TooSlowError(f"over {seconds:g} s")

    before = signal.signal(signal.SIGVTALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)
