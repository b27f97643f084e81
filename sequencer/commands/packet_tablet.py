"""`sequencer packet --html`: the packet as one page for a tablet."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click
from click.core import ParameterSource

if TYPE_CHECKING:
    from pathlib import Path

    from sequencer.commands.photos import Photos
    from sequencer.model.assembly import Assembly
    from sequencer.planning.results import Plan
    from sequencer.problem import Problem

_OF_PAPER = ("sheets", "paper")


def refuse_paper_options() -> None:
    """End the call where something was asked of the page that only paper has."""
    call = click.get_current_context()
    for name in _OF_PAPER:
        if call.get_parameter_source(name) is not ParameterSource.DEFAULT:
            raise click.UsageError(f"--{name} is about paper: it does not go with --html")


def tablet_page(
    assembly: Assembly,
    planned: Plan,
    findings: tuple[Problem, ...],
    reasons: tuple[str, ...],
    photos: Photos,
    layouts: Path | None,
) -> bytes:
    """Return the page; `reasons` are the caller's own for a draft.

    Raises
    ------
    RendererMissing
        If the package with the fonts is gone.
    """
    from sequencer.model.fingerprint import fingerprint
    from sequencer.sheets.pdf import RendererMissing
    from sequencer.sheets.tablet.page import tablet_html

    try:
        page = tablet_html(
            assembly,
            planned,
            fingerprint=fingerprint(assembly),
            draft=reasons,
            findings=findings,
            photos=photos,
            layouts=layouts,
        )
    except FileNotFoundError as error:
        fix = "pip install --force-reinstall font-source-sans-pro"
        raise RendererMissing(str(error), fix) from error
    return page.encode("utf-8")
