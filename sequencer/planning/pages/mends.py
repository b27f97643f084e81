"""Pages of what `revise` finds: why a mistake cannot be mended."""

from __future__ import annotations

from sequencer.planning.pages.page import Page

MENDS = (
    Page(
        code="no-return",
        severity="error (a warning of `strip`)",
        short="nothing that can come out mends the mistake",
        what="A point of no return was passed. A step that would have to come out says "
        "`undo: never`, or no way is open to get at it, or to what is still to be done, whatever "
        "else comes out. The facts tell from the first cause to the step itself.",
        why="To go on as if nothing had happened gives a unit that lacks something. To take it "
        "apart by force spoils what the model says cannot be undone.",
        example="""\
assembly: lamp-base
checks:
  lies-flat: {look: The base on a flat plate, good: nothing rocks}
steps:
  weight-in: {do: Lay the steel weight in., fits: weight}
  looked-at: {do: Set the base on the plate., check: lies-flat}
  felt-on:
    do: Glue the felt over the opening.
    fits: felt
    after: [looked-at, weight-in]
    undo: {never: The glue tears the felt and the lacquer with it}
  feet-on: {do: Push the feet on., fits: feet, after: felt-on}
""",
        done=("looked-at", "felt-on", "feet-on"),
        says="`felt-on` would have to come out, and cannot be undone",
        do="Ask the maker, or whoever answers for the unit, what can be done, and change the model "
        "by the answer. If the step can be undone after all, take `never` out and say under "
        "`undo` how, in what time and what it spoils.",
    ),
    Page(
        code="not-done",
        severity="error",
        short="a step is to be done again that was not done yet",
        what="A step named with `--redo` or `--again` is not among those given with `--done`.",
        why="What was not done cannot come out. If it is still to be done it will be, without "
        "being asked for; if it was done, the list of steps done is wrong, and so would the "
        "answer be.",
        example="""\
assembly: door-closer
steps:
  spring-in: {do: Lay the spring in., fits: spring}
  cap-on: {do: Screw the cap on., fits: cap, after: spring-in}
  oil-in: {do: Fill it with oil., after: cap-on}
""",
        done=("spring-in",),
        redo=("cap-on",),
        says="`cap-on` is to be done again, and was not done yet",
        do="Leave the step out, or name it among the steps done, at the place where it was done.",
    ),
)
