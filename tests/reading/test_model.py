"""What is read from a file: the model, exactly, from short forms and long ones."""

from __future__ import annotations

from textwrap import dedent
from typing import TYPE_CHECKING

import pytest

from sequencer.model.assembly import Assembly, Defaults, Prints, Source
from sequencer.model.checking import Check, Otherwise, Rework
from sequencer.model.common import Limit, Link, Size, WayIn
from sequencer.model.fastening import Grade, Joint, Tool, Torque, TorqueValue
from sequencer.model.parts import Part
from sequencer.model.steps import Fit, Section, Step, Together
from sequencer.reading import read_file
from tests.reading.models import amount, model

if TYPE_CHECKING:
    from pathlib import Path


def step(fields: str) -> Step:
    """Read one step of a model that has what steps speak of."""
    text = f"""
    assembly: vice
    parts: {{jaw: Jaw plate, screw: 4 × Screw, nut: Nut}}
    tools: {{key: Key, bar: Bar}}
    joints: {{j: {{thread: M8}}}}
    checks: {{play: {{feel: play, good: none}}}}
    steps:
      wipe: {{do: Wipe it., tighten: j, check: play, leaves: loose, section: base}}
      it: {fields}
    """
    return model(text).steps[-1]


def torque(text: str) -> TorqueValue:
    return TorqueValue(text=text, amount=amount(text, "torque"))


SMALL = """\
    assembly: bench-vice
    parts:
      body: Body
      jaw: Jaw plate, hardened
      screws: 4 × Countersunk screw M6
    steps:
      wipe: Wipe both seats clean.
      jaw-on:
        do: Lay the jaw plate on and run two screws in by hand.
        fits: [jaw, 2 screws]
        after: wipe
        leaves: loose
      square:
        do: Tap it square and drive all screws home.
        fits: screws
        torque: 8 to 10 N·m
        secures: jaw-on
    """


def test_a_small_model() -> None:
    assert model(SMALL) == Assembly(
        assembly="bench-vice",
        title="bench-vice",
        parts=(
            Part(id="body", name="Body"),
            Part(id="jaw", name="Jaw plate, hardened"),
            Part(id="screws", name="Countersunk screw M6", quantity=4),
        ),
        steps=(
            Step(id="wipe", do="Wipe both seats clean."),
            Step(
                id="jaw-on",
                do="Lay the jaw plate on and run two screws in by hand.",
                fits=(Fit("jaw"), Fit("screws", 2)),
                after=(Link("wipe"),),
                leaves=("loose",),
            ),
            Step(
                id="square",
                do="Tap it square and drive all screws home.",
                fits=(Fit("screws"),),
                torque=Torque(value=torque("8 to 10 N·m")),
                secures=(Link("jaw-on"),),
            ),
        ),
    )


FULL = """\
    assembly: feed-pump
    title: Feed pump, reseal
    issue: B
    notice: Not for use on real equipment.
    scope: The pump alone.
    wear: [gloves, goggles]
    warning: Springs fly.
    caution: [Edges are sharp., The lip tears.]
    prints: {torque: [Nm, ft-lb], length: mm}
    sources: {card: Workshop card 3, sheet: {name: Data sheet 12}}
    defaults: {source: card, time: 4 min, surface: oiled, grade: "8.8"}
    parts:
      housing: {name: Housing, number: 0012, mass: 9.5 kg}
      shaft: {name: Shaft, largest: 39.9 mm}
      lip-seal: {name: Lip seal, renew: always, largest: {value: 35 mm, why: over the garter}}
      ring: {name: Retaining ring, once: true, quantity: 2}
      cover:
    tools:
      wrench: {name: Torque wrench, range: 40 to 200 N·m, reads: 2 N·m}
    joints:
      nut:
        name: Shaft nut
        thread: M16×1.5
        grade: "10.9"
        count: 1
        surface: dry
        torque: {value: 60 ft-lb, source: sheet, why: old thread}
        why: it holds the rotor
    checks:
      bore:
        measure: Seal bore
        with: wrench
        limit: {value: 25.02 to 25.06 mm, source: sheet}
        rework: {limit: at most 25.10 mm, how: hone it}
        else: renew housing
      turn:
        feel: turn the shaft
        good: even
        bad: a catch
        else: {again_from: press, change: the shim, most: 3}
      leak: {look: the joint, good: dry, else: {stop: foreman, accept_by: owner}}
    sections:
      body: Body
      close: {title: Closing, after: body}
    steps:
      press:
        section: body
        do: |
          Press the seal in.
          Look at the lip.
        fits: {lip-seal: lip inwards}
        onto: {part: housing, why: it guides the seal}
        check: bore
        time: 1 h 30 min
        people: 2
        position: bore up
        warning: Fingers clear.
      body-down: {do: Set the housing down., fits: housing, before: press}
      shaft-in:
        do: Enter the shaft.
        fits: [shaft, 1 ring]
        after:
          - press
          - {step: body-down, why: it must stand, source: card}
          - {check: bore}
        ways_in:
          open end: {opening: 40 mm, shut_by: cover, why: the drawing}
          port: [ring, {part: cover, why: it lies over it}]
        largest: 39.9 mm
        tighten: {joint: nut, why: while it is reached}
        tools: wrench
        by: fitter
        hold: inspector
        note: [Slowly., Turn it.]
        notice: Mind the lip.
        caution: The ring springs.
      ring-in:
        section: close
        do: Fit the other ring and the cover.
        fits: [1 ring, cover]
        check: [turn, leak]
    together:
      - {steps: [press, body-down], why: one stroke}
    """


