"""A whole model with an aid, a line, a check that is upset, and `all`: read exactly."""

from __future__ import annotations

import pytest

from sequencer.model.assembly import Assembly, Defaults, Prints, Source
from sequencer.model.checking import Check, Otherwise
from sequencer.model.common import Limit, Link, Size, WayIn
from sequencer.model.fastening import Grade, Joint, Tool, Torque, TorqueValue
from sequencer.model.lines import EndValue, Line, LineEnd, LinePlace
from sequencer.model.parts import Part
from sequencer.model.steps import Fit, Section, Step, Together
from tests.reading.models import amount, model

TEXT = """\
    assembly: cylinder-40
    title: Double-acting hydraulic cylinder, 40 mm bore, reseal
    issue: B
    notice: Invented for demonstration. Not for use on real equipment.
    prints: {torque: [N·m, ft·lbf], length: [mm, in]}      # first large, second small
    sources:
      sheet-12: Maker's data sheet 12, issue 3
    defaults: {source: sheet-12}
    parts:
      barrel: {name: Barrel, mass: 9.5 kg}
      rod: {name: Piston rod, mass: 3.2 kg}
      gland: Gland
      rod-seal: {name: Rod seal 25 × 35 × 7, renew: always}
      piston: {name: Piston, largest: 39.9 mm}
      piston-nut: {name: Piston nut, renew: always, spare: 1}
      retainer: {name: Retaining ring, once: true}
      thread-sleeve: {name: Seal protecting sleeve, aid: true}
    tools:
      tw-40-200: {name: Torque wrench 40 to 200 N·m, range: 40 to 200 N·m, reads: 2 N·m}
      bore-gauge: {name: Bore gauge, reads: 0.01 mm}
    joints:
      nut-joint:
        thread: M16×1.5
        grade: "8.8"
        surface: oiled
        torque: {value: 150 N·m ± 5 %, source: sheet-12}
    lines:
      rod-line:
        shaft: rod
        ends: {eye: shut, thread: open}
        order:
          - {part: gland, bore: 25 mm, seat: 25 mm, od: 48 mm, width: 40 mm}
          - {part: piston, bore: 16 mm, seat: 16 mm, od: 39.9 mm, width: 28 mm}
          - {part: piston-nut, bore: 16 mm, seat: 16 mm, od: 24 mm, width: 12 mm}
    checks:
      gland-bore:
        measure: Gland bore
        with: bore-gauge
        limit: 25.02 to 25.06 mm
        else: renew gland
      feel:
        feel: Push the rod through its stroke by hand
        good: even, no catch
        bad: catch or grating
        else: {again_from: into-barrel}
        upset_by: [ring-in]
    steps:
      seal-in-gland:
        section: Gland
        do: Fold the rod seal and seat it in the gland groove, lips to the pressure side.
        fits: rod-seal
        check: gland-bore
        time: 6 min
      rod-in-vice:
        section: Rod
        do: Clamp the rod level in soft jaws with the thread end out.
        fits: rod
        position: level in vice
      sleeve-on:
        do: Push the protecting sleeve over the thread.
        fits: thread-sleeve
        onto: rod
      gland-on:
        do: Slide the gland over the sleeve on to the rod, wiper outwards.
        fits: {gland: wiper outwards}
        after: [seal-in-gland, sleeve-on]
        caution: Thread crests cut seal lips. Keep the sleeve on.
      sleeve-off: {do: Take the sleeve off., takes_off: thread-sleeve, after: gland-on}
      piston-on: {do: Slide the piston on to its shoulder., fits: piston, after: sleeve-off}
      nut-tight:
        do: Run the nut down and tighten.
        fits: piston-nut
        after: {step: piston-on, why: the nut holds it}
        tighten: nut-joint
        tools: tw-40-200
        hold: inspector
      into-barrel:
        section: Barrel
        do: Enter the piston square to the bore and push the rod assembly home.
        fits: barrel
        largest: 39.9 mm
        after: nut-tight
        people: 2
        ways_in:
          open end of the barrel: {opening: 40 mm, shut_by: retainer}
          base port: {opening: 12 mm}
      ring-in: {do: Fit the retaining ring and tug it., fits: retainer, after: into-barrel}
      try: {do: Push the rod through its stroke., check: feel, after: all}
    together:
      - steps: [piston-on, nut-tight]
        why: A loose piston rolls the seal
    """

