"""Pages of the findings about how a joint is tightened: wrenches, adapters, passes, order."""

from __future__ import annotations

from sequencer.planning.pages.page import Page

TIGHTENING = (
    Page(
        code="outside-range",
        severity="warning",
        short="a torque wrench is set outside its range, and another would do",
        what="No wrench that the step names is between a fifth and the whole of its scale at what "
        "it would be set to; another tool of the model is. With an adapter it is the setting that "
        "counts, not the torque.",
        why="A big wrench is not to be trusted at the bottom of its scale, where its mark is a "
        "guess.",
        example="""\
assembly: valve-cover
defaults: {source: Sheet of the valve}
tools:
  big: {range: 10 to 150 ft-lb}
  small: {range: 20 to 200 in-lb}
joints:
  cover-screws: {torque: 106 in-lb}
steps:
  cover: {do: Tighten the cover screws., tighten: cover-screws, tools: big}
""",
        says="`big` is outside its range for `106 in-lb` of joint `cover-screws`: it would "
        "be set to 8.83 ft·lbf, and is used from 30 to 150 ft·lbf",
        do="Use the wrench that is named. A fifth of the scale is common practice; where the "
        "wrench's own certificate goes lower, mind that.",
    ),
    Page(
        code="no-tool",
        severity="warning",
        short="no torque wrench of the model reaches a torque",
        what="At what they would be set to, all torque wrenches under `tools` are below a fifth of "
        "their scale, or past its end.",
        why="The step cannot be done with what there is; better to know before the unit is open.",
        example="""\
assembly: wheel
defaults: {source: Sheet of the wheel}
tools:
  tw: {range: 20 to 100 N·m}
joints:
  wheel-nuts: {torque: 140 N·m}
steps:
  wheel: {do: Tighten the wheel nuts., tighten: wheel-nuts, tools: tw}
""",
        says="no torque wrench of the model reaches `140 N·m` of joint `wheel-nuts`",
        do="Get a wrench that reaches it and add it to `tools`, or mend the `range` of the one "
        "there.",
    ),
    Page(
        code="unreadable",
        severity="warning",
        short="a torque wrench has no mark inside the band",
        what="The wrench reaches the torque, and none of its marks (`reads`) lies in the band that "
        "the figure allows. A figure without a band has that of a setting wrench: 4 %, and 6 % up "
        "to 10 N·m.",
        why="Set to the mark beside it, the wrench leaves the band.",
        example="""\
assembly: bearing-cap
defaults: {source: Sheet of the cap}
tools:
  tw: {range: 20 to 100 N·m, reads: 5 N·m}
joints:
  cap-screws: {torque: 47.5 N·m ± 2 %}
steps:
  cap: {do: Tighten the cap screws., tighten: cap-screws, tools: tw}
""",
        says="`tw` has no mark for `47.5 N·m ± 2 %` of joint `cap-screws`: none lies from "
        "46.6 N·m to 48.4 N·m, at 5 N·m a division",
        do="Use a wrench with finer divisions, or ask the maker whether the band may be wider.",
    ),
    Page(
        code="adapter-setting",
        severity="note",
        short="an adapter changes what the wrench is set to, or does not",
        what="A joint has an `adapter`. Its setting is T·L/(L + E·cos θ); it is told where the "
        "torque itself, set by mistake, would leave the band. At 90° no correction is due, and "
        "that is told too.",
        why="In line an adapter lengthens the wrench, and the fastener gets more than the scale "
        "shows. No adapter is too short to matter as such.",
        example="""\
assembly: union
defaults: {source: Sheet of the union}
tools:
  tw: {range: 100 to 600 ft-lb, length: 18 in}
joints:
  union-nut: {torque: 300 ft-lb, adapter: 6 in}
steps:
  union: {do: Tighten the union nut., tighten: union-nut, tools: tw}
""",
        says="`tw` with the adapter is set to 225 ft·lbf for joint `union-nut`",
        do="Set what is printed, keep the adapter at its angle, and pull at the middle of the "
        "grip. `length` of a wrench is measured from there to its square.",
    ),
    Page(
        code="adapter-unknown",
        severity="warning",
        short="the setting with an adapter cannot be told",
        what="A joint has an `adapter` that lies along the wrench, and the wrench has no `length`; "
        "or the adapter reaches back to its grip.",
        why="Without the correction the fastener gets more, or less, than the scale shows.",
        example="""\
assembly: union
defaults: {source: Sheet of the union}
tools:
  tw: {range: 100 to 600 ft-lb}
joints:
  union-nut: {torque: 300 ft-lb, adapter: 6 in}
steps:
  union: {do: Tighten the union nut., tighten: union-nut, tools: tw}
""",
        says="`tw` has no `length`, and its setting with the adapter needs it, for joint "
        "`union-nut`",
        do="Measure the wrench from the middle of its grip to its square, and write that as its "
        "`length`. Or hold the adapter square to it: `angle: 90°`.",
    ),
    Page(
        code="pass-without-torque",
        severity="warning",
        short="a pass is a share of no torque",
        what="A pass is a share, such as `30 %`, and the joint has no torque, or `finger tight`.",
        why="Nobody knows what to set.",
        example="""\
assembly: end-cover
joints:
  cover-screws: {count: 4, passes: [50 %, 100 %]}
steps:
  cover: {do: Tighten the cover screws., tighten: cover-screws}
""",
        says="pass 1 of joint `cover-screws` is `50 %` of no torque",
        do="Write the joint's `torque`, or a torque for each pass.",
    ),
    Page(
        code="pass-order",
        severity="warning",
        short="passes fall, stand still, or back off what is not tight",
        what="A pass goes to no more than the one before, with no backing off in between; or the "
        "first pass backs off. The highest torque may be repeated.",
        why="A pass that is not above the one before turns nothing: two have changed places, or a "
        "digit is lost.",
        example="""\
assembly: head
defaults: {source: Sheet of the head}
joints:
  head-bolts: {count: 10, torque: 69 N·m, passes: [42 N·m, 29 N·m, 69 N·m]}
steps:
  head: {do: Tighten the head bolts., tighten: head-bolts}
""",
        says="the passes of joint `head-bolts` fall: `42 N·m`, then `29 N·m`",
        do="Put them in rising order. Where the bolts are backed off in between, that is a pass: "
        "`back 180°`.",
    ),
    Page(
        code="pass-short",
        severity="warning",
        short="the passes do not end at the figure",
        what="The last torque among the passes is not the torque of the joint.",
        why="The builder would stop at one and sign for the other.",
        example="""\
assembly: head
defaults: {source: Sheet of the head}
joints:
  head-bolts: {count: 10, torque: 69 N·m, passes: [29 N·m, 42 N·m]}
steps:
  head: {do: Tighten the head bolts., tighten: head-bolts}
""",
        says="the last torque of the passes of joint `head-bolts` is `42 N·m`, and its "
        "figure is `69 N·m`",
        do="End the passes at the figure, or mend it. Shares end at 100 % by themselves.",
    ),
    Page(
        code="turn-limit",
        severity="warning",
        short="the angles of passes contradict the limit on their sum",
        what="The angles of the passes that `turn_limit` names come to more than it allows: always "
        "(then the two contradict each other), or where each is at the top of its own band.",
        why="Instructions that are renumbered end up with a limit on the wrong passes; and a bolt "
        "turned too far is stretched beyond use without anybody seeing it.",
        example="""\
assembly: head
defaults: {source: Sheet of the head}
joints:
  head-bolts:
    count: 10
    torque: 42 N·m
    passes:
      - 42 N·m
      - {value: 80 to 90°, name: first turn}
      - {value: 40 to 45°, name: second turn}
      - {value: 40 to 45°, name: third turn}
    turn_limit: {passes: [first turn, second turn], most: 90°}
steps:
  head: {do: Tighten the head bolts., tighten: head-bolts}
""",
        says="the limit on `first turn` and `second turn` of joint `head-bolts` contradicts "
        "them: they come to at least 120°, and 90° is the most",
        do="Look up which passes the limit is for, and name those; or stop each pass early enough.",
    ),
    Page(
        code="no-such-pass",
        severity="warning",
        short="a limit on turns names no pass that turns",
        what="`turn_limit` names something that is no pass of the joint, or one that is not turned "
        "by an angle.",
        why="The limit would be held against nothing.",
        example="""\
assembly: head
defaults: {source: Sheet of the head}
joints:
  head-bolts:
    count: 10
    torque: 42 N·m
    passes:
      - 42 N·m
      - {value: 40 to 45°, name: first turn}
    turn_limit: {passes: second turn, most: 90°}
steps:
  head: {do: Tighten the head bolts., tighten: head-bolts}
""",
        says="`turn_limit` of joint `head-bolts` names `second turn`, which is no pass of it",
        do="Give the passes that it is for a `name` each, and name those.",
    ),
    Page(
        code="count-differs",
        severity="warning",
        short="more or fewer names or positions than fasteners",
        what="`places` or `at` of a joint has not as many entries as its `count` says.",
        why="The sheet has a box for each fastener, by the name or the place that it has.",
        example="""\
assembly: end-cover
defaults: {source: Sheet of the cover}
joints:
  cover-screws: {count: 4, places: [top, left, right], torque: 10 N·m}
steps:
  cover: {do: Tighten the cover screws., tighten: cover-screws}
""",
        says="joint `cover-screws` has 4 fasteners and 3 names of them",
        do="Count the fasteners on the unit, and mend the one that is wrong.",
    ),
    Page(
        code="no-pattern",
        severity="warning",
        short="the order of a pattern cannot be given",
        what="The `pattern` cannot be drawn up: `inside out` without positions, two fasteners in "
        "one place, or over 500 of them.",
        why="The sheet numbers the fasteners in the order in which they are tightened.",
        example="""\
assembly: oil-pan
defaults: {source: Sheet of the pan}
joints:
  pan-screws: {count: 6, torque: 10 N·m, pattern: inside out}
steps:
  pan: {do: Tighten the pan screws., tighten: pan-screws}
""",
        says="the order of tightening joint `pan-screws` cannot be given: inside out needs "
        "to know where the fasteners are",
        do="Write where each fastener sits, right and up: `at: [[0, 0], [40, 0], …]`.",
    ),
)
