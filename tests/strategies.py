"""Random small models, with every rule of the planner switched on at random."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from sequencer.model.assembly import Assembly, Defaults
from sequencer.model.checking import Check
from sequencer.model.common import Link, Size, WayIn
from sequencer.model.complete import complete
from sequencer.model.compounds import Apply, Compound, CureTable, Heat
from sequencer.model.fastening import Joint, Tool
from sequencer.model.lines import EndValue, Line, LineEnd, LinePlace
from sequencer.model.parts import Part
from sequencer.model.quantities import Amount, read_amount
from sequencer.model.steps import OneOf, Section, State, Step, Together, Trial, Unit
from tests.helpers import links, size, step, way

_SIZES = ("4 mm", "5 mm", "6 mm", "1/4 in", "6.35 mm")


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
    for feature in draw(st.lists(st.sampled_from(features), min_size=1, max_size=3, unique=True)):
        feature()
    return model.whole()


@st.composite
def timed_models(draw: st.DrawFn, most: int = 6) -> Assembly:
    """Models with compounds on a surface or two, heat, waits and windows, and times of steps."""
    model = draw(st.one_of(models(most), rich_models(most)))
    times = st.sampled_from(["1 min", "2 min", "3 min", "20 s"]).map(_amount)
    steps = tuple(replace(_with_compounds(draw, one), time=draw(times)) for one in model.steps)
    sections = tuple(
        replace(one, after=tuple(_timed_link(draw, link) for link in one.after))
        for one in model.sections
    )
    shop = draw(st.sampled_from([None, "10 °C", "20 °C", "30 °C", "90 °C"]))
    return complete(
        replace(
            model,
            steps=steps,
            sections=sections,
            compounds=tuple(_compound(draw, name) for name in "kl"),
            defaults=Defaults(temperature=_amount(shop) if shop else None),
        )
    )


def _amount(text: str) -> Amount:
    return read_amount(text, ("time", "temperature"), limits=False)


def _timed_link(draw: st.DrawFn, link: Link) -> Link:
    waits = st.sampled_from([None, None, "1 min", "4 min"])
    wait, within = draw(waits), draw(waits)
    return replace(
        link,
        wait=_amount(wait) if wait else None,
        within=_amount(within) if within else None,
    )


def _compound(draw: st.DrawFn, name: str) -> Compound:
    times = st.sampled_from([None, "1 min", "3 min", "6 min"])
    stays, holds, cures = draw(times), draw(times), draw(times)
    rows = tuple(
        (_amount(at), _amount(time)) for at, time in (("15 °C", "9 min"), ("25 °C", "40 s"))
    )
    cure = (
        CureTable(_amount(cures)) if cures else draw(st.sampled_from([None, CureTable(rows=rows)]))
    )
    other = "l" if name == "k" else "k"
    hottest = draw(st.sampled_from([None, "80 °C"]))
    return Compound(
        id=name,
        kind=draw(st.sampled_from(["", "sealant", "cleaner", "primer"])),
        wants=draw(st.sampled_from([(), ("clean", "dry"), ("dry",), ("clean", "roughened")])),
        open=_amount(stays) if stays else None,
        fixture=_amount(holds) if holds else None,
        cure=cure,
        not_with=draw(st.sampled_from([(), (Link(other, "compound"),)])),
        hottest=_amount(hottest) if hottest else None,
    )


def _with_compounds(draw: st.DrawFn, one: Step) -> Step:
    """A step that does up to two things to the surfaces, with times in its relations."""
    fields: dict[str, Any] = {
        "after": tuple(_timed_link(draw, link) for link in one.after),
        "before": tuple(_timed_link(draw, link) for link in one.before),
    }
    surfaces = st.sampled_from(["f", "f", "g", "f g"])
    for what in draw(
        st.lists(st.sampled_from(["cleans", "apply", "closes", "loads"]), max_size=2, unique=True)
    ):
        to = links(draw(surfaces), "surface")
        names = draw(st.sampled_from(["k", "l", "k l"])) if what == "apply" else ""
        puts = tuple(Apply(compound=(Link(name, "compound"),), to=to) for name in names.split())
        fields[what] = puts if what == "apply" else to
        if what == "cleans":
            leaves = draw(st.sampled_from([("clean", "dry"), ("clean",), ("dry",), ()]))
            fields["leaves"] = (*one.leaves, *leaves)
    if draw(st.integers(0, 4)) == 0 and one.fits:
        part = (Link(one.fits[0].part, "part"),)
        fields["heat"] = Heat(part=part, to=_amount(draw(st.sampled_from(["60 °C", "110 °C"]))))
    return replace(one, **fields)


class _Model:
    """A model in the making; each feature changes its steps or adds to the rest."""

    def __init__(self, draw: st.DrawFn, most: int) -> None:
        self.draw = draw
        self.count = draw(st.integers(1, most))
        self.names = [f"s{number}" for number in range(self.count)]
        self.parts = [f"p{number}" for number in range(self.count)]
        self.hidden = draw(st.permutations(range(self.count)))
        self.sections = draw(st.sampled_from(["", "", "A", "AB"]))
        self.steps = [self._step(number) for number in range(self.count)]
        self.rest: dict[str, Any] = {}
        self.part_fields: dict[str, dict[str, Any]] = {}
        self.section_fields: dict[str, dict[str, Any]] = {}
        self.groups = self._groups()

    def _step(self, number: int) -> Step:
        draw = self.draw
        anyone = list(range(self.count))
        earlier = [other for other in anyone if self.hidden[other] < self.hidden[number]]
        later = [other for other in anyone if self.hidden[other] > self.hidden[number]]
        after = draw(_few(earlier if draw(st.integers(0, 7)) else anyone))
        before = draw(_few(later if draw(st.integers(0, 7)) else anyone, 1))
        onto = draw(_few(earlier if draw(st.integers(0, 7)) else anyone, 1))
        fits = draw(st.one_of(st.just([number]), st.just([number]), _few(anyone)))
        after_links = [Link(self.names[other]) for other in after]
        section = st.sampled_from(list(self.sections) or [""])
        if self.sections and draw(st.integers(0, 5)) == 0:
            after_links.append(Link(draw(section), "section"))
        one = step(
            self.names[number],
            fits=" ".join(self.parts[other] for other in fits),
            before=" ".join(self.names[other] for other in before),
            onto=" ".join(self.parts[other] for other in onto),
            ways=self._ways(),
            section=draw(section),
            largest=draw(st.one_of(st.none(), st.none(), _size())),
        )
        return replace(one, after=tuple(after_links))

    def _ways(self) -> tuple[WayIn, ...]:
        some_parts = st.lists(st.sampled_from(self.parts), max_size=2, unique=True)
        openings = st.sampled_from(["", "", "", *_SIZES])
        return tuple(
            way(f"w{at}", " ".join(self.draw(some_parts)), self.draw(openings))
            for at in range(self.draw(st.integers(0, 2)))
        )

    def _groups(self) -> list[list[str]]:
        order = self.draw(st.permutations(self.names))
        first = self.draw(st.integers(0, 3))
        second = self.draw(st.integers(0, 3))
        groups = [list(order[:first]), list(order[first : first + second])]
        return [group for group in groups if len(group) > 1]

    # Features.

    def _change(self, number: int, **fields: Any) -> None:
        self.steps[number] = replace(self.steps[number], **fields)

    def _some_step(self) -> int:
        return self.draw(st.integers(0, self.count - 1))

    def _by_hidden_order(self, most: int) -> list[int]:
        """Different steps, in the hidden order."""
        numbers = self.draw(
            st.lists(st.integers(0, self.count - 1), min_size=1, max_size=most, unique=True)
        )
        return sorted(numbers, key=self.hidden.__getitem__)

    def parts_that_come_off(self) -> None:
        for _ in range(self.draw(st.integers(1, 2))):
            part = self.draw(st.sampled_from(self.parts))
            number = self._some_step()
            kept = tuple(fit for fit in self.steps[number].fits if fit.part != part)
            self._change(number, takes_off=links(part, "part"), fits=kept)
            self.part_fields.setdefault(part, {})["aid"] = self.draw(st.booleans())

    def at_start(self) -> None:
        part = self.draw(st.sampled_from(self.parts))
        self.part_fields.setdefault(part, {})["at_start"] = "fitted"
        for number, one in enumerate(self.steps):
            self._change(number, fits=tuple(fit for fit in one.fits if fit.part != part))
        if self.draw(st.booleans()):
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
        chosen = draw(st.lists(st.sampled_from(self.parts), min_size=1, max_size=3, unique=True))
        amounts = st.one_of(st.none(), _size().map(lambda one: one.value))
        places = [
            LinePlace(
                part=links(part, "part"),
                bore=draw(amounts),
                od=draw(amounts),
                seat=draw(st.one_of(st.none(), amounts)),
                from_=draw(st.sampled_from(["", "", "", "left"])),
            )
            for part in chosen
        ]
        if draw(st.integers(0, 3)) == 0:
            at = draw(st.integers(0, len(places)))
            places.insert(at, LinePlace(shoulder=draw(_size()).value))
        ends = tuple(self._end(name) for name in ("left", "right"))
        rod = links(draw(st.sampled_from(self.parts)), "part") if draw(st.booleans()) else ()
        on_shaft = draw(st.booleans())
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
        kind = self.draw(st.sampled_from(["open", "open", "open", "shut", "size", "parts"]))
        if kind == "size":
            some = self.draw(_size())
            return LineEnd(name=name, is_=EndValue(some.value.text, some.value))
        shut_by = links(self.draw(st.sampled_from(self.parts)), "part") if kind == "parts" else ()
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
            keep=self.draw(st.sampled_from(["", "position"])),
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
            self._change(number, position=self.draw(st.sampled_from(["", "", "up", "down"])))

    def loose_and_turned_over(self) -> None:
        numbers = self._by_hidden_order(3)
        leaver, securers = numbers[0], numbers[1:]
        if self.draw(st.booleans()):
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
        upset = links(self.names[self._some_step()]) if self.draw(st.booleans()) else ()
        ways = self._ways() if self.draw(st.booleans()) else ()
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
        self.rest["tools"] = tuple(Tool(id=f"t{n}", needs=draw(_some_size())) for n in range(2))
        for number, one in enumerate(self.steps):
            if not one.ways_in:
                continue
            entry = links(draw(st.sampled_from(["t0", "t1", "t0 t1"])), "tool")
            rooms = tuple(replace(w, room=draw(_some_size())) for w in one.ways_in)
            self._change(number, tools=(entry,), ways_in=rooms)

    def all_and_in_order(self) -> None:
        number = self._some_step()
        one = self.steps[number]
        self._change(number, after=(*one.after, Link("all", "all")))
        if self.sections:
            self.section_fields["A"] = {"in_order": self.draw(st.booleans())}

    # The whole.

    def whole(self) -> Assembly:
        draw = self.draw
        fitted = {fit.part for one in self.steps for fit in one.fits} - {"u"}
        sizes = _some_size()
        parts = tuple(
            Part(id=part, largest=draw(sizes), **self.part_fields.get(part, {}))
            for part in self.parts
            if part in fitted | set(self.part_fields)
        )
        sections: tuple[Section, ...] = ()
        if len(self.sections) > 1:
            after = draw(st.sampled_from([(), (Link("A", "section"),)]))
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


def _few(numbers: list[int], most: int = 2) -> st.SearchStrategy[list[int]]:
    if not numbers:
        return st.just([])
    some = st.lists(st.sampled_from(numbers), max_size=most, unique=True)
    return st.one_of(st.just([]), some)


def _size() -> st.SearchStrategy[Size]:
    return st.sampled_from(_SIZES).map(size)


def _some_size() -> st.SearchStrategy[Size | None]:
    return st.one_of(st.none(), _size())
