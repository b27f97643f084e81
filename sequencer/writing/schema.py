"""The format of models as a JSON Schema, made from the declarations, so that editors can help.

An editor sees the values as its own YAML reader takes them, so `007` may reach the schema as a
number and `no` as `false`: wherever the reader goes by the text as typed, all of these are let
through. The schema accepts whatever the reader accepts; what it cannot say, the reader says.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from sequencer.model.assembly import Assembly
from sequencer.model.fields import (
    ByTemperature,
    Choices,
    EndText,
    Figure,
    Fitted,
    Flag,
    Links,
    Many,
    Number,
    PassText,
    Points,
    Record,
    Sizes,
    Table,
    Text,
    TorqueText,
    Whole,
    Word,
)
from sequencer.model.steps import Section
from sequencer.reading.fields import fields_of, short_field
from sequencer.reading.names import ALL

if TYPE_CHECKING:
    from collections.abc import Callable

    from sequencer.model.fields import Declared, Kind

Schema = dict[str, Any]

FILE = "assembly.schema.json"
"""What the schema is called beside the models that name it."""
FIRST_LINE = f"# yaml-language-server: $schema={FILE}"
"""The first line of a model, by which editors find the schema."""

_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_ID = r"^\s*\S+\s*$"
_DIGITS = "[0-9¼-¾⅐-⅞]"
_MOST = 999_999
_SUCH_AS = re.compile(r"such as `([^`]+)`")
_REMARKS = {
    "why": "Why this is so, printed for the builder.",
    "source": "Where this comes from: an id in `sources`, or words.",
}
_TIMES = {
    "wait": "At least this long after its end.",
    "within": "At most this long after its end.",
}
_FIGURES = {
    "length": "12.5 mm",
    "mass": "3.2 kg",
    "time": "10 min",
    "torque": "60 N·m",
    "angle": "90°",
    "temperature": "80 °C",
}
_EXAMPLES: dict[type, list[Any]] = {
    TorqueText: ["60 N·m", "55 to 60 ft-lb", "40 N·m then 90°", "finger tight"],
    EndText: ["open", "shut", "40 mm"],
    Fitted: ["gland", "10 balls", ["gland", "10 balls"], {"gland": "wiper outwards"}],
    Choices: [["hook", ["key", "driver"]]],
}
_NOTHING: Schema = {
    "description": "An empty value means nothing.",
    "type": ["null", "string", "array", "object"],
    "pattern": r"^\s*$",
    "maxItems": 0,
    "maxProperties": 0,
}
_WORDS: Schema = {"description": "Kept as typed.", "type": ["string", "number", "boolean"]}
_NUMBER: Schema = {
    "anyOf": [{"type": "number", "minimum": 0}, {"type": "string", "pattern": _DIGITS}]
}
_TORQUE: Schema = {"type": "string", "pattern": f"{_DIGITS}|[Tt][Ii][Gg][Hh][Tt]"}
_END: Schema = {"anyOf": [{"enum": ["open", "shut"]}, {"type": "string"}]}


def schema() -> Schema:
    """Return the schema of a model file, in the dialect of 2020-12."""
    made = _Schemas()
    whole = made.fields(Assembly)
    return {
        "$schema": _DIALECT,
        "title": "A model of an assembly: its parts, its steps, and what must come before what",
        **whole,
        "$defs": dict(sorted(made.kept.items())),
    }


class _Schemas:
    """Makes the schema of each kind, and keeps each once, under a name that says what it is."""

    def __init__(self) -> None:
        self.kept: dict[str, Schema] = {"nothing": _NOTHING}
        self._makers: dict[type, tuple[Callable[[Any], str], Callable[[Any], Schema]]] = {
            Text: (lambda _: "words", lambda _: _WORDS),
            Whole: (lambda kind: f"whole-number-from-{kind.least}", _whole),
            Number: (lambda _: "number", lambda _: _NUMBER),
            Flag: (lambda _: "true-or-false", lambda _: _FLAG),
            Word: (lambda kind: "-or-".join((*kind.words, *_any_id(kind))), _word),
            Figure: (lambda kind: f"figure-of-{'-or-'.join(kind.quantities) or 'any'}", _figure),
            TorqueText: (lambda _: "torque-text", lambda _: _TORQUE),
            EndText: (lambda _: "end-of-a-line", lambda _: _END),
            PassText: (lambda _: "pass", lambda _: {"type": "string", "pattern": _DIGITS}),
            Points: (lambda _: "points", lambda _: _POINTS),
            Sizes: (lambda _: "sizes", lambda _: _one_or_list(_SIZE)),
            ByTemperature: (lambda _: "time-by-temperature", lambda _: _BY_TEMPERATURE),
            Links: (_links_name, self._links),
            Choices: (lambda kind: f"choices-of-{'-or-'.join(kind.kinds)}", self._choices),
            Fitted: (lambda _: "parts-fitted", self._fitted),
            Many: (lambda kind: f"list-of-{self._name(kind.of)}", self._many),
            Record: (_record_name, self._record),
            Table: (lambda kind: f"{_record_name(kind.of)}-by-{kind.key}", self._table),
        }

    def fields(self, cls: type) -> Schema:
        """Return the schema of a record written with its fields."""
        fields = fields_of(cls)
        required = [field.name for field in fields.values() if field.required]
        made: Schema = {
            "description": (cls.__doc__ or "").partition("\n")[0],
            "type": "object",
            "properties": {name: self._field(field) for name, field in fields.items()},
            "additionalProperties": False,
        }
        return {**made, "required": required} if required else made

    def _name(self, kind: Kind) -> str:
        name, _ = self._makers[type(kind)]
        return name(kind)

    def _of(self, kind: Kind) -> Schema:
        """Return a reference to the schema of a kind, which is kept."""
        name, make = self._name(kind), self._makers[type(kind)][1]
        if name not in self.kept:
            self.kept[name] = {}  # it may hold itself
            self.kept[name] = make(kind)
        return _ref(name)

    def _field(self, field: Declared) -> Schema:
        held = self._of(field.kind)
        if not field.required:
            name = f"{self._name(field.kind)}-or-nothing"
            self.kept.setdefault(name, _or_nothing(held, self.kept[self._name(field.kind)]))
            held = _ref(name)
        elif isinstance(field.kind, Table):
            held = {**held, "minProperties": 1}
        examples = _SUCH_AS.findall(field.doc) or _examples(field.kind)
        shown = {"examples": examples} if examples else {}
        return {"description": field.doc, **shown, **held}

    def _record(self, kind: Record) -> Schema:
        """Return the schema of a record in its long or its short form, or of an empty one."""
        fields = self.fields(kind.cls)
        short = short_field(kind)
        forms = [fields] if short is None else [self._of(short.kind), fields]
        return {"anyOf": [*forms, *([] if "required" in fields else [_ref("nothing")])]}

    def _table(self, kind: Table) -> Schema:
        made: Schema = {"type": "object", "additionalProperties": self._of(kind.of)}
        if kind.key == "id" and kind.of.cls is not Section:
            made["propertyNames"] = {"pattern": _ID}
        return made

    def _many(self, kind: Many) -> Schema:
        return _one_or_list(self._of(kind.of))

    def _links(self, kind: Links) -> Schema:
        one = self._name_of(kind.kinds)
        if not kind.one:
            return _one_or_list(one)
        # an entry besides that says nothing is passed over: how many say something, the reader says
        return {"anyOf": [one, {"type": "array", "items": _or_nothing(one)}]}

    def _choices(self, kind: Choices) -> Schema:
        one = self._of(Links(kind.kinds))
        return _one_or_list(one)

    def _name_of(self, kinds: tuple[str, ...]) -> Schema:
        """Return the schema of one name, plain or with its reason."""
        own = [kind for kind in kinds if kind != ALL]
        name = f"one-of-{'-or-'.join(own)}"
        if name not in self.kept:
            words = self._of(Text())
            names = {kind: {"description": f"The id of a {kind}.", **words} for kind in own}
            remarks = {
                word: {"description": doc, **_or_nothing(words)} for word, doc in _REMARKS.items()
            }
            times = _TIMES if "section" in own else {}
            long = {
                "type": "object",
                "properties": {
                    **names,
                    **remarks,
                    **{
                        word: {"description": doc, **_or_nothing(_SIZE)}
                        for word, doc in times.items()
                    },
                },
                "additionalProperties": False,
                "oneOf": [{"required": [kind]} for kind in own],
            }
            self.kept[name] = {"anyOf": [words, long]}
        return _ref(name)

    def _fitted(self, _kind: Fitted) -> Schema:
        words = self._of(Text())
        facing = {"type": "object", "additionalProperties": _or_nothing(words)}
        return _one_or_list(words, facing)


def _links_name(kind: Links) -> str:
    return f"{'name' if kind.one else 'names'}-of-{'-or-'.join(kind.kinds)}"


def _record_name(kind: Record) -> str:
    short = short_field(kind)
    return f"{kind.cls.__name__}-or-{short.name}" if short else kind.cls.__name__


def _ref(name: str) -> Schema:
    return {"$ref": f"#/$defs/{name}"}


def _or_nothing(one: Schema, whole: Schema | None = None) -> Schema:
    """Return the schema of one thing or nothing.

    `whole` is what `one` refers to: a set of fields takes the other ways to say nothing in itself,
    so that a fault inside it shows where it is.
    """
    if whole and whole.get("type") == "object":
        return {**whole, **{word: _NOTHING[word] for word in ("type", "pattern", "maxItems")}}
    return {"anyOf": [one, _ref("nothing")]}


def _one_or_list(*forms: Schema) -> Schema:
    """Return the schema of a list, or of the one thing in it without brackets."""
    items = {"anyOf": [*forms, _ref("nothing")]}
    return {"anyOf": [*forms, {"type": "array", "items": items}]}


def _whole(kind: Whole) -> Schema:
    digits = {"type": "string", "pattern": r"^\s*[0-9]{1,6}\s*$"}
    return {"anyOf": [{"type": "integer", "minimum": kind.least, "maximum": _MOST}, digits]}


def _any_id(kind: Word) -> tuple[str, ...]:
    return (kind.or_a,) if kind.or_a else ()


def _word(kind: Word) -> Schema:
    typed = _WORDS if kind.or_a else _typed(*kind.words)
    inner = {"anyOf": [typed, {"type": "array"}, _ref("nothing")]}
    in_list = {"type": "array", "minItems": 1, "maxItems": 1, "items": inner}
    return {"anyOf": [{"enum": list(kind.words)}, typed, in_list]}


def _typed(*words: str) -> Schema:
    """Return the schema of one of these words, in capitals, small letters or both."""
    any_case = (
        "".join(f"[{sign}{sign.upper()}]" if sign.isalpha() else re.escape(sign) for sign in word)
        for word in words
    )
    return {"type": "string", "pattern": rf"^\s*({'|'.join(any_case)})\s*$"}


_SIZE: Schema = {"type": "string", "pattern": _DIGITS}
_COORDINATE: Schema = {"anyOf": [{"type": "number"}, _SIZE]}
_POINT: Schema = {"type": "array", "items": _COORDINATE, "minItems": 2, "maxItems": 2}
_POINTS: Schema = {"type": "array", "items": _or_nothing(_POINT)}
_BY_TEMPERATURE: Schema = {
    "anyOf": [_SIZE, {"type": "object", "additionalProperties": _or_nothing(_SIZE)}]
}
_FLAG: Schema = {"anyOf": [{"type": "boolean"}, _typed("true", "false")]}


def _figure(kind: Figure) -> Schema:
    typed = {"type": "string", "pattern": _DIGITS}
    bare = not kind.quantities or "number" in kind.quantities
    return {"anyOf": [{"type": "number"}, typed]} if bare else typed


def such_as(kind: Kind) -> str:
    """Return examples of what may stand in a field of a kind, as typed; empty if there are none."""
    return ", ".join(one for one in _examples(kind) if isinstance(one, str))


def _examples(kind: Kind) -> list[Any]:
    """Return what may stand in a field of a kind, where that says more than its description."""
    if isinstance(kind, Record):
        short = short_field(kind)
        return _examples(short.kind) if short else []
    if isinstance(kind, Many):
        return [[example] for example in _examples(kind.of)]
    if isinstance(kind, Figure):
        example = _FIGURES.get(kind.quantities[0]) if kind.quantities else "0.05 to 0.10 mm"
        return [example] if example else []
    return _EXAMPLES.get(type(kind), [])
