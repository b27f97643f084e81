"""Models spoiled at random, each by its number: the same number gives the same bytes.

Those of even numbers are spoiled as texts, those of odd numbers in what they say.
"""

from __future__ import annotations

import random
import re
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from tests.reading.spoiling import MODEL

if TYPE_CHECKING:
    from collections.abc import Callable

ROOT = Path(__file__).resolve().parent.parent.parent
_PIECES = (
    *("\t", "\r", "\r\n", "\n", " ", "  ", ":", ": ", "- ", "#", " #", " # 1", "{", "}", "[", "]"),
    *(",", ", ", "'", '"', "''", "|", ">", "|-\n", "&a ", "*a", "!x ", "!!str ", "<<: ", "---\n"),
    *("...\n", "? ", "%", "@", "`", "~", "\\", '"\\x07"', '"\\ud800"', '"\\U00110000"', "{{", "}}"),
    *(
        "\u00a0",
        "\u200b",
        "\ufeff",
        "\u2028",
        "\x85",
        "\0",
        "\x1b",
        "\ufffd",
        "\u202e",
        "é",
        "日本",
    ),
    *(
        "🔧",
        "½",
        "1e999",
        "9**9**9",
        "1,500",
        "-1",
        "0",
        "999999",
        "1000000",
        "1/0",
        "inf",
        "nan mm",
    ),
    *(
        "null",
        "true",
        "no",
        "all",
        "0012",
        "x" * 300,
        "5 mm",
        "3 to 1 mm",
        "±",
        "9" * 60,
        "finger tight",
    ),
)
_FIELD = re.compile(r"\b(?P<name>[a-z_]+): (?P<value>[^\n,#{}\[\]]{1,200}|\[[^\n\[\]]*\])")
_ENTRY = re.compile(r"^ {2}(?P<name>[\w-]+):", re.MULTILINE)
_WORD = re.compile(r"(?<![\w-])[a-z][\w-]*(?![\w-])")
_DIGITS = re.compile(r"(?<![\w.])[0-9]+(?:\.[0-9]+)?")
_VALUE = re.compile(r"(?<=: )[^\n#{}\[\]]{1,200}")
_NAME = re.compile(r"(?<![\w-])[\w-]{1,60}(?=:)")


@cache
def seeds() -> tuple[str, ...]:
    """Return the models to begin from: those that ship, and those of the tests of messages."""
    files = (*(ROOT / "assemblies").glob("*.yaml"), *(ROOT / "tests/golden/reading").glob("*.yaml"))
    return (MODEL, *(file.read_bytes().decode("utf-8", "replace") for file in sorted(files)))


def mutated(number: int) -> bytes:
    """Return the bytes of the model of a number."""
    return _reworded(number) if number % 2 else _spoiled(number)


def _spoiled(number: int) -> bytes:
    chance = random.Random(number)  # noqa: S311  # the same number, the same model
    text = chance.choice(seeds()) if chance.random() < 0.5 else chance.choice(seeds()[:4])
    for _ in range(chance.choice((1, 1, 2, 3, 5, 12))):
        text = chance.choice(_WAYS)(text, chance)[:300_000]
    data = text.encode("utf-8", "replace")
    return _bytes_changed(data, chance) if chance.random() < 0.05 else data


def _reworded(number: int) -> bytes:
    """Return the bytes of another model of a number: sound YAML in most cases, and odd in sense."""
    chance = random.Random(number)  # noqa: S311  # as above
    text = chance.choice(seeds()[:3])
    for _ in range(chance.choice((1, 1, 2, 3, 6))):
        text = chance.choice(_GENTLE_WAYS)(text, chance)
    return text.encode("utf-8", "replace")


def _field_swapped(text: str, chance: random.Random) -> str:
    """Give one field the value that another field of the same name has, here or elsewhere."""
    here = list(_FIELD.finditer(text))
    if not here:
        return text
    one = chance.choice(here)
    others = [
        found["value"]
        for other in (text, *seeds()[:4])
        for found in _FIELD.finditer(other)
        if found["name"] == one["name"]
    ]
    return text[: one.start("value")] + chance.choice(others) + text[one.end("value") :]


def _id_swapped(text: str, chance: random.Random) -> str:
    """Name another thing of the model in the place of one."""
    ids = [found["name"] for found in _ENTRY.finditer(text)]
    every = set(ids)
    named = [found for found in _WORD.finditer(text) if found.group() in every]
    if not named:
        return text
    one = chance.choice(named)
    return text[: one.start()] + chance.choice(ids) + text[one.end() :]


