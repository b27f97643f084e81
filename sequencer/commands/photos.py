"""The pictures of a model for the commands: found from the files that name them."""

from __future__ import annotations

from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeAlias

from sequencer.commands.printing import progress

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from sequencer.model.assembly import Assembly
    from sequencer.problem import Path as ModelPath
    from sequencer.problem import Problem
    from sequencer.reading import Reading
    from sequencer.sheets.photos import Photo

    Photos: TypeAlias = Mapping[ModelPath, Photo]


def photos_of(
    reading: Reading, assembly: Assembly | None, file: Path
) -> tuple[Photos, tuple[Problem, ...]]:
    """Return the pictures of a model by the paths of their fields, and what is wrong with any.

    `file` is the top file; no picture may be outside its folder.
    """
    if assembly is None or not _has_any(assembly):
        return MappingProxyType({}), ()
    from sequencer.sheets.photos import read_photos

    tell = progress()
    try:
        return read_photos(assembly, _folder_of(reading, file), file.parent, tell)
    finally:
        tell("")


def missing_photos(reading: Reading, assembly: Assembly, file: Path) -> tuple[Problem, ...]:
    """Return what is wrong with the pictures of a model, none of them read to its end."""
    if not _has_any(assembly):
        return ()
    from sequencer.sheets.photos import photo_findings

    return photo_findings(assembly, _folder_of(reading, file), file.parent)


def _has_any(assembly: Assembly) -> bool:
    tables = (assembly.steps, assembly.parts, assembly.checks)
    return any(any(one.picture for one in table) for table in tables)


def _folder_of(reading: Reading, file: Path) -> Callable[[ModelPath], Path]:
    """Return what gives the folder of the file in which a field stands."""

    def folder_of(path: ModelPath) -> Path:
        place = reading.place_of(path)
        return Path(place.file).parent if place else file.parent

    return folder_of
