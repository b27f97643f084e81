"""How the trade's numbers may be written: joints, readings, packs, compounds, heat and times."""

from __future__ import annotations

from fractions import Fraction
from textwrap import dedent

import pytest

from sequencer.model.assembly import Isolation
from sequencer.model.checking import Check, Computed, Reading
from sequencer.model.common import Limit, Link
from sequencer.model.compounds import Apply, Cold, Compound, CureTable, Heat, Surface
from sequencer.model.fastening import (
    ArmOn,
    Behind,
    Grade,
    Hole,
    Into,
    Joint,
    OtherTorque,
    PassValue,
    TighteningPass,
    Torque,
    TorqueValue,
    TurnLimit,
)
from sequencer.model.parts import Pack, Part, ShimSize
from sequencer.model.units import UNITS
from sequencer.problem import Problem
from sequencer.reading import read_text
from tests.reading.models import amount, model

MM = UNITS["length"]["mm"]


def torque(text: str) -> TorqueValue:
    return TorqueValue(text=text, amount=amount(text, "torque"))


def joint(fields: str) -> Joint:
    text = f"""
    assembly: press
    parts: {{guard: Guard}}
    compounds: {{locker: Locking compound}}
    joints: {{studs: {fields}}}
    steps: {{fit: {{do: Fit it., fits: guard, tighten: studs}}}}
    """
    return model(text).joints[0]


def fault(text: str) -> Problem:
    """Return the one problem of a model."""
    (problem,) = read_text(dedent(text), "model.yaml").problems
    return problem


def test_a_joint_with_all_that_is_known_of_it() -> None:
    written = """{
        thread: M8, grade: {proof: 970 MPa, source: maker}, count: 3, places: [top, left, right],
        surface: locker, pattern: inside out, at: [[0, 0], [-40 mm, 0.5 in], [40 mm, 0 mm]],
        length: 40 mm, grip: 25 mm, washers: 2.5 mm, nut: 6.5 mm,
        hole: {depth: 15 mm, keep_off: 1 mm}, into: {material: aluminium, least: 12 mm},
        behind: {room: 10 mm, part: guard}, adapter: {length: 60 mm, angle: 90°},
        drag: add, align: castle, why: soft metal}"""
    with pytest.raises(AssertionError):
        joint(written)  # of positions, some have a unit and some none
    assert joint(written.replace("[0, 0]", "[0 mm, 0 mm]")) == Joint(
        id="studs",
        thread="M8",
        grade=Grade(proof=amount("970 MPa", "pressure"), source="maker"),
        count=3,
        places=("top", "left", "right"),
        surface="locker",
        pattern="inside out",
        at=(
            (Fraction(0), Fraction(0)),
            (Fraction(-4, 100), Fraction(127, 10_000)),
            (Fraction(4, 100), Fraction(0)),
        ),
        length=amount("40 mm", "length"),
        grip=amount("25 mm", "length"),
        washers=amount("2.5 mm", "length"),
        nut=amount("6.5 mm", "length"),
        hole=Hole(depth=amount("15 mm", "length"), keep_off=amount("1 mm", "length")),
        into=Into(material="aluminium", least=amount("12 mm", "length")),
        behind=Behind(room=amount("10 mm", "length"), part=(Link("guard", "part"),)),
        adapter=ArmOn(length=amount("60 mm", "length"), angle=amount("90°", "angle")),
        drag="add",
        align="castle",
        why="soft metal",
    )


def test_what_other_sources_say_of_a_torque() -> None:
    found = joint(
        """{torque: {value: 60 ft-lb, source: book, because: the card is older, surface: oiled,
            grade: "8", also: [65 ft-lb, {value: 55 to 60 ft-lb, source: card, surface: dry}]}}"""
    )
    assert found.torque == Torque(
        value=torque("60 ft-lb"),
        source="book",
        because="the card is older",
        surface="oiled",
        grade="8",
        also=(
            OtherTorque(value=torque("65 ft-lb")),
            OtherTorque(value=torque("55 to 60 ft-lb"), source="card", surface="dry"),
        ),
    )


def test_each_pass_goes_to_a_share_a_torque_or_an_angle() -> None:
    found = joint(
        """{passes: [30 %, 42 N·m, back 180°, -180°, +80 to 90°,
            {value: 40 to 45°, name: second turn, why: in two goes}],
            turn_limit: {passes: second turn, most: 90°}}"""
    )
    half = amount("180°", "angle")
    assert [one.value for one in found.passes] == [
        PassValue("30 %", share=Fraction(3, 10)),
        PassValue("42 N·m", torque=amount("42 N·m", "torque")),
        PassValue("back 180°", angle=found.passes[2].value.angle, back=True),
        PassValue("-180°", angle=found.passes[3].value.angle, back=True),
        PassValue("+80 to 90°", angle=amount("80 to 90°", "angle")),
        PassValue("40 to 45°", angle=amount("40 to 45°", "angle")),
    ]
    for turned in found.passes[2:4]:
        assert turned.value.angle is not None
        assert turned.value.angle.value == half.value
    assert found.passes[-1] == TighteningPass(
        value=found.passes[-1].value, name="second turn", why="in two goes"
    )
    assert found.turn_limit == TurnLimit(passes=("second turn",), most=amount("90°", "angle"))