def _entry_moved(text: str, chance: random.Random) -> str:
    """Take an entry with all that is under it away, or put it elsewhere, or put it in again."""
    lines = text.split("\n")
    first = chance.randrange(len(lines))
    indent = len(lines[first]) - len(lines[first].lstrip())
    last = first + 1
    while last < len(lines) and len(lines[last]) - len(lines[last].lstrip()) > indent:
        last += 1
    entry = lines[first:last]
    alike = [
        at for at, line in enumerate(lines) if len(line) - len(line.lstrip()) == indent and line
    ]
    way = chance.randrange(3)
    if way < 2:
        del lines[first:last]
    if way and alike:
        at = min(chance.choice(alike), len(lines))
        again = [entry[0].replace(":", f"-{chance.randrange(9)}:", way // 2), *entry[1:]]
        lines[at:at] = again
    return "\n".join(lines)


def _number_changed(text: str, chance: random.Random) -> str:
    found = list(_DIGITS.finditer(text))
    if not found:
        return text
    one = chance.choice(found)
    value = chance.choice(("0", "1", "2", "7", "40", "0.001", "999999", "12.50", "1e3"))
    return text[: one.start()] + value + text[one.end() :]


def _put_in(text: str, chance: random.Random) -> str:
    at = chance.randint(0, len(text))
    gone = chance.choice((0, 0, 1, 3, 10))
    return text[:at] + chance.choice(_PIECES) + text[at + gone :]


def _taken_out(text: str, chance: random.Random) -> str:
    at = chance.randint(0, len(text))
    return text[:at] + text[at + chance.choice((1, 2, 5, 40)) :]


def _lines_moved(text: str, chance: random.Random) -> str:
    lines = text.split("\n")
    one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
    way = chance.randrange(5)
    if way == 0:
        lines[one], lines[other] = lines[other], lines[one]
    elif way == 1:
        lines.insert(one, lines[other])
    elif way == 2:
        del lines[one]
    elif way == 3:
        lines[one] = " " * chance.randint(0, 12) + lines[one].lstrip()
    else:
        first, last = sorted((one, other))
        lines[first:last] = [f"  {line}" for line in lines[first:last]]
    return "\n".join(lines)


def _values_swapped(text: str, chance: random.Random) -> str:
    return _swapped(text, chance, _VALUE)


def _names_swapped(text: str, chance: random.Random) -> str:
    return _swapped(text, chance, _NAME)


def _swapped(text: str, chance: random.Random, pattern: re.Pattern[str]) -> str:
    """Put what matches in one place in the place of another, of this model or the first."""
    here = list(pattern.finditer(text))
    others = here if chance.random() < 0.6 else list(pattern.finditer(MODEL))
    if not here or not others:
        return text
    one, other = chance.choice(here), chance.choice(others)
    return text[: one.start()] + other.group() + text[one.end() :]


def _another_in(text: str, chance: random.Random) -> str:
    other = chance.choice(seeds()).split("\n")
    first = chance.randrange(len(other))
    lines = text.split("\n")
    at = chance.randrange(len(lines) + 1)
    lines[at:at] = other[first : first + chance.choice((1, 3, 20))]
    return "\n".join(lines)


def _repeated(text: str, chance: random.Random) -> str:
    at = chance.randint(0, len(text))
    piece = text[at : at + chance.choice((1, 2, 8, 60))]
    return text[:at] + piece * chance.choice((2, 20, 300)) + text[at:]


def _signs_repeated(text: str, chance: random.Random) -> str:
    at = chance.randint(0, len(text))
    return text[:at] + chance.choice(_PIECES) * chance.choice((2, 25, 1500)) + text[at:]


def _bytes_changed(data: bytes, chance: random.Random) -> bytes:
    changed = bytearray(data)
    for _ in range(chance.randint(1, 4)):
        if changed:
            changed[chance.randrange(len(changed))] = chance.randrange(256)
    return bytes(changed)


_WAYS: tuple[Callable[[str, random.Random], str], ...] = (
    _put_in,
    _put_in,
    _taken_out,
    _lines_moved,
    _values_swapped,
    _values_swapped,
    _names_swapped,
    _another_in,
    _repeated,
    _signs_repeated,
)
_GENTLE_WAYS: tuple[Callable[[str, random.Random], str], ...] = (
    _field_swapped,
    _field_swapped,
    _id_swapped,
    _id_swapped,
    _id_swapped,
    _entry_moved,
    _number_changed,
)
