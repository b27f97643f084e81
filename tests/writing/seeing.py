"""A YAML text as an editor sees it: by the core schema of YAML 1.2 (its chapter 10.3)."""

from __future__ import annotations

import re
from typing import Any

import yaml

NUMBER = re.compile(
    r"[-+]?[0-9]+|0o[0-7]+|0x[0-9a-fA-F]+|[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?"
)
WORDS: dict[str, bool | None] = {
    **dict.fromkeys(("", "~", "null", "Null", "NULL")),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}


def as_an_editor_sees_it(text: str) -> Any:
    """Return the values of a YAML text, its keys as typed."""
    return seen(yaml.compose(text, Loader=yaml.CSafeLoader))


def seen(node: yaml.Node | None) -> Any:
    """Return the value of a node."""
    if isinstance(node, yaml.MappingNode):
        return {key.value: seen(value) for key, value in node.value}
    if isinstance(node, yaml.SequenceNode):
        return [seen(item) for item in node.value]
    assert isinstance(node, yaml.ScalarNode)
    if node.style:
        return node.value
    if NUMBER.fullmatch(node.value):
        based = node.value[1:2] in ("o", "x")
        return int(node.value, 0) if based else number(node.value)
    return WORDS.get(node.value, node.value)


def number(text: str) -> int | float:
    """Return a number of the core schema."""
    return int(text) if text.lstrip("+-").isdigit() else float(text)
