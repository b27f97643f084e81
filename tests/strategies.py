"""Random small models, with every rule of the planner switched on at random.

What values are drawn from is made once and kept: hypothesis looks each such thing through when it
is first drawn from, which for thousands of models would take longer than the tests themselves.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from typing import Any, TypeVar

from hypothesis import strategies as st

from sequencer.model.assembly import Assembly, Defaults
from sequencer.model.checking import Check
from sequencer.model.common import Link, WayIn
from sequencer.model.complete import complete
from sequencer.model.compounds import Apply, Compound, CureTable, Heat
from sequencer.model.fastening import Joint, Tool
from sequencer.model.lines import EndValue, Line, LineEnd, LinePlace
from sequencer.model.parts import Part
from sequencer.model.quantities import Amount, read_amount
from sequencer.model.steps import OneOf, Section, State, Step, Together, Trial, Unit
from tests.helpers import links, size, step, way

_SIZES = ("4 mm", "5 mm", "6 mm", "1/4 in", "6.35 mm")
_BOOLEANS = st.booleans()

_Value = TypeVar("_Value")


@cache
def _among(*values: _Value) -> st.SearchStrategy[_Value]:
    """One of these."""
    return st.sampled_from(values)


@cache
def _some(values: Sequence[_Value], least: int, most: int) -> st.SearchStrategy[list[_Value]]:
    """From `least` to `most` different ones of these."""
    return st.lists(st.sampled_from(values), min_size=least, max_size=most, unique=True)


@cache
def _turns(values: Sequence[_Value]) -> st.SearchStrategy[list[_Value]]:
    """All of these in any order."""
    return st.permutations(values)


@cache
def _whole(low: int, high: int) -> st.SearchStrategy[int]:
    """A whole number, both ends among them."""
    return st.integers(low, high)


@st.composite
def models(draw: st.DrawFn, most: int = 7) -> Assembly:
    """A model of up to `most` steps: relations of each kind, groups, ways in, sizes, sections.

    Most relations follow a hidden order, so that about half of the models have an order at all.
    """
    return _Model(draw, most).whole()


@st.composite
def rich_models(draw: st.DrawFn, most: int = 7) -> Assembly:
    """The same with a few of the features that make up the rest of the state, at random."""
    model = _Model(draw, most)
    features = (
        model.parts_that_come_off,
        model.at_start,
        model.a_unit,
        model.a_trial,
        model.a_line,
        model.a_state,
        model.loose_and_turned_over,
        model.checks,
        model.one_of,
        model.tools_and_room,
        model.all_and_in_order,
    )
    for feature in draw(_some(features, 1, 3)):
        feature()
    return model.whole()


@st.composite
def timed_models(draw: st.DrawFn, most: int = 6) -> Assembly:
    """Models with compounds on a surface or two, heat, waits and windows, and times of steps."""
    model = draw(_any_models(most))
    steps = tuple(
        replace(
            _with_compounds(draw, one),
            time=_amount(draw(_among("1 min", "2 min", "3 min", "20 s"))),
        )
        for one in model.steps
    )
    sections = tuple(
        replace(one, after=tuple(_timed_link(draw, link) for link in one.after))
        for one in model.sections
    )
    shop = draw(_among(None, "10 °C", "20 °C", "30 °C", "90 °C"))
    return complete(
        replace(
            model,
            steps=steps,
            sections=sections,
            compounds=tuple(_compound(draw, name) for name in "kl"),
            defaults=Defaults(temperature=_amount(shop) if shop else None),
        )
    )


@cache
def _any_models(most: int) -> st.SearchStrategy[Assembly]:
    return st.one_of(models(most), rich_models(most))


def _amount(text: str) -> Amount:
    return read_amount(text, ("time", "temperature"), limits=False)


def _timed_link(draw: st.DrawFn, link: Link) -> Link:
    waits = _among(None, None, "1 min", "4 min")
    wait, within = draw(waits), draw(waits)
    return replace(
        link,
        wait=_amount(wait) if wait else None,
        within=_amount(within) if within else None,
    )


def _compound(draw: st.DrawFn, name: str) -> Compound:
    times = _among(None, "1 min", "3 min", "6 min")
    stays, holds, cures = draw(times), draw(times), draw(times)
    rows = tuple(
        (_amount(at), _amount(time)) for at, time in (("15 °C", "9 min"), ("25 °C", "40 s"))
    )
    cure = CureTable(_amount(cures)) if cures else draw(_among(None, CureTable(rows=rows)))
    other = "l" if name == "k" else "k"
    hottest = draw(_among(None, "80 °C"))
    return Compound(
        id=name,
        kind=draw(_among("", "sealant", "cleaner", "primer")),
        wants=draw(_among((), ("clean", "dry"), ("dry",), ("clean", "roughened"))),
        open=_amount(stays) if stays else None,
        fixture=_amount(holds) if holds else None,
        cure=cure,
        not_with=draw(_among((), (Link(other, "compound"),))),
        hottest=_amount(hottest) if hottest else None,
    )


def _with_compounds(draw: st.DrawFn, one: Step) -> Step:
    """A step that does up to two things to the surfaces, with times in its relations."""
    fields: dict[str, Any] = {
        "after": tuple(_timed_link(draw, link) for link in one.after),
        "before": tuple(_timed_link(draw, link) for link in one.before),
    }
    surfaces = _among("f", "f", "g", "f g")
    for what in draw(_some(("cleans", "apply", "closes", "loads"), 0, 2)):
        to = links(draw(surfaces), "surface")
        names = draw(_among("k", "l", "k l")) if what == "apply" else ""
        puts = tuple(Apply(compound=(Link(name, "compound"),), to=to) for name in names.split())
        fields[what] = puts if what == "apply" else to
        if what == "cleans":
            leaves = draw(_among(("clean", "dry"), ("clean",), ("dry",), ()))
            fields["leaves"] = (*one.leaves, *leaves)
    if draw(_whole(0, 4)) == 0 and one.fits:
        part = (Link(one.fits[0].part, "part"),)
        fields["heat"] = Heat(part=part, to=_amount(draw(_among("60 °C", "110 °C"))))
    return replace(one, **fields)


class _Model:
    """A model in the making; each feature changes its steps or adds to the rest."""

    def __init__(self, draw: st.DrawFn, most: int) -> None:
        self.draw = draw
        self.count = draw(_whole(1, most))
        self.names = tuple(f"s{number}" for number in range(self.count))
        self.parts = tuple(f"p{number}" for number in range(self.count))
        self.hidden = draw(_turns(tuple(range(self.count))))
        self.sections = draw(_among("", "", "A", "AB"))
        self.steps = [self._step(number) for number in range(self.count)]
        self.rest: dict[str, Any] = {}
        self.part_fields: dict[str, dict[str, Any]] = {}
        self.section_fields: dict[str, dict[str, Any]] = {}
        self.groups = self._groups()

    def _step(self, number: int) -> Step:
        draw = self.draw
        anyone = tuple(range(self.count))
        earlier = tuple(other for other in anyone if self.hidden[other] < self.hidden[number])
        later = tuple(other for other in anyone if self.hidden[other] > self.hidden[number])
        after = draw(_few(earlier if draw(_whole(0, 7)) else anyone))
        before = draw(_few(later if draw(_whole(0, 7)) else anyone, 1))
        onto = draw(_few(earlier if draw(_whole(0, 7)) else anyone, 1))
        fits = draw(_own_or_few(number, anyone))
        after_links = [Link(self.names[other]) for other in after]
        section = _among(*(self.sections or ("",)))
        if self.sections and draw(_whole(0, 5)) == 0:
            after_links.append(Link(draw(section), "section"))
        one = step(
            self.names[number],
            fits=" ".join(self.parts[other] for other in fits),
            before=" ".join(self.names[other] for other in before),
            onto=" ".join(self.parts[other] for other in onto),
            ways=self._ways(),
            section=draw(section),
            largest=draw(_SELDOM_SIZE),
        )
        return replace(one, after=tuple(after_links))

    def _ways(self) -> tuple[WayIn, ...]:
        some_parts = _some(self.parts, 0, 2)
        openings = _among("", "", "", *_SIZES)
        return tuple(
            way(f"w{at}", " ".join(self.draw(some_parts)), self.draw(openings))
            for at in range(self.draw(_whole(0, 2)))
        )

    def _groups(self) -> list[list[str]]:
        order = self.draw(_turns(self.names))
        first = self.draw(_whole(0, 3))
        second = self.draw(_whole(0, 3))
        groups = [list(order[:first]), list(order[first : first + second])]
        return [group for group in groups if len(group) > 1]

    # Features.

    def _change(self, number: int, **fields: Any) -> None:
        self.steps[number] = replace(self.steps[number], **fields)

    def _some_step(self) -> int:
        return self.draw(_whole(0, self.count - 1))

    def _by_hidden_order(self, most: int) -> list[int]:
        """Different steps, in the hidden order."""
        numbers = self.draw(_some(tuple(range(self.count)), 1, most))
        return sorted(numbers, key=self.hidden.__getitem__)

    def parts_that_come_off(self) -> None:
        for _ in range(self.draw(_whole(1, 2))):
            part = self.draw(_among(*self.parts))
            number = self._some_step()
            kept = tuple(fit for fit in self.steps[number].fits if fit.part != part)
            self._change(number, takes_off=links(part, "part"), fits=kept)
            self.part_fields.setdefault(part, {})["aid"] = self.draw(_BOOLEANS)

    def at_start(self) -> None:
        part = self.draw(_among(*self.parts))
        self.part_fields.setdefault(part, {})["at_start"] = "fitted"
        for number, one in enumerate(self.steps):
            self._change(number, fits=tuple(fit for fit in one.fits if fit.part != part))
        if self.draw(_BOOLEANS):
            self._change(self._some_step(), takes_off=links(part, "part"))

    def a_unit(self) -> None:
        numbers = self._by_hidden_order(3)
        if len(numbers) < 2:
            return
        for number in numbers[:-1]:
            self._change(number, unit="u")
        fitter = self.steps[numbers[-1]]
        self._change(numbers[-1], fits=(*fitter.fits, *step("x", fits="u").fits))
        self.rest["units"] = (Unit(id="u"),)

    def a_trial(self) -> None:
        chosen = [self.names[number] for number in self._by_hidden_order(3)]
        self.groups = [group for group in self.groups if not set(group) & set(chosen)]
        self.rest["trials"] = (Trial(id="t", steps=links(" ".join(chosen))),)

    def a_line(self) -> None:
        draw = self.draw
        chosen = draw(_some(self.parts, 1, 3))
        places = [
            LinePlace(
                part=links(part, "part"),
                bore=draw(_SOME_AMOUNT),
                od=draw(_SOME_AMOUNT),
                seat=draw(_SELDOM_AMOUNT),
                from_=draw(_among("", "", "", "left")),
            )
            for part in chosen
        ]
        if draw(_whole(0, 3)) == 0:
            at = draw(_whole(0, len(places)))
            places.insert(at, LinePlace(shoulder=draw(_SIZE).value))
        ends = tuple(self._end(name) for name in ("left", "right"))
        rod = links(draw(_among(*self.parts)), "part") if draw(_BOOLEANS) else ()
        on_shaft = draw(_BOOLEANS)
        shaft = rod or links("rod", "part")
        line = Line(
            id="l",
            shaft=shaft if on_shaft else (),
            bore=() if on_shaft else shaft,
            ends=ends,
            order=tuple(places),
        )
        self.rest["lines"] = (line,)

    def _end(self, name: str) -> LineEnd:
        kind = self.draw(_among("open", "open", "open", "shut", "size", "parts"))
        if kind == "size":
            some = self.draw(_SIZE)
            return LineEnd(name=name, is_=EndValue(some.value.text, some.value))
        shut_by = links(self.draw(_among(*self.parts)), "part") if kind == "parts" else ()
        return LineEnd(
            name=name, is_=EndValue("shut" if kind == "shut" else "open"), shut_by=shut_by
        )

    def a_state(self) -> None:
        numbers = self._by_hidden_order(4)
        if len(numbers) < 2:
            return
        begins, *inside, ends = numbers
        state = State(
            id="q",
            begins=links(self.names[begins]),
            ends=links(self.names[ends]),
            keep=self.draw(_among("", "position")),
        )
        self.rest["states"] = (state,)
        for number in inside:
            self._change(number, needs=links("q", "state"))
        outside = self._some_step()
        if outside not in inside:
            self._change(outside, not_while=links("q", "state"))
        self._positions()

    def _positions(self) -> None:
        for number in range(self.count):
            self._change(number, position=self.draw(_among("", "", "up", "down")))

    def loose_and_turned_over(self) -> None:
        numbers = self._by_hidden_order(3)
        leaver, securers = numbers[0], numbers[1:]
        if self.draw(_BOOLEANS):
            self._change(leaver, leaves=("loose",))
            for number in securers:
                self._change(number, secures=links(self.names[leaver]))
        else:
            self.rest["joints"] = (Joint(id="j"),)
            self._change(leaver, loosens=links("j", "joint"))
            for number in securers:
                self._change(number, tighten=links("j", "joint"))
        self._positions()

    def checks(self) -> None:
        upset = links(self.names[self._some_step()]) if self.draw(_BOOLEANS) else ()
        ways = self._ways() if self.draw(_BOOLEANS) else ()
        self.rest["checks"] = (Check(id="c", look="It", upset_by=upset, needs_open=ways),)
        for number in self._by_hidden_order(2):
            self._change(number, check=links("c", "check"))

    def one_of(self) -> None:
        numbers = self._by_hidden_order(3)
        if len(numbers) < 2:
            return
        used = {link.to for trial in self.rest.get("trials", ()) for link in trial.steps}
        used |= {link.to for state in self.rest.get("states", ()) for link in state.begins}
        used |= {link.to for state in self.rest.get("states", ()) for link in state.ends}
        chosen = [self.names[number] for number in numbers if self.names[number] not in used]
        if len(chosen) < 2:
            return
        before = links(self.names[self._some_step()])
        before = tuple(link for link in before if link.to not in chosen)
        self.rest["one_of"] = (OneOf(steps=links(" ".join(chosen)), before=before),)

    def tools_and_room(self) -> None:
        draw = self.draw
        self.rest["tools"] = tuple(Tool(id=f"t{n}", needs=draw(_SOME_SIZE)) for n in range(2))
        for number, one in enumerate(self.steps):
            if not one.ways_in:
                continue
            entry = links(draw(_among("t0", "t1", "t0 t1")), "tool")
            rooms = tuple(replace(w, room=draw(_SOME_SIZE)) for w in one.ways_in)
            self._change(number, tools=(entry,), ways_in=rooms)

    def all_and_in_order(self) -> None:
        number = self._some_step()
        one = self.steps[number]
        self._change(number, after=(*one.after, Link("all", "all")))
        if self.sections:
            self.section_fields["A"] = {"in_order": self.draw(_BOOLEANS)}

    # The whole.

    def whole(self) -> Assembly:
        draw = self.draw
        fitted = {fit.part for one in self.steps for fit in one.fits} - {"u"}
        parts = tuple(
            Part(id=part, largest=draw(_SOME_SIZE), **self.part_fields.get(part, {}))
            for part in self.parts
            if part in fitted | set(self.part_fields)
        )
        sections: tuple[Section, ...] = ()
        if len(self.sections) > 1:
            after = draw(_among((), (Link("A", "section"),)))
            sections = (Section(id="A"), Section(id="B", after=after))
        elif self.sections:
            sections = (Section(id="A"),)
        sections = tuple(
            replace(section, **self.section_fields.get(section.id, {})) for section in sections
        )
        return complete(
            Assembly(
                assembly="test",
                steps=tuple(self.steps),
                parts=parts,
                sections=sections,
                together=tuple(Together(steps=links(" ".join(group))) for group in self.groups),
                **self.rest,
            )
        )


@cache
def _few(numbers: tuple[int, ...], most: int = 2) -> st.SearchStrategy[list[int]]:
    if not numbers:
        return st.just([])
    return st.one_of(st.just([]), _some(numbers, 0, most))


@cache
def _own_or_few(number: int, anyone: tuple[int, ...]) -> st.SearchStrategy[list[int]]:
    return st.one_of(st.just([number]), st.just([number]), _few(anyone))


_SIZE = st.sampled_from(_SIZES).map(size)
_SOME_SIZE = st.one_of(st.none(), _SIZE)
_SELDOM_SIZE = st.one_of(st.none(), st.none(), _SIZE)
_SOME_AMOUNT = st.one_of(st.none(), _SIZE.map(lambda one: one.value))
_SELDOM_AMOUNT = st.one_of(st.none(), _SOME_AMOUNT)
