"""Pages of the findings about compounds, surfaces and times along one order."""

from __future__ import annotations

from sequencer.planning.pages.page import Page

COMPOUNDS = (
    Page(
        code="unprepared",
        severity="warning",
        short="a surface is not clean or dry where a compound wants it so",
        what="A compound says under `wants` how its surface must be, and in this order it is not "
        "so when a step puts the compound on: no step has cleaned it before, the step that did "
        "does not leave it so, something else was put on since, or it was longer ago than its "
        "`within` allows. Only clean and dry are judged: no step can leave anything else.",
        why="On oil or damp a locker does not set and a sealant does not stick. It looks right, "
        "and comes loose or leaks later.",
        example="""\
assembly: gate-hinge
compounds:
  locker: {name: Locking compound, wants: [clean, dry]}
steps:
  pin-in: {do: Push the pin through., fits: pin}
  screw-in:
    do: Put locking compound on the screw and run it home.
    fits: screw
    apply: {compound: locker, to: screw-thread}
""",
        says="`screw-in` puts `locker` on `screw-thread`, which is to be clean and dry, and no "
        "step cleans it",
        do="Write the step that cleans it, with `cleans` and `leaves: [clean, dry]`, and let the "
        "other come after it; add `within` if it does not stay clean for long.",
    ),
    Page(
        code="not-together",
        severity="error",
        short="two compounds that must not meet are put on one surface",
        what="Two compounds are put on one surface, one of them names the other under "
        "`not_with`, and in this order nothing cleans the surface in between. The order itself "
        "may work all the same.",
        why="The one keeps the other from setting or holding: a locker on an oiled thread stays "
        "wet for ever.",
        example="""\
assembly: feed-roll
compounds:
  oil: Machine oil
  locker: {name: Locking compound, not_with: oil}
steps:
  oil-it:
    do: Oil the thread.
    apply: {compound: oil, to: stud-thread}
  lock-it:
    do: Put locking compound on the thread and run the nut on.
    fits: nut
    apply: {compound: locker, to: stud-thread}
    after: oil-it
""",
        says="`lock-it` puts `locker` on `stud-thread`, over the `oil` that `oil-it` puts there, "
        "and they must not meet",
        do="Leave one of them out, or add a step that cleans the surface in between. If it is "
        "another surface, give it a name of its own.",
    ),
    Page(
        code="open-too-long",
        severity="warning",
        short="a bead is closed later than it stays open",
        what="From the end of the step that puts a compound on to the end of the last step that "
        "closes the surface over it more time passes than its `open` allows. The times of the "
        "steps are summed as one person does them; waits count too. Steps that can all be done "
        "before the bead, all else unchanged, are named.",
        why="The bead skins over. It seals nothing then, and both faces have to be cleaned and "
        "done afresh.",
        example="""\
assembly: oil-sump
compounds:
  sealant: {name: Sealant, open: 10 min}
steps:
  bead:
    do: Lay the bead.
    apply: {compound: sealant, to: rim}
    time: 3 min
  sort: {do: Sort the screws., time: 6 min}
  sump-on:
    do: Lift the sump on and tighten its screws.
    fits: sump
    after: bead
    closes: rim
    time: 8 min
""",
        says="`sump-on` closes `rim` 14 min after `bead` puts `sealant` on it, and that stays open "
        "for 10 min",
        do="Do what the finding names before the bead. If nothing can go there, share the work "
        "between two people, or take a compound that stays open for longer.",
    ),
    Page(
        code="too-late",
        severity="warning",
        short="a step begins later than `within` allows",
        what="A relation says `within`, and in this order more time passes from the end of the "
        "step that must come first to the beginning of the one that follows. Times are summed as "
        "one person does the steps, and a wait is served where it stands.",
        why="What the first step did does not last so long: it cools down, dries out, gathers "
        "rust, and has to be done afresh.",
        example="""\
assembly: cast-stove
steps:
  mix: {do: Mix the fire cement., time: 5 min}
  door-on: {do: Hang the door., fits: door, time: 25 min}
  joint:
    do: Fill the joint with cement.
    after: {step: mix, within: 20 min}
""",
        says="`joint` begins 25 min after `mix` ends, and at most 20 min is allowed",
        do="Do what stands in between before or after the two. If it is the `wait` of the second "
        "step that is longer, one of the two figures is wrong.",
    ),
    Page(
        code="loaded-too-soon",
        severity="warning",
        short="a surface is loaded before the compound on it has set",
        what="A step loads a surface sooner than the compound on it needs to set: its `fixture` or "
        "its `cure`, whichever is longer, counted from the end of the last step that closes the "
        "surface over it, else from the step that puts it on. A cure by temperature goes by "
        "`temperature` under `defaults`; between two rows the colder one's time holds.",
        why="It lets go or leaks, mostly not at once, and has to be taken apart and done afresh.",
        example="""\
assembly: water-trough
compounds:
  sealant: {name: Sealant, cure: 12 h}
steps:
  plug-in:
    do: Screw the plug in with sealant.
    fits: plug
    apply: {compound: sealant, to: plug-thread}
    closes: plug-thread
  fill:
    do: Fill the trough.
    after: {step: plug-in, wait: 2 h}
    loads: plug-thread
""",
        says="`fill` loads `plug-thread` 2 h after `plug-in`, and `sealant` on it needs 12 h to "
        "cure",
        do="Write the time as `wait` on the relation to the step before: it is then printed on the "
        "card as a time before which the step may not begin.",
    ),
    Page(
        code="cure-unknown",
        severity="warning",
        short="nobody can say when a compound has cured",
        what="A step loads a surface, and when the compound on it has cured cannot be told: its "
        "`cure` is a table by temperature, and the model does not say how warm it is where the "
        "work is done, or that is colder or warmer than any row.",
        why="A cure takes several times as long in the cold. A guess would look like a figure of "
        "the maker's.",
        example="""\
assembly: pump-seat
defaults: {temperature: 15 °C}
compounds:
  cement: {name: Seat cement, cure: {20 °C: 24 h, 40 °C: 3 h}}
steps:
  seat-in:
    do: Cement the seat in.
    fits: seat
    apply: {compound: cement, to: bore}
    closes: bore
  prove:
    do: Prove it at 2 bar.
    after: {step: seat-in, wait: 36 h}
    loads: bore
""",
        says="`prove` loads `bore`, and nobody can say when `cement` on it has cured: no time is "
        "given for 15 °C",
        do="Write how warm it is as `temperature` under `defaults`. Outside the table ask the "
        "maker and add his row, or bring the work into its range.",
    ),
    Page(
        code="too-hot",
        severity="warning",
        short="a part or a compound gets hotter than it bears",
        what="A step heats a part above its `hottest`, or a bearing without one above 120 °C. Or "
        "it heats something on which a compound lies that bears less: both steps handle, heat or "
        "build on one part, or the hot one closes or loads the surface. Or the shop is warmer "
        "than a compound bears.",
        why="The compound softens or burns and lets go; the steel of a bearing changes, and its "
        "seals and grease are spoiled. None of it can be seen.",
        example="""\
assembly: cane-handle
compounds:
  glue: {name: Glue, hottest: 80 °C}
steps:
  cane-in: {do: Take the cane up., fits: cane}
  tip-on:
    do: Glue the tip on.
    fits: tip
    onto: cane
    apply: {compound: glue, to: tip-bore}
  ring-on:
    do: Shrink the ring on.
    fits: ring
    onto: cane
    heat: {part: ring, to: 150 °C}
""",
        says="`ring-on` works at 150 °C on what `glue` is on since `tip-on`, and that bears 80 °C "
        "at the most",
        do="Do the hot step first where that works. Else keep the heat off, by distance or a wet "
        "cloth, and look at what the compound holds afterwards.",
    ),
)
