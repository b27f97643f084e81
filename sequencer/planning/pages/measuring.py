"""Pages of the findings about measuring: what checks reckon, and packs of shims."""

from __future__ import annotations

from sequencer.planning.pages.page import Page

MEASURING = (
    Page(
        code="formula",
        severity="error",
        short="a check cannot be reckoned from its readings",
        what="What stands under `compute` cannot be read, names what is no reading, adds unlike "
        "things such as a length and a force, or gives another quantity than its limit has. What "
        "a reading measures is known from its gauge's `reads` or from its own `is`; where it is "
        "not, the formula is at fault only if nothing that it could measure would do.",
        why="The builder would stand there with readings and no figure, or with a wrong one that "
        "looks like a right one.",
        example="""\
assembly: screw-jack
tools:
  depth: {name: Depth gauge, reads: 0.02 mm}
  scale: {name: Spring scale, reads: 1 N}
checks:
  play:
    readings:
      seat: Depth of the seat
      pull: {ask: Pull at the rim, with: scale}
    compute: seat - pull
    with: depth
    limit: 0.20 to 0.60 mm
steps:
  measure: {do: Measure the seat., check: play}
""",
        says="check `play` cannot be reckoned: `seat - pull` adds or takes away unlike things",
        do="Mend the formula, or the unit of what it is reckoned from. Names of readings have no "
        "hyphen, because that reads as a minus.",
    ),
    Page(
        code="unused-reading",
        severity="warning",
        short="a reading stands in no formula of its check",
        what="A check asks for a reading, and none of its formulas names it.",
        why="Either it is measured for nothing, or a formula lacks it and gives a wrong figure.",
        example="""\
assembly: bench-shear
checks:
  play:
    readings: {seat: Depth of the seat, ring: Ring, gasket: Gasket}
    compute: seat - ring
    limit: 0.10 to 0.30 mm
steps:
  measure: {do: Measure seat and ring and gasket., check: play}
""",
        says="reading `gasket` of check `play` stands in no formula",
        do="Put it into the formula that wants it, or take it out of `readings`.",
    ),
    Page(
        code="unjudged",
        severity="warning",
        short="a check gives a figure or a sign, and nothing says what is good",
        what="A check reckons a result that has no limit, takes readings that are held against "
        "nothing, or has only one of the two gauges `go` and `no_go`, or twice the same.",
        why="The builder has a figure and no way to judge it; with one gauge only, a hole that is "
        "wrong the other way passes.",
        example="""\
assembly: guide-rail
checks:
  bore: {measure: Bore of the slide, go: plug 10 H7}
steps:
  try: {do: Try the bore with the plug., check: bore}
""",
        says="check `bore` has a gauge that must go in, and none that must not",
        do="Write a `limit`, or the gauge that is missing. A result that nobody judges is better "
        "left out.",
    ),
    Page(
        code="pack",
        severity="warning",
        short="the model does not say what is needed to choose a pack of shims",
        what="A part is a pack of shims, and its sizes, what it does to the figure, or the check "
        "that settles it are missing or cannot be read; that check has no limit with both ends; "
        "or a rounding rule is no rule, or allows the total of no pack at all.",
        why="The card then has no table to choose from, and the builder guesses: which way shims "
        "work differs from one design to the next.",
        example="""\
assembly: wheel-head
parts:
  shims:
    name: Shims
    pack:
      sizes: [0.10 mm, 0.25 mm]
      settled_by: play
      effect: more pack means less play
checks:
  play: {measure: End play, limit: 0.05 to 0.15 mm}
trials:
  play-trial: {steps: [read], settles: shims}
steps:
  read: {do: Read the end play., check: play}
  shims-in: {do: Fit the chosen shims., fits: shims, after: read}
""",
        says="no pack of `shims` can be chosen: `more pack means less play` does not say what a "
        "pack does",
        do="Write `effect` as figures, such as `+1 mm pack = -1 mm play`, list the `sizes`, and "
        "name the check under `settled_by`.",
    ),
    Page(
        code="no-pack",
        severity="warning",
        short="no pack of the sizes at hand brings the figure into its limit",
        what="Every pack that the sizes make would want a figure below nothing, or the packs are "
        "farther apart than the limit is wide, so that most figures lie between two of them.",
        why="It shows when the unit is apart and measured, and then the job waits for shims.",
        example="""\
assembly: saw-spindle
parts:
  shims:
    name: Shims
    pack:
      sizes: [0.50 mm, 1.00 mm]
      settled_by: play
      effect: +1 mm pack = -1 mm play
checks:
  play: {measure: End play, limit: 0.05 to 0.15 mm}
trials:
  play-trial: {steps: [read], settles: shims}
steps:
  read: {do: Read the end play., check: play}
  shims-in: {do: Fit the chosen shims., fits: shims, after: read}
""",
        says="packs of `shims` are at least 0.5 mm apart, which is 0.5 mm of the figure of check "
        "`play`, and its limit is 0.1 mm wide",
        do="Get sizes between, or allow more shims with `at_most`. If no figure at all can be "
        "served, look at the sign of `effect`, and at `start`.",
    ),
    Page(
        code="unsettled",
        severity="error where the written order does so; warning where another one might",
        short="shims are fitted for good before a check has settled the pack",
        what="A step fits a pack of shims that nothing takes off again, and no step before it "
        "takes the check that settles the pack, nor is there a trial that does. Or one is written "
        "before it, but other valid orders fit the pack first. A check that leads back to the "
        "fitting when it fails (`else: again_from`) tries packs in rounds, and is no matter for "
        "this.",
        why="The pack is a guess, and all that is fitted over it comes off again.",
        example="""\
assembly: gear-head
parts:
  cap: Cap
  shims:
    name: Shims
    pack:
      sizes: [0.10 mm, 0.15 mm]
      settled_by: float
      effect: +1 mm pack = -1 mm float
checks:
  float: {measure: End float, limit: 0.05 to 0.15 mm}
steps:
  shims-in: {do: Fit the shims., fits: shims}
  cap-on: {do: Fit the cap., fits: cap, after: shims-in}
  read: {do: Read the end float., check: float, after: cap-on}
""",
        says="`shims-in` fits `shims` for good before check `float` has settled it",
        do="Measure first: in a trial with `settles`, which is taken apart again, or with a pack "
        "that comes off. Then write the measuring step under `after` of the one that fits it.",
    ),
    Page(
        code="tolerance-stack",
        severity="warning",
        short="known lengths may not add up to what a check asks",
        what="A check adds up lengths of which each is known with its tolerance: a figure of its "
        "own (`is`), or all widths along a line (`line`). The worst case has every length at its "
        "own worst end. Root-sum-square adds the tolerances as squares: what is likely if each "
        "size varies by itself, about the middle of its band. It is told which of them keeps the "
        "limit, if any.",
        why="Parts that are each good may not go together, and that shows when all of them are on.",
        example="""\
assembly: roller-shaft
parts: {shaft: Shaft, roller: Roller, ring: Snap ring}
lines:
  row:
    shaft: shaft
    ends: {left: shut, right: open}
    order:
      - {part: roller, width: 28 ± 0.04 mm}
      - {part: ring, width: 2 ± 0.03 mm}
checks:
  play:
    readings: {room: {is: 30.10 mm}, row: {line: row}}
    compute: room - row
    limit: 0.04 to 0.16 mm
steps:
  roller-on: {do: Put the roller on., fits: [shaft, roller]}
  ring-on: {do: Snap the ring in., fits: ring, check: play}
""",
        says="check `play` is met by root-sum-square, 0.05 to 0.15 mm, and not in the worst case, "
        "0.03 to 0.17 mm",
        do="Mend the figure that is wrong, if one is. Else measure at the bench what may be off, "
        "instead of taking it as known, and choose parts or shims by that.",
    ),
    Page(
        code="result-too-coarse",
        severity="warning (up to a quarter of the limit, note)",
        short="a figure of several readings is told too coarsely",
        what="What gauges may be off by adds up over the readings that a result is reckoned from. "
        "Told to more than a tenth of the limit it is a note, to more than a quarter a warning; "
        "to more than the whole of it, with what is open in figures known beforehand, nothing can "
        "be told. A limit with one end that is a mark of the gauge is left alone, and so are "
        "products of readings.",
        why="Near an end of the limit, what is bad passes and what is good does not. A difference "
        "of two good readings may be no reading at all.",
        example="""\
assembly: plummer-block
tools:
  caliper: {name: Caliper, reads: 0.02 mm}
checks:
  clearance:
    readings: {bore: Bore of the bush, journal: Journal}
    compute: bore - journal
    with: caliper
    limit: 0.025 to 0.050 mm
steps:
  measured: {do: Measure bush and journal., check: clearance}
""",
        says="check `clearance` cannot be told with this gauge: with `caliper` the figure is told "
        "to 0.04 mm, and the limit is 0.025 mm wide",
        do="Use gauges that read finer, or measure the figure itself, as with a feeler or a wire, "
        "in place of two sizes.",
    ),
    Page(
        code="cools-first",
        severity="warning",
        short="a heated part has less time than the step that fits it takes",
        what="A step heats a part and fits it, its `heat` says `fit_within`, and by its own stated "
        "`time` the step takes longer.",
        why="The part grips before it is home, and then it goes neither on nor off.",
        example="""\
assembly: grinder-spindle
steps:
  bearing-on:
    do: Heat the bearing and slide it on.
    fits: bearing
    heat: {part: bearing, to: 100 °C, fit_within: 1 min}
    time: 6 min
""",
        says="`bearing-on` takes 6 min, and `bearing`, hot, has to be in its place within 1 min",
        do="Lay shaft, sleeve and gloves ready in a step before, and let this one begin when the "
        "part comes out of the oven: its time is then that of sliding it on.",
    ),
    Page(
        code="still-tight",
        severity="warning",
        short="a heated part is still too tight for its seat",
        what="A step heats a part, a line gives its `bore` and its `seat`, and by the growth of "
        "steel (11.2 millionths for each kelvin, from the temperature under `defaults`, else "
        "20 °C) the bore is then still the smaller, or leaves less clearance than `slip` asks. A "
        "shaft that is chilled to meet it counts.",
        why="The part jams half way, cools, and grips there.",
        example="""\
assembly: roll-neck
lines:
  neck:
    shaft: roll
    ends: {neck: open, barrel: shut}
    order:
      - {part: ring, bore: 79.94 mm, seat: 80.02 mm}
steps:
  roll-laid: {do: Lay the roll in its blocks., fits: roll}
  ring-on:
    do: Heat the ring and slide it on.
    fits: ring
    heat: {part: ring, to: 100 °C}
""",
        says="`ring-on` heats `ring` to 100 °C, and if it is steel, its bore is then still "
        "0.0086 mm smaller than its seat",
        do="Heat it more, within what it bears; where that is not enough, chill the shaft too. "
        "Other metals grow more or less than steel: the maker's procedure comes first.",
    ),
)
