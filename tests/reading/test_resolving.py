"""A model with its options chosen is the model that a person would write for that choice."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.fingerprint import fingerprint
from sequencer.reading import read_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from sequencer.model.assembly import Assembly
    from sequencer.model.common import Link
    from sequencer.problem import Path

HOLDS = ("fluid == hot", "gap > 5 mm", "fluid != cold and gap >= 8 mm", "not (fluid == cold)")
FAILS = ("fluid == cold", "gap <= 5 mm", "fluid == hot and gap == 4 mm", "fluid not in [hot]")
OPTIONS = {
    "fluid": {"choices": ["cold", "hot"], "default": "cold"},
    "gap": {"choices": ["4 mm", "8 mm"], "default": "4 mm"},
}
CHOSEN = {"fluid": "hot", "gap": "0.8 cm"}
NAMES = tuple("abcdefgh")

Model = dict[str, Any]


class _Pair:
    """The same job twice: with its conditions, and as written for the choices made."""

    def __init__(self, draw: st.DrawFn) -> None:
        self._draw = draw
        there = st.lists(st.booleans(), min_size=len(NAMES), max_size=len(NAMES))
        self.steps = dict(zip(NAMES, draw(there), strict=True))
        self.parts = {
            f"p-{name}": is_there for name, is_there in zip(NAMES, draw(there), strict=True)
        }
        self.steps["a"] = self.parts["p-a"] = True
        self.model: Model = {"assembly": "pair", "options": OPTIONS}
        self.by_hand: Model = {"assembly": "pair"}
        self._write()

    def some(self, names: dict[str, bool], most: int = 3) -> list[str]:
        return self._draw(st.lists(st.sampled_from(sorted(names)), max_size=most, unique=True))

    def when(self, *, is_there: bool) -> Model:
        """Return the condition of what is there or not; what is there may do without."""
        if is_there and self._draw(st.booleans()):
            return {}
        return {"when": self._draw(st.sampled_from(HOLDS if is_there else FAILS))}

    def _write(self) -> None:
        self._write_parts()
        self._write_steps()
        self._write_relations()

    def _write_parts(self) -> None:
        self.model["parts"], self.by_hand["parts"] = {}, {}
        for part, is_there in self.parts.items():
            plain = {"name": f"Part {part}", "number": "1", "price": 4}
            other = {"name": f"Hot {part}", "number": "2"}
            first, second = self._draw(
                st.sampled_from(((HOLDS, HOLDS), (FAILS, HOLDS), (FAILS, FAILS)))
            )
            instead = [{"when": first[0], **other}, {"when": second[1], "price": 9}]
            met = next((i for i in (0, 1) if (first, second)[i] is HOLDS), None)
            made = {**plain, **({} if met is None else (other, {"price": 9})[met])}
            self.model["parts"][part] = {
                **plain,
                "instead": instead,
                **self.when(is_there=is_there),
            }
            if is_there:
                self.by_hand["parts"][part] = made

    def _write_steps(self) -> None:
        self.model["steps"], self.by_hand["steps"] = {}, {}
        section = ""
        for step, is_there in self.steps.items():
            fits = self.some(self.parts)
            kept = [part for part in fits if self.parts[part]]
            if not kept and is_there:
                fits = []
            named = self._draw(st.sampled_from(("", "", "one", "two")))
            section = named or section
            lists = {
                "onto": self.some(self.parts),
                "after": self.some({s: t for s, t in self.steps.items() if s != step}),
                "tools": self.some(dict.fromkeys(("saw", "file"), True)),
                "check": self.some(dict.fromkeys(("look", "feel"), True)),
                "tighten": self.some(dict.fromkeys(("nut", "bolt"), True)),
                "secures": [],
            }
            shut_by = self.some(self.parts)
            way = {"front": {"opening": "20 mm", "shut_by": shut_by}}
            text = {"do": f"Do {step}.", "section": named, "fits": fits, "ways_in": way, **lists}
            self.model["steps"][step] = {**text, **self.when(is_there=is_there)}
            if is_there:
                self.by_hand["steps"][step] = {
                    **lists,
                    "do": f"Do {step}.",
                    "section": section,
                    "fits": kept,
                    "onto": self._left(lists["onto"]),
                    "after": self._left(lists["after"]),
                    "ways_in": {"front": {"opening": "20 mm", "shut_by": self._left(shut_by)}},
                }

    def _left(self, names: list[str]) -> list[str]:
        return [name for name in names if {**self.parts, **self.steps}[name]]

    def _write_relations(self) -> None:
        groups = self._draw(st.permutations(NAMES))
        together, one_of = list(groups[:3]), list(groups[3:6])
        self.model["together"] = [together]
        if len(self._left(together)) > 1:
            self.by_hand["together"] = [self._left(together)]
        self.model["one_of"] = [{"steps": one_of, "before": groups[6], "why": "one will do"}]
        last = self._left([groups[6]])
        left = self._left(one_of)
        if len(left) > 1:
            self.by_hand["one_of"] = [{"steps": left, "before": last, "why": "one will do"}]
        elif left:
            before = [{"step": step, "why": "one will do"} for step in last]
            self.by_hand["steps"][left[0]]["before"] = before
        self._write_used({"tools": "tools", "checks": "check", "joints": "tighten"})

    def _write_used(self, fields: dict[str, str]) -> None:
        """Declare tools, checks and joints; by hand not those that only missing steps name."""
        made: dict[str, Model] = {
            "tools": {"saw": {"name": "Saw"}, "file": {"name": "File"}, "rule": {"name": "Rule"}},
            "checks": {"look": {"look": "at it", "with": "rule"}, "feel": {"feel": "it"}},
            "joints": {"nut": {"thread": "M8"}, "bolt": {"thread": "M6"}},
        }
        upset = self.some(self.steps)
        for table, field in fields.items():
            named = {name for step in self.model["steps"].values() for name in step[field]}
            left = {name for step in self.by_hand["steps"].values() for name in step[field]}
            self.model[table] = made[table]
            self.by_hand[table] = {n: v for n, v in made[table].items() if n not in named - left}
        self.model["checks"] = {n: {**v, "upset_by": upset} for n, v in made["checks"].items()}
        kept = self.by_hand["checks"]
        self.by_hand["checks"] = {n: {**v, "upset_by": self._left(upset)} for n, v in kept.items()}
        if "look" not in kept:
            self.by_hand["tools"].pop("rule")


@st.composite
def pairs(draw: st.DrawFn) -> tuple[Model, Model]:
    pair = _Pair(draw)
    return pair.model, pair.by_hand


@settings(max_examples=40, deadline=None)
@given(pairs())
def test_resolving_equals_writing_by_hand(pair: tuple[Model, Model]) -> None:
    model, by_hand = (json.dumps(one, ensure_ascii=False) for one in pair)
    chosen = read_text(model, "model.yaml", CHOSEN)
    written = read_text(by_hand, "model.yaml")
    assert written.assembly is not None, written.problems
    assert chosen.assembly is not None, chosen.problems
    assert replace(chosen.assembly, taken=()) == written.assembly
    assert {taken.option: taken.choice for taken in chosen.assembly.taken} == {
        "fluid": "hot",
        "gap": "8 mm",
    }
    assert fingerprint(chosen.assembly) != fingerprint(written.assembly)


@settings(max_examples=15, deadline=None)
@given(pairs())
def test_every_path_leads_to_where_its_name_is_written(pair: tuple[Model, Model]) -> None:
    text = json.dumps(pair[0], ensure_ascii=False, indent=0)
    lines = text.splitlines()
    reading = read_text(text, "model.yaml", CHOSEN)
    assert reading.assembly is not None

    def shown(*path: str | int) -> str:
        place = reading.place_of(path)
        assert place is not None
        return lines[place.line - 1][place.column - 1 : place.column - 1 + place.width].strip('"')

    for path, name in _names(reading.assembly):
        assert shown(*path) == name


def _names(assembly: Assembly) -> Iterator[tuple[Path, str]]:
    """Yield the path of each name in the lists of a model, and the name."""
    lists: dict[Path, tuple[Link, ...]] = {}
    for step in assembly.steps:
        here: Path = ("steps", step.id)
        yield from (((*here, "fits", at), fit.part) for at, fit in enumerate(step.fits))
        lists.update({(*here, "onto"): step.onto, (*here, "after"): step.after})
        lists[*here, "before"] = step.before
        lists[*here, "ways_in", "front", "shut_by"] = step.ways_in[0].shut_by
    for number, group in enumerate(assembly.together):
        lists["together", number, "steps"] = group.steps
    for check in assembly.checks:
        lists["checks", check.id, "upset_by"] = check.upset_by
    for path, links in lists.items():
        yield from (((*path, at), link.to) for at, link in enumerate(links))
