"""`sequencer log fitted`, `spoiled`, `short` and `arrived`: what becomes of parts."""

from __future__ import annotations

import re
from fractions import Fraction

import click

from sequencer.commands.log_names import numbered, steps_named, strange, strange_steps
from sequencer.commands.log_run import Recorder, recording
from sequencer.problem import Problem
from sequencer.records.describe import piece_in_words
from sequencer.records.entries import Arrived, Fitted, Short, Spoiled
from sequencer.records.pieces import piece_findings
from sequencer.records.state import mending

_THICKNESS = re.compile(r"[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+")


def strange_part(recorder: Recorder, part: str) -> list[Problem]:
    """Return that the model does not have a part."""
    return strange([part], (one.id for one in recorder.assembly.parts), "part")


@click.command("fitted")
@click.argument("part", metavar="PART")
@click.option("--number", default="", help="The part number on it.")
@click.option("--serial", default="", help="Its serial number.")
@click.option("--batch", default="", help="Its batch.")
@click.option("--pack", default="", metavar="0.50+0.20", help="The thicknesses of a pack.")
@click.option("--mark", default="", help="Of a matched set: the mark on it.")
@click.option("--with", "with_", default="", metavar="MARK", help="And the mark it went to.")
@recording
def fitted_command(recorder: Recorder, /, part: str, **told: str) -> None:
    """Record which piece went in: its numbers, the shims of a pack, the mark of a matched piece."""
    what = Fitted(part=part, **told)
    total = pack_total(what.pack) if what.pack else ""
    recorder.record([what], against_fitted(recorder, what), paper=True)
    said = piece_in_words(what) if any(told.values()) else ""
    recorder.done(f"{part}{': ' if said else ''}{said}{f' = {total}' if total else ''}")


def against_fitted(recorder: Recorder, what: Fitted) -> list[Problem]:
    """Return what there is against a piece having been fitted."""
    findings = [*strange_part(recorder, what.part), *piece_findings(recorder.state, what)]
    return findings + _other_number(recorder, what.part, what.number)


def pack_total(pack: str) -> str:
    """Return the thickness of a pack of shims, added up exactly.

    Examples
    --------
    >>> pack_total("0.50 + 0.20"), pack_total("0,5+0,25")
    ('0.70', '0.75')
    """
    pieces = [piece.strip() for piece in pack.split("+")]
    if not all(_THICKNESS.fullmatch(piece) for piece in pieces):
        raise click.BadParameter(
            f"{pack!r} is no pack: write the thicknesses with + between, such as 0.50+0.20",
            param_hint="--pack",
        )
    plain = [piece.replace(",", ".") for piece in pieces]
    places = max(len(piece.partition(".")[2]) for piece in plain)
    return f"{float(sum(map(Fraction, plain))):.{places}f}"


def _other_number(recorder: Recorder, part: str, number: str) -> list[Problem]:
    model = next((one for one in recorder.assembly.parts if one.id == part), None)
    if model is None or not number or not model.number or number == model.number:
        return []
    message = f"{model.label} is number {model.number} in the model, and {number} was fitted"
    why = "another number may be another part"
    fix = "read the number again; have somebody who may decide that agree to it"
    return [Problem("other-number", "warning", message, why=why, fix=fix)]


@click.command("spoiled")
@click.argument("part", metavar="PART")
@click.option("--step", "word", default="", help="Where it was, if several steps fit it.")
@recording
def spoiled_command(recorder: Recorder, part: str, *, word: str) -> None:
    """Record that a part cannot be used any more. The steps that fitted it are to be redone."""
    step = steps_named([word], recorder.state)[0] if word else ""
    what = Spoiled(part=part, step=step)
    recorder.record([what], against_spoiled(recorder, what))
    fitting = {
        one.id for one in recorder.assembly.steps if any(fit.part == part for fit in one.fits)
    }
    redo = tuple(one for one in mending(recorder.state).redo if one in fitting)
    told = f"{numbered(redo, recorder.state)} to be redone" if redo else "nothing to be redone"
    how = ": see `sequencer revise`" if redo else ""
    recorder.done(f"{part} spoiled, {told}{how}", redo=list(redo))


def against_spoiled(recorder: Recorder, what: Spoiled) -> list[Problem]:
    """Return what there is against a part having been spoiled."""
    steps = strange_steps([what.step], recorder.state) if what.step else []
    return [*strange_part(recorder, what.part), *steps]


@click.command("short")
@click.argument("part", metavar="PART")
@click.option("--until", default="", metavar="DATE", help="When it is to come.")
@recording
def short_command(recorder: Recorder, part: str, *, until: str) -> None:
    """Record that a part is not there; the steps that fit it wait."""
    recorder.record([Short(part=part, until=until)], strange_part(recorder, part))
    recorder.done(f"{part} is awaited{f' until {until}' if until else ''}")


@click.command("arrived")
@click.argument("part", metavar="PART")
@recording
def arrived_command(recorder: Recorder, part: str) -> None:
    """Record that an awaited part has come."""
    what = Arrived(part=part)
    recorder.record([what], against_arrived(recorder, what))
    recorder.done(f"{part} has come")


def against_arrived(recorder: Recorder, what: Arrived) -> list[Problem]:
    """Return what there is against a part having come."""
    findings = strange_part(recorder, what.part)
    if not findings and what.part not in recorder.state.short:
        message = f"`{what.part}` was not awaited"
        why = "the log did not know that it was missing"
        findings.append(Problem("not-awaited", "note", message, why=why, fix="check the name"))
    return findings
