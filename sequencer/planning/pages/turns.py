"""Pages of the findings about one order: what is wrong with it, and at whose turn."""

from __future__ import annotations

from sequencer.planning.pages.page import Page

_TURN = "error in an order of your own; warning in the written one where another works"

TURNS = (
    Page(
        code="shut-out",
        severity=_TURN,
        short="a step has no way in left at its turn",
        what="At its turn a step has no way in left: each is shut by a part that is on by then, "
        "if it was ever wide enough. The finding names the step that shut the last.",
        why="What shuts the way has to come off again, with every gasket, seal and locked thread "
        "that this spoils.",
        example="""\
assembly: screw-compressor
steps:
  strainer-in:
    do: Push the strainer on to its pipe in the sump.
    fits: strainer
    ways_in:
      side opening: cover
      drain opening: flange
  flange-on: {do: Bolt the drain flange on., fits: flange}
  cover-on: {do: Bolt the side cover on., fits: cover}
""",
        order=("cover-on", "flange-on", "strainer-in"),
        says="`strainer-in` has no way in left at its turn: `flange-on` has shut the last, "
        "“drain opening”",
        do="Move the step to before the one that shut its last way, or leave that part off for "
        "longer. If there is another way that the model does not know, write it under `ways_in`.",
    ),
    Page(
        code="not-yet",
        severity=_TURN,
        short="a step stands before one that must come first, or is barred",
        what="A step stands before something that it must follow. Or it stands inside a stretch "
        "in which it is barred: it says `not_while` of a state which has begun and not ended.",
        why="What the step needs is not there at its turn, or what it must not meet is.",
        example="""\
assembly: wheel-hub
steps:
  race-in: {do: Press the outer race home., fits: race}
  bearing-in: {do: Lay the packed bearing in., fits: bearing, onto: race}
  seal-in: {do: Tap the seal in flush., fits: seal, after: bearing-in}
""",
        order=("race-in", "seal-in", "bearing-in"),
        says="`seal-in` stands before `bearing-in`, which must come first",
        do="Move the step as the finding says. `plan` gives the nearest order that works, with "
        "`--from` the nearest to your own. If it can be done earlier after all, take the relation "
        "out of the model.",
    ),
    Page(
        code="stray",
        severity=_TURN,
        short="a step stands in between steps that go in together",
        what="A step stands in between steps that are one operation, and is not one of them: they "
        "are named under `together`, or they are a trial.",
        why="The operation is broken off half way. What the one step leaves unheld, unsealed or "
        "out of line stays so while other work goes on.",
        example="""\
assembly: lathe-apron
steps:
  upper-nut: {do: Hold the upper half nut on its slide., fits: upper-nut}
  lower-nut: {do: Bring the lower half nut up under it., fits: lower-nut}
  oiler: {do: Press the oiler in., fits: oiler}
together:
  - steps: [upper-nut, lower-nut]
    why: One cam holds both
""",
        order=("upper-nut", "oiler", "lower-nut"),
        says="`oiler` stands in between `upper-nut` and `lower-nut`, which go in together",
        do="Move it to before or after them. If it belongs to the operation, name it in the group.",
    ),
    Page(
        code="falls-out",
        severity=_TURN,
        short="the unit is turned over while something in it is loose",
        what="A step states another `position` than the one that has to be kept just then: from a "
        "step that says `leaves: loose` or `loosens` until that is made fast, and while a state "
        "with `keep: position` lasts. Only steps of the same unit that state a position count.",
        why="What only its weight holds falls out or shifts, and often nobody sees it happen.",
        example="""\
assembly: planet-stage
steps:
  planets-in:
    do: Stand the planet wheels with their needles in the ring.
    fits: planets
    position: ring upwards
    leaves: loose
  carrier-on:
    do: Lower the carrier on to the planet wheels and bolt it down.
    fits: carrier
    secures: planets-in
  plug-in:
    do: Drive the core plug into the underside.
    fits: plug
    position: ring downwards
""",
        order=("planets-in", "plug-in", "carrier-on"),
        says="`plug-in` turns the unit over "
        "while what `planets-in` left loose is not yet made fast",
        do="Make it fast before you turn the unit, or turn the unit before it goes in. Two names "
        "for one position count as two: write them alike.",
    ),
    Page(
        code="step-missing",
        severity="error",
        short="an order of yours lacks a step of the model",
        what="The list given with `--from` lacks a step that the model has. Of the steps of one "
        "entry under `one_of` it needs exactly one.",
        why="The unit would be put together without it. What is forgotten on the list is "
        "forgotten at the bench.",
        example="""\
assembly: lifting-cylinder
steps:
  wiper-in: {do: Press the wiper into the gland., fits: wiper}
  gland-on: {do: Slide the gland on to the rod., fits: gland}
  piston-on: {do: Screw the piston on to the rod., fits: piston}
""",
        order=("gland-on", "piston-on"),
        says="the order lacks `wiper-in`",
        do="Put it in: `plan --from` prints your order with the step in a place where it works. "
        "If the job is done without it, take it out of the model.",
    ),
    Page(
        code="one-too-many",
        severity="error",
        short="an order of yours has two steps of which one is done",
        what="The list given with `--from` has more than one of the steps of an entry under "
        "`one_of`. They are ways to do the same thing, and exactly one of them is done.",
        why="The work would be done twice; or the second undoes the first, or cannot be done "
        "after it.",
        example="""\
assembly: bottle-jack
steps:
  fill-upright: {do: Fill it by the plug with the ram in.}
  fill-lying: {do: Lay it down and fill it by the hose port.}
  bleed: {do: Pump ten strokes with the valve open.}
one_of:
  - steps: [fill-upright, fill-lying]
    before: bleed
""",
        order=("fill-upright", "fill-lying", "bleed"),
        says="`fill-lying` is one of several steps of which exactly one is done, and another is "
        "there",
        do="Keep the one you mean to do. If both are to be done, they are no alternatives: take "
        "the entry out of `one_of`.",
    ),
    Page(
        code="unknown",
        severity="error",
        short="a step named on the command line is not in the model",
        what="A step named on the command line, as in `--from`, is not in the model. The same word "
        "marks a name inside a model file which stands for nothing in it.",
        why="It cannot be put in the order, so that the list says less than you think. A slip in "
        "typing also shows as the step that is then missing.",
        example="""\
assembly: drill-chuck
steps:
  jaws-in: {do: Lay the jaws in by their numbers., fits: jaws}
  ring-on: {do: Press the ring on., fits: ring, after: jaws-in}
""",
        order=("stamp", "jaws-in", "ring-on"),
        says="the model has no step `stamp`",
        do="Write the step's id, the word before its colon under `steps`; `plan` shows them all. "
        "If the step is really done, put it in the model.",
    ),
    Page(
        code="stale",
        severity="note",
        short="a check is taken, then upset, and taken again later",
        what="A check is taken in more than one step, and in this order one of them stands before "
        "a step named in its `upset_by`. That reading no longer counts. The last written step "
        "that takes the check comes after all that upsets it.",
        why="A good figure on the sheet is then no proof of how the unit leaves the bench. To "
        "take it early may still be right: it saves work if it is bad.",
        example="""\
assembly: mill-spindle
checks:
  end-float:
    measure: End float of the spindle
    limit: 0.01 to 0.03 mm
    upset_by: gear-on
steps:
  nut-set: {do: Set the bearing nut., fits: nut, check: end-float}
  gear-on: {do: Press the drive gear on., fits: gear, after: nut-set}
  last-look: {do: Turn it by hand and measure again., check: end-float}
""",
        says="`nut-set` takes check `end-float` before `gear-on`, which upsets it: that reading "
        "does not count in the end",
        do="Nothing has to be done. Sign for the later reading, and take the check out of the "
        "earlier step if it serves nothing there.",
    ),
    Page(
        code="one-check-for-many",
        severity="note",
        short="a check is felt once for many steps that can upset it",
        what="A check by `feel` or `listen` is taken in one step only, and at least three steps "
        "of its `upset_by` wait for nothing else: it could be taken after each of them.",
        why="Such a check says that something is wrong, and not where. If it is bad after the "
        "last of them, all may have to come off to find the one.",
        example="""\
assembly: line-shaft
checks:
  free:
    feel: Turn the shaft by hand
    upset_by: [clamp-1, clamp-2, clamp-3]
steps:
  shaft-in: {do: Lay the shaft into its saddles., fits: shaft}
  clamp-1: {do: Close clamp 1., onto: shaft}
  clamp-2: {do: Close clamp 2., onto: shaft}
  clamp-3: {do: Close clamp 3., onto: shaft}
  turn: {do: Turn the shaft one turn., check: free}
""",
        says="`turn` takes check `free` once for 3 steps that can upset it, `clamp-1`, `clamp-2` "
        "and `clamp-3`",
        do="Write the check in each of these steps too, so that the first bad one shows. Leave it "
        "as it is where taking the check costs more than looking for the fault.",
    ),
    Page(
        code="unconfirmed",
        severity="warning",
        short="a point of no return may be passed before anybody has looked",
        what="A step says `undo: never`, and no step with a `check` or a `hold` has to come before "
        "it, in any order.",
        why="What is wrong behind glue, solder or resin is found when the cover is offered up, and "
        "then all of it is lost. A look before costs a minute.",
        example="""\
assembly: lamp-driver
steps:
  posts-in: {do: Press the four posts into the board., fits: posts}
  pot:
    do: Fill the box with resin.
    fits: resin
    after: posts-in
    undo: {never: It sets like stone}
""",
        says="`pot` cannot be undone, and nothing has to be checked or signed before it",
        do="Give the side, the size or the count that must be right a check of its own, in a step "
        "before, with `hold` for whoever has to sign; and name that step in `after`.",
    ),
)