def test_a_full_model() -> None:
    press = Link("press")
    assert model(FULL) == Assembly(
        assembly="feed-pump",
        title="Feed pump, reseal",
        issue="B",
        notice="Not for use on real equipment.",
        scope="The pump alone.",
        wear=("gloves", "goggles"),
        warning=("Springs fly.",),
        caution=("Edges are sharp.", "The lip tears."),
        prints=Prints(torque=("N·m", "ft·lbf"), length=("mm",)),
        sources=(
            Source(id="card", name="Workshop card 3"),
            Source(id="sheet", name="Data sheet 12"),
        ),
        defaults=Defaults(
            source="card", time=amount("4 min"), surface="oiled", grade=Grade(name="8.8")
        ),
        parts=(
            Part(id="housing", name="Housing", number="0012", mass=amount("9.5 kg")),
            Part(id="shaft", name="Shaft", largest=Size(value=amount("39.9 mm"))),
            Part(
                id="lip-seal",
                name="Lip seal",
                renew="always",
                largest=Size(value=amount("35 mm"), why="over the garter"),
            ),
            Part(id="ring", name="Retaining ring", once=True, quantity=2),
            Part(id="cover"),
        ),
        tools=(
            Tool(
                id="wrench",
                name="Torque wrench",
                range_=amount("40 to 200 N·m"),
                reads=amount("2 N·m"),
            ),
        ),
        joints=(
            Joint(
                id="nut",
                name="Shaft nut",
                thread="M16×1.5",
                grade=Grade(name="10.9"),
                surface="dry",
                torque=Torque(value=torque("60 ft-lb"), source="sheet", why="old thread"),
                why="it holds the rotor",
            ),
        ),
        checks=(
            Check(
                id="bore",
                measure="Seal bore",
                with_="wrench",
                limit=Limit(value=amount("25.02 to 25.06 mm"), source="sheet"),
                rework=Rework(limit=Limit(value=amount("at most 25.10 mm")), how="hone it"),
                else_=Otherwise(renew=(Link("housing", "part"),)),
            ),
            Check(
                id="turn",
                feel="turn the shaft",
                good="even",
                bad="a catch",
                else_=Otherwise(again_from=(press,), change="the shim", most=3),
            ),
            Check(
                id="leak",
                look="the joint",
                good="dry",
                else_=Otherwise(stop="foreman", accept_by="owner"),
            ),
        ),
        sections=(
            Section(id="body", title="Body"),
            Section(id="close", title="Closing", after=(Link("body", "section"),)),
        ),
        steps=(
            Step(
                id="press",
                section="body",
                do="Press the seal in.\nLook at the lip.",
                fits=(Fit("lip-seal", None, "lip inwards"),),
                onto=(Link("housing", "part", "it guides the seal"),),
                check=(Link("bore", "check"),),
                time=amount("1 h 30 min", "time"),
                people=2,
                position="bore up",
                warning=("Fingers clear.",),
            ),
            Step(
                id="body-down",
                section="body",
                do="Set the housing down.",
                fits=(Fit("housing"),),
                before=(press,),
            ),
            Step(
                id="shaft-in",
                section="body",
                do="Enter the shaft.",
                fits=(Fit("shaft"), Fit("ring", 1)),
                after=(
                    press,
                    Link("body-down", "step", "it must stand", "card"),
                    Link("bore", "check"),
                ),
                ways_in=(
                    WayIn(
                        name="open end",
                        opening=Size(value=amount("40 mm")),
                        shut_by=(Link("cover", "part"),),
                        why="the drawing",
                    ),
                    WayIn(
                        name="port",
                        shut_by=(Link("ring", "part"), Link("cover", "part", "it lies over it")),
                    ),
                ),
                largest=Size(value=amount("39.9 mm")),
                tighten=(Link("nut", "joint", "while it is reached"),),
                tools=((Link("wrench", "tool"),),),
                by="fitter",
                hold="inspector",
                note=("Slowly.", "Turn it."),
                notice=("Mind the lip.",),
                caution=("The ring springs.",),
            ),
            Step(
                id="ring-in",
                section="close",
                do="Fit the other ring and the cover.",
                fits=(Fit("ring", 1), Fit("cover")),
                check=(Link("turn", "check"), Link("leak", "check")),
            ),
        ),
        together=(Together(steps=(press, Link("body-down")), why="one stroke"),),
    )


