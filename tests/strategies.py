"""Random small models, with every rule of the planner switched on at random."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from sequencer.model.assembly import Assembly, Link, Part, Section, Step, WayIn
from tests.helpers import assembly, size, step, way

_SIZES = ("4 mm", "5 mm", "6 mm", "1/4 in", "6.35 mm")


@st.composite
def models(draw: st.DrawFn, most: int = 7) -> Assembly:
    """A model of up to `most` steps: relations of each kind, groups, ways in, sizes, sections.

    Most relations follow a hidden order, so that about half of the models have an order at all.
    """
    count = draw(st.integers(1, most))
    names = [f"s{number}" for number in range(count)]
    parts = [f"p{number}" for number in range(count)]
    hidden = draw(st.permutations(range(count)))
    section_names = draw(st.sampled_from(["", "", "A", "AB"]))
    section = st.sampled_from(list(section_names) or [""])
    written: list[Step] = []
    for number, name in enumerate(names):
        earlier = [other for other in range(count) if hidden[other] < hidden[number]]
        later = [other for other in range(count) if hidden[other] > hidden[number]]
        anyone = list(range(count))
        after = draw(_few(earlier if draw(st.integers(0, 7)) else anyone))
        before = draw(_few(later if draw(st.integers(0, 7)) else anyone, 1))
        onto = draw(_few(earlier if draw(st.integers(0, 7)) else anyone, 1))
        fits = draw(st.one_of(st.just([number]), st.just([number]), _few(anyone)))
        links = [Link(names[other]) for other in after]
        if section_names and draw(st.integers(0, 5)) == 0:
            links.append(Link(draw(section), "section"))
        one = step(
            name,
            fits=" ".join(parts[other] for other in fits),
            before=" ".join(names[other] for other in before),
            onto=" ".join(parts[other] for other in onto),
            ways=_ways(draw, parts),
            section=draw(section),
            largest=draw(st.one_of(st.none(), st.none(), st.sampled_from(_SIZES).map(size))),
        )
        written.append(replace(one, after=tuple(links)))
    return assembly(
        *written,
        parts=_parts(draw, parts, written),
        sections=_sections(draw, section_names),
        together=_groups(draw, names),
    )


def _few(numbers: list[int], most: int = 2) -> st.SearchStrategy[list[int]]:
    if not numbers:
        return st.just([])
    some = st.lists(st.sampled_from(numbers), max_size=most, unique=True)
    return st.one_of(st.just([]), some)


def _ways(draw: st.DrawFn, parts: list[str]) -> tuple[WayIn, ...]:
    some_parts = st.lists(st.sampled_from(parts), max_size=2, unique=True)
    openings = st.sampled_from(["", "", "", *_SIZES])
    return tuple(
        way(f"w{at}", " ".join(draw(some_parts)), draw(openings))
        for at in range(draw(st.integers(0, 2)))
    )


def _parts(draw: st.DrawFn, parts: list[str], written: list[Step]) -> tuple[Part, ...]:
    fitted = {fit.part for one in written for fit in one.fits}
    sizes = st.one_of(st.none(), st.sampled_from(_SIZES).map(size))
    return tuple(Part(id=part, largest=draw(sizes)) for part in parts if part in fitted)


def _sections(draw: st.DrawFn, names: str) -> tuple[Section, ...]:
    if len(names) < 2:
        return ()
    after = draw(st.sampled_from([(), (Link("A", "section"),)]))
    return (Section(id="A"), Section(id="B", after=after))


def _groups(draw: st.DrawFn, names: list[str]) -> tuple[str, ...]:
    order = draw(st.permutations(names))
    first = draw(st.integers(0, 3))
    second = draw(st.integers(0, 3))
    groups = [order[:first], order[first : first + second]]
    return tuple(" ".join(group) for group in groups if len(group) > 1)
