"""Pages of the findings about the kit: matched sets, bags, and what has to be bought."""

from __future__ import annotations

from sequencer.planning.pages.page import Page

KIT = (
    Page(
        code="matched-alone",
        severity="warning",
        short="a matched set of one part",
        what="A part says `matched` with the name of a set, and no other part names that set, nor "
        "are there several of it.",
        why="A set is there so that parts that ran together stay together: each is marked before "
        "it comes off, and the log says when pieces of different sets meet. One part alone has "
        "nothing to stay with; most often that of the other part was forgotten or misspelt.",
        example="""\
assembly: shaft-coupling
parts:
  hub: {name: Hub of the motor, matched: coupling}
  ring: Toothed ring
steps:
  hub-on: {do: Push the hub on to the shaft., fits: hub}
  ring-on: {do: Bolt the ring to the hub., fits: ring, after: hub-on}
""",
        says="`hub` is the only part of the matched set `coupling`",
        do="Give the parts that belong together the same word, letter for letter. A part that is "
        "matched with nothing needs none.",
    ),
    Page(
        code="matched-uneven",
        severity="warning",
        short="a matched set that does not come out even",
        what="The parts of a matched set are there in numbers of which one is no multiple of the "
        "other: eight rods, seven caps.",
        why="Piece 1 belongs to piece 1. Where the numbers do not come out even nobody can say "
        "which belongs to which, and the marks end before the pieces do.",
        example="""\
assembly: compressor-crank
parts:
  rods: {name: Connecting rod, quantity: 4, matched: rods}
  caps: {name: Rod cap, quantity: 3, matched: rods}
steps:
  rods-in: {do: Lower the rods on to the crank., fits: rods}
  caps-on: {do: Fit each cap on its rod., fits: caps, after: rods-in}
""",
        says="the matched set `rods` does not come out even: 3 of `caps` and 4 of `rods`",
        do="Count them on the unit and mend the quantity that is wrong. What is not matched comes "
        "out of the set.",
    ),
    Page(
        code="bags-alike",
        severity="note",
        short="two bags whose names look alike",
        what="Two parts name bags that differ only in spaces, hyphens or capital letters.",
        why="Each name is a bag with a label of its own. Most often one is meant, and its parts "
        "come to lie in two.",
        example="""\
assembly: hub-cap
parts:
  screws: {name: Cap screw, quantity: 4, bag: Cap 1}
  plug: {name: Filler plug, bag: cap-1}
steps:
  screws-in: {do: Screw the cap down., fits: screws}
  plug-in: {do: Screw the plug in., fits: plug}
""",
        says="`plug` is in bag `cap-1` and `screws` in bag `Cap 1`",
        do="If it is one bag, write its name alike everywhere. If there are two, give them names "
        "that nobody mixes up.",
    ),
    Page(
        code="pack-unread",
        severity="note",
        short="a pack of which it is not known how many are in it",
        what="A part says how it is bought, in words that hold no count: `box of 50`, `10 pcs`, "
        "`each`, `pair` and `dozen` are understood.",
        why="What to buy is rounded up to whole packs. Without a count it is printed in single "
        "pieces, with the words beside it.",
        example="""\
assembly: hose-end
parts:
  clips: {name: Hose clip, quantity: 3, bought_as: in a box}
steps:
  clips-on: {do: Tighten the clips., fits: clips}
""",
        says="`in a box` of `clips` does not say how many that is",
        do="Write how many come at once. What is sold by length or weight has no count: leave the "
        "words as they are.",
    ),
    Page(
        code="short-on-hand",
        severity="note",
        short="fewer on hand than go in",
        what="Of some parts `on_hand` is less than what goes in, spares with it. All of them are "
        "told at once; the kit prints them under what to buy.",
        why="The job would stop for want of them, with the unit open and what is in it "
        "gathering dust.",
        example="""\
assembly: sieve-drum
parts:
  bolts: {quantity: 12, on_hand: 9, bought_as: box of 25}
  drum: Drum
steps:
  drum-in: {do: Roll the drum in., fits: drum}
  bolts-in: {do: Bolt it down., fits: bolts, after: drum-in}
""",
        says="3 of `bolts` have to be bought first",
        do="Buy them before the start. When they are there, say so in `on_hand`.",
    ),
)
