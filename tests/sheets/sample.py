"""An invented job that uses everything a sheet can print: a hand winch with two gears."""

from __future__ import annotations

from sequencer.model.assembly import Assembly, Defaults, Prints, Source
from sequencer.model.common import Link
from sequencer.model.complete import complete
from sequencer.model.lines import Line, LineEnd, LinePlace
from sequencer.model.steps import Fit, OneOf, Section, State, Step, Together, Trial, Unit
from sequencer.planning.results import Plan, StepFacts
from tests.sheets.making import after, amount, fits, links, shut_by, tools, torque
from tests.sheets.sample_things import CHECKS, JOINTS, PARTS, TOOLS

FINGERPRINT = "7f3a·c91e"


STEPS = (
    Step(
        id="tag-on",
        section="plates",
        do="Hang the red tag on the winch and lock the hook away.",
        takes_off=links("part", "anchor-tape"),
        hold="works engineer",
    ),
    Step(
        id="strap-off",
        section="plates",
        do="Cut the transit strap and lift it off the base frame.",
        takes_off=(Link("strap", "part", "it has no place in the built winch"),),
        needs=(Link("tagged-out", "state", "the drum runs free without it"),),
    ),
    Step(
        id="clean",
        section="plates",
        do="Degrease both side plates and blow out the oil holes.\n\n"
        "Wipe each bore with a clean cloth: no lint, no swarf.",
        warning=(
            "The degreaser burns readily and its vapour creeps along the floor. No flame or "
            "heater within 3 m, open the door.",
        ),
        caution=("It dries the skin. Nitrile gloves.",),
        time=amount("15 min"),
        position="plates flat on the bench",
    ),
    Step(
        id="bushes",
        section="plates",
        do="Press a bush into each side plate from the inside until the flange seats.",
        fits=(Fit("plate-l"), Fit("plate-r"), Fit("bush", 2, "flange to the inside")),
        after=after("clean", why="grit pressed in with the bush scores the shaft"),
        tools=tools("press"),
        notice=("A bush entered askew cracks the plate. Start it by hand, a turn of the drift.",),
        time=amount("12 min"),
    ),
    Step(
        id="ream",
        section="plates",
        do="Measure both bushes.",
        check=links("check", "bush-bore"),
        after=after("bushes"),
        tools=tools("bore"),
        hold="inspector",
    ),
    Step(
        id="seals",
        section="plates",
        do="Press a seal into each plate from the outside, 1 mm under the face.",
        fits=(Fit("seal", 2, "lip to the inside, spring showing"),),
        after=after("ream"),
        ways_in=(shut_by("outside of the plates", "ratchet", "cover", opening="42.5 mm"),),
        time=amount("6 min"),
    ),
    Step(
        id="gear-on",
        section="drum",
        do="Key the drum gear on to the drum shaft, up to its shoulder.",
        fits=fits("drum-shaft", "gear-key", "gear"),
        after=after("clean"),
        time=amount("8 min"),
    ),
    Step(
        id="drum-on",
        section="drum",
        do="Slide the drum over the shaft against the gear.",
        fits=fits("drum"),
        onto=(Link("drum-shaft", "part", "the drum cannot pass the gear from the other side"),),
        people=2,
        caution=("The drum weighs 8.4 kg and rolls. Chock it before you let go.",),
    ),
    Step(
        id="pinion-in",
        section="pinion",
        do="Lay the sliding pinion and the selector fork together on the pinion shaft.",
        fits=(Fit("pinion-shaft"), Fit("slow-pinion", None, "dogs to the left"), Fit("fork")),
    ),
    Step(
        id="pinion-slide",
        section="pinion",
        do="Oil the shaft and slide the pinion from stop to stop.",
    ),
    Step(
        id="stand-left",
        section="frame",
        do="Stand the left plate on its edge in soft jaws.",
        after=(Link("plates", "section", "seals cannot be pressed in once the frame is closed"),),
        position="left plate upright in the vice",
    ),
    Step(
        id="trial-on",
        section="frame",
        do="Lay all shims on the left bush, enter the drum shaft and measure.",
        fits=fits("shim"),
        check=links("check", "depth"),
        after=after("stand-left", "drum-on"),
    ),
    Step(
        id="trial-off",
        section="frame",
        do="Draw the drum out and take the shims off. Keep as many as bring it level.",
        takes_off=links("part", "shim"),
        after=after("trial-on"),
    ),
    Step(
        id="sleeve-on",
        section="frame",
        do="Push the protecting sleeve over the end of the drum shaft.",
        fits=fits("sleeve"),
        after=after("drum-on"),
    ),
    Step(
        id="drum-in",
        section="frame",
        do="Enter the drum shaft into the left bush. Turn it as it goes, the seal lip is soft.",
        fits=fits("shim"),
        after=(
            *after("stand-left", "trial-off"),
            *after("sleeve-on", why="the keyway cuts the seal lip"),
        ),
        leaves=("loose",),
        ways_in=(shut_by("right side, open", "plate-r"), shut_by("top", "spacer", opening="60 mm")),
    ),
    Step(
        id="pinion-at",
        section="frame",
        do="Enter the pinion shaft beside it, teeth in mesh with the drum gear.",
        fits=fits("pinion-unit"),
        after=after("stand-left", "pinion-in"),
        ways_in=(shut_by("right side, open", "plate-r", opening="2 1/2 in"),),
    ),
    Step(
        id="sleeve-off",
        section="frame",
        do="Draw the protecting sleeve off through the bush.",
        takes_off=links("part", "sleeve"),
        after=after("drum-in"),
    ),
    Step(
        id="spacers",
        section="frame",
        do="Set the four spacer tubes over their holes.",
        fits=fits("spacer"),
        after=after("drum-in"),
    ),
    Step(
        id="close",
        section="frame",
        do="Lower the right plate over both shafts until it sits on the spacer tubes.",
        after=after("spacers", "pinion-at"),
        people=2,
        warning=("The plate shears fingers between itself and the tubes. Hold it by its rim.",),
        note=("If it stops short, a spacer tube is askew: lift, never hammer.",),
    ),
    Step(
        id="ties-in",
        section="frame",
        do="Push the tie bolts through and run the nuts down by hand.",
        fits=(Fit("tie-bolt", 4, "heads on the left"), Fit("tie-nut", 4)),
        after=after("close"),
        leaves=("loose",),
    ),
    Step(
        id="ties-tight",
        section="frame",
        do="Tighten the tie bolts across the corners, in two rounds.",
        tighten=links("joint", "ties"),
        tools=tools("tw tw-flat"),
        secures=(*after("ties-in"), *after("drum-in")),
        after=after("ties-in"),
        ways_in=(shut_by("beside the gear", "cover", room="45 mm"),),
        check=links("check", "float"),
        time=amount("10 min"),
    ),
    Step(
        id="ease",
        section="frame",
        do="Ease the tie bolts by half a turn and seat the plates with four light blows.",
        loosens=(Link("ties", "joint", "tubes pinched askew settle only when they are free"),),
        after=after("ties-tight"),
    ),
    Step(
        id="ties-again",
        section="frame",
        do="Tighten the tie bolts again, in one round.",
        tighten=links("joint", "ties"),
        tools=tools("tw tw-flat"),
        check=links("check", "float"),
        after=after("ease"),
    ),
    Step(
        id="mesh-check",
        section="frame",
        do="Blue three teeth and turn the drum once.",
        check=links("check", "mesh"),
        after=after("ties-tight"),
        by="gear fitter",
        hold="works engineer",
    ),
    Step(
        id="springs",
        section="brake",
        do="Hook a spring into each pawl.",
        fits=fits("pawl", "pawl-spring"),
    ),
    Step(
        id="pawls-on",
        section="brake",
        do="Hang both pawls on their pins and snap the rings in.",
        fits=(Fit("pawl-pin"), Fit("circlip", 4)),
        tools=tools("pliers"),
        after=after("springs", "ties-tight"),
        caution=("Rings fly. Eye protection on, and a hand over the ring.",),
        ways_in=(shut_by("outside of the left plate", "ratchet"),),
    ),
    Step(
        id="hub-on",
        section="brake",
        do="Screw the brake hub on to the pinion shaft up to its stop.",
        fits=fits("hub"),
        after=after("ties-tight"),
    ),
    Step(
        id="disc-one",
        section="brake",
        do="Slide a friction disc, the ratchet wheel and the other disc on to the hub, dry.",
        fits=(Fit("disc", 2), Fit("ratchet", None, "teeth sloping away from the pawls")),
        after=(*after("pawls-on"), *after("hub-on", why="the discs pass only over the bare hub")),
        notice=("Grease on a disc lets the load run away later. Clean hands.",),
    ),
    Step(
        id="crank-on",
        section="brake",
        do="Screw the crank on until it nips the discs, fit the nut.",
        fits=fits("crank", "crank-nut"),
        tighten=links("joint", "crank-joint"),
        tools=tools("tw"),
        after=after("disc-one"),
    ),
    Step(
        id="listen",
        section="brake",
        do="Turn the crank through one turn.",
        check=links("check", "pawls"),
        after=after("crank-on"),
    ),
    Step(
        id="cover-on",
        section="finish",
        do="Fit the gear cover. Screws in by hand first, then tighten from the middle outwards.",
        fits=(Fit("cover", None, "drain hole down"), Fit("cover-screw", 6)),
        tighten=links("joint", "cover-screws"),
        tools=tools("tw-small"),
        after=after("mesh-check"),
    ),
    Step(
        id="feet",
        section="finish",
        do="Tighten the anchor bolts of the base frame.",
        fits=fits("anchor-tape"),
        tighten=links("joint", "foot"),
        after=after("ties-tight"),
        torque=torque("finger tight", why="The jack screws only steady the frame"),
    ),
    Step(
        id="rope-on",
        section="finish",
        do="Clamp the rope end, three dead turns on the drum.",
        fits=fits("rope", "clamp"),
        tighten=links("joint", "clamp-screws"),
        after=after("cover-on"),
    ),
    Step(
        id="rope-wedged",
        section="finish",
        do="Wedge the rope end in the pocket of the drum, three dead turns on the drum.",
        fits=fits("rope", "wedge"),
        warning=("A wedge driven from the wrong side lets go under load.",),
        after=after("cover-on"),
        torque=torque("9 N·m", "card"),
        hold="rope inspector",
    ),
    Step(
        id="tag-off",
        section="finish",
        do="Take the red tag off and bring the hook back.",
        after=after("rope-on"),
    ),
    Step(
        id="prove",
        section="finish",
        do="Lift 500 kg by 200 mm, hold for 5 min, lower.",
        check=links("check", "pull", "brake"),
        after=after("rope-on", "listen"),
        warning=(
            "A rope under load cuts. Nobody in line with it, nobody under the load.",
            "Keep both hands on the crank until the pawls have clicked.",
        ),
        hold="inspector",
        not_while=links("state", "tagged-out"),
        people=2,
        time=amount("1 h 10 min"),
    ),
)


