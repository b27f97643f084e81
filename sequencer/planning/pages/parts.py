"""Pages of the findings about parts: counted over the steps, not there, or left as they are."""

from __future__ import annotations

from sequencer.planning.pages.page import Page

PARTS = (
    Page(
        code="never-fitted",
        severity="error",
        short="a part that no step fits",
        what="A part stands under `parts`, and no step names it in its `fits`. Parts that are on "
        "from the start (`at_start: fitted`) are not meant.",
        why="It would lie on the bench when the unit is closed.",
        example="""\
assembly: sump-pump
parts:
  float: Float with its arm
  bottom: Bottom strainer
  drain-plug: Drain plug 1/4 in
steps:
  float-on: {do: Hang the float on its pin., fits: float}
  bottom-on: {do: Clip the bottom strainer on., fits: bottom}
""",
        says="no step fits `drain-plug`",
        do="Name it in the `fits` of the step that fits it. If it is not needed, take it out of "
        "`parts`.",
    ),
    Page(
        code="fitted-twice",
        severity="error",
        short="a step fits a part of which nothing is left",
        what="At one of the steps that fit a part there is nothing left of it: there is only one, "
        "or an earlier step takes all. A plain name in `fits` means all of it that is not yet "
        "on.",
        why="At the second step you would look for a part that is already in; most often one of "
        "the two is a slip.",
        example="""\
assembly: idler-hub
parts:
  hub: Hub
  circlip: Circlip 62 × 2
steps:
  bearing-side: {do: Fit the circlip behind the bearing., fits: circlip}
  hub-on: {do: Push the hub on to its stub., fits: hub}
  outer-side: {do: Fit the circlip on the outer side., fits: circlip}
""",
        says="`circlip` is fitted more than once, by `bearing-side` and `outer-side`",
        do="Keep one of the steps; or, if there are several of the part, write its quantity "
        "(`2 × Circlip`) and how many each step fits (`fits: 1 circlip`). If it comes off in "
        "between, the step that does it says `takes_off`.",
    ),
    Page(
        code="miscounted",
        severity="error",
        short="the steps fit more or fewer of a part than there are",
        what="The steps together fit more or fewer of a part than its quantity says. Those "
        "stated as `spare` come on top of it, and are to be left over.",
        why="Too few, and the job stops at the last step for want of a screw. Too many, and one "
        "is left over that belongs somewhere.",
        example="""\
assembly: gear-pump
parts:
  front-cover: Front cover
  rear-cover: Rear cover
  screws: 8 × Cap screw M8 × 25
steps:
  front: {do: Bolt the front cover on., fits: [front-cover, 4 screws]}
  rear: {do: Bolt the rear cover on., fits: [rear-cover, 3 screws]}
""",
        says="there are 8 of `screws`, but `front` and `rear` fit 7",
        do="Count on the unit, holes as well as screws, and mend whichever figure is wrong. What "
        "is to be left over is stated as `spare`.",
    ),
    Page(
        code="not-there",
        severity="error",
        short="a step takes off, or builds on, a part that is not on",
        what="A step takes a part off, or builds `onto` it, and no step has fitted it by then, "
        "nor is it on from the start. With parts that come off again the written order says "
        "which fitting is meant.",
        why="The step cannot be done as it stands. Where a fitting is missing from the model, "
        "nothing that depends on it is planned either.",
        example="""\
assembly: lathe-spindle
parts:
  transport-lock: Red transport lock
  chuck: Chuck
steps:
  unlock: {do: Take the transport lock off., takes_off: transport-lock}
  chuck-on: {do: Screw the chuck on., fits: chuck, after: unlock}
""",
        says="`unlock` takes off `transport-lock`, which is not on",
        do="Name it in the `fits` of an earlier step; or, if it is on before the job begins, as "
        "here, write `at_start: fitted` for the part.",
    ),
    Page(
        code="left-loose",
        severity="error",
        short="something is left loose for good",
        what="A step says `leaves: loose`, or `loosens` something, and no other step makes it "
        "fast: none names it in `secures`, or tightens that joint again.",
        why="The unit would be closed with it loose. Such a model has no valid order.",
        example="""\
assembly: belt-reducer
steps:
  cap-on:
    do: Run the bearing cap screws down finger tight.
    fits: cap
    leaves: loose
  align:
    do: Turn the shaft until the cap has found its place.
    after: cap-on
""",
        says="`cap-on` leaves something loose, and no step makes it fast",
        do="Add the step that tightens it, with `secures` and the id of the step that left it "
        "loose. If such a step is there, that line is missing in it.",
    ),
    Page(
        code="left-on",
        severity="error",
        short="an aid is never taken off again",
        what="A part marked `aid: true` is fitted for a time only, and no step takes it off after "
        "the last that fits it.",
        why="A guide, sleeve or clamp would be shut in the unit. Such a model has no valid order.",
        example="""\
assembly: pump-casing
parts:
  guide-pins: {name: Guide pins, quantity: 2, aid: true}
  casing-half: Upper casing half
steps:
  pins-in: {do: Screw the guide pins into the flange., fits: guide-pins}
  half-on:
    do: Lower the upper half over the guide pins.
    fits: casing-half
    after: pins-in
""",
        says="`pins-in` fits `guide-pins`, an aid, and no later step takes it off",
        do="Write `takes_off` in the step that takes it off, or add that step. If the part stays "
        "in the unit, it is no aid: take the mark off.",
    ),
)
