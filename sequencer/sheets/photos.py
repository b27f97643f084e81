"""The author's own pictures: which files they are, whether they can be printed, and made small.

Only PNG and JPEG are taken, and only from the folder that the model's file is in, or below it. A
large picture is read at no more points than paper shows, so that neither memory nor the PDF grows
with the camera.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import re
import warnings
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import TYPE_CHECKING, Any, NamedTuple

from sequencer.problem import Problem

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Path as ModelPath

SCHEME = "packet-photo"
"""A page names a picture as `packet-photo:` and a sum of its bytes."""

MOST_BYTES = 256 * 2**20
MOST_POINTS = 60_000_000  # of a PNG, or a JPEG stored in turns: read whole, at 4 to 6 bytes each
MOST_POINTS_JPEG = 80_000_000  # of any other JPEG, which is read at an eighth, say
_PRINTED = 1400  # points on the longer side: 220 an inch over the width of a card
_MOST_PNG = 400_000  # bytes; a PNG that comes out larger is a photograph, and stored as JPEG
_ADDRESS = re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:")
_WHY = "the person at the bench would look for a picture that is not on the paper"
_INSIDE = "pictures are kept with the model, so that it can be copied whole and moved"


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture as it is printed: its name in the model, size in points, and file."""

    name: str
    width: int
    height: int
    kind: str
    data: bytes = field(repr=False)

    @property
    def address(self) -> str:
        """By what the page names it; the same for the same bytes."""
        return f"{SCHEME}:{hashlib.sha256(self.data).hexdigest()[:24]}"


class _Wanted(NamedTuple):
    """A picture that the model names: where, the text, and in words of what."""

    path: ModelPath
    name: str
    of: str


class _Refused(Exception):  # noqa: N818 - named for what it means
    """A picture that cannot be printed; the arguments are code, what is wrong, and what to do."""


def photo_findings(
    assembly: Assembly, folder_of: Callable[[ModelPath], Path], root: Path
) -> tuple[Problem, ...]:
    """Return what is wrong with the pictures that a model names, by their first bytes.

    Parameters
    ----------
    assembly : Assembly
        The model.
    folder_of : callable
        Gives for a path of the model the folder of the file that it stands in.
    root : Path
        The folder of the top file; no picture may be outside it.
    """
    found: list[Problem] = []
    for wanted in _wanted(assembly):
        try:
            with _opened(_file(wanted.name, folder_of(wanted.path), root)):
                pass
        except _Refused as refused:
            found.append(_finding(wanted, refused))
    return tuple(found)


def read_photos(
    assembly: Assembly,
    folder_of: Callable[[ModelPath], Path],
    root: Path,
    tell: Callable[[str], None] = lambda _: None,
) -> tuple[Mapping[ModelPath, Photo], tuple[Problem, ...]]:
    """Return the pictures that a model names, by the paths of their fields, and what is wrong.

    The parameters are those of `photo_findings`; `tell` is told which picture is being read.

    Notes
    -----
    A JPEG is decoded at the fraction of its size that is just enough. A PNG and a JPEG stored in
    turns can only be decoded whole; so the memory that is taken follows `MOST_POINTS`, whatever the
    file: half a gigabyte at the most, for one picture at a time, before pages are laid out. The way
    up that the camera noted is kept to; all else that it noted is left out.
    """
    photos: dict[ModelPath, Photo] = {}
    found: list[Problem] = []
    for number, wanted in enumerate(_wanted(assembly), start=1):
        tell(f"reading picture {number}")
        try:
            photos[wanted.path] = _read(wanted.name, folder_of(wanted.path), root)
        except _Refused as refused:
            found.append(_finding(wanted, refused))
    return photos, tuple(found)


def _wanted(assembly: Assembly) -> Iterator[_Wanted]:
    for step in assembly.steps:
        if step.picture:
            yield _Wanted(("steps", step.id, "picture"), step.picture, f"step `{step.id}`")
    for part in assembly.parts:
        if part.picture:
            steps = [step.id for step in assembly.steps if part.id in {f.part for f in step.fits}]
            of = _in_steps(f"part `{part.id}`", "fitted", steps)
            yield _Wanted(("parts", part.id, "picture"), part.picture, of)
    for check in assembly.checks:
        if check.picture:
            taking = [s.id for s in assembly.steps if check.id in {link.to for link in s.check}]
            of = _in_steps(f"check `{check.id}`", "taken", taking)
            yield _Wanted(("checks", check.id, "picture"), check.picture, of)


def _in_steps(thing: str, done: str, steps: list[str]) -> str:
    return f"{thing}, {done} in step `{steps[0]}`" if steps else thing


def _finding(wanted: _Wanted, refused: _Refused) -> Problem:
    code, wrong, fix = refused.args
    message = f"the picture `{_short(wanted.name)}` of {wanted.of} {wrong}"
    why = _INSIDE if code == "picture-place" else _WHY
    return Problem(code, "error", message, path=wanted.path, why=why, fix=fix)


