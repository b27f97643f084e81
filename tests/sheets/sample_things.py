"""What the invented hand winch is made of, and what is worked with and checked on it."""

from __future__ import annotations

from sequencer.model.checking import Check, Otherwise, Rework
from sequencer.model.common import Link, Size
from sequencer.model.fastening import Grade, Joint, Tool
from sequencer.model.parts import Part
from tests.sheets.making import after, amount, limit, links, shut_by, torque

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
    Part(id="circlip", name="Retaining ring 10 mm", quantity=4, spare=2, once=True),
    Part(id="spacer", name="Spacer tube", number="HW2-0110", quantity=4),
    Part(id="tie-bolt", name="Tie bolt M12 × 240", number="M12x240-8.8", quantity=4),
    Part(id="tie-nut", name="Prevailing-torque nut M12", quantity=4, renew="always"),
    Part(id="cover", name="Gear cover with gasket", number="HW2-0500"),
    Part(id="cover-screw", name="Screw M6 × 16", quantity=6),
    Part(id="crank", name="Crank handle", number="HW2-0600"),
    Part(id="crank-nut", name="Crank nut 1/2-13", quantity=1),
    Part(id="rope", name="Rope, 8 mm, 25 m, with thimble", number="R-8-25"),
    Part(id="clamp", name="Rope clamp plate", quantity=1),
    Part(id="wedge", name="Rope wedge 8 mm", number="W-8"),
    Part(id="shim", name="Shim 31 × 42 × 0.1", quantity=3),
    Part(id="sleeve", name="Seal protecting sleeve 30 mm", aid=True),
    Part(id="base-frame", name="Base frame", number="HW2-0001", at_start="fitted"),
    Part(id="strap", name="Transit strap", at_start="fitted"),
    Part(id="anchor-tape", name="Sealing tape at the feet", at_start="fitted", renew="always"),
)

TOOLS = (
    Tool(
        id="tw",
        name="Torque wrench, half inch",
        range_=amount("20 to 120 N·m"),
        reads=amount("1 N·m"),
    ),
    Tool(
        id="tw-flat",
        name="Torque wrench with flat head, 20 to 100 N·m",
        range_=amount("20 to 100 N·m"),
        needs=Size(value=amount("30 mm")),
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
        grade=Grade(name="8.8"),
        count=4,
        surface="oiled",
        torque=torque("65 N·m ± 5 %", "sheet"),
        why="Tighten across the corners, so that the plates stay square",
    ),
    Joint(id="cover-screws", thread="M6", count=6, torque=torque("8 to 9 N·m")),
    Joint(
        id="crank-joint", thread="1/2-13", grade=Grade(name="5"), torque=torque("45 ft-lb", "card")
    ),
    Joint(
        id="clamp-screws",
        thread="M8",
        grade=Grade(name="10.9"),
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
        upset_by=(Link("ease", "step", "the plates seat anew on the tubes"),),
    ),
    Check(id="depth", measure="Shoulder of the drum to the edge of the plate", with_="feeler"),
    Check(
        id="mesh",
        look="Tooth contact, marked with blue, over a whole turn of the drum",
        good="patch in the middle of the tooth, over half its length",
        bad="patch at an edge or a tip",
        needs_open=(shut_by("gear side", "cover", why="the blue is seen from here only"),),
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
