"""The check block of a card or of the condition sheet: limits, blanks, boxes, what follows."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.sheets.figures import Figure, figure, in_words
from sequencer.sheets.formula_words import in_words as formula_in_words
from sequencer.sheets.formula_words import with_signs
from sequencer.sheets.job import Ref, refs, said
from sequencer.sheets.line_sums import along, serves, worked_out
from sequencer.sheets.photo_blocks import PhotoBlock, photo_of_check
from sequencer.sheets.words import listed

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.model.checking import Check, Otherwise, Reading, Rework
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job, Said

_MOST_ROUNDS = 6


@dataclass(frozen=True, slots=True)
class CheckRow:
    """One figure of several: a reading, what is known of it beforehand, or what it comes to.

    `limit` and its `source` are those of a result; `given` stands where nothing is to be read.
    """

    label: str
    words: str
    gauge: str = ""
    given: str = ""
    formula: str = ""
    limit: Figure | None = None
    source: str = ""
    is_result: bool = False


@dataclass(frozen=True, slots=True)
class CheckBlock:
    """A check: what, with what, the limit, blanks, boxes for the verdict, what follows a fail.

    `fields` are the blanks of a single figure, or of one at several places; `rows` are several
    figures, each with a blank for every one of the `rounds`. `gauges` are boxes to tick for what
    must and must not go in; `signs` is the role that may let it pass.
    """

    verb: str
    what: str
    gauge: str
    limit: Figure | None
    source: str
    why: tuple[str, ...]
    fields: tuple[str, ...]
    rows: tuple[CheckRow, ...]
    rounds: tuple[str, ...]
    gauges: tuple[str, ...]
    verdicts: tuple[str, ...]
    rework: tuple[str, ...]
    fails: tuple[Said, ...]
    signs: str
    again: Said
    photo: PhotoBlock | None


def check_blocks(job: Job, step: Step) -> tuple[CheckBlock, ...]:
    """Return the checks that a step takes."""
    return tuple(check_block(job, job.checks[link.to], step) for link in step.check)


def check_block(
    job: Job, check: Check, step: Step | None = None, pieces: Sequence[str] = ()
) -> CheckBlock:
    """Return one check as it is printed, in a step or away from any.

    `pieces` are where it is taken one by one, unless the check says so itself.
    """
    verb, what = asked(check)
    limit = check.limit
    follows = check.else_
    places = check.each or (tuple(pieces) if not check.readings else ())
    rounds = tuple(_rounds(check))
    rows = tuple(_rows(job, check, places, rounds))
    return CheckBlock(
        verb=verb,
        what=what,
        gauge=gauge_words(job, check.with_),
        limit=figure(limit.value, job.assembly.prints) if limit else None,
        source=job.source(limit.source, check.source) if limit else job.words_of(check.source),
        why=(*(thing.why for thing in (limit, check) if thing and thing.why), *_wear(check)),
        fields=() if rows else _fields(check, places, rounds),
        rows=rows,
        rounds=rounds,
        gauges=tuple(_gauges(check)),
        verdicts=tuple(_verdicts(check)),
        rework=tuple(_rework(job, check, check.rework)) if check.rework else (),
        fails=tuple(_fails(job, follows)) if follows else (),
        signs=follows.accept_by if follows else "",
        again=_again(job, step, check) if step else (),
        photo=photo_of_check(job, check, f"{verb} {what}"),
    )


def _wear(check: Check) -> Iterator[str]:
    if check.wears:
        other = "larger" if check.wears == "smaller" else "smaller"
        yield f"Wear makes it {check.wears}. If it reads {other} than the limit, measure again"


def asked(check: Check) -> tuple[str, str]:
    """Return what a check has a person do, and with or to what."""
    ways = (
        ("Measure", check.measure),
        ("Look", check.look),
        ("Feel", check.feel),
        ("Listen", check.listen),
        ("Work out", check.label if check.readings else ""),
    )
    return next(((verb, text) for verb, text in ways if text), ("Check", check.label))


def gauge_words(job: Job, gauge: str) -> str:
    """Return what is measured with: a tool with its division, or the words given."""
    if gauge not in job.tools:
        return gauge
    reads = job.tools[gauge].reads
    name = job.tool_name(gauge)
    return f"{name}, reads {reads.text.strip()}" if reads is not None else name


def _is_measured(check: Check) -> bool:
    return bool(check.limit or (check.measure and not check.go and not check.no_go))


def _rounds(check: Check) -> Iterator[str]:
    most = check.else_.most if check.else_ and check.else_.most else 1
    if most > 1:
        yield from (f"round {at}" for at in range(1, min(most, _MOST_ROUNDS) + 1))
    else:
        yield "reading"
        if check.rework:
            yield "after rework"


def _fields(check: Check, places: Sequence[str], rounds: tuple[str, ...]) -> tuple[str, ...]:
    """Return the blanks of a check of one figure; what is only looked at has none but rounds."""
    if places:
        return tuple(places) if _is_measured(check) else ()
    is_repeated = len(rounds) > 1 and not check.rework
    return rounds if _is_measured(check) or is_repeated else ()


def _rows(
    job: Job, check: Check, places: Sequence[str], rounds: tuple[str, ...]
) -> Iterator[CheckRow]:
    """Yield the figures of a check that has several; those at places stand one below the other."""
    if not check.readings:
        if len(places) and len(rounds) > 1 and _is_measured(check):
            yield from (CheckRow(place, "") for place in places)
        return
    read, serves_at = serves(job, check)
    for place in places or ("",):
        before = f"{place}: " if place else ""
        for reading in check.readings:
            row = _reading(job, check, reading, before)
            yield _with(row, serves_at) if reading.name == read else row
        yield from _results(job, check, before)


def _reading(job: Job, check: Check, reading: Reading, before: str) -> CheckRow:
    label, known = before + reading.name, reading.is_
    if reading.line:
        line = next(one for one in job.assembly.lines if one.id == reading.line[0].to)
        given, made_of = along(job, line)
        words = f"{reading.ask}: {made_of}" if reading.ask else made_of
        return CheckRow(label, words, given=given)
    return CheckRow(
        label=label,
        words=reading.ask,
        gauge=gauge_words(job, reading.with_) if reading.with_ != check.with_ else "",
        given=in_words(known, job.assembly.prints) if known is not None else "",
    )


def _results(job: Job, check: Check, before: str) -> Iterator[CheckRow]:
    asks = {reading.name: reading.ask for reading in check.readings}
    known = worked_out(job, check)
    if check.compute:
        yield _known(_result(f"{before}result", check.compute, asks), known.get(""))
    for result in check.results:
        row, limit = _result(before + result.name, result.compute, asks), result.limit
        row = _known(row, known.get(result.name))
        if limit is not None:
            shown = figure(limit.value, job.assembly.prints)
            row = replace(row, limit=shown, source=job.source(limit.source, check.source))
        yield row


def _result(label: str, formula: str, asks: dict[str, str]) -> CheckRow:
    words = formula_in_words(formula, asks) if any(asks.values()) else ""
    return CheckRow(label, words, formula=with_signs(formula), is_result=True)


def _known(row: CheckRow, found: tuple[str, str] | None) -> CheckRow:
    """Return a result with what it comes to where nothing of it is read at the bench."""
    return row if found is None else _with(replace(row, given=found[0]), found[1])


def _with(row: CheckRow, words: str) -> CheckRow:
    return replace(row, words=f"{row.words}\n{words}" if row.words else words)


def _gauges(check: Check) -> Iterator[str]:
    if check.go:
        yield f"GO goes in: {check.go}"
    if check.no_go:
        yield f"NO-GO stays out: {check.no_go}"


def _again(job: Job, step: Step, check: Check) -> Said:
    """Say where a reading is taken again, and what upsets it before then."""
    here = job.number.get(step.id)
    later = [n for n in job.course.taken_in.get(check.id, ()) if here is not None and n > here]
    if here is None or not later:
        return ()
    upsetting = [link for link in check.upset_by if here < job.number.get(link.to, 0) < later[0]]
    upsets = refs(job.numbers(upsetting))
    verb = " upset it" if len(upsets) > 1 else " upsets it"
    whys = "".join(f" – {link.why}" for link in upsetting if link.why)
    return said("Taken again in ", Ref(later[0]), *((": ", *upsets, verb, whys) if upsets else ()))


def _verdicts(check: Check) -> Iterator[str]:
    """Yield what may be ticked: how it was found, or else what is done about it."""
    follows = check.else_
    ways = (
        ("rework", check.rework is not None),
        ("renew", bool(follows and follows.renew)),
        ("again", bool(follows and follows.again_from)),
        ("use as is", bool(follows and follows.accept_by)),
    )
    further = [word for word, applies in ways if applies]
    if check.good or check.bad:
        yield check.good or "right"
        yield check.bad or "wrong"
        yield from further
    else:
        yield "accept"
        yield from further or ["out of limit"]


def _rework(job: Job, check: Check, rework: Rework) -> Iterator[str]:
    if rework.limit is not None:
        words = in_words(rework.limit.value, job.assembly.prints)
        source = job.source(rework.limit.source, check.source)
        limit = check.limit
        is_said = limit is not None and source == job.source(limit.source, check.source)
        yield words if is_said else f"{words}. Source: {source}"
        if rework.limit.why:
            yield rework.limit.why
    if rework.how:
        yield rework.how


def _fails(job: Job, follows: Otherwise) -> Iterator[Said]:
    if follows.renew:
        yield (f"Renew: {listed([job.parts[link.to].label for link in follows.renew])}",)
    if follows.change:
        yield (f"Change: {follows.change}",)
    for link in follows.again_from:
        rounds = f", at most {follows.most} rounds" if follows.most else ""
        yield said("Start again from ", job.ref(link.to), rounds)
    if follows.stop:
        yield (f"Stop. Tell: {follows.stop}",)
    if follows.accept_by:
        yield (f"May be used as it is if signed by: {follows.accept_by}",)
    for link in (*follows.renew, *follows.again_from):
        if link.why:
            yield (link.why,)
