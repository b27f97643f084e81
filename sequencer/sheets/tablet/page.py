"""The page as one HTML file: cards, styles, fonts and scripts, and nothing from anywhere else."""

from __future__ import annotations

import base64
import hashlib
import json
from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from markupsafe import Markup

from sequencer.sheets.drafts import why_draft
from sequencer.sheets.job import job_of
from sequencer.sheets.packet import LayoutFault, environment, layout_fault, printable
from sequencer.sheets.tablet.lettering import font_faces
from sequencer.sheets.tablet.view import tablet_view

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from jinja2 import Environment

    from sequencer.model.assembly import Assembly
    from sequencer.planning.results import Plan
    from sequencer.problem import Path as ModelPath
    from sequencer.problem import Problem
    from sequencer.sheets.photos import Photo

SCRIPTS: tuple[str, ...] = (
    "exact.js",
    "amounts.js",
    "formulas.js",
    "judging.js",
    "keeping.js",
    "entries.js",
    "turns.js",
    "cards.js",
    "acts.js",
    "exchange.js",
    "bar.js",
    "start.js",
)
"""The scripts of the page in `layouts/tablet/`, in the order in which they are run."""


def tablet_html(  # noqa: PLR0913 - one call says all that a page depends on
    assembly: Assembly,
    plan: Plan,
    *,
    fingerprint: str,
    draft: tuple[str, ...] = (),
    findings: tuple[Problem, ...] = (),
    photos: Mapping[ModelPath, Photo] = MappingProxyType({}),
    layouts: Path | None = None,
) -> str:
    """Return the packet as one page for a tablet, which works offline and from a file.

    Parameters
    ----------
    assembly : Assembly
        The model, completed.
    plan : Plan
        Its order and what that tells about each step.
    fingerprint : str
        What ties the page to the model; entries are kept and exported under it.
    draft : tuple of str
        Why this may not be worked from yet, besides what the findings and the model leave open.
    findings : tuple of Problem
        What the builder should know before the start.
    photos : mapping of path to Photo
        The pictures that the model names; the page holds them whole.
    layouts : Path or None
        A folder whose files stand in for those of the same name in `layouts/`.

    Raises
    ------
    LayoutFault
        If a template or a script does not work.
    FileNotFoundError
        If the package that brings the fonts is not there.

    Notes
    -----
    Authors' text is escaped as it is placed, and the page's policy lets nothing run or load but
    what stands in it: each script and the style by its hash, fonts as data.
    """
    from jinja2 import TemplateError

    job = job_of(
        assembly,
        plan,
        fingerprint=fingerprint,
        sheets=("steps",),
        draft=why_draft(assembly, findings, draft),
        findings=findings,
    )
    job = replace(job, photos=photos)
    view = tablet_view(job)
    words = {"title": view.cover.title, "issue": assembly.issue, "fingerprint": fingerprint}
    rendering = environment(layouts)
    try:
        body = printable(rendering.get_template("tablet/body.html").render(view=view, **words))
        body = _with_photos(body, photos)
        style = f"{font_faces(body)}\n{_source(rendering, 'style.css')}"
        scripts = [_source(rendering, name) for name in SCRIPTS]
        page = rendering.get_template("tablet/page.html").render(
            body=Markup(body),  # noqa: S704  # escaped piece by piece in its own template
            data=_as_data(view.data),
            policy=_policy(style, scripts),
            scripts=[Markup(script) for script in scripts],  # noqa: S704  # a layout's own
            style=Markup(style),  # noqa: S704  # a layout's own
            **words,
        )
    except TemplateError as error:
        raise layout_fault(error) from error
    return printable(page)


def _with_photos(body: str, photos: Mapping[ModelPath, Photo]) -> str:
    """Return the page with each picture as data; in no text of an author is `"` left as it is."""
    for photo in dict.fromkeys(photos.values()):
        data = base64.b64encode(photo.data).decode("ascii")
        body = body.replace(f'src="{photo.address}"', f'src="data:{photo.kind};base64,{data}"')
    return body


def _source(rendering: Environment, name: str) -> str:
    """Return a script or a style of the page as it stands, to be put between its tags."""
    loader = rendering.loader
    text = printable(loader.get_source(rendering, f"tablet/{name}")[0]) if loader else ""
    if "</style" in text.lower() or "</script" in text.lower():
        raise LayoutFault(f"layout tablet/{name} ends the tag that it stands in")
    return f"\n{text}"


def _as_data(told: object) -> Markup:
    """Return what the scripts know as JSON that no text can break out of."""
    text = json.dumps(told, separators=(",", ":")).replace("<", "\\u003c")
    return Markup(text)  # noqa: S704  # without `<` nothing ends the tag


def _policy(style: str, scripts: Sequence[str]) -> str:
    """Return what the browser lets the page do: run and load what stands in it, nothing else."""
    own = " ".join(map(_hash, scripts))
    return (
        f"default-src 'none'; script-src {own}; style-src {_hash(style)}; "
        "font-src data:; img-src data:; base-uri 'none'; form-action 'none'"
    )


def _hash(text: str) -> str:
    digest = base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest())
    return f"'sha256-{digest.decode('ascii')}'"
