"""The sequence at a glance: every step on a drawn strip, with what stops, turns or waits."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby, pairwise
from math import cos, pi, sin
from typing import TYPE_CHECKING

from sequencer.drawing.flow import Mark, Stretch, flow
from sequencer.drawing.ink import (
    FRAME,
    HEAD,
    THIN,
    Drawing,
    Stroke,
    Words,
    box,
    chain,
    drawn_together,
    foot,
)
from sequencer.sheets.letters import centred, cut, wide
from sequencer.sheets.steps import rail_of
from sequencer.sheets.turns import turns

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sequencer.drawing.flow import Heading, Line, Standing
    from sequencer.model.steps import Step
    from sequencer.sheets.job import Job

STRIP_WIDTH = 174.0 - FRAME
"""What the narrower of the papers leaves between the margins, in mm."""
_BETWEEN = {"between_marks": 1.2, "between_steps": 1.9, "between_stretches": 6.0}
_BOX, _BOX_HEIGHT = 10.2, 9.0
_TAG_HEIGHT = 5.6
_NUMBER, _TEXT, _TITLE = 15.0, 10.5, 11.0  # sizes of letters, in pt
_PADDING = 1.5
_AFTER_WORDS = 0.8  # before the thread goes on
_SIGN = 5.0  # a clock or an arrow, as wide as high
_LONGEST_WAIT = 34.0
_LONGEST_TITLE = 60.0
_TOP = 6.0  # above the boxes, for the title
_BAR, _BELOW = 1.3, 0.9
_FOOT = 3.2  # below the boxes
_HEIGHT = _TOP + _BOX_HEIGHT + _FOOT
_MIDDLE = _TOP + _BOX_HEIGHT / 2
_KEY_HEIGHT = 6.0
_KEY = {
    "turn": "the unit is turned over first",
    "wait": "wait",
    "bar": "no break between these; double: a trial",
}
_TAGS = {"stop": "STOP", "hold": "HOLD", "rest": "REST"}


@dataclass(frozen=True, slots=True)
class Strip:
    """The strip, a drawing for each of its lines, and the key to the marks that stand in it."""

    lines: tuple[Drawing, ...]
    key: Drawing | None


def strip_of(job: Job) -> Strip:
    """Return the strip; its lines are drawings of their own, so that it breaks between pages."""
    stretches = tuple(_stretches(job))
    rails = [(rail_of(job, step), step.id in job.trials) for step in job.steps]
    lines = flow(stretches, STRIP_WIDTH, **_BETWEEN)
    kinds = {mark.kind for stretch in stretches for marks in stretch.steps for mark in marks}
    kinds |= {"bar" for rail, _ in rails if rail}
    return Strip(tuple(_line(line, rails) for line in lines), _key(kinds))


def _key(kinds: set[str]) -> Drawing | None:
    """Return what the marks without words of their own mean, of those that are there."""
    words: list[Words] = []
    strokes: list[Stroke] = []
    x, middle = 0.0, _KEY_HEIGHT / 2
    for kind, text in _KEY.items():
        if kind not in kinds:
            continue
        if kind == "bar":
            strokes.append(Stroke(box(x, middle - _BAR / 2, _SIGN, _BAR), 0, "", "black"))
        else:
            strokes += (Stroke(p, w, "", fill) for p, w, fill in _sign(kind, x, middle))
        words.append(Words(x + _SIGN + 1.5, foot(middle, _TEXT), text, _TEXT))
        x += _SIGN + 1.5 + wide(text, _TEXT) + 8
    if not words:
        return None
    return Drawing(STRIP_WIDTH, _KEY_HEIGHT, "Key", tuple(strokes), tuple(words))


def _stretches(job: Job) -> Iterator[Stretch]:
    turned = turns(job)
    for section, steps in job.runs():
        title = cut(job.section_title(section), _LONGEST_TITLE, _TITLE, 600)
        marks = tuple(tuple(_marks(job, step, turned)) for step in steps)
        yield Stretch(title, wide(title, _TITLE, 600), marks)


def _marks(job: Job, step: Step, turned: dict[int, str]) -> Iterator[Mark]:
    number = job.number[step.id]
    waits = job.times.waits.get(step.id, ())
    if waits:
        longest = max(waits, key=lambda wait: wait.minutes)
        text = cut(longest.text.strip(), _LONGEST_WAIT, _TEXT, 600)
        yield Mark("wait", _SIGN + 0.8 + wide(text, _TEXT, 600) + _AFTER_WORDS, text)
    if number in turned:
        yield Mark("turn", _SIGN)
    if job.stops_for(step):
        yield _tag("stop")
    text = str(number)
    yield Mark("step", max(_BOX, wide(text, _NUMBER, 900) + _PADDING), text)
    if step.hold:
        yield _tag("hold")
    if number in job.course.rests:
        yield _tag("rest")


def _tag(kind: str) -> Mark:
    text = _TAGS[kind]
    return Mark(kind, wide(text, _TEXT, 900) + 2 * _PADDING, text)


def _line(line: Line, rails: Sequence[tuple[str, bool]]) -> Drawing:
    words: list[Words] = [_title(one) for one in line.headings if one.title]
    paths: dict[tuple[float, str], list[str]] = {}

    def stroke(path: str, width: float, fill: str = "none") -> None:
        paths.setdefault((width, fill), []).append(path)

    for one, then in pairwise(line.marks):
        stroke(chain([(one.right, _MIDDLE), (then.left, _MIDDLE)]), THIN)
    for head in (one for one in line.headings if one.title):
        stroke(chain([(head.left, _TOP - 1.2), (head.right, _TOP - 1.2)]), THIN)
    for standing in line.marks:
        for path, width, fill in _drawn(standing):
            stroke(path, width, fill)
        words += _said(standing)
    for path in _bars(line.marks, rails):
        stroke(path, 0, "black")
    strokes = (Stroke(drawn_together(found), w, "", fill) for (w, fill), found in paths.items())
    says = f"Steps {_numbers(line)}"
    return Drawing(STRIP_WIDTH, _HEIGHT, says, tuple(strokes), tuple(words))


def _numbers(line: Line) -> str:
    steps = [one.mark.text for one in line.marks if one.mark.kind == "step"]
    return steps[0] if len(steps) == 1 else f"{steps[0]} to {steps[-1]}"


def _title(heading: Heading) -> Words:
    text = heading.title
    room = heading.right - heading.left
    if heading.continued and wide(f"{text}, continued", _TITLE, 600) <= room:
        text += ", continued"
    return Words(heading.left, _TOP - 2.2, cut(text, room + 0.1, _TITLE, 600), _TITLE, 600)


def _drawn(standing: Standing) -> Iterator[tuple[str, float, str]]:
    """Yield the strokes of one mark: path, width, filling."""
    left, width, kind = standing.left, standing.mark.width, standing.mark.kind
    tag_top = _MIDDLE - _TAG_HEIGHT / 2
    if kind == "step":
        yield box(left, _TOP, width, _BOX_HEIGHT), FRAME, "none"
    elif kind == "hold":
        yield box(left, tag_top, width, _TAG_HEIGHT), 0, "black"
    elif kind == "rest":
        yield box(left, tag_top, width, _TAG_HEIGHT), THIN, "none"
    elif kind == "stop":
        yield box(left, tag_top, width, _TAG_HEIGHT), FRAME, "none"
        yield box(left + 0.7, tag_top + 0.7, width - 1.4, _TAG_HEIGHT - 1.4), FRAME, "none"
    else:
        yield from _sign(kind, left, _MIDDLE)


def _sign(kind: str, left: float, middle: float) -> Iterator[tuple[str, float, str]]:
    x, radius = left + _SIGN / 2, _SIGN / 2 - 0.3
    if kind == "wait":
        yield chain(_arc(x, middle, radius, 0, 2 * pi), closed=True), FRAME, "none"
        yield chain([(x, middle - 1.6), (x, middle), (x + 1.2, middle + 0.7)]), FRAME, "none"
    else:
        yield chain(_arc(x, middle, radius, pi / 6, 1.75 * pi)), HEAD, "none"
        end = 1.75 * pi
        tip = x + radius * sin(end), middle - radius * cos(end)
        points = [(tip[0] + 1.5, tip[1] - 0.5), (tip[0] - 0.9, tip[1] - 1.2), (tip[0], tip[1] + 1)]
        yield chain(points, closed=True), 0, "black"


def _arc(x: float, y: float, radius: float, start: float, end: float) -> list[tuple[float, float]]:
    """Return points along a circle, clockwise from the top."""
    turns = [start + (end - start) * part / 24 for part in range(25)]
    return [(x + radius * sin(turn), y - radius * cos(turn)) for turn in turns]


def _said(standing: Standing) -> Iterator[Words]:
    mark, middle = standing.mark, (standing.left + standing.right) / 2
    if mark.kind == "step":
        yield centred(middle, foot(_MIDDLE, _NUMBER), mark.text, _NUMBER, 900)
    elif mark.kind == "wait":
        yield Words(standing.left + _SIGN + 0.8, foot(_MIDDLE, _TEXT), mark.text, _TEXT, 600)
    elif mark.text:
        fill = "white" if mark.kind == "hold" else "black"
        yield centred(middle, foot(_MIDDLE, _TEXT), mark.text, _TEXT, 900, fill=fill)


def _bars(marks: Sequence[Standing], rails: Sequence[tuple[str, bool]]) -> Iterator[str]:
    """Yield a bar below the steps that are done without a break, a double one for a trial."""
    steps = [one for one in marks if one.mark.kind == "step"]
    stretch = 0
    held: list[tuple[int, bool, Standing]] = []
    for one in steps:
        rail, is_trial = rails[one.step]
        stretch += rail in ("first", "only", "")
        if rail:
            held.append((stretch, is_trial, one))
    top = _TOP + _BOX_HEIGHT + _BELOW
    for (_, is_trial), members in groupby(held, key=lambda one: one[:2]):
        all_of_it = [one for _, _, one in members]
        left, width = all_of_it[0].left, all_of_it[-1].right - all_of_it[0].left
        if is_trial:
            thin = _BAR * 0.35
            yield box(left, top, width, thin) + box(left, top + _BAR - thin, width, thin)
        else:
            yield box(left, top, width, _BAR)