def _short(name: str) -> str:
    return name if len(name) <= 80 else f"{name[:79]}…"  # noqa: PLR2004 - as long as a line


def _file(name: str, folder: Path, root: Path) -> Path:
    """Return the file that a name means, which is inside the folder of the model."""
    fix = "put it beside the model, and write its path from there, such as `photos/worm.jpg`"
    if _ADDRESS.match(name):
        raise _Refused("picture-place", "is an address, not a file beside the model", fix)
    if PurePosixPath(name).is_absolute() or "\\" in name:
        raise _Refused("picture-place", "is not a path from the folder of the model", fix)
    if ".." in PurePosixPath(name).parts:
        raise _Refused("picture-place", "leads out of the folder of the model", fix)
    there = _Refused("no-picture", "is not there", "put the file there, or mend its path")
    try:
        file = (folder / name).resolve()
        is_there = file.is_file()
    except (OSError, RuntimeError, ValueError) as fault:  # too long, links in a circle, a null
        raise there from fault
    if not file.is_relative_to(root.resolve()):
        wrong = "is reached by a link that leads out of the folder of the model"
        raise _Refused("picture-place", wrong, fix)
    if not is_there:
        raise there
    return file


def _opened(file: Path) -> Any:
    """Return a picture of which the first bytes were read, or raise why it cannot be printed."""
    from PIL import Image

    size = file.stat().st_size
    if size > MOST_BYTES:
        raise _too_large(f"takes {size >> 20} MB, and {MOST_BYTES >> 20} are the most")
    with warnings.catch_warnings():
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        try:
            image = Image.open(file, formats=("PNG", "JPEG"))
        except (Image.DecompressionBombWarning, Image.DecompressionBombError) as bomb:
            raise _too_large("has more points than can be read") from bomb
        except (OSError, SyntaxError, ValueError) as fault:
            raise _not_a_picture("is no PNG and no JPEG") from fault
    width, height = image.size
    in_turns = image.format == "PNG" or "progressive" in image.info
    most = MOST_POINTS if in_turns else MOST_POINTS_JPEG
    if width * height > most:
        image.close()
        raise _too_large(
            f"has {width:,} × {height:,} points, and {most // 10**6} million are the most "
            f"of {'a PNG, or of a JPEG stored in turns' if in_turns else 'a JPEG'}"
        )
    return image


def _too_large(wrong: str) -> _Refused:
    fix = "make it smaller: 1,400 points on the longer side are all that is printed"
    return _Refused("picture-size", wrong, fix)


def _not_a_picture(wrong: str) -> _Refused:
    return _Refused("not-a-picture", wrong, "save it as PNG or JPEG with the program that shows it")


def _read(name: str, folder: Path, root: Path) -> Photo:
    from PIL import ImageOps

    with _opened(_file(name, folder, root)) as image, _whole_ones_only():
        is_png = image.format == "PNG"
        try:
            small = _in_shades(image)
            small.thumbnail((_PRINTED, _PRINTED))
            upright = ImageOps.exif_transpose(small)
        except (OSError, SyntaxError, ValueError, EOFError) as fault:
            raise _not_a_picture("is damaged, or cut off") from fault
    kind, data = _stored(_on_paper(upright), is_png=is_png)
    return Photo(name, upright.width, upright.height, kind, data)


def _in_shades(image: Any) -> Any:
    """Return a picture that has what lies between its colours, or its thin lines would be lost."""
    if image.mode == "1":
        return image.convert("L")
    if image.mode == "P":
        return image.convert("RGBA" if "transparency" in image.info else "RGB")
    return image


@contextlib.contextmanager
def _whole_ones_only() -> Iterator[None]:
    """Have a picture that is cut off refused; the renderer, once it is loaded, lets it pass."""
    from PIL import ImageFile

    before, ImageFile.LOAD_TRUNCATED_IMAGES = ImageFile.LOAD_TRUNCATED_IMAGES, False
    try:
        yield
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = before


def _on_paper(image: Any) -> Any:
    """Return a picture in black and white or colours, with white where it lets paper through."""
    from PIL import Image

    if image.mode.startswith("I"):  # grey in sixteen bits
        return image.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        above = image.convert("RGBA")
        paper = Image.new("RGBA", above.size, "white")
        return Image.alpha_composite(paper, above).convert("RGB")
    return image.convert("L" if image.mode in ("1", "L") else "RGB")


def _stored(image: Any, *, is_png: bool) -> tuple[str, bytes]:
    """Return a picture's file as it goes into the PDF: a drawing sharp, a photograph small."""
    if is_png:
        data = _saved(image, format="PNG", optimize=True)
        if len(data) <= _MOST_PNG:
            return "image/png", data
    return "image/jpeg", _saved(image, format="JPEG", quality=82, optimize=True)


def _saved(image: Any, **how: object) -> bytes:
    file = io.BytesIO()
    image.info.clear()  # nothing that the camera noted, such as where, is printed
    image.save(file, **how)
    return file.getvalue()