TORQUE = TorqueValue(text="150 N·m ± 5 %", amount=amount("150 N·m ± 5 %", "torque"))
LINE = Line(
    id="rod-line",
    shaft=(Link("rod", "part"),),
    ends=(
        LineEnd(name="eye", is_=EndValue("shut")),
        LineEnd(name="thread", is_=EndValue("open")),
    ),
    order=(
        LinePlace(
            part=(Link("gland", "part"),),
            bore=amount("25 mm"),
            seat=amount("25 mm"),
            od=amount("48 mm"),
            width=amount("40 mm"),
        ),
        LinePlace(
            part=(Link("piston", "part"),),
            bore=amount("16 mm"),
            seat=amount("16 mm"),
            od=amount("39.9 mm"),
            width=amount("28 mm"),
        ),
        LinePlace(
            part=(Link("piston-nut", "part"),),
            bore=amount("16 mm"),
            seat=amount("16 mm"),
            od=amount("24 mm"),
            width=amount("12 mm"),
        ),
    ),
)
STEPS = (
    Step(
        id="seal-in-gland",
        section="Gland",
        do="Fold the rod seal and seat it in the gland groove, lips to the pressure side.",
        fits=(Fit("rod-seal"),),
        check=(Link("gland-bore", "check"),),
        time=amount("6 min", "time"),
    ),
    Step(
        id="rod-in-vice",
        section="Rod",
        do="Clamp the rod level in soft jaws with the thread end out.",
        fits=(Fit("rod"),),
        position="level in vice",
    ),
    Step(
        id="sleeve-on",
        section="Rod",
        do="Push the protecting sleeve over the thread.",
        fits=(Fit("thread-sleeve"),),
        onto=(Link("rod", "part"),),
    ),
    Step(
        id="gland-on",
        section="Rod",
        do="Slide the gland over the sleeve on to the rod, wiper outwards.",
        fits=(Fit("gland", None, "wiper outwards"),),
        after=(Link("seal-in-gland"), Link("sleeve-on")),
        caution=("Thread crests cut seal lips. Keep the sleeve on.",),
    ),
    Step(
        id="sleeve-off",
        section="Rod",
        do="Take the sleeve off.",
        takes_off=(Link("thread-sleeve", "part"),),
        after=(Link("gland-on"),),
    ),
    Step(
        id="piston-on",
        section="Rod",
        do="Slide the piston on to its shoulder.",
        fits=(Fit("piston"),),
        after=(Link("sleeve-off"),),
    ),
    Step(
        id="nut-tight",
        section="Rod",
        do="Run the nut down and tighten.",
        fits=(Fit("piston-nut"),),
        after=(Link("piston-on", "step", "the nut holds it"),),
        tighten=(Link("nut-joint", "joint"),),
        tools=((Link("tw-40-200", "tool"),),),
        hold="inspector",
    ),
    Step(
        id="into-barrel",
        section="Barrel",
        do="Enter the piston square to the bore and push the rod assembly home.",
        fits=(Fit("barrel"),),
        largest=Size(value=amount("39.9 mm")),
        after=(Link("nut-tight"),),
        people=2,
        ways_in=(
            WayIn(
                name="open end of the barrel",
                opening=Size(value=amount("40 mm")),
                shut_by=(Link("retainer", "part"),),
            ),
            WayIn(name="base port", opening=Size(value=amount("12 mm"))),
        ),
    ),
    Step(
        id="ring-in",
        section="Barrel",
        do="Fit the retaining ring and tug it.",
        fits=(Fit("retainer"),),
        after=(Link("into-barrel"),),
    ),
    Step(
        id="try",
        section="Barrel",
        do="Push the rod through its stroke.",
        check=(Link("feel", "check"),),
        after=(Link("all", "all"),),
    ),
)


@pytest.fixture(scope="module")
def cylinder() -> Assembly:
    return model(TEXT)


def test_the_parts_and_what_they_are_fitted_with(cylinder: Assembly) -> None:
    assert cylinder.parts == (
        Part(id="barrel", name="Barrel", mass=amount("9.5 kg")),
        Part(id="rod", name="Piston rod", mass=amount("3.2 kg")),
        Part(id="gland", name="Gland"),
        Part(id="rod-seal", name="Rod seal 25 × 35 × 7", renew="always"),
        Part(id="piston", name="Piston", largest=Size(value=amount("39.9 mm"))),
        Part(id="piston-nut", name="Piston nut", renew="always", spare=1),
        Part(id="retainer", name="Retaining ring", once=True),
        Part(id="thread-sleeve", name="Seal protecting sleeve", aid=True),
    )
    assert cylinder.tools == (
        Tool(
            id="tw-40-200",
            name="Torque wrench 40 to 200 N·m",
            range_=amount("40 to 200 N·m"),
            reads=amount("2 N·m"),
        ),
        Tool(id="bore-gauge", name="Bore gauge", reads=amount("0.01 mm")),
    )
    assert cylinder.joints == (
        Joint(
            id="nut-joint",
            thread="M16×1.5",
            grade=Grade(name="8.8"),
            surface="oiled",
            torque=Torque(value=TORQUE, source="sheet-12"),
        ),
    )


def test_the_checks(cylinder: Assembly) -> None:
    assert cylinder.checks == (
        Check(
            id="gland-bore",
            measure="Gland bore",
            with_="bore-gauge",
            limit=Limit(value=amount("25.02 to 25.06 mm")),
            else_=Otherwise(renew=(Link("gland", "part"),)),
        ),
        Check(
            id="feel",
            feel="Push the rod through its stroke by hand",
            good="even, no catch",
            bad="catch or grating",
            else_=Otherwise(again_from=(Link("into-barrel"),)),
            upset_by=(Link("ring-in"),),
        ),
    )


def test_the_line(cylinder: Assembly) -> None:
    assert cylinder.lines == (LINE,)


def test_the_steps(cylinder: Assembly) -> None:
    assert cylinder.steps == STEPS


def test_there_is_nothing_else(cylinder: Assembly) -> None:
    assert cylinder == Assembly(
        assembly="cylinder-40",
        title="Double-acting hydraulic cylinder, 40 mm bore, reseal",
        issue="B",
        notice="Invented for demonstration. Not for use on real equipment.",
        prints=Prints(torque=("N·m", "ft·lbf"), length=("mm", "in")),
        sources=(Source(id="sheet-12", name="Maker's data sheet 12, issue 3"),),
        defaults=Defaults(source="sheet-12"),
        sections=(Section(id="Gland"), Section(id="Rod"), Section(id="Barrel")),
        parts=cylinder.parts,
        tools=cylinder.tools,
        joints=cylinder.joints,
        checks=cylinder.checks,
        lines=cylinder.lines,
        steps=cylinder.steps,
        together=(
            Together(
                steps=(Link("piston-on"), Link("nut-tight")), why="A loose piston rolls the seal"
            ),
        ),
    )
