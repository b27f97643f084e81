"""The names of a model: how an id may look, which there are, and whether each mention has one."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections import defaultdict
from dataclasses import replace
from itertools import chain, islice
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from sequencer.model.assembly import Assembly
from sequencer.model.fields import Table, declared
from sequencer.model.uses import BETWEEN
from sequencer.problem import Fact, Problem
from sequencer.reading.decoding import named
from sequencer.reading.nodes import Mapping, Scalar, is_empty
from sequencer.reading.source import HIDDEN, shortened

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable
    from collections.abc import Mapping as MappingType

    from sequencer.problem import Path, Place
    from sequencer.reading.nodes import Node
    from sequencer.reading.source import Faults, Source

LONGEST_ID = 80
ALL = "all"
_USUAL_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.:/+#-]*")
_SIGNS_IN_IDS = frozenset("-_.:/+×#")
_MOST_COMPARISONS = 60_000  # of names, for suggestions in one file
_MOST_LISTED = 6
_NOT_OF_USED = frozenset(("source", "tool", "compound", "option", "use"))
_DECLARED_BY_USE = ("part", "tool", "section", "surface")


def kind_of_record(cls: type) -> str:
    """Return the word for what a record describes, such as ``"step"`` for `Step`."""
    return cls.__name__.lower()


def id_problem(text: str) -> Problem | None:
    """Return what is wrong with an id, if anything is.

    An id is what lists and commands call a thing by: letters and digits of any language with
    ``- _ . : / + × #`` between them, beginning with a letter or digit, and no spaces.
    """
    if _USUAL_ID.fullmatch(text) and len(text) <= LONGEST_ID:
        return None
    hidden = HIDDEN.search(text)
    if hidden:
        message = f"the id `{shortened(text)}` holds an unseen {named(hidden.group())}"
        why = "the id is another one than it seems"
        return Problem("hidden-character", "error", message, why=why, fix="type the id again")
    if len(text) > LONGEST_ID:
        message = f"the id `{shortened(text)}` has {len(text)} characters"
        why = "ids stand in lists and labels, which are narrow"
        return Problem("bad-id", "error", message, why=why, fix=f"use at most {LONGEST_ID}")
    wrong = next((sign for sign in text if not _may_be_in_id(sign)), None)
    if wrong is None and text[0].isalnum():
        return None
    what = "a space" if wrong == " " else f"`{wrong}`"
    message = f"the id `{text}` holds {what}" if wrong else f"the id `{text}` begins with a sign"
    tidy = "".join(sign if _may_be_in_id(sign) else "-" for sign in text).strip("-_.:/+×#")
    return Problem(
        "bad-id",
        "error",
        message,
        why="ids stand in lists and commands, where spaces and other signs have a meaning",
        fix=f"use letters, digits and - _ . : / + × #, such as `{re.sub('-+', '-', tidy) or 'a1'}`",
    )


def reserved_problem(text: str) -> Problem | None:
    """Return what is wrong with the id of something that can be waited for, if it is a word."""
    if text != ALL:
        return None
    message = f"`{ALL}` means every step, so no step, section or check can be called so"
    why = f"`after: {ALL}` would otherwise mean two things"
    return Problem("bad-id", "error", message, why=why, fix="choose another id")


def _may_be_in_id(sign: str) -> bool:
    return sign.isalnum() or sign in _SIGNS_IN_IDS or unicodedata.category(sign).startswith("M")


def look_alike_key(text: str) -> str:
    """Return what two ids that look the same to a person have in common."""
    return unicodedata.normalize("NFKC", text).casefold()


def either(words: Iterable[str]) -> str:
    """Join words as ``step, section or check``."""
    *others, last = words
    return f"{', '.join(others)} or {last}" if others else last


class Mention(NamedTuple):
    """A place where the model names another thing, of one of the kinds."""

    kinds: tuple[str, ...]
    name: str
    node: Node
    path: Path


class Used(NamedTuple):
    """Used models by their prefixes: their names, their files, and which are unreadable."""

    names: MappingType[str, Names] = MappingProxyType({})
    sources: MappingType[str, Source] = MappingProxyType({})
    unreadable: tuple[str, ...] = ()


class Names:
    """Which ids there are of each kind, and every mention of one.

    Parts, tools, surfaces and sections that are nowhere listed are declared by being used: a part
    where a step fits it, a tool where a step needs it, a surface where a step does something to
    it, a section where a step is put in it. Units are parts too, and so are used models, whose
    names are known under their prefix.
    """

    def __init__(self, root: Mapping, used: Used | None = None) -> None:
        self.keys: dict[str, dict[str, Node]] = {}
        self.fitted: defaultdict[str, list[str]] = defaultdict(list)
        self._unsure: set[str] = set()
        self._mentions: list[Mention] = []
        self._words: list[Mention] = []
        self._comparisons = 0
        held = {key.text: value for key, value in root.entries() if isinstance(key, Scalar)}
        for known in declared(Assembly):
            if isinstance(known.kind, Table):
                self._note(kind_of_record(known.kind.of.cls), held.get(known.name))
        self._by_use = frozenset(
            kind for kind in _DECLARED_BY_USE if not self.keys[kind] and kind not in self._unsure
        )
        for unit, key in self.keys["unit"].items():
            self.keys["part"].setdefault(unit, key)
        if "unit" in self._unsure:
            self._unsure.add("part")
        if self.by_use("section"):
            self.keys["section"] = _sections_of_steps(held.get("steps"))
        self.used = used or Used()
        self._note_used()

    def _note_used(self) -> None:
        """Note the used models as units and parts, and what is in them under their prefixes."""
        for use, key in self.keys["use"].items():
            for kind in ("unit", "part"):
                self.keys[kind].setdefault(use, key)
            found = self.used.names.get(use)
            for kind, names in (found.keys if found else {}).items():
                if kind not in _NOT_OF_USED:
                    for name in names:
                        self.keys[kind].setdefault(f"{use}{BETWEEN}{name}", key)

    def place(self, kind: str, name: str, source: Source) -> Place:
        """Return where the thing of a kind and name is declared: in this file or a used one."""
        use, _, rest = name.partition(BETWEEN)
        found = self.used.sources.get(use) if rest else None
        if found is not None and rest in self.used.names[use].keys[kind]:
            return self.used.names[use].place(kind, rest, found)
        return source.place(self.keys[kind][name])

    def _note(self, kind: str, table: Node | None) -> None:
        self.keys[kind] = {}
        if isinstance(table, Mapping):
            self.keys[kind] = {
                key.text.strip(): key for key, _ in table.entries() if isinstance(key, Scalar)
            }
        elif table is not None and not is_empty(table):
            self._unsure.add(kind)  # no table at all: what it should hold cannot be known

    def by_use(self, kind: str) -> bool:
        """Tell whether things of this kind are declared by being used."""
        return kind in self._by_use

    def kinds_with(self, name: str, kinds: Iterable[str]) -> tuple[str, ...]:
        """Return those of the kinds in which there is a thing of that name."""
        return tuple(kind for kind in kinds if name in self.keys[kind])

    def sort(self, kind: str, name: str) -> str:
        """Return what a thing of a kind is called more exactly: of the parts, some are units."""
        return "unit" if kind == "part" and name in self.keys["unit"] else kind

    def mention(self, mention: Mention) -> None:
        """Note that the model names something; `tell` says later whether it is there."""
        self._mentions.append(mention)
        for kind in ("tool", "surface"):
            if kind in mention.kinds and self.by_use(kind):
                self.keys[kind].setdefault(mention.name, mention.node)

    def fit(self, part: str, step: str, node: Node) -> None:
        """Note that a step fits a part."""
        self.fitted[part].append(step)
        if self.by_use("part"):
            self.keys["part"].setdefault(part, node)

    def say(self, mention: Mention) -> None:
        """Note words that may be the id of something, and need not be."""
        self._words.append(mention)

    def tell(self, source: Source, faults: Faults) -> None:
        """Tell of every name mentioned that nothing has, and of words that were nearly one."""
        for mention in self._words:
            almost = self._almost(mention)
            if almost:
                faults.add(almost, source.place(mention.node), mention.path)
        for mention in self._mentions:
            if self._is_known(mention):
                continue
            place = source.place(mention.node)
            faults.add(self._unknown(mention, source), place, mention.path)

    def _is_known(self, mention: Mention) -> bool:
        known = self.kinds_with(mention.name, mention.kinds)
        use, between, _ = mention.name.partition(BETWEEN)
        is_unreadable = bool(between) and use in self.used.unreadable
        return bool(known) or is_unreadable or not self._unsure.isdisjoint(mention.kinds)

    def _almost(self, mention: Mention) -> Problem | None:
        (kind,) = mention.kinds
        words = mention.name
        if words in self.keys[kind] or " " in words:
            return None
        near = self.near(words, self.keys[kind])
        if near is None:
            return None
        message = f"there is no {kind} `{shortened(words)}`, so this is taken for words"
        why = "what is said under the id would not be found"
        return Problem("unknown", "warning", message, why=why, fix=f"did you mean `{near}`?")

    def _unknown(self, mention: Mention, source: Source) -> Problem:
        name = mention.name
        problem = Problem(
            "unknown",
            "error",
            f"there is no {either(mention.kinds)} `{shortened(name)}`",
            why="what this says cannot be kept while the name points to nothing",
        )
        hidden = HIDDEN.search(name)
        if hidden:
            fix = f"type the name again: it holds an unseen {named(hidden.group())}"
            return replace(problem, fix=fix)
        elsewhere = [kind for kind in self.keys if kind not in (*mention.kinds, "use")]
        others = self.kinds_with(name, elsewhere)
        if others:
            return self._of_another_kind(problem, mention, self.sort(others[0], name), source)
        pieces = [piece.strip() for piece in name.split(",")]
        if len(pieces) > 1 and isinstance(mention.node, Scalar):
            return replace(problem, fix=f"put brackets round a list: `[{shortened(name)}]`")
        return replace(problem, fix=self._suggestion(mention))

    def _of_another_kind(
        self, problem: Problem, mention: Mention, other: str, source: Source
    ) -> Problem:
        name = mention.name
        wanted = either(mention.kinds)
        kind = "part" if other == "unit" else other
        a_other = "an option" if other == "option" else f"a {other}"
        fact = Fact(f"`{name}` is declared as {a_other} here", place=self.place(kind, name, source))
        fitted = self.fitted.get(name, ()) if "step" in mention.kinds else ()
        steps = [step for step in fitted if ("steps", step) != mention.path[:2]][:_MOST_LISTED]
        fix = f"name a {wanted}"
        if other in ("part", "unit") and steps:
            fix = f"name the step that fits it: {either(f'`{step}`' for step in steps)}"
        message = f"`{name}` is {a_other}, and a {wanted} is wanted here"
        return replace(problem, message=message, fix=fix, facts=(fact,))

    def _suggestion(self, mention: Mention) -> str:
        tables = [self.keys[kind] for kind in mention.kinds]
        near = self.near(mention.name, *tables)
        if near:
            return f"did you mean `{near}`?"
        there = list(islice(chain(*tables), _MOST_LISTED + 1))
        if not there:
            return f"declare the {mention.kinds[0]}, or leave this out"
        listed = ", ".join(f"`{name}`" for name in there[:_MOST_LISTED])
        return f"use one of {listed}{', …' if len(there) > _MOST_LISTED else ''}"

    def near(self, name: str, *tables: Collection[str]) -> str | None:
        """Return the name that was probably meant, if one is near."""
        self._comparisons += sum(map(len, tables))
        if self._comparisons > _MOST_COMPARISONS or len(name) > LONGEST_ID:
            return None
        alike = {look_alike_key(other): other for other in chain(*tables)}
        key = look_alike_key(name)
        close = difflib.get_close_matches(key, alike, n=1, cutoff=0.6)
        return alike[close[0]] if close else None


def _sections_of_steps(steps: Node | None) -> dict[str, Node]:
    found: dict[str, Node] = {}
    if isinstance(steps, Mapping):
        for _, step in steps.entries():
            for key, value in step.entries() if isinstance(step, Mapping) else ():
                if isinstance(key, Scalar) and key.text == "section" and isinstance(value, Scalar):
                    found.setdefault(value.text.strip(), value)
    return found
