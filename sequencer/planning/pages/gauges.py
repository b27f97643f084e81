"""Pages of the findings about gauges."""

from __future__ import annotations

from sequencer.planning.pages.page import Page

GAUGES = (
    Page(
        code="too-coarse",
        severity="warning (up to a quarter of the band: note)",
        short="a gauge is divided too coarsely for a limit",
        what="The division of the gauge (`reads`) is more than a tenth of the band of the limit "
        "that it is read against. Of a limit with one end only it is told where the gauge cannot "
        "show it at all.",
        why="A reading is no better than half a division. Near the end of a narrow band nobody can "
        "tell good from bad, and a number inside the limit proves nothing.",
        example="""\
assembly: spindle-head
tools:
  caliper: {name: Caliper, reads: 0.02 mm}
checks:
  play: {measure: Play, with: caliper, limit: 0.025 to 0.050 mm}
steps:
  spindle-play: {do: Measure the play., check: play}
""",
        says="`caliper` reads 0.02 mm, too coarse for 0.025 to 0.050 mm of check `play`",
        do="Use a finer gauge, such as a micrometer or a dial gauge, or gauges made for both ends "
        "of the limit (`go`, `no_go`).",
    ),
)
