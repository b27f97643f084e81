"""Pages of the findings about torques: where a figure is from, and what it does to its bolt."""

from __future__ import annotations

from sequencer.planning.pages.page import Page

TORQUES = (
    Page(
        code="not-chosen",
        severity="warning",
        short="sources give torques that disagree, and none is chosen",
        what="The figures under `also` do not overlap with the torque itself, even by the digits "
        "printed, and no `because` says which is right.",
        why="A tool that takes one of them by itself takes the wrong one half the time. Nothing is "
        "printed to tighten to, and every page is a DRAFT, until a person has chosen.",
        example="""\
assembly: end-frame
joints:
  frame-nuts:
    torque:
      value: 55 to 60 ft-lb
      source: Data sheet 12
      also:
        - {value: 65 ft-lb, source: Workshop card}
steps:
  frame: {do: Tighten the frame nuts., tighten: frame-nuts}
""",
        says="no torque is chosen for joint `frame-nuts`: its sources give `55 to 60 ft-lb` "
        "and `65 ft-lb`",
        do="Find out which holds for these fasteners, write it as `value`, leave the other under "
        "`also`, and say why under `because`.",
    ),
    Page(
        code="sources-disagree",
        severity="warning",
        short="sources give torques that disagree, and one is chosen",
        what="The figures of several sources do not overlap. A `because` has chosen one, so that "
        "is printed, with this beside it.",
        why="Whoever finds the other figure later should see that it was known, and why it was not "
        "taken.",
        example="""\
assembly: end-frame
joints:
  frame-nuts:
    torque:
      value: 55 to 60 ft-lb
      source: Data sheet 12
      also:
        - {value: 65 ft-lb, source: Workshop card}
      because: The card is for the old studs
steps:
  frame: {do: Tighten the frame nuts., tighten: frame-nuts}
""",
        says="the sources of joint `frame-nuts` disagree: `55 to 60 ft-lb` is taken, and not"
        " `65 ft-lb`",
        do="Ask the maker. If the other figure is for another fastener or is out of date, take it "
        "out, and the finding is gone.",
    ),
    Page(
        code="units-disagree",
        severity="warning",
        short="one source's figure in several units is not one figure",
        what="One source gives the figure in several units, and by the digits printed they cannot "
        "all mean the same. Where most agree, the odd one out is named; rounding is not told of.",
        why="One of them is a slip, and the builder may have the wrench that shows that one.",
        example="""\
assembly: case-cover
joints:
  cover-screws:
    torque:
      value: 12 N·m
      source: Service table
      also:
        - {value: 106 in-lb, source: Service table}
        - {value: 106 ft-lb, source: Service table}
      because: The table has been looked up again
steps:
  cover: {do: Tighten the cover screws., tighten: cover-screws}
""",
        says="one source gives joint `cover-screws` figures that are not the same: `106 "
        "ft-lb` is the odd one out",
        do="Look the figure up in its source, and mend or take out the one that is wrong.",
    ),
    Page(
        code="no-source",
        severity="note",
        short="a torque has no source",
        what="A torque, or one under `also`, has no `source`, and the model has no default.",
        why="Nobody can look it up again. The sheet says that no source is given.",
        example="""\
assembly: fan-guard
steps:
  guard: {do: Tighten the guard screws., torque: 5 N·m}
""",
        says="the torque of step `guard` has no source",
        do="Write the document, or `measured` or `by feel` if that is the truth, under `source`; "
        "or one for the whole model under `defaults`.",
    ),
    Page(
        code="likely-unit-slip",
        severity="error unless the torque carries a `because`, then a warning",
        short="a torque is so far off that its unit has slipped",
        what="The figure is 6 to 25 times what the thread wants at 75 % of its proof load, or a "
        "sixth to a twenty-fifth of it; or at least 6 times what a published table allows. A unit "
        "that would make sense is named. Without a known grade the strongest is taken.",
        why="Foot-pounds for inch-pounds is twelve times too much: the screw shears, or its thread "
        "comes out of the casting.",
        example="""\
assembly: case-cover
joints:
  cover-screws:
    thread: M6
    grade: "8.8"
    surface: dry
    torque: {value: 80 ft-lb, source: Service table}
steps:
  cover: {do: Tighten the cover screws., tighten: cover-screws}
""",
        says="`80 ft-lb` of joint `cover-screws` is 10.3 times what M6×1 of grade 8.8 wants,"
        " and would make sense as 80 in·lbf",
        do="Look the unit up again. If the figure is right as it stands, say why under `because`: "
        "it is then printed as given, and this becomes a warning.",
    ),
    Page(
        code="over-stressed",
        severity="warning",
        short="a torque pulls a bolt beyond its proof load",
        what="Even where friction takes the most, the pull that the torque makes is above the "
        "proof load of the thread in its grade (above yield, where the standard has no proof "
        "load).",
        why="A bolt pulled so far stays stretched, clamps less each time, and breaks one day. Some "
        "joints are tightened so on purpose, and their bolts serve once.",
        example="""\
assembly: bearing-cap
joints:
  cap-screws:
    thread: M8
    grade: "8.8"
    surface: oiled
    torque: {value: 60 N·m, source: Service table}
steps:
  cap: {do: Tighten the cap screws., tighten: cap-screws}
""",
        says="`60 N·m` pulls the M8×1.25 of grade 8.8 of joint `cap-screws` beyond its proof"
        " load: to 177 % of it at least, and 321 % at most",
        do="Look up the figure, the thread, the grade and what is on the threads again. The "
        "maker's figure comes before any reckoning: if it is right, leave it.",
    ),
    Page(
        code="slack",
        severity="warning",
        short="a torque hardly stretches its bolt",
        what="Even where friction takes the least, the pull is below 30 % of the proof load.",
        why="A bolt that is hardly stretched shakes loose. But a soft gasket, a thin cover or a "
        "plastic part may well want no more.",
        example="""\
assembly: coupling
joints:
  flange-screws:
    thread: M12
    grade: "10.9"
    surface: dry
    torque: {value: 25 N·m, source: Service table}
steps:
  flange: {do: Tighten the flange screws., tighten: flange-screws}
""",
        says="`25 N·m` pulls the M12×1.75 of grade 10.9 of joint `flange-screws` to at most "
        "18.6 % of its proof load",
        do="Look up the figure, the thread and the grade again. If the part wants so little, leave "
        "it.",
    ),
    Page(
        code="surface-mismatch",
        severity="warning",
        short="a torque is for threads with something else on them",
        what="The torque says what it wants on the threads (`surface`), and the joint has "
        "something else there; or a step puts a thread locker or anti-seize on threads that are "
        "said to be dry.",
        why="Oil on a thread that was meant dry adds up to two thirds to the pull at one torque. "
        "Published reductions run from 15 to 50 %, so none is ever taken here.",
        example="""\
assembly: foundation
joints:
  foundation-bolts:
    thread: M16
    grade: "8.8"
    surface: oiled
    torque: {value: 200 N·m, surface: dry, source: Bolt table}
steps:
  down: {do: Tighten the foundation bolts., tighten: foundation-bolts}
""",
        says="the torque of joint `foundation-bolts` is for dry threads, and it has oiled threads",
        do="Ask the maker for the figure for these threads; what it might come to is named so that "
        "there is something to ask about. Or clean the threads to what the figure is for.",
    ),
    Page(
        code="grade-mismatch",
        severity="warning",
        short="a torque is for fasteners of another grade",
        what="The torque says for which `grade` it is, and the joint's fasteners are of another.",
        why="The same thread in a weaker grade breaks at a torque that the stronger one wants.",
        example="""\
assembly: guard
joints:
  guard-screws:
    thread: 3/8-16
    grade: "5"
    surface: oiled
    torque: {value: 37 ft-lb, grade: "8", source: Chart page 4}
steps:
  guard: {do: Tighten the guard screws., tighten: guard-screws}
""",
        says="the torque of joint `guard-screws` is for grade 8, and its fasteners are grade 5",
        do="Look the figure up for the fasteners that are there, by the marks on their heads, or "
        "get those that it is for.",
    ),
    Page(
        code="bigger-thread-lower-torque",
        severity="warning",
        short="a bigger thread has a lower torque",
        what="Of two joints the bigger thread has the lower torque, and the smaller joint's figure "
        "carried over to it by size and grade is 5 to 20 times its own.",
        why="`22` may have been `220`. Nothing is corrected: it may be meant.",
        example="""\
assembly: cylinder
defaults: {source: Sheet of the cylinder}
joints:
  piston-nut: {thread: 9/16-18, torque: 90 ft-lb}
  gland-nut: {thread: 3/4-16, torque: 22 ft-lb}
steps:
  piston: {do: Tighten the piston nut., tighten: piston-nut}
  gland: {do: Tighten the gland nut., tighten: gland-nut}
""",
        says="joint `gland-nut` has a bigger thread than joint `piston-nut` and a lower "
        "torque: 3/4-16 with `22 ft-lb`, 9/16-18 with `90 ft-lb`",
        do="Look both figures up again. If they are right, leave them.",
    ),
    Page(
        code="unknown-thread",
        severity="warning",
        short="a thread that the tables do not have",
        what="What stands under `thread` is not in the tables of ISO metric or unified inch "
        "threads that are known here.",
        why="The torque and the lengths are not checked against it: a slip would not be found.",
        example="""\
assembly: idler
defaults: {source: Sheet 4}
joints:
  idler-screw: {thread: M8×1.1, torque: 20 N·m}
steps:
  idler: {do: Tighten the idler screw., tighten: idler-screw}
""",
        says="`M8×1.1` is not in the table of threads (ISO 261), so nothing about joint "
        "`idler-screw` is checked against it",
        do="Write it as `M8`, `M8×1`, `3/8-16` or `#10-32`. A pipe thread or another that is in no "
        "table stays as it is, without the check.",
    ),
    Page(
        code="unknown-grade",
        severity="warning",
        short="a grade that the tables do not have for this thread",
        what="The `grade` is in none of the tables known here for a thread of this size.",
        why="The torque is not checked against the bolt, except against the strongest there is.",
        example="""\
assembly: idler
defaults: {source: Sheet 4}
joints:
  idler-screw: {thread: M8, grade: "8.9", torque: 20 N·m}
steps:
  idler: {do: Tighten the idler screw., tighten: idler-screw}
""",
        says="joint `idler-screw`: grade `8.9` is not one known here for M8×1.25, so the "
        "torque is not checked against the bolt",
        do="Write the class as it is marked on the head, or the maker's proof stress: "
        "`grade: {proof: 970 MPa}`.",
    ),
)
