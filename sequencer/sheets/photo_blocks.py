"""The author's pictures as they stand on cards and in checks, fitted to their room."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.sheets.words import first_sentence, shortened

if TYPE_CHECKING:
    from sequencer.model.checking import Check
    from sequencer.model.parts import Part
    from sequencer.model.steps import Step
    from sequencer.problem import Path
    from sequencer.sheets.job import Job

_ON_A_CARD = (124.0, 72.0)  # the most a picture may take, across and high, in mm
_IN_A_CHECK = (120.0, 52.0)
_OF_A_PART = (60.0, 36.0)
_COARSEST = 4.0  # points a mm: a picture with fewer is printed smaller
_SAYS = 90  # characters of a step in the words for those who do not see its picture


@dataclass(frozen=True, slots=True)
class PhotoBlock:
    """A picture: what the page calls it, in words, and its size in mm.

    Without an address only its name is printed: in a frame, where it should be there and is not.
    """

    name: str
    says: str
    is_missing: bool = False
    address: str = ""
    width: float = 0.0
    height: float = 0.0


def photos_of_step(job: Job, step: Step) -> tuple[PhotoBlock, ...]:
    """Return the picture of a step, then those of the parts that it fits, each once."""
    number = job.number.get(step.id)
    says = shortened(first_sentence(step.do), _SAYS)
    says = f"Picture to step {number}: {says}" if number else f"Picture to: {says}"
    own = _block(job, ("steps", step.id, "picture"), step.picture, says, _ON_A_CARD)
    parts = (job.parts[part] for part in dict.fromkeys(fit.part for fit in step.fits))
    blocks = (own, *(_of_part(job, part) for part in parts))
    return tuple(block for block in blocks if block is not None)


def photo_of_check(job: Job, check: Check, what: str) -> PhotoBlock | None:
    """Return the picture of a check, of which `what` says what it is about."""
    says = f"Picture to the check: {shortened(what, _SAYS)}"
    return _block(job, ("checks", check.id, "picture"), check.picture, says, _IN_A_CHECK)


def _of_part(job: Job, part: Part) -> PhotoBlock | None:
    says = f"Picture of {part.label}"
    return _block(job, ("parts", part.id, "picture"), part.picture, says, _OF_A_PART)


def _block(
    job: Job, path: Path, name: str, says: str, room: tuple[float, float]
) -> PhotoBlock | None:
    if not name:
        return None
    if job.photos is None:
        return PhotoBlock(name, says)
    photo = job.photos.get(path)
    if photo is None:
        return PhotoBlock(name, says, is_missing=True)
    across, high = room
    least = min(1 / _COARSEST, across / photo.width, high / photo.height)
    width, height = round(photo.width * least, 1), round(photo.height * least, 1)
    return PhotoBlock(name, says, address=photo.address, width=width, height=height)
