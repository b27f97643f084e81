"""Fasteners too long or too short for a nut, or for what lies behind; and what is not known."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.problem import Fact, Problem
from sequencer.trade.basics import Unknown, in_unit
from sequencer.trade.findings.holes import about_holes
from sequencer.trade.findings.typed_length import in_typed_unit, stacked

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from sequencer.model.fastening import Behind, Joint
    from sequencer.trade.findings.tightened import Tightened
    from sequencer.trade.joint_length import StandOut


_HOW = {
    "length": "`length`, from under the head to the end",
    "grip": "`grip`, how thick what it clamps is, without washers",
}


def about_lengths(one: Tightened) -> Iterator[Problem]:
    """Yield what is odd about how far the fasteners of a joint go in or stick out."""
    length = one.worked.length if one.worked is not None else None
    if length is None or one.worked is None:
        return
    joint = one.worked.joint
    if length.missing:
        yield _missing(one, joint, length.missing)
        return
    yield from about_holes(one, joint, length)
    for field, found in (("into", length.engagement), ("nut", length.stand_out)):
        if isinstance(found, Unknown):
            yield _cannot_tell(one, found, field)
    out = length.stand_out
    if out is not None and not isinstance(out, Unknown) and out.short:
        yield _short_stand_out(one, joint, out)
    if joint.behind is not None and length.too_far_mm is not None and length.too_far_mm > 0:
        yield _sticks_out(one, joint, joint.behind, length.too_far_mm)


def _missing(one: Tightened, joint: Joint, missing: tuple[str, ...]) -> Problem:
    asks = next(field for field in ("hole", "into", "behind", "nut") if getattr(joint, field))
    fields = " and ".join(f"`{field}`" for field in missing)
    return Problem(
        "length-unknown",
        "warning",
        f"{one.name} has `{asks}`, and without {fields} nobody can tell how far its fastener goes",
        step=one.at,
        path=(*one.path, asks),
        why="a fastener that bottoms out, or has too little thread, would not be found",
        fix=f"measure it: {' and '.join(_HOW[field] for field in missing)}",
    )


def _cannot_tell(one: Tightened, unknown: Unknown, field: str) -> Problem:
    fix = "write the `thread`" if "thread nobody" in unknown.words else ""
    return Problem(
        "length-unknown",
        "warning",
        f"{one.name}: {unknown.words}",
        step=one.at,
        path=(*one.path, field),
        why="a fastener with too little thread would not be found",
        fix=fix or "write what the maker asks for: `into: {material: …, least: …}`",
    )


def _short_stand_out(one: Tightened, joint: Joint, out: StandOut) -> Problem:
    least = in_typed_unit(joint, out.least_mm)
    shows = f"shows {in_typed_unit(joint, out.shows_mm)} of thread beyond its nut"
    if out.shows_mm < 0:
        shows = f"ends {in_typed_unit(joint, -out.shows_mm)} inside its nut"
    return Problem(
        "short-stand-out",
        "warning",
        f"the fastener of {one.name} {shows}, and should show {least}",
        step=one.at,
        path=(*one.path, "length"),
        facts=(
            *stacked(joint, one.path),
            Fact(f"one pitch at least has to show: {out.rule}", (*one.path, "thread")),
        ),
        why="the nut is carried by its full height only where thread shows beyond it",
        fix=f"use one longer by at least {in_typed_unit(joint, out.least_mm - out.shows_mm)}",
    )


def _sticks_out(one: Tightened, joint: Joint, behind: Behind, too_far: Fraction) -> Problem:
    """Tell what is in the way: an error where the model says which part that is."""
    parts = " and ".join(f"`{link.to}`" for link in behind.part)
    room = behind.room.text.strip()
    leaves = f"the {room} that {parts} leave{'s' if len(behind.part) == 1 else ''} it"
    out = in_typed_unit(joint, in_unit(behind.room, "mm") + too_far)
    return Problem(
        "sticks-out",
        "error" if parts else "warning",
        f"the fastener of {one.name} sticks out {out}, {in_typed_unit(joint, too_far)} more than "
        f"{leaves if parts else f'the {room} that are free behind it'}",
        step=one.at,
        path=(*one.path, "length"),
        facts=(
            *stacked(joint, one.path),
            Fact(f"{room} are free behind it", (*one.path, "behind"), why=behind.why),
            *_fitted_there(one, behind),
        ),
        why=f"{parts} would not go in, or would be damaged" if parts else "it may touch or jam",
        fix=f"use one shorter by at least {in_typed_unit(joint, too_far)}",
    )


def _fitted_there(one: Tightened, behind: Behind) -> Iterator[Fact]:
    parts = {link.to for link in behind.part}
    for step in one.bench.assembly.steps:
        for fit in step.fits:
            if fit.part in parts:
                yield Fact(f"`{step.id}` fits `{fit.part}` there", ("steps", step.id, "fits"))
