"""Which line and column a path of the model stands in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from sequencer.model.assembly import Assembly
from sequencer.model.fields import Choices, Fitted, Links, Many, Record, Table
from sequencer.reading.fields import fields_of, short_field
from sequencer.reading.nodes import Mapping, Scalar, Sequence, items_of
from sequencer.reading.records import is_single

if TYPE_CHECKING:
    from sequencer.model.fields import Kind
    from sequencer.problem import Path, Place
    from sequencer.reading.nodes import Node
    from sequencer.reading.source import Source


@dataclass(frozen=True, slots=True)
class _LinkKind:
    """One entry of a list of links; its place is that of the name in it."""

    kinds: tuple[str, ...]


class _Found(NamedTuple):
    """A piece of the file: the key it stands under (None in a list), its value and their kind."""

    key: Node | None
    value: Node
    kind: Kind | _LinkKind | None


class Places:
    """Finds places by walking the tree of a file; a path that goes too deep ends at its parent."""

    def __init__(self, root: Node | None, source: Source) -> None:
        self._root = root
        self._source = source
        self._indexes: dict[int, dict[str, tuple[Node, Node]]] = {}

    def value(self, path: Path) -> Place | None:
        """Return the place of a value on one line, else of its key; None if nothing is there."""
        way = self._way(path)
        if not way:
            return None
        key, node, kind = way[-1]
        if isinstance(kind, _LinkKind) and isinstance(node, Mapping):
            named = (self._entry(node, word) for word in kind.kinds)
            node = next((entry[1] for entry in named if entry), node)
        if isinstance(node, Scalar) and node.text and node.line == node.end_line:
            return self._source.place(node)
        if key is None and isinstance(node, Mapping) and node.items and not node.flow:
            key = node.items[0]
        return self._source.place(node if key is None else key)

    def key(self, path: Path) -> Place | None:
        """Return the place of the last key on the way; None if nothing is there."""
        keys = [found.key for found in self._way(path) if found.key is not None]
        return self._source.place(keys[-1]) if keys else None

    def _way(self, path: Path) -> list[_Found]:
        """Return what stands at each step of the path, as far as it goes."""
        way: list[_Found] = []
        if self._root is None:
            return way
        here = _Found(None, self._root, Record(Assembly))
        for step in path:
            inside = self._inside(here.value, here.kind, step)
            if inside is None:
                break
            here = inside
            way.append(here)
        return way

    def _inside(self, node: Node, kind: Kind | _LinkKind | None, step: str | int) -> _Found | None:
        if isinstance(step, int):
            return _item(node, kind, step)
        if isinstance(node, Mapping):
            entry = self._entry(node, step)
            return _Found(*entry, _kind_of_entry(kind, step)) if entry else None
        short = short_field(kind) if isinstance(kind, Record) else None
        return _Found(None, node, short.kind) if short and short.name == step else None

    def _entry(self, node: Mapping, name: str) -> tuple[Node, Node] | None:
        index = self._indexes.get(id(node))
        if index is None:
            index = self._indexes[id(node)] = {}
            for key, value in node.entries():
                if isinstance(key, Scalar):
                    index.setdefault(key.text.strip(), (key, value))
        return index.get(name)


def _kind_of_entry(kind: Kind | _LinkKind | None, name: str) -> Kind | None:
    if isinstance(kind, Table):
        return kind.of
    field = fields_of(kind.cls).get(name) if isinstance(kind, Record) else None
    return field.kind if field else None


def _item(node: Node, kind: Kind | _LinkKind | None, index: int) -> _Found | None:
    """Return an entry of a list; a list of one may lack its brackets."""
    if isinstance(kind, Fitted):
        names = [name for item in items_of(node) for name in _fitted_names(item)]
        return _Found(None, names[index], None) if index < len(names) else None
    if not isinstance(kind, Many | Links | Choices):
        return None
    items = [node] if isinstance(kind, Many) and is_single(kind, node) else items_of(node)
    if not 0 <= index < len(items):
        return None
    item = items[index]
    if isinstance(kind, Many):
        return _Found(None, item, kind.of)
    if isinstance(kind, Choices) and isinstance(item, Sequence):
        return _Found(None, item, Links(kind.kinds))
    return _Found(None, item, _LinkKind(kind.kinds))


def _fitted_names(item: Node) -> list[Node]:
    return item.items[::2] if isinstance(item, Mapping) else [item]
