"""`sequencer explain`: what a finding means, why it matters, what to do."""

from __future__ import annotations

import difflib
import sys
import textwrap
from typing import TYPE_CHECKING

import click

from sequencer.planning.pages import PAGES
from sequencer.problem import Problem
from sequencer.report import as_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.planning.pages import Page

_NOT_OK = 1
_WIDTH = 78
_INDENT = "  "


def _codes(codes: str) -> frozenset[str]:
    return frozenset(codes.split())


WHILE_READING = _codes(
    "alias ambiguous anchor bad-id check-way cut-off doubtful duplicate-key empty-file encoding "
    "fell-apart figure hidden-character layout line look-alike merge missing named-twice "
    "needs-quotes no-colon no-file no-limit no-name no-space no-surface not-a-mapping not-a-model "
    "nothing-loose null number one-of open-bracket open-quote spoiled state tab tag together "
    "too-deep too-large too-many torque-twice true-or-false two-documents unit-base unit-circle "
    "unknown-field unused whole-number word wrong-kind yaml"
)
"""Codes of what is found while a file is read; each message says all there is to say."""
WHILE_PRINTING = _codes("awaited layout no-glyph no-renderer not-written other-packet packet-size")
"""Codes of what is found while a packet is printed; likewise."""
WHILE_WRITING = _codes("cell column exists no-head not-a-table spoiled-id")
"""Codes of what is found while a model is made or a table put into one; likewise."""
WHILE_RECORDING = _codes(
    "bad-row cannot-be-told check-out clean-first crossed damaged-line dead-end done-already "
    "far-off hold-open left-out log-busy log-exists log-links log-order model-changed never-done "
    "no-export no-lock no-log no-rest no-sheet not-acceptable not-awaited not-read not-recorded "
    "not-valid nothing-done nothing-held nothing-to-accept odd-correction odd-pass other-model "
    "other-number other-unit part-awaited passed-over redo-first serial-twice step-gone "
    "time-unknown to-come too-many-rounds too-soon torn-line torque-lowered void wrong-sheet"
)
"""Codes of what is found while a build is recorded; likewise."""
_EVERY = sorted({*PAGES, *WHILE_READING, *WHILE_PRINTING, *WHILE_WRITING, *WHILE_RECORDING})


@click.command("explain")
@click.argument("code", required=False)
def explain_command(code: str | None) -> None:
    """Explain a finding: what it means, why it matters and what to do, with an example.

    CODE is the word in brackets, as in error[circle]. Without it, all codes are listed.
    Exit code: 0, or 1 if there is no such code.
    """
    if code is None:
        click.echo(_list())
        return
    name = code.rpartition("[")[2].rstrip("]:").casefold()
    if name in PAGES:
        click.echo(_as_text(PAGES[name]))
    elif name in WHILE_READING:
        click.echo(_without_page(name, "a file is read"))
    elif name in WHILE_PRINTING:
        click.echo(_without_page(name, "a packet is printed"))
    elif name in WHILE_WRITING:
        click.echo(_without_page(name, "a model is made, or a table put into one"))
    elif name in WHILE_RECORDING:
        click.echo(_without_page(name, "a build is recorded"))
    else:
        click.echo(as_text([_no_such_code(code, name)], {}), err=True)
        sys.exit(_NOT_OK)


def _list() -> str:
    widest = max(map(len, PAGES))
    lines = [f"{page.code:<{widest}}  {page.short}" for page in PAGES.values()]
    rest = (
        "All else that is found while a file is read or a packet printed has no page: the message "
        "says all there is to say."
    )
    return "\n".join([*lines, "", textwrap.fill(rest, _WIDTH)])


def _as_text(page: Page) -> str:
    return "\n\n".join(
        (
            f"{page.code}: {page.short}\n({page.severity})",
            f"What it finds\n{_paragraph(page.what)}",
            f"Why it matters\n{_paragraph(page.why)}",
            "Example\n" + "\n".join(_example(page)),
            f"What to do\n{_paragraph(page.do)}",
        )
    )


def _paragraph(text: str, later: str = _INDENT) -> str:
    return textwrap.fill(
        text,
        _WIDTH,
        initial_indent=_INDENT,
        subsequent_indent=later,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _example(page: Page) -> Iterator[str]:
    """Yield the model, how it is tested where an order is, and what is then found."""
    yield from (2 * _INDENT + line for line in page.example.splitlines())
    for name, text in page.beside:
        yield f"{_INDENT}and beside it {name}"
        yield from (2 * _INDENT + line for line in text.splitlines())
    if page.order:
        yield f"{_INDENT}tested with --from {','.join(page.order)}"
    if page.done:
        redo = f" --redo {','.join(page.redo)}" if page.redo else ""
        yield f"{_INDENT}revised with --done {','.join(page.done)}{redo}"
    if page.says:
        yield _paragraph(f"gives: {page.says}", later=2 * _INDENT)


def _without_page(code: str, when: str) -> str:
    return textwrap.fill(
        f"{code} is found while {when} and has no page: its message says all there is to say, "
        "what is wrong and where, why it matters and how to mend it.",
        _WIDTH,
    )


def _no_such_code(code: str, name: str) -> Problem:
    near = difflib.get_close_matches(name, _EVERY, n=1)
    return Problem(
        "unknown",
        "error",
        f"there is no finding `{code}`",
        why="only what stands in brackets at the head of a finding can be explained",
        fix=f"did you mean `{near[0]}`?" if near else "see `sequencer explain` for all codes",
    )
