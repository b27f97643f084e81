"""Pages of the findings that say why no order exists, or that none was found."""

from __future__ import annotations

from sequencer.planning.pages.page import Page

DEADLOCKS = (
    Page(
        code="circle",
        severity="error",
        short="steps wait for each other, so none of them can be first",
        what="Steps wait for each other in a circle: one for the next, that for a third, and so "
        "on back to the first. A relation may be written (`after`, `before`) or follow from parts "
        "(`onto`, `takes_off`), checks, sections, units and states. The circle is told at its "
        "shortest, each relation with its line.",
        why="No order exists, so nothing can be planned. At the bench you would come to a step "
        "that waits for one which you cannot do yet either.",
        example="""\
assembly: bevel-gearbox
steps:
  shims:
    do: Choose the shims by the backlash and lay them in.
    fits: shims
    after: backlash
  crown-wheel:
    do: Lower the crown wheel on to its shims.
    fits: crown-wheel
    onto: shims
  backlash:
    do: Measure the backlash on four teeth.
    after: crown-wheel
""",
        says="`shims`, `crown-wheel` and `backlash` wait for each other in a circle, so none of "
        "them can be first",
        do="Look at each of the relations on the unit, and take out the one that is not really "
        "needed. Where a part is fitted only to be measured, as here, that fitting is a trial: "
        "make steps of it and name them under `trials`. Nothing of a trial stays, so that the "
        "part may go in for good afterwards.",
    ),
    Page(
        code="split-pair",
        severity="error",
        short="steps go in together, yet another must come in between",
        what="Steps under `together` are one operation with nothing foreign in between, yet a "
        "step outside the group, or a chain of such steps, must come after one of them and before "
        "another.",
        why="Whatever is done first, the pair gets torn apart, and with it goes the reason why "
        "they go in together: a spring that has to be held, a seal that rolls when it is loose.",
        example="""\
assembly: water-pump
steps:
  seal-on:
    do: Slide the rotating half of the seal on to the shaft.
    fits: seal
  key-in:
    do: Tap the key into the shaft.
    fits: key
    after: {step: seal-on, why: The edges of the key cut the seal}
  impeller-on:
    do: Push the impeller on until the seal spring is pressed.
    fits: impeller
    onto: key
together:
  - steps: [seal-on, impeller-on]
    why: Only the impeller holds the seal on its seat
""",
        says="`seal-on` and `impeller-on` must go in together, yet `key-in` would have to come in "
        "between",
        do="If the step in between is part of the operation, name it in the group too. Otherwise "
        "take out the relation that is not really needed, or the group.",
    ),
    Page(
        code="too-big",
        severity="error",
        short="a step fits through none of its ways in",
        what="Every way in of a step is shut for good, whatever the order: its `opening` is less "
        "than the largest part that goes through, its `room` less than a tool needs; along a line "
        "a part has to pass a seat or shoulder that it does not go over; or a part shuts it that "
        "is on from the start and stays on. An `opening`, `room` or `seat` that is not given is "
        "wide enough.",
        why="No order helps. You would find out with the part in your hand, when all that leads "
        "up to it is done.",
        example="""\
assembly: lathe-headstock
parts:
  back-gear: {name: Back gear, largest: 152 mm}
steps:
  back-gear-in:
    do: Lower the back gear in and hang it on its shaft.
    fits: back-gear
    ways_in:
      top cover: {opening: 140 mm}
      belt opening: {opening: 95 mm}
""",
        says="`back-gear-in` fits through none of its ways in",
        do="Measure both again. `largest` is the section that has to get through: for a wheel "
        "that goes in on edge, its width across and not its diameter. A step may state its own. "
        "If the sizes are right, the part goes in some other way: write that under `ways_in`.",
    ),
    Page(
        code="no-order",
        severity="error",
        short="no order works: ways in get shut before they are needed",
        what="No order works, and parts that shut ways in have to do with it: some step can only "
        "be reached before something which must come before it. The facts are told in the order "
        "in which one thing leads to the next. They alone leave no order; without any one of "
        "them there is one.",
        why="Whatever you do first, you end with something in your hand that no longer goes in. "
        "Each of the facts looks harmless by itself, so that this shows only at the very end.",
        example="""\
assembly: tool-cabinet
steps:
  back-on:
    do: Screw the back on.
    fits: back
  drawers-in:
    do: Run the drawers in.
    fits: drawers
    after: {step: back-on, why: The back squares the runners}
  lock-bar:
    do: Hang the lock bar behind the drawers.
    fits: lock-bar
    after: {step: drawers-in, why: It is set to the drawers}
    ways_in:
      front: drawers
      rear: back
""",
        says="`lock-bar` can be reached in no order: see what shuts each way in",
        do="Check each fact on the unit: one of them has to change. Look first for a relation "
        "that is only a habit, for a part that shuts less than was written, and for a way in that "
        "nobody thought of.",
    ),
    Page(
        code="undecided",
        severity="warning",
        short="no order was found, and it is not proved that there is none",
        what="The search for an order came to its bound on work: none was found, and no proof "
        "that there is none. This happens only where many parts come off again or many steps are "
        "barred for a while. Each of these leaves a choice, before or after, and the choices "
        "multiply.",
        why="Nothing is known to be wrong, but no order is known either. The bound counts work, "
        "not time: the answer is the same on every machine. `revise` has a bound of its own, on "
        "the sets of steps that might come out: of large models it looks into 200 sets at least, "
        "of small ones into 20,000 at most. Where it stops without a mend, it says this; where it "
        "has one that is not proved the least, it gives it, and says how much another may save.",
        example="""\
assembly: bookcase  # the kind, not the size: one choice is settled at once
parts:
  clamp: {name: Bar clamp, aid: true}
  shelf: Middle shelf
steps:
  clamp-on: {do: Clamp the glued sides., fits: clamp}
  glue-dry:
    do: Scrape off the glue that comes out.
    after: clamp-on
  shelf-in:
    do: Slide the shelf in from the front.
    fits: shelf
    after: glue-dry
    ways_in: {front: clamp}
  clamp-off: {do: Take the clamp off., takes_off: clamp, after: glue-dry}
""",
        do="Write the steps in the order in which you would do them, for that is tried first: "
        "here `clamp-off` above `shelf-in`. Then say more of what comes before what: an `after` "
        "that puts a step on one side of the stretch in which it is shut out leaves it no choice. "
        "After a mistake, name under `--redo` what you would take out anyway: what comes out with "
        "it need not be searched for.",
    ),
)
