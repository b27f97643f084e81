"""Which line and column a path of the model is shown at."""

from __future__ import annotations

from textwrap import dedent

import pytest

from sequencer.problem import Path, Place
from sequencer.reading import Reading, read_text
from sequencer.reading.files import Files

TEXT = dedent(
    """\
    assembly: pump
    parts:
      body: {name: Body, largest: {value: 40 mm, why: rim}}
      seal: Seal
    joints:
      j: {thread: M8, torque: 5 N·m}
    checks:
      play: {feel: play, good: none, else: renew seal}
    sections:
      one: {title: One, after: []}
    steps:
      first: Wipe it.
      second:
        section: one
        do: |
          Fit it.
          Look at it.
        fits: [body, {seal: lip in}]
        after: first
        note:
          - Slowly.

          - Turn it.
        ways_in:
          top: {opening: 40 mm, shut_by: seal}
          side: seal
        tighten: {joint: j, why: reach}
        torque: '5 N·m'
        check: play
      third:
        do: Close
          it.
        after:
          - second
          - {step: first, why: dust}
          - section: one
    together:
      - [first, second]
      - steps: [third]
        why: so
    """
)
LINES = TEXT.split("\n")


@pytest.fixture(scope="module")
def reading() -> Reading:
    return read_text(TEXT, "pump.yaml")


def shown(place: Place | None, lines: list[str] = LINES) -> tuple[int, str] | None:
    """Return the line and the piece of it that a place marks."""
    if place is None:
        return None
    start = place.column - 1
    return place.line, lines[place.line - 1][start : start + place.width]


@pytest.mark.parametrize(
    ("path", "where"),
    [
        (("assembly",), (1, "pump")),
        (("parts",), (2, "parts")),
        (("parts", "body"), (3, "body")),
        (("parts", "body", "name"), (3, "Body")),
        (("parts", "body", "largest"), (3, "largest")),
        (("parts", "body", "largest", "value"), (3, "40 mm")),
        (("parts", "seal"), (4, "Seal")),
        (("parts", "seal", "name"), (4, "Seal")),
        (("joints", "j", "torque"), (6, "5 N·m")),
        (("joints", "j", "torque", "value"), (6, "5 N·m")),
        (("joints", "j", "count"), (6, "j")),
        (("checks", "play", "else", "renew", 0), (8, "renew seal")),
        (("sections", "one", "after", 0), (10, "after")),
        (("steps", "first"), (12, "Wipe it.")),
        (("steps", "first", "do"), (12, "Wipe it.")),
        (("steps", "first", "after", 0), (12, "Wipe it.")),
        (("steps", "second"), (13, "second")),
        (("steps", "second", "do"), (15, "do")),
        (("steps", "second", "fits"), (18, "fits")),
        (("steps", "second", "fits", 0), (18, "body")),
        (("steps", "second", "fits", 1), (18, "seal")),
        (("steps", "second", "after"), (19, "first")),
        (("steps", "second", "after", 0), (19, "first")),
        (("steps", "second", "after", 7), (19, "first")),
        (("steps", "second", "note", 1), (23, "Turn it.")),
        (("steps", "second", "ways_in", "top"), (25, "top")),
        (("steps", "second", "ways_in", "top", "opening"), (25, "40 mm")),
        (("steps", "second", "ways_in", "top", "shut_by", 0), (25, "seal")),
        (("steps", "second", "ways_in", "side"), (26, "seal")),
        (("steps", "second", "ways_in", "side", "shut_by", 0), (26, "seal")),
        (("steps", "second", "tighten", 0), (27, "j")),
        (("steps", "second", "tighten", 0, "why"), (27, "reach")),
        (("steps", "second", "torque"), (28, "'5 N·m'")),
        (("steps", "third", "do"), (31, "do")),
        (("steps", "third", "after", 0), (34, "second")),
        (("steps", "third", "after", 1), (35, "first")),
        (("steps", "third", "after", 2), (36, "one")),
        (("together",), (37, "together")),
        (("together", 0), (38, "[first, second]")),
        (("together", 0, "steps", 1), (38, "second")),
        (("together", 1), (39, "steps")),
        (("together", 1, "steps", 0), (39, "third")),
        (("together", 1, "why"), (40, "so")),
        (("steps", "fourth"), (11, "steps")),
        (("nothing", "here"), None),
        ((), None),
    ],
)
def test_a_path_is_shown_where_its_value_stands(
    reading: Reading, path: Path, where: tuple[int, str] | None
) -> None:
    assert shown(reading.place_of(path)) == where


