"""An invented job that uses everything a sheet can print: a hand winch with two gears."""

from __future__ import annotations

from sequencer.model.assembly import (
    Assembly,
    Check,
    Defaults,
    Fit,
    Joint,
    Limit,
    Link,
    Otherwise,
    Part,
    Prints,
    Rework,
    Section,
    Size,
    Source,
    Step,
    Together,
    Tool,
    Torque,
    TorqueValue,
    WayIn,
)
from sequencer.model.complete import complete
from sequencer.model.quantities import Amount, read_amount
from sequencer.planning.results import Plan, StepFacts

FINGERPRINT = "7f3a·c91e"


def amount(text: str) -> Amount:
    return read_amount(
        text, ("torque", "length", "mass", "time", "force", "angle", "temperature", "pressure")
    )


def torque(text: str, source: str = "", why: str = "", angle: str = "") -> Torque:
    plain = text.partition(" then ")[0]
    value = TorqueValue(
        text=text,
        amount=amount(plain) if plain[0].isdigit() else None,
        angle=amount(angle) if angle else None,
    )
    return Torque(value=value, source=source, why=why)


def limit(text: str, source: str = "", why: str = "") -> Limit:
    return Limit(value=amount(text), source=source, why=why)


def after(*steps: str, why: str = "") -> tuple[Link, ...]:
    return tuple(Link(step, why=why) for step in steps)


def links(kind: str, *names: str) -> tuple[Link, ...]:
    return tuple(Link(name, kind) for name in names)


def fits(*names: str) -> tuple[Fit, ...]:
    return tuple(Fit(name) for name in names)


def shut_by(name: str, *parts: str, opening: str = "", why: str = "") -> WayIn:
    size = Size(value=amount(opening)) if opening else None
    return WayIn(name=name, opening=size, shut_by=links("part", *parts), why=why)


PARTS = (
    Part(id="plate-l", name="Side plate, left", number="HW2-0101", mass=amount("6.2 kg")),
    Part(id="plate-r", name="Side plate, right", number="HW2-0102", mass=amount("6.2 kg")),
    Part(id="drum", name="Drum, 90 mm core", number="HW2-0200", mass=amount("8.4 kg")),
    Part(id="drum-shaft", name="Drum shaft, 30 mm", number="HW2-0210"),
    Part(id="bush", name="Flanged bush 30 × 36 × 25", number="30-36-25 FB", quantity=2),
    Part(id="seal", name="Shaft seal 30 × 42 × 7", number="0030427", quantity=2, renew="always"),
    Part(id="gear", name="Drum gear, 60 teeth", number="HW2-0220"),
    Part(id="gear-key", name="Key 8 × 7 × 32", number="DIN 6885"),
    Part(id="pinion-shaft", name="Pinion shaft with 12 teeth", number="HW2-0300"),
    Part(id="slow-pinion", name="Sliding pinion, 15 teeth", number="HW2-0310"),
    Part(id="fork", name="Selector fork", number="HW2-0320"),
    Part(id="ratchet", name="Ratchet wheel", number="HW2-0400"),
    Part(id="disc", name="Friction disc", number="HW2-0410", quantity=2, renew="always"),
    Part(id="hub", name="Brake hub, 2½ start thread", number="HW2-0420"),
    Part(id="pawl", name="Pawl", number="HW2-0430", quantity=2),
    Part(id="pawl-spring", name="Pawl spring", quantity=2, once=True),
    Part(id="pawl-pin", name="Pawl pin ⌀ 10 mm", quantity=2),
    Part(id="circlip", name="Retaining ring 10 mm", quantity=4, once=True),
    Part(id="spacer", name="Spacer tube", number="HW2-0110", quantity=4),
    Part(id="tie-bolt", name="Tie bolt M12 × 240", number="M12x240-8.8", quantity=4),
    Part(id="tie-nut", name="Prevailing-torque nut M12", quantity=4, renew="always"),
    Part(id="cover", name="Gear cover with gasket", number="HW2-0500"),
    Part(id="cover-screw", name="Screw M6 × 16", quantity=6),
    Part(id="crank", name="Crank handle", number="HW2-0600"),
    Part(id="crank-nut", name="Crank nut 1/2-13", quantity=1),
    Part(id="rope", name="Rope, 8 mm, 25 m, with thimble", number="R-8-25"),
    Part(id="clamp", name="Rope clamp plate", quantity=1),
)

TOOLS = (
    Tool(
        id="tw",
        name="Torque wrench, half inch",
        range_=amount("20 to 120 N·m"),
        reads=amount("1 N·m"),
    ),
    Tool(id="tw-small", name="Torque wrench 2 to 25 N·m", range_=amount("2 to 25 N·m")),
    Tool(id="bore", name="Bore gauge", reads=amount("0.01 mm")),
    Tool(
        id="feeler", name="Feeler gauges", range_=amount("0.05 to 1.00 mm"), reads=amount("0.05 mm")
    ),
    Tool(id="press", name="Arbor press with 36 mm drift"),
    Tool(id="pliers", name="Retaining ring pliers"),
)