def winch() -> Assembly:
    return complete(
        Assembly(
            assembly="winch-500",
            title="Hand winch, two gears, 500 kg: strip, renew the brake, rebuild",
            issue="C",
            notice="Invented for demonstration. Not for use on real equipment.",
            scope="Rebuild on the bench with new seals and friction discs. The base frame and the "
            "rope's own inspection are another job.",
            wear=("safety glasses", "nitrile gloves", "safety shoes"),
            warning=("A load that slips kills. No load on the hook until the proving step.",),
            caution=("Sharp edges on the side plates.",),
            prints=Prints(torque=("N·m", "ft·lbf"), length=("mm", "in")),
            sources=(
                Source(id="sheet", name="Maker's data sheet 7, issue 2"),
                Source(id="card", name="Workshop card, undated"),
            ),
            defaults=Defaults(surface="dry"),
            parts=PARTS,
            tools=TOOLS,
            joints=JOINTS,
            checks=CHECKS,
            sections=(
                Section(id="plates", title="Side plates"),
                Section(id="drum", title="Drum"),
                Section(id="pinion", title="Pinion", unit="pinion-unit", in_order=True),
                Section(id="frame", title="Frame"),
                Section(
                    id="brake",
                    title="Brake",
                    after=after("ties-tight", why="the brake pulls on a square frame only"),
                ),
                Section(id="finish", title="Cover, rope and proving"),
            ),
            steps=STEPS,
            together=(
                Together(
                    steps=after("drum-in", "pinion-at"),
                    why="the gear and the pinion only pass each other side by side",
                ),
                Together(steps=after("hub-on", "disc-one", "crank-on")),
            ),
            units=(Unit(id="pinion-unit", name="Pinion unit", base=links("part", "pinion-shaft")),),
            trials=(
                Trial(
                    id="level",
                    steps=after("trial-on", "trial-off"),
                    settles=links("part", "shim"),
                    why="no two drums are turned to the same length",
                ),
            ),
            lines=(
                Line(
                    id="drum-line",
                    shaft=links("part", "drum-shaft"),
                    ends=(LineEnd(name="gear end"), LineEnd(name="plain end")),
                    order=(
                        LinePlace(part=links("part", "gear"), bore=amount("34 mm")),
                        LinePlace(shoulder=amount("38 mm")),
                        LinePlace(part=links("part", "drum"), bore=amount("32 mm")),
                    ),
                ),
            ),
            one_of=(
                OneOf(
                    steps=after("rope-on", "rope-wedged"),
                    before=after("tag-off"),
                    why="older drums have no thread for the clamp",
                ),
            ),
            states=(
                State(
                    id="tagged-out",
                    begins=after("tag-on"),
                    ends=after("tag-off"),
                    why="nobody may hang a load on it meanwhile",
                ),
                State(
                    id="upright",
                    begins=after("stand-left"),
                    ends=after("ties-again"),
                    keep="position",
                    why="the shafts slide out of a plate laid flat",
                ),
            ),
        )
    )