@pytest.mark.parametrize(
    ("written", "fits"),
    [
        ("jaw", (Fit("jaw"),)),
        ("[jaw, nut]", (Fit("jaw"), Fit("nut"))),
        ("2 screw", (Fit("screw", 2),)),
        ("2 × screw", (Fit("screw", 2),)),
        ("2×screw", (Fit("screw", 2),)),
        ("2 x screw", (Fit("screw", 2),)),
        ("2x screw", (Fit("screw", 2),)),
        ("{jaw: teeth outwards}", (Fit("jaw", None, "teeth outwards"),)),
        ("{2 screw: heads up}", (Fit("screw", 2, "heads up"),)),
        ("{jaw: teeth outwards, nut: }", (Fit("jaw", None, "teeth outwards"), Fit("nut"))),
        ("[{jaw: teeth outwards}, nut]", (Fit("jaw", None, "teeth outwards"), Fit("nut"))),
        ("[]", ()),
        ("{}", ()),
        ("", ()),
    ],
)
def test_how_fits_may_be_written(written: str, fits: tuple[Fit, ...]) -> None:
    assert step(f"{{do: Fit it., fits: {written}}}").fits == fits


@pytest.mark.parametrize(
    ("written", "links"),
    [
        ("wipe", (Link("wipe"),)),
        ("[wipe]", (Link("wipe"),)),
        ('"wipe"', (Link("wipe"),)),
        ("base", (Link("base", "section"),)),
        ("play", (Link("play", "check"),)),
        ("{step: wipe}", (Link("wipe"),)),
        ("{section: base, why: dust}", (Link("base", "section", "dust"),)),
        ("{check: play, source: card}", (Link("play", "check", "", "card"),)),
        ("[wipe, {check: play, why: dust}]", (Link("wipe"), Link("play", "check", "dust"))),
        ("[]", ()),
        ("", ()),
    ],
)
def test_how_after_may_be_written(written: str, links: tuple[Link, ...]) -> None:
    assert step(f"{{do: Do it., after: {written}}}").after == links


@pytest.mark.parametrize(
    ("written", "text", "torque_typed", "angle"),
    [
        ("60 ft-lb", "60 ft-lb", "60 ft-lb", None),
        ("15 to 20 N·m", "15 to 20 N·m", "15 to 20 N·m", None),
        ("150 N·m ± 5 %", "150 N·m ± 5 %", "150 N·m ± 5 %", None),
        ("40 N·m then 90°", "40 N·m then 90°", "40 N·m", "90°"),
        ("40 N·m, then 1/4 turn", "40 N·m, then 1/4 turn", "40 N·m", "1/4 turn"),
        ("40 N·m + 90°", "40 N·m + 90°", "40 N·m", "90°"),
        ("40 N·m then 80 to 90°", "40 N·m then 80 to 90°", "40 N·m", "80 to 90°"),
        ("finger tight", "finger tight", None, None),
        ("Finger-tight then 90°", "Finger-tight then 90°", None, "90°"),
        ("{value: 60 ft-lb}", "60 ft-lb", "60 ft-lb", None),
    ],
)
def test_how_a_torque_may_be_written(
    written: str, text: str, torque_typed: str | None, angle: str | None
) -> None:
    found = step(f"{{do: Do it., torque: '{written}'}}".replace("'{", "{").replace("}'", "}"))
    assert found.torque is not None
    assert found.torque.value == TorqueValue(
        text=text,
        amount=None if torque_typed is None else amount(torque_typed, "torque"),
        angle=None if angle is None else amount(angle, "angle"),
    )


