"""What commands that print do alike: say how far it is, what stopped it, write the file whole."""

from __future__ import annotations

import contextlib
import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from sequencer.commands.common import settings
from sequencer.commands.files import NotWrittenError, write_whole
from sequencer.problem import Problem

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from sequencer.model.assembly import Assembly

    _Command = TypeVar("_Command", bound=Callable[..., object])

STOPPED = "nothing printed: there are errors (--draft prints all the same, marked so)"
_PAPERS = ("A4", "Letter")


class SheetList(click.ParamType[tuple[str, ...]]):
    """Names of sheets with commas between."""

    name = "list"

    def __init__(self, sheets: tuple[str, ...]) -> None:
        self.sheets = sheets

    def convert(
        self, value: str, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[str, ...]:
        """Return the names; a strange one, or none at all, ends the call."""
        names = tuple(value.replace(",", " ").split())
        strange = ", ".join(name for name in names if name not in self.sheets)
        if strange or not names:
            choices = ", ".join(self.sheets)
            self.fail(f"{strange or 'nothing'} is no sheet: choose from {choices}", param, ctx)
        return names


def packet_options(by: str) -> Callable[[_Command], _Command]:
    """Give a command the options of a packet: `--by`, with this help, `--draft` and `--into`."""
    order = click.option(
        "--by",
        type=click.Choice(["written", "handling"]),
        default="written",
        show_default=True,
        help=by,
    )
    draft = click.option(
        "--draft", is_flag=True, help="Print even with errors, marked DRAFT on every page."
    )
    return lambda command: order(draft(into_option(command)))


def into_option(command: _Command) -> _Command:
    """Give a command `--into`: where its pages go."""
    into = click.option(
        "--into",
        type=click.Path(file_okay=False, path_type=Path),
        default=Path("out"),
        show_default=True,
        help="The folder to write into.",
    )
    return into(command)


def paper_options(command: _Command) -> _Command:
    """Give a command what the look of its pages depends on: `--paper` and `--layouts`."""
    paper = click.option(
        "--paper",
        type=click.Choice(_PAPERS, case_sensitive=False),
        default=_PAPERS[0],
        show_default=True,
    )
    layouts = click.option(
        "--layouts",
        type=click.Path(exists=True, file_okay=False, path_type=Path),
        help="A folder whose files stand in for the layouts of the same name.",
    )
    return paper(layouts(command))


class NotPrinted(Exception):  # noqa: N818  # named for what it means, like the findings
    """Something stopped the printing; the finding says what."""

    def __init__(self, finding: Problem) -> None:
        super().__init__(finding.message)
        self.finding = finding


@contextlib.contextmanager
def faults_told() -> Iterator[None]:
    """Turn what stops the making of pages into `NotPrinted`."""
    from sequencer.sheets.packet import MOST_PAGES, LayoutFault, TooLong
    from sequencer.sheets.pdf import RendererMissing

    try:
        yield
    except RendererMissing as missing:
        why = "without it no page can be laid out; `check` and `plan` work all the same"
        raise NotPrinted(
            Problem("no-renderer", "error", str(missing), why=why, fix=missing.fix)
        ) from missing
    except LayoutFault as fault:
        why = "a sheet of your own layouts cannot be printed as it stands"
        raise NotPrinted(Problem("layout", "error", str(fault), why=why)) from fault
    except TooLong as too_long:
        message = f"about {too_long.pages:,} pages would be printed, and {MOST_PAGES} are the most"
        why = "all are laid out before one is written, and each takes 2 MB of memory meanwhile"
        fix = (
            "print fewer sheets at a time with `packet --sheets`, or part the model into several "
            "that one uses, and print each with `packet --each`"
        )
        raise NotPrinted(Problem("packet-size", "error", message, why=why, fix=fix)) from too_long


def progress() -> Callable[[str], None]:
    """Return what tells on a terminal how far the work is, on one line that is wiped again."""
    if not sys.stderr.isatty():
        return lambda _: None
    return lambda text: click.echo(f"\r\x1b[K{text}", nl=False, err=True)


def file_name(*pieces: str) -> str:
    """Return a file name that no model can lead out of the folder with.

    Examples
    --------
    >>> file_name("hoist-head", "B"), file_name("../lamp", "A")
    ('hoist-head-B', '_lamp-A')
    """
    return re.sub(r"[^\w.-]+", "_", "-".join(pieces)).lstrip(".")


def packet_name(assembly: Assembly, *more: str) -> str:
    """Return the name of a packet's file: of what it is, and what it is one of.

    It holds the choices that the call made, so that the packet of one does not go over another.
    """
    taken = [one.choice for one in assembly.taken if one.option in settings()]
    return file_name(assembly.assembly, assembly.issue, *taken, *more)


def write_pages(target: Path, pdf: bytes) -> None:
    """Write the file whole or not at all.

    Raises
    ------
    NotPrinted
        If it cannot be written.
    """
    try:
        write_whole(target, pdf, why="the pages were laid out but could not be kept")
    except NotWrittenError as fault:
        raise NotPrinted(fault.problem) from fault
