"""Bag labels: one a bag, on sheets of labels as shops sell them, with text that always fits."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.bags import bags_of
from sequencer.sheets.measured import cut, in_lines, in_so_many, width_of
from sequencer.sheets.words import listed, runs_of

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence

    from sequencer.sheets.bags import Bag
    from sequencer.sheets.job import Job

_POINT = 25.4 / 72  # mm
_LEADING = 1.15
_ROOM = 0.6  # mm between the lines of one kind and those of the next


@dataclass(frozen=True, slots=True)
class Format:
    """A sheet of labels, in mm: how many across and down, how large, and where they stand.

    Common formats of the trade, by common practice; no source.
    """

    across: int
    down: int
    width: float
    height: float
    left: float
    top: float
    step_across: float
    step_down: float
    edge: float

    @property
    def on_a_sheet(self) -> int:
        """How many labels a sheet has."""
        return self.across * self.down


FORMATS = {
    "A4": Format(3, 8, 63.5, 33.9, 7.25, 12.9, 66.0, 33.9, 2.5),
    "Letter": Format(3, 10, 66.675, 25.4, 4.7625, 12.7, 69.85, 25.4, 2.0),
}

# Point sizes that the parts in a bag are set in, the largest that fits; and of the other lines.
_SIZES = (12.0, 11.0, 10.0, 9.0, 8.0, 7.0)
_NAME, _AT, _FOOT = 15.0, 8.0, 6.5
_LONGEST_NAME = 0.42  # of the width of a label, where its steps take up the rest
_GAP = 2.0  # mm between the two


@dataclass(frozen=True, slots=True)
class LabelLine:
    """A line of a label: where its top is, in mm from the top of the label, and its size."""

    top: float
    size: float
    text: str


@dataclass(frozen=True, slots=True)
class Label:
    """One label: where it stands on its sheet, in mm, the bag's name, and all other lines."""

    left: float
    top: float
    name: str
    beside: str
    lines: tuple[LabelLine, ...]


@dataclass(frozen=True, slots=True)
class Labels:
    """The labels of a job, page by page, in one format."""

    format: Format
    pages: tuple[tuple[Label, ...], ...]
    is_wanted: bool

    def __bool__(self) -> bool:
        """Tell whether labels are to be printed with the rest."""
        return self.is_wanted and bool(self.pages)


def labels_view(job: Job) -> Labels:
    """Return the labels of a kit; they come with a packet where the model names bags."""
    wanted = any(part.bag for part in job.assembly.parts)
    return _labels(job, bags_of(job), wanted=wanted)


def strip_labels_view(job: Job, off: Mapping[str, int], spoiled: Collection[str] = ()) -> Labels:
    """Return the labels of what comes off, by the numbers of a strip packet."""
    return _labels(job, bags_of(job, off, spoiled), wanted=True)


def _labels(job: Job, bags: Iterable[Bag], *, wanted: bool) -> Labels:
    form = FORMATS[job.paper]
    made = [_label(job, form, bag, at) for at, bag in enumerate(bags)]
    size = form.on_a_sheet
    pages = tuple(tuple(made[at : at + size]) for at in range(0, len(made), size))
    return Labels(form, pages, wanted)


def _label(job: Job, form: Format, bag: Bag, at: int) -> Label:
    row, column = divmod(at % form.on_a_sheet, form.across)
    inner = form.width - 2 * form.edge
    named = bag.name if bag.name.casefold().startswith("bag") else f"BAG {bag.name}"
    beside = cut(_steps(bag), inner * (1 - _LONGEST_NAME) / (_AT * _POINT), "semibold")
    left = inner - width_of(beside, "semibold") * _AT * _POINT - _GAP
    name = cut(named, max(left, inner * _LONGEST_NAME - _GAP) / (_NAME * _POINT), "black")
    return Label(
        left=round(column * form.step_across, 3),
        top=round(row * form.step_down, 3),
        name=name,
        beside=beside,
        lines=tuple(_lines(job, form, bag)),
    )


def _steps(bag: Bag) -> str:
    """Say from which steps of the strip packet this comes, and to which of the packet it goes."""
    off = f"off: {runs_of(bag.off)} · " if bag.off else ""
    return f"{off}on: step {runs_of(bag.steps)}"


def _lines(job: Job, form: Format, bag: Bag) -> list[LabelLine]:
    """Return what stands under the name: parts as large as fits, where they go, whose they are."""
    inner = form.width - 2 * form.edge
    foot_top = form.height - form.edge - _FOOT * _POINT * _LEADING
    goes_top = foot_top - _AT * _POINT * _LEADING
    top = form.edge + _NAME * _POINT * _LEADING + _ROOM
    room = goes_top - _ROOM - top
    size, texts = _parts(bag, inner, room)
    lines = [
        LabelLine(round(top + number * size * _POINT * _LEADING, 3), size, text)
        for number, text in enumerate(texts)
    ]
    goes = " · ".join((*filter(None, (_onto(bag),)), *bag.sections))
    title = job.assembly.title or job.assembly.assembly
    draft = "DRAFT · " if job.draft else ""
    tail = f" · issue {job.assembly.issue} · model {job.fingerprint}"
    whose = _with_tail(f"{draft}{title}", tail, inner / (_FOOT * _POINT))
    lines.append(LabelLine(round(goes_top, 3), _AT, cut(goes, inner / (_AT * _POINT))))
    lines.append(LabelLine(round(foot_top, 3), _FOOT, whose))
    return lines


def _with_tail(text: str, tail: str, width: float) -> str:
    """Return a text that is cut so that what has to be read stands whole behind it."""
    room = width - width_of(tail)
    return f"{cut(text, room)}{tail}" if room > 1 else cut(tail.removeprefix(" · "), width)


def _onto(bag: Bag) -> str:
    return f"on to: {listed(bag.goes_to)}" if bag.goes_to else ""


def _parts(bag: Bag, inner: float, room: float) -> tuple[float, Sequence[str]]:
    """Return the parts in lines, in the largest size that they all fit in; else they are cut.

    Each has a line of its own, or begins one; where they do not all fit so, they follow one
    another.
    """
    names = [*bag.items, *(f"NEW {name}" for name in bag.new)]
    most = {size: int(room / (size * _POINT * _LEADING)) for size in _SIZES}
    for texts, least in ((names, len(names)), (names, 0), (["; ".join(names)], 0)):
        for size, fit in most.items():
            lines = [line for text in texts for line in in_lines(text, inner / (size * _POINT))]
            if len(lines) <= (least or fit) <= fit:
                return size, lines
    smallest = _SIZES[-1]
    width = inner / (smallest * _POINT)
    return smallest, in_so_many(in_lines("; ".join(names), width), most[smallest], width)