@pytest.mark.parametrize(
    ("written", "name", "quantity"),
    [
        ("Ball", "Ball", 1),
        ("20 × Ball 3/16 in", "Ball 3/16 in", 20),
        ("20× Ball", "Ball", 20),
        ("20×Ball", "Ball", 20),
        ("20 x Ball", "Ball", 20),
        ("20x Ball", "Ball", 20),
        ("20 X Ball", "Ball", 20),
        ("20\u00a0×\u00a0Ball", "Ball", 20),
        ("10 × 10-32 screw", "10-32 screw", 10),
        ("6 × 8 mm washer", "8 mm washer", 6),
        ("Seal 25 × 35 × 7", "Seal 25 × 35 × 7", 1),
        ("608 bearing", "608 bearing", 1),
        ("2xl glove", "2xl glove", 1),
        ("{name: 8 × 7 × 40 key, quantity: 3}", "8 × 7 × 40 key", 3),
    ],
)
def test_a_part_may_say_its_quantity_before_its_name(
    written: str, name: str, quantity: int
) -> None:
    parts = model(f"assembly: a\nparts:\n  it: {written}\nsteps: {{fit: Fit it.}}").parts
    assert parts == (Part(id="it", name=name, quantity=quantity),)


@pytest.mark.parametrize(
    ("written", "groups"),
    [
        ("[[wipe, it]]", 1),
        ("[wipe, it]", 1),
        ("{steps: [wipe, it]}", 1),
        ("[{steps: [wipe, it], why: so}]", 1),
        ("[[wipe, it], [a, b]]", 2),
        ("[]", 0),
    ],
)
def test_how_groups_may_be_written(written: str, groups: int) -> None:
    text = f"assembly: x\nsteps: {{wipe: W., it: I., a: A., b: B.}}\ntogether: {written}"
    together = model(text).together
    assert [[link.to for link in group.steps] for group in together] == [
        ["wipe", "it"],
        ["a", "b"],
    ][:groups]


def test_ids_that_are_nowhere_listed_are_declared_by_use() -> None:
    found = model(
        """
        assembly: lamp
        steps:
          a: {do: Fit it., fits: [base, 2 screws], section: First, tools: 5 mm hex key}
          b: {do: Fit more., fits: 2 screws, onto: base, ways_in: {top: base}}
        """
    )
    assert [(part.id, part.quantity) for part in found.parts] == [("base", 1), ("screws", 4)]
    assert [tool.id for tool in found.tools] == ["5 mm hex key"]
    assert [section.id for section in found.sections] == ["First"]
    assert found.steps[1].section == "First"


def test_a_plain_name_in_a_section_is_a_section_before_it_is_a_step() -> None:
    found = model(
        """
        assembly: lamp
        sections: {base: Base, shade: {after: [base, wire]}}
        steps: {wire: {do: Wire it., section: base}, hang: {do: Hang it., section: shade}}
        """
    )
    assert found.sections[1].after == (Link("base", "section"), Link("wire", "step"))


def test_a_plain_name_in_a_step_is_a_step_before_it_is_a_section() -> None:
    text = "assembly: x\nsteps: {cap: {do: C., section: cap}, end: {do: E., after: cap}}"
    assert model(text).steps[1].after == (Link("cap", "step"),)


@pytest.mark.parametrize("nothing", ["", "null", "~", "[]", "{}", '""'])
@pytest.mark.parametrize("field", ["fits", "after", "ways_in", "torque", "largest", "time"])
def test_a_value_of_nothing_is_none(field: str, nothing: str) -> None:
    assert step(f"{{do: Do it., {field}: {nothing}}}") == step("{do: Do it.}")


@pytest.mark.parametrize("nothing", ["", "null", "~", "{}"])
def test_a_part_of_which_nothing_is_said_is_called_by_its_id(nothing: str) -> None:
    text = f"assembly: x\nparts:\n  jaw: {nothing}\nsteps: {{a: A.}}"
    (part,) = model(text).parts
    assert part == Part(id="jaw")
    assert part.label == "jaw"


def test_before_lists_take_the_same_forms() -> None:
    assert step("{do: D., before: {step: wipe, why: dust}}").before == (
        Link("wipe", "step", "dust"),
    )


def test_a_model_may_have_no_parts() -> None:
    assert model("assembly: x\nsteps: {look: Look at it.}").parts == ()


@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends_and_a_byte_order_mark_change_nothing(
    tmp_path: Path, mark: str, end: str
) -> None:
    file = tmp_path / "vice.yaml"
    file.write_bytes((mark + dedent(SMALL).replace("\n", end)).encode())
    reading = read_file(file)
    assert reading.problems == ()
    assert reading.assembly == model(SMALL)
    place = reading.place_of(("assembly",))
    assert place is not None
    assert (place.file, place.line, place.column) == (str(file), 1, 11)


@pytest.mark.parametrize("remark", ["# so", "#", "## so", "  # 5 of them", "  # see #7"])
def test_a_remark_is_no_part_of_the_value(remark: str) -> None:
    found = model(f"assembly: x {remark}\nsteps: {remark}\n  fit: {{do: F., time: 5 min}}\n")
    assert found.assembly == "x"