@pytest.mark.parametrize(
    ("path", "where"),
    [
        (("assembly",), (1, "assembly")),
        (("steps", "first"), (12, "first")),
        (("steps", "second", "after", 0), (19, "after")),
        (("steps", "second", "ways_in", "side", "shut_by", 0), (26, "side")),
        (("together", 0), (37, "together")),
        (("nothing",), None),
    ],
)
def test_a_key_is_shown_where_it_stands(path: Path, where: tuple[int, str] | None) -> None:
    assert shown(Files(None).read(TEXT, "pump.yaml").places.key(path)) == where


STATE = dedent(
    """\
    assembly: pump
    parts:
      body: Body
      aid: {name: Sleeve, aid: true}
    tools: {key: Key, bar: Bar}
    units:
      rotor: Rotor
      head:
        name: Head
        base: body
    sections:
      one: {title: One, in_order: true}
    checks:
      play:
        feel: play
        good: none
        upset_by: [first, {step: second, why: so}]
        needs_open:
          top: {opening: 40 mm, room: 9 mm, shut_by: [body, rotor]}
          side: rotor
    lines:
      axis:
        shaft: {part: body, why: so}
        ends:
          left: shut
          right: {is: 40 mm, shut_by: [{part: aid, why: it is long}, rotor]}
        order:
          - {part: rotor, bore: 9 mm}
          - shoulder: 8 mm
            width: 1 mm
    steps:
      first:
        do: Fit it.
        fits: [body, aid]
        takes_off: [aid, body]
        loosens: {step: second}
        needs: still
        not_while: [still, {state: wet, why: rust}]
        position: up
        tools: [bar, [key, {tool: bar, why: long}], {tool: key, why: short}]
        unit: rotor
        section: one
      second: {do: Wait., after: [first, all]}
      third: {do: Look., tools: key, check: play, before: {step: all, why: so}}
      fourth: {do: Turn., unit: head}
      lock: Lock it.
      free: Free it.
    trials:
      gap:
        steps: [lock]
    one_of:
      - [second, third]
      - {steps: [first, fourth], before: second}
    states:
      still: {begins: lock, ends: {step: free, why: so}}
      wet: {begins: lock, ends: [free]}
    """
)
STATE_LINES = STATE.split("\n")


