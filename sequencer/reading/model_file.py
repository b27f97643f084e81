"""The way from a model file to the model: text, tree, fields, names, choices, rules."""

from __future__ import annotations

from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING

from sequencer.reading.apart import apart
from sequencer.reading.decoding import UnreadableError, text_of_file
from sequencer.reading.files import MOST_STEPS, Files, OneFile, unreadable
from sequencer.reading.whole import Whole, whole_of

if TYPE_CHECKING:
    import pathlib
    from collections.abc import Mapping as MappingType

    from sequencer.model.assembly import Assembly
    from sequencer.model.options import Option
    from sequencer.problem import Path, Place, Problem

__all__ = ["MOST_STEPS", "Reading", "read_file", "read_text"]

_NO_SETTINGS: MappingType[str, str] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Reading:
    """What came of reading a file.

    Attributes
    ----------
    assembly : Assembly or None
        The model, completed, with its options chosen and the models that it uses in it; None if
        any problem is an error.
    problems : tuple of Problem
        Everything found, in the order of the file and then of those that it uses, each with its
        place where it has one.
    lines : mapping of str to tuple of str
        The lines of each file by its name, to show beside a problem.
    """

    assembly: Assembly | None
    problems: tuple[Problem, ...]
    lines: MappingType[str, tuple[str, ...]]
    _whole: Whole = field(repr=False, compare=False)
    _file: OneFile = field(repr=False, compare=False)

    def place_of(self, path: Path) -> Place | None:
        """Return where a path of the model stands, as far as it goes; None if it begins nowhere.

        A value on one line is shown itself, anything longer by the key it stands under.
        """
        file, there = self._whole.find(path)
        return file.places.value(there)

    @property
    def options(self) -> tuple[Option, ...]:
        """The options of the model, as declared; empty where they are not sound."""
        is_sound = self._file.assembly is not None and self._file.is_decidable
        return self._file.assembly.options if is_sound and self._file.assembly else ()

    @property
    def copies(self) -> MappingType[str, str]:
        """The texts of the files that it uses, by their paths from its own folder."""
        return self._file.copies

    def with_settings(self, settings: MappingType[str, str]) -> Reading:
        """Return the same files with other choices made; nothing is read again."""
        return _reading(self._file, settings)

    def apart(self) -> tuple[tuple[str, Reading], ...]:
        """Return the model and those that it uses, each for itself, by their prefixes.

        The top one has an empty prefix. In the others' stead it has parts that come ready made.
        """
        layer = self._whole.layer
        return (
            (("", self),)
            if layer is None or not layer.used
            else tuple(
                (
                    one.prefix,
                    Reading(
                        one.whole.assembly, one.whole.problems, self.lines, one.whole, one.file
                    ),
                )
                for one in apart(layer)
            )
        )


def read_file(path: pathlib.Path, settings: MappingType[str, str] = _NO_SETTINGS) -> Reading:
    """Read a model file and those that it uses; whatever is wrong comes back as problems.

    Parameters
    ----------
    path : pathlib.Path
        The file. Those that it uses must be in its folder or below.
    settings : mapping of str to str
        What to choose, by the names of options; for others their defaults hold.
    """
    name = str(path)
    try:
        text = text_of_file(path, name)
    except UnreadableError as error:
        return _reading(unreadable(error, name), settings)
    return read_text(text, name, settings, path)


def read_text(
    text: str,
    name: str,
    settings: MappingType[str, str] = _NO_SETTINGS,
    path: pathlib.Path | None = None,
    kept: MappingType[str, str] | None = None,
) -> Reading:
    r"""Read a model from its text; `name` is what problems call the file.

    With a `path`, as if it were written there, files that it uses are looked for; with `kept`,
    texts by their paths from its folder, they are taken from there instead.

    Examples
    --------
    >>> reading = read_text("assembly: lamp\nsteps: {screw: Screw the bulb in.}", "lamp.yaml")
    >>> [step.do for step in reading.assembly.steps]
    ['Screw the bulb in.']
    >>> reading.place_of(("steps", "screw"))
    Place(file='lamp.yaml', line=2, column=16, width=18)
    """
    files = Files(path, kept)
    file = files.read(text, name)
    file.copies = files.copies
    return _reading(file, settings)


def _reading(file: OneFile, settings: MappingType[str, str]) -> Reading:
    whole = whole_of(file, settings)
    lines = {one.source.name: one.source.lines for one in file.all_files()}
    return Reading(whole.assembly, whole.problems, MappingProxyType(lines), whole, file)
