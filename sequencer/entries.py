"""What other programs call: models read, checked, ordered, mended, taken apart and printed.

`import sequencer` gives these by name, and loads them when they are first used.
"""

from __future__ import annotations

from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from sequencer.model.fingerprint import fingerprint
from sequencer.planning.mending import last_chances, revise, with_forgetting
from sequencer.planning.plan import check, plan
from sequencer.planning.stripping import strip
from sequencer.reading import Reading, read_file

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Path as ModelPath
    from sequencer.sheets.photos import Photo

__all__ = ["check", "load", "packet", "plan", "revise", "strip"]


def load(file: str | Path, choices: Mapping[str, str] = MappingProxyType({})) -> Reading:
    """Read a model file and those that it uses.

    Parameters
    ----------
    file : str or Path
        The file; nothing is raised if it cannot be read, that is a problem like others.
    choices : mapping of str to str
        What to choose, by the names of options; for others their defaults hold.

    Returns
    -------
    Reading
        Its `assembly` is None if the model cannot be used; `problems` holds all that is wrong,
        each with its place.
    """
    return read_file(Path(file), choices)


def packet(
    assembly: Assembly,
    *,
    sheets: Sequence[str] | None = None,
    paper: str = "A4",
    photos: Mapping[ModelPath, Photo] = MappingProxyType({}),
    layouts: Path | None = None,
) -> bytes:
    """Return the printed packet of a model, as a PDF, in the order that `plan` gives.

    Where `check` finds errors every page says DRAFT; where there is no order at all the steps
    stand as written.

    Parameters
    ----------
    assembly : Assembly
        The model.
    sheets : sequence of str, optional
        Which of `sequencer.sheets.packet.SHEETS`; by default all but those on request.
    paper : str
        ``A4`` or ``Letter``.
    photos : mapping of path to Photo
        The pictures that the model names, see `sequencer.sheets.photos.read_photos`.
    layouts : Path or None
        A folder whose files stand in for the layouts of the same name.

    Raises
    ------
    ValueError
        If a sheet or a paper is none of these, or the folder is not there.
    sequencer.sheets.packet.LayoutFault
        If a template does not work.
    sequencer.sheets.packet.TooLong
        If there would be more pages than can be laid out.
    sequencer.sheets.pdf.RendererMissing
        If the system lacks Pango.
    """
    from sequencer.sheets.packet import USUAL, packet_html
    from sequencer.sheets.pdf import write_pdf

    planned = plan(assembly)
    html = packet_html(
        assembly,
        with_forgetting(assembly, planned, last_chances(planned)),
        fingerprint=fingerprint(assembly),
        sheets=USUAL if sheets is None else tuple(sheets),
        paper=paper,
        findings=check(assembly),
        photos=photos,
        layouts=layouts,
    )
    return write_pdf(html, layouts=layouts, photos=photos.values())