@pytest.mark.parametrize(
    ("path", "where"),
    [
        (("parts", "aid", "aid"), (4, "true")),
        (("units", "rotor"), (7, "Rotor")),
        (("units", "head"), (8, "head")),
        (("units", "head", "base", 0), (10, "body")),
        (("sections", "one", "in_order"), (12, "true")),
        (("checks", "play", "upset_by", 0), (17, "first")),
        (("checks", "play", "upset_by", 1), (17, "second")),
        (("checks", "play", "needs_open", "top", "opening"), (19, "40 mm")),
        (("checks", "play", "needs_open", "top", "room"), (19, "9 mm")),
        (("checks", "play", "needs_open", "top", "shut_by", 1), (19, "rotor")),
        (("checks", "play", "needs_open", "side", "shut_by", 0), (20, "rotor")),
        (("lines", "axis"), (22, "axis")),
        (("lines", "axis", "shaft", 0), (23, "body")),
        (("lines", "axis", "ends", "left"), (25, "shut")),
        (("lines", "axis", "ends", "left", "is"), (25, "shut")),
        (("lines", "axis", "ends", "right"), (26, "right")),
        (("lines", "axis", "ends", "right", "is"), (26, "40 mm")),
        (("lines", "axis", "ends", "right", "shut_by", 0), (26, "aid")),
        (("lines", "axis", "ends", "right", "shut_by", 1), (26, "rotor")),
        (("lines", "axis", "order", 0), (28, "{part: rotor, bore: 9 mm}")),
        (("lines", "axis", "order", 0, "part", 0), (28, "rotor")),
        (("lines", "axis", "order", 1), (29, "shoulder")),
        (("lines", "axis", "order", 1, "width"), (30, "1 mm")),
        (("steps", "first", "takes_off", 1), (35, "body")),
        (("steps", "first", "loosens", 0), (36, "second")),
        (("steps", "first", "needs", 0), (37, "still")),
        (("steps", "first", "not_while", 1), (38, "wet")),
        (("steps", "first", "position"), (39, "up")),
        (("steps", "first", "unit"), (41, "rotor")),
        (("steps", "first", "tools", 0), (40, "bar")),
        (("steps", "first", "tools", 0, 0), (40, "bar")),
        (("steps", "first", "tools", 1), (40, "[key, {tool: bar, why: long}]")),
        (("steps", "first", "tools", 1, 0), (40, "key")),
        (("steps", "first", "tools", 1, 1), (40, "bar")),
        (("steps", "first", "tools", 2), (40, "key")),
        (("steps", "first", "tools", 2, 0), (40, "key")),
        (("steps", "second", "after", 1), (43, "all")),
        (("steps", "third", "tools", 0), (44, "key")),
        (("steps", "third", "before", 0), (44, "all")),
        (("trials", "gap"), (49, "gap")),
        (("trials", "gap", "steps", 0), (50, "lock")),
        (("one_of", 0), (52, "[second, third]")),
        (("one_of", 0, "steps", 1), (52, "third")),
        (("one_of", 1, "before"), (53, "second")),
        (("one_of", 1, "before", 0), (53, "second")),
        (("states", "still", "begins", 0), (55, "lock")),
        (("states", "still", "ends"), (55, "ends")),
        (("states", "still", "ends", 0), (55, "free")),
        (("states", "wet", "ends"), (56, "ends")),
        (("states", "wet", "ends", 0), (56, "free")),
    ],
)  # fmt: skip
def test_what_comes_and_goes_is_shown_where_it_stands(path: Path, where: tuple[int, str]) -> None:
    assert shown(read_text(STATE, "pump.yaml").place_of(path), STATE_LINES) == where


def test_a_group_without_its_outer_brackets_is_found() -> None:
    text = "assembly: x\nsteps: {a: A., b: B.}\ntogether: [a, b]\n"
    reading = read_text(text, "x.yaml")
    assert reading.place_of(("together", 0, "steps", 1)) == Place("x.yaml", 3, 15, 1)


def test_empty_entries_of_a_list_do_not_count() -> None:
    text = "assembly: x\nsteps:\n  a: A.\n  b:\n    do: B.\n    after:\n      -\n      - a\n"
    reading = read_text(text, "x.yaml")
    assert reading.place_of(("steps", "b", "after", 0)) == Place("x.yaml", 8, 9, 1)


def test_columns_count_characters_beyond_the_usual_planes() -> None:
    text = "assembly: x\nsteps: {a: {do: 🔧 日本, note: here}}\n"
    reading = read_text(text, "x.yaml")
    column = text.splitlines()[1].index("here") + 1
    assert reading.place_of(("steps", "a", "note")) == Place("x.yaml", 2, column, 4)


def test_a_file_that_cannot_be_read_has_no_places() -> None:
    reading = read_text("a: [", "x.yaml")
    assert reading.place_of(("a",)) is None
    assert reading.lines["x.yaml"] == ("a: [",)
