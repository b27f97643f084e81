"""Short ways to make models in tests."""

from __future__ import annotations

from pathlib import Path

from sequencer.model.assembly import Assembly
from sequencer.model.common import Link, Size, WayIn
from sequencer.model.complete import complete
from sequencer.model.parts import Part
from sequencer.model.quantities import read_amount
from sequencer.model.steps import Fit, Section, Step, Together
from sequencer.reading import read_text


def size(text: str) -> Size:
    return Size(value=read_amount(text, ("length",), limits=False))


def links(names: str, kind: str = "step") -> tuple[Link, ...]:
    return tuple(Link(name, kind) for name in names.split())


def way(name: str, shut_by: str = "", opening: str = "") -> WayIn:
    return WayIn(
        name=name, shut_by=links(shut_by, "part"), opening=size(opening) if opening else None
    )


def step(
    name: str,
    *,
    fits: str = "",
    after: str = "",
    before: str = "",
    onto: str = "",
    ways: tuple[WayIn, ...] = (),
    **others: object,
) -> Step:
    """Make a step; names in one string, split by spaces."""
    fields: dict[str, object] = {
        "id": name,
        "do": f"Do {name}.",
        "fits": tuple(Fit(part) for part in fits.split()),
        "after": links(after),
        "before": links(before),
        "onto": links(onto, "part"),
        "ways_in": ways,
        **others,
    }
    return Step(**fields)  # type: ignore[arg-type]  # the fields are the caller's affair


def assembly(
    *steps: Step,
    together: tuple[str, ...] = (),
    parts: tuple[Part, ...] = (),
    sections: tuple[Section, ...] = (),
) -> Assembly:
    return complete(
        Assembly(
            assembly="test",
            steps=steps,
            parts=parts,
            sections=sections,
            together=tuple(Together(steps=links(group)) for group in together),
        )
    )


def case(file: Path, *changes: tuple[str, str]) -> Assembly:
    """Read a case, with pieces of its text changed; each piece is there once."""
    text = file.read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    reading = read_text(text, file.name)
    assert reading.problems == ()
    assert reading.assembly is not None
    return reading.assembly