ORDER = tuple(step.id for step in STEPS if step.id != "rope-wedged")
_UPRIGHT = ORDER[ORDER.index("stand-left") : ORDER.index("ties-again")]


def winch_plan() -> Plan:
    return Plan(
        order=ORDER,
        moves=0,
        fewest=True,
        steps={
            "seals": StepFacts(ways_in=("outside of the plates",), until="spacers"),
            "drum-in": StepFacts(ways_in=("right side, open",)),
            "pinion-at": StepFacts(ways_in=("right side, open",), until="spacers"),
            "close": StepFacts(last_chance_for=("drum-in", "pinion-at")),
            "pawls-on": StepFacts(ways_in=("outside of the left plate",)),
            "hub-on": StepFacts(last_chance_for=("pawls-on",)),
            "cover-on": StepFacts(last_chance_for=("seals",)),
            "springs": StepFacts(until="ties-tight"),
            "gear-on": StepFacts(ways_in=("gear end",)),
            "drum-on": StepFacts(ways_in=("plain end",)),
            "ties-tight": StepFacts(ways_in=("beside the gear",)),
            "mesh-check": StepFacts(ways_in=("gear side",)),
        },
        rest_after=tuple(step for step in ORDER if step not in (*_UPRIGHT, "hub-on", "disc-one")),
        fallbacks={"rope-on": ("rope-wedged",)},
    )