@pytest.mark.parametrize("written", ["0 %", "130 %", "0 N·m", "back 0 N·m", "a turn", "5 mm"])
def test_a_pass_that_goes_nowhere_is_refused(written: str) -> None:
    problem = fault(
        f"""
        assembly: x
        joints: {{j: {{passes: ["{written}"]}}}}
        steps: {{s: {{do: S., tighten: j}}}}
        """
    )
    assert problem.code == "figure"


@pytest.mark.parametrize("at", ["5", "[5, 6]", "[[1, 2, 3]]", "[[1], [2]]", "[[[1], 2]]"])
def test_positions_are_pairs(at: str) -> None:
    text = f"assembly: x\njoints: {{j: {{at: {at}}}}}\nsteps: {{s: {{do: S., tighten: j}}}}\n"
    assert fault(text).code == "wrong-kind"


def test_a_check_that_reckons_with_readings() -> None:
    found = model(
        """
        assembly: press
        tools: {dial: {name: Dial, reads: 0.01 mm}}
        checks:
          alignment:
            readings:
              top: Dial at 12 o'clock
              bottom: {ask: Dial at 6 o'clock, with: dial}
              gap: {is: 2.00 ± 0.02 mm}
            results:
              vertical: {compute: (bottom - top) / 2, limit: at most 0.05 mm}
              sum: top + bottom + gap
            each: [drive end, 2]
          bore: {measure: Bore, go: plug 10 H7, no_go: plug 10 H7 red}
        steps: {s: {do: S., check: [alignment, bore], tools: dial}}
        """
    ).checks
    assert found == (
        Check(
            id="alignment",
            readings=(
                Reading(name="top", ask="Dial at 12 o'clock"),
                Reading(name="bottom", ask="Dial at 6 o'clock", with_="dial"),
                Reading(name="gap", is_=amount("2.00 ± 0.02 mm", "length")),
            ),
            results=(
                Computed(
                    name="vertical",
                    compute="(bottom - top) / 2",
                    limit=Limit(value=amount("at most 0.05 mm", "length")),
                ),
                Computed(name="sum", compute="top + bottom + gap"),
            ),
            each=("drive end", "2"),
        ),
        Check(id="bore", measure="Bore", go="plug 10 H7", no_go="plug 10 H7 red"),
    )


def test_a_pack_of_shims_and_a_part_that_is_inspected() -> None:
    found = model(
        """
        assembly: press
        parts:
          shims:
            pack:
              sizes: [0.10 mm, 1.00 to 2.00 mm step 0.05 mm]
              at_most: 3
              start: 0.50 mm
              settled_by: float
              effect: +1 mm pack = -1 mm float
              aim: 0.10 mm
              rounding: 0-2 = 0, 3-7 = 5, 8-9 = 10
          shaft: {hottest: 120 °C, inspect: float}
        checks: {float: {measure: End float, limit: 0.05 to 0.15 mm}}
        steps: {s: {do: S., fits: [shims, shaft], check: float}}
        """
    ).parts
    assert found == (
        Part(
            id="shims",
            pack=Pack(
                sizes=(
                    ShimSize("0.10 mm", MM, Fraction(1, 10), Fraction(1, 10)),
                    ShimSize(
                        "1.00 to 2.00 mm step 0.05 mm",
                        MM,
                        Fraction(1),
                        Fraction(2),
                        Fraction(1, 20),
                    ),
                ),
                at_most=3,
                start=amount("0.50 mm", "length"),
                settled_by=(Link("float", "check"),),
                effect="+1 mm pack = -1 mm float",
                aim=amount("0.10 mm", "length"),
                rounding="0-2 = 0, 3-7 = 5, 8-9 = 10",
            ),
        ),
        Part(
            id="shaft",
            hottest=amount("120 °C", "temperature"),
            inspect=(Link("float", "check"),),
        ),
    )


@pytest.mark.parametrize(
    "size", ["0 mm", "at most 2 mm step 1 mm", "1 to 2 mm step 0 mm", "1 to 2 m step 0.001 mm", "x"]
)
def test_a_size_that_no_shim_has_is_refused(size: str) -> None:
    problem = fault(
        f"""
        assembly: x
        parts: {{p: {{pack: {{sizes: ["{size}"]}}}}}}
        steps: {{s: {{do: S., fits: p}}}}
        """
    )
    assert problem.code == "figure"


COMPOUNDS = """
    assembly: press
    parts: {gear: Gear, shaft: Shaft}
    compounds:
      paste:
        name: Jointing paste
        kind: sealant
        wants: [clean, dry]
        open: 15 min
        fixture: 20 min
        cure: {20 °C: 24 h, 10 °C: 72 h}
        hazards: [flammable, skin]
        not_with: oil
        hottest: 80 °C
        nut_factor: 0.15
      oil: {cure: 2 h}
    surfaces: {face: Joint face}
    defaults: {temperature: 18 °C, surface: oil}
    isolation: [{point: Motor switch, tag: "7", how: lock it}, Air valve]
    steps:
      wipe: {do: Wipe., cleans: face, leaves: [clean, dry], unattended: true, hazards: flammable}
      bead:
        do: Bead.
        apply: {compound: paste, to: face, amount: 3 mm bead}
        after: {step: wipe, within: 2 h, why: it rusts}
      close: {do: Close., closes: face, each: [1, 2], heat: {part: gear, to: 110 °C, cold: shaft}}
      run:
        do: Run.
        loads: face
        after: {step: close, wait: 24 h}
        apply: [{compound: oil, to: face}, {compound: paste, to: face}]
    """