JOINTS = (
    Joint(
        id="ties",
        name="Tie bolts",
        thread="M12",
        grade="8.8",
        count=4,
        surface="oiled",
        torque=torque("65 N·m ± 5 %", "sheet"),
        why="Tighten across the corners, so that the plates stay square",
    ),
    Joint(id="cover-screws", thread="M6", count=6, torque=torque("8 to 9 N·m")),
    Joint(id="crank-joint", thread="1/2-13", grade="5", torque=torque("45 ft-lb", "card")),
    Joint(
        id="clamp-screws",
        thread="M8",
        grade="10.9",
        count=2,
        torque=torque("20 N·m then 90°", "sheet", angle="90°"),
    ),
    Joint(id="foot", thread="M16", count=80, torque=torque("12 kgf·m", "card")),
)

CHECKS = (
    Check(
        id="bush-bore",
        measure="Bore of each bush, pressed in, at two places 90° apart",
        with_="bore",
        limit=limit("30.02 to 30.06 mm", "sheet", "A tight bush seizes when the winch is warm"),
        rework=Rework(limit=limit("29.99 to 30.02 mm"), how="Ream by hand, then measure again."),
        else_=Otherwise(renew=links("part", "bush")),
    ),
    Check(
        id="float",
        measure="End float of the drum shaft",
        with_="feeler",
        limit=limit("0.2 to 0.5 mm"),
        else_=Otherwise(
            again_from=after("spacers"),
            change="Fit the next shorter set of spacer tubes.",
            most=4,
        ),
    ),
    Check(
        id="mesh",
        look="Tooth contact, marked with blue, over a whole turn of the drum",
        good="patch in the middle of the tooth, over half its length",
        bad="patch at an edge or a tip",
        else_=Otherwise(stop="works engineer", accept_by="works engineer"),
    ),
    Check(
        id="pawls",
        listen="Both pawls while the crank turns slowly",
        good="two clicks a tooth, evenly",
        bad="one pawl silent",
        else_=Otherwise(renew=links("part", "pawl-spring")),
    ),
    Check(
        id="pull",
        measure="Pull at the crank for 500 kg on the rope",
        with_="spring balance 0 to 300 N",
        limit=limit("at most 180 N", "card"),
    ),
    Check(
        id="brake", feel="Lower the load, let go of the crank", good="stops at once", bad="runs on"
    ),
)

STEPS = (
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
        tools=links("tool", "press"),
        notice=("A bush entered askew cracks the plate. Start it by hand, a turn of the drift.",),
        time=amount("12 min"),
    ),
    Step(
        id="ream",
        section="plates",
        do="Measure both bushes.",
        check=links("check", "bush-bore"),
        after=after("bushes"),
        tools=links("tool", "bore"),
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
        section="drum",
        do="Lay the sliding pinion and the selector fork together on the pinion shaft.",
        fits=(Fit("pinion-shaft"), Fit("slow-pinion", None, "dogs to the left"), Fit("fork")),
    ),
    Step(
        id="stand-left",
        section="frame",
        do="Stand the left plate on its edge in soft jaws.",
        after=(Link("plates", "section", "seals cannot be pressed in once the frame is closed"),),
        position="left plate upright in the vice",
    ),
    Step(
        id="drum-in",
        section="frame",
        do="Enter the drum shaft into the left bush. Turn it as it goes, the seal lip is soft.",
        after=after("stand-left", "drum-on"),
        leaves="loose",
        ways_in=(shut_by("right side, open", "plate-r"), shut_by("top", "spacer", opening="60 mm")),
    ),
    Step(
        id="pinion-at",
        section="frame",
        do="Enter the pinion shaft beside it, teeth in mesh with the drum gear.",
        after=after("stand-left", "pinion-in"),
        ways_in=(shut_by("right side, open", "plate-r", opening="2 1/2 in"),),
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
        leaves="loose",
    ),
    Step(
        id="ties-tight",
        section="frame",
        do="Tighten the tie bolts across the corners, in two rounds.",
        tighten=links("joint", "ties"),
        tools=links("tool", "tw"),
        secures=(*after("ties-in"), *after("drum-in")),
        after=after("ties-in"),
        check=links("check", "float"),
        time=amount("10 min"),
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
        tools=links("tool", "pliers"),
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
        tools=links("tool", "tw"),
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
        tools=links("tool", "tw-small"),
        after=after("mesh-check"),
    ),
    Step(
        id="feet",
        section="finish",
        do="Tighten the anchor bolts of the base frame.",
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
                Section(id="drum", title="Drum and pinion"),
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
        )
    )


def winch_plan() -> Plan:
    return Plan(
        order=tuple(step.id for step in STEPS),
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
        },
    )
