"""Pages of the findings about lengths of fasteners: too long, too short, or not known."""

from __future__ import annotations

from sequencer.planning.pages.page import Page

LENGTHS = (
    Page(
        code="bottoms-out",
        severity="error",
        short="a fastener comes to the bottom of its blind hole",
        what="What is left of the fastener's `length` beyond `grip` and `washers` is as long as "
        "the thread of its `hole` is deep, or longer, or ends nearer to the bottom than "
        "`keep_off`.",
        why="At the bottom the torque is reached and nothing is clamped: the wrench clicks, and "
        "the part is loose.",
        example="""\
assembly: aluminium-seat
joints:
  seat-screws: {length: 45 mm, grip: 25 mm, washers: 2.5 mm, hole: 15 mm}
steps:
  seat: {do: Tighten the seat screws., tighten: seat-screws}
""",
        says="the fastener of joint `seat-screws` is 2.5 mm too long for its hole: 17.5 mm "
        "of it go in",
        do="Use a shorter one, or measure the hole again: its full thread, not its drilled depth.",
    ),
    Page(
        code="needs-washers",
        severity="note",
        short="without its washers a fastener comes to the bottom",
        what="With its washers the fastener is clear of the bottom of its hole; without them it is "
        "not.",
        why="A washer left out is seen by nobody once the screw is in.",
        example="""\
assembly: aluminium-seat
joints:
  seat-screws: {length: 40 mm, grip: 25 mm, washers: 2.5 mm, hole: 15 mm}
steps:
  seat: {do: Tighten them with their washers., tighten: seat-screws}
""",
        says="without its washers the fastener of joint `seat-screws` just touches the "
        "bottom of its hole: 15 mm of it go in",
        do="Say in the step that the washers must be there, or use a shorter fastener.",
    ),
    Page(
        code="short-engagement",
        severity="warning",
        short="too little thread carries",
        what="Less thread is engaged than `least` says or, without it, than a rule for the "
        "material: 1 diameter in steel, 1.5 in iron and brass, 2 in aluminium.",
        why="The thread strips before the fastener is tight, or at the second time.",
        example="""\
assembly: aluminium-seat
joints:
  seat-screws:
    thread: M8
    length: 35 mm
    grip: 25 mm
    washers: 2.5 mm
    into: {material: aluminium, least: 12 mm}
steps:
  seat: {do: Tighten the seat screws., tighten: seat-screws}
""",
        says="7.5 mm of the thread of joint `seat-screws` carry, and in aluminium it should "
        "be 12 mm",
        do="Use a longer one, where the hole is deep enough. The maker's `least` comes before any "
        "rule.",
    ),
    Page(
        code="short-stand-out",
        severity="warning",
        short="a nut is not carried by its full height",
        what="Less than one pitch of thread shows beyond the nut (FAA AC 43.13-1B asks for one; "
        "other documents for two).",
        why="A nut that is not filled carries on fewer threads than it has.",
        example="""\
assembly: bracket
joints:
  bracket-bolts: {thread: M8, length: 30 mm, grip: 23.2 mm, nut: 6.8 mm}
steps:
  bracket: {do: Tighten the bracket bolts., tighten: bracket-bolts}
""",
        says="the fastener of joint `bracket-bolts` shows 0 mm of thread beyond its nut, and"
        " should show 1.25 mm",
        do="Use a longer bolt, or fewer washers.",
    ),
    Page(
        code="sticks-out",
        severity="error where a part needs the space, else a warning",
        short="a fastener reaches into a space that is needed",
        what="The fastener sticks out further than the `room` there is `behind` it.",
        why="What comes there later cannot be fitted, and by then the screw is out of reach.",
        example="""\
assembly: gantry
parts: {idler: Idler, camera-bracket: Camera bracket}
joints:
  idler-joint:
    length: 45 mm
    grip: 22 mm
    behind: {room: 10 mm, part: camera-bracket}
steps:
  idler: {do: Screw the idler on., fits: idler, tighten: idler-joint}
  camera: {do: Hang the bracket in., fits: camera-bracket, after: idler}
""",
        says="the fastener of joint `idler-joint` sticks out 23 mm, 13 mm more than the 10 "
        "mm that `camera-bracket` leaves it",
        do="Use a shorter one, or measure the space again. A margin to be kept is taken off "
        "`room`.",
    ),
    Page(
        code="length-unknown",
        severity="warning",
        short="nobody can tell how far a fastener goes",
        what="A joint has `hole`, `into`, `behind` or `nut`, and lacks the fastener's `length`, "
        "the `grip`, a known thread, or a rule for the material.",
        why="A fastener that is too long or too short would not be found.",
        example="""\
assembly: aluminium-seat
joints:
  seat-screws: {thread: M8, length: 35 mm, hole: 15 mm}
steps:
  seat: {do: Tighten the seat screws., tighten: seat-screws}
""",
        says="joint `seat-screws` has `hole`, and without `grip` nobody can tell how far its"
        " fastener goes",
        do="Measure and write what is missing: the length from under the head, the thickness "
        "clamped without washers, or the maker's least engagement.",
    ),
)