def test_compounds_surfaces_and_the_steps_about_them() -> None:
    found = model(COMPOUNDS)
    paste, oil = found.compounds
    assert paste == Compound(
        id="paste",
        name="Jointing paste",
        kind="sealant",
        wants=("clean", "dry"),
        open=amount("15 min", "time"),
        fixture=amount("20 min", "time"),
        cure=CureTable(
            rows=(
                (amount("10 °C", "temperature"), amount("72 h", "time")),
                (amount("20 °C", "temperature"), amount("24 h", "time")),
            )
        ),
        hazards=("flammable", "skin"),
        not_with=(Link("oil", "compound"),),
        hottest=amount("80 °C", "temperature"),
        nut_factor=Fraction(3, 20),
    )
    assert oil == Compound(id="oil", cure=CureTable(amount("2 h", "time")))
    assert found.surfaces == (Surface(id="face", name="Joint face"),)
    assert found.defaults.temperature == amount("18 °C", "temperature")
    assert found.defaults.surface == "oil"
    assert found.isolation == (
        Isolation(point="Motor switch", tag="7", how="lock it"),
        Isolation(point="Air valve"),
    )
    wipe, bead, close, run = found.steps
    assert (wipe.cleans, wipe.leaves) == ((Link("face", "surface"),), ("clean", "dry"))
    assert (wipe.unattended, wipe.hazards) == (True, ("flammable",))
    assert bead.apply == (
        Apply(
            compound=(Link("paste", "compound"),),
            to=(Link("face", "surface"),),
            amount="3 mm bead",
        ),
    )
    assert bead.after == (Link("wipe", why="it rusts", within=amount("2 h", "time")),)
    assert (close.closes, close.each) == ((Link("face", "surface"),), ("1", "2"))
    assert close.heat == Heat(
        part=(Link("gear", "part"),),
        to=amount("110 °C", "temperature"),
        cold=Cold(part=(Link("shaft", "part"),)),
    )
    assert run.loads == (Link("face", "surface"),)
    assert run.after == (Link("close", wait=amount("24 h", "time")),)
    assert [one.compound[0].to for one in run.apply] == ["oil", "paste"]


def test_a_surface_is_declared_by_what_is_done_to_it() -> None:
    text = """
    assembly: press
    compounds: {paste: Paste}
    steps:
      wipe: {do: Wipe., cleans: face}
      bead: {do: Bead., apply: {compound: paste, to: [face, edge]}, closes: face, loads: edge}
    """
    assert model(text).surfaces == (Surface(id="face"), Surface(id="edge"))


def test_a_wait_stands_only_where_steps_follow_each_other() -> None:
    problem = fault(
        """
        assembly: x
        parts: {p: P}
        steps: {s: {do: S., fits: p}, t: {do: T., onto: {part: p, wait: 2 h}}}
        """
    )
    assert problem.code == "unknown-field"


def test_a_surface_that_only_one_choice_coats_may_be_loaded_in_every() -> None:
    text = """
    assembly: x
    options: {seal: {choices: [paste, ring], default: ring}}
    compounds: {paste: {cure: 1 h}}
    steps:
      bead: {do: Bead., apply: {compound: paste, to: face}, when: seal == paste}
      close: {do: Close., closes: face}
      run: {do: Run., loads: face, after: {step: close, wait: 1 h}}
    """
    assert read_text(dedent(text), "model.yaml").problems == ()


def test_a_temperature_stands_in_a_table_once() -> None:
    problem = fault(
        """
        assembly: x
        compounds: {c: {cure: {20 °C: 2 h, 68 °F: 3 h}}}
        steps: {s: {do: S., apply: {compound: c, to: face}}}
        """
    )
    assert problem.code == "duplicate-key"
    assert problem.message == "`68 °F` stands in the table twice"


@pytest.mark.parametrize("cure", ["{warm: 2 h}", "{20 °C: soon}", "[2 h]"])
def test_a_table_that_cannot_be_read_is_refused(cure: str) -> None:
    text = f"""
    assembly: x
    compounds: {{c: {{cure: {cure}}}}}
    steps: {{s: {{do: S., apply: c}}}}
    """
    assert fault(text).code in ("figure", "wrong-kind")


def test_of_what_can_only_be_one_several_are_refused() -> None:
    problem = fault(
        """
        assembly: x
        compounds: {oil: Oil, paste: Paste}
        steps: {s: {do: S., apply: {compound: [oil, paste]}}}
        """
    )
    assert problem.code == "wrong-kind"
    assert problem.message == "one compound is wanted here, and `oil` is not the only one"
