"""`sequencer log start` and `issue`: the model that a build is done by, copied into the log."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

import click

from sequencer.commands import log_times
from sequencer.commands.common import NOT_OK, OK, UNREADABLE, Output, model_argument, settings
from sequencer.commands.log_open import log_beside
from sequencer.commands.log_run import Recorder, recording
from sequencer.problem import Problem
from sequencer.records.entries import Entry, Issue, Model, Start
from sequencer.records.logfile import LogError, start_log

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sequencer.model.assembly import Assembly
    from sequencer.reading import Reading


@click.command("start")
@model_argument
@click.option("--log", "named", type=click.Path(path_type=Path), help="Default: beside the model.")
@click.option("--unit", default="", metavar="SERIAL", help="The serial number of what is built.")
@click.option(
    "--order",
    type=click.Choice(["written", "handling"]),
    default="written",
    show_default=True,
    help="The order of the packet: what --by was when it was printed.",
)
@click.option("--without", "awaited", metavar="PART", help="What --without was then.")
@click.option("--by", default="", metavar="NAME", help="Who begins.")
@click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")
def start_command(  # noqa: PLR0913  # click hands over every option
    file: Path,
    *,
    named: Path | None,
    unit: str,
    order: str,
    awaited: str | None,
    by: str,
    as_json: bool,
) -> None:
    """Begin the log of a unit, with a copy of the model in it.

    Steps are numbered as in the packet that `sequencer packet` prints of the same model with the
    same --by and --without.
    """
    output = Output(as_json=as_json)
    text, reading, assembly = _read(output, file)
    printed = _printed_order(output, reading, assembly, order, awaited)
    path = named or log_beside(file)
    model = _model(file, text, reading, printed)
    first = Entry(
        number=1,
        time=log_times.stamp(log_times.now()),
        by=by,
        what=Start(unit=unit, **asdict(model)),
    )
    try:
        start_log(path, first)
    except LogError as error:
        output.finish(NOT_OK, {"ok": False, "log": None}, reading, [error.problem])
    result = {"ok": True, "log": str(path), "fingerprint": model.fingerprint}
    told = (
        f"ok: entry 1 in {path}: {assembly.title}, issue {assembly.issue}, "
        f"model {model.fingerprint}, {len(printed)} steps"
    )
    output.finish(OK, result, reading, reading.problems, told)


def _read(
    output: Output, file: Path, taken: Mapping[str, str] = MappingProxyType({})
) -> tuple[str, Reading, Assembly]:
    """Return a model with its text, as one and the same reading of the file.

    `taken` are choices made before, which hold where the call says nothing else.
    """
    from sequencer.reading import read_file, read_text
    from sequencer.reading.decoding import UnreadableError, text_of_file

    choices = {**taken, **settings()}
    try:
        text = text_of_file(file, str(file))
    except UnreadableError:
        text, reading = "", read_file(file, choices)  # tells why
    else:
        reading = read_text(text, str(file), choices, file)
    if reading.assembly is None:
        output.finish(UNREADABLE, {"ok": False}, reading, reading.problems)
    copy = read_text(text, file.name, choices, Path(file.name), reading.copies)
    if copy.assembly != reading.assembly:
        output.finish(NOT_OK, {"ok": False, "log": None}, reading, [_linked(file)])
    return text, reading, reading.assembly


def _linked(file: Path) -> Problem:
    message = f"`{file}` uses files by links, and a copy of them in the log would read otherwise"
    why = "what they say now would be missing from the record"
    fix = "put the files themselves where the links are"
    return Problem("log-links", "error", message, why=why, fix=fix)


def _printed_order(
    output: Output, reading: Reading, assembly: Assembly, by: str, awaited: str | None
) -> tuple[str, ...]:
    """Return the steps as the packet numbers them."""
    from sequencer.planning.plan import plan, plan_by_handling, without
    from sequencer.planning.tested import unknown

    if awaited is not None:
        parts = [part.id for part in assembly.parts]
        strange = unknown([awaited], parts, "part")
        split = None if strange else without(assembly, awaited)
        if strange:
            output.finish(NOT_OK, {"ok": False, "log": None}, reading, strange)
        planned = split.plan if split is not None else plan(assembly)
    else:
        planned = plan_by_handling(assembly) if by == "handling" else plan(assembly)
    if planned.order is None:
        text = "no log was begun: no order works, so there is nothing to build by"
        output.finish(NOT_OK, {"ok": False, "log": None}, reading, planned.findings, text)
    return planned.order


def _model(file: Path, text: str, reading: Reading, order: tuple[str, ...]) -> Model:
    from sequencer.model.fingerprint import fingerprint

    assembly = reading.assembly
    if assembly is None:
        raise ValueError("a model that was not read has no copy")
    asked = {option.id for option in reading.options}  # what a used model is set to is in `text`
    return Model(
        file=file.name,
        text=text,
        assembly=assembly.assembly,
        issue=assembly.issue,
        fingerprint=fingerprint(assembly),
        order=order,
        taken=tuple(f"{one.option}={one.choice}" for one in assembly.taken if one.option in asked),
        used=tuple(reading.copies.items()),
    )


@click.command("issue")
@model_argument
@click.option("--order", type=click.Choice(["written", "handling"]), default="written")
@click.option("--without", "awaited", metavar="PART")
@recording
def issue_command(recorder: Recorder, file: Path, *, order: str, awaited: str | None) -> None:
    """Go on by a changed model: from here on its packet counts, and the log holds its text too."""
    output = Output(as_json=recorder.as_json)
    text, reading, assembly = _read(output, file, recorder.state.model.settings)
    printed = _printed_order(output, reading, assembly, order, awaited)
    model = _model(file, text, reading, printed)
    findings = []
    if assembly.assembly != recorder.assembly.assembly:
        message = f"`{assembly.assembly}` is another model than `{recorder.assembly.assembly}`"
        why = "the log would tell of two things as of one"
        fix = "begin a log of its own for it"
        findings.append(Problem("other-model", "warning", message, why=why, fix=fix))
    lost = [step for step in recorder.state.done if step not in set(printed)]
    if lost:
        names = ", ".join(f"`{step}`" for step in lost)
        message = f"done, and not in the new model: {names}"
        why = "what they did is in the unit, and the new paper does not know of it"
        fix = "see with `sequencer revise` what has to come out"
        findings.append(Problem("step-gone", "warning", message, why=why, fix=fix))
    recorder.record([Issue(**asdict(model))], findings)
    words = f"issue {assembly.issue}, model {model.fingerprint}, {len(printed)} steps"
    recorder.done(words, fingerprint=model.fingerprint)
