"""The model that `sequencer new` writes: small, with remarks, sound, and ready to print."""

from __future__ import annotations

from sequencer.writing.schema import FIRST_LINE
from sequencer.writing.texts import scalar

_MODEL = """\
# A small model to start from. Put your own parts and steps in the place of these; what stands
# behind a # is a remark. A text with a colon, a # or a bracket in it wants quotation marks, and so
# does one with a comma between braces: `sequencer tidy {file}` puts them.
# What may stand where is told by `sequencer schema steps`, or parts, joints, checks and so on.

assembly: {id}
title: Belt tensioner, new bearing       # what it is called on the paper
issue: A                                 # the next letter, whenever the paper is to change
notice: An example. Not for use on real equipment.

# What goes in. An id, and the name; or a set of fields, where there is more to say.
parts:
  arm: Arm with its spindle
  pulley: {{name: Pulley, number: "0012-3"}}
  bearing: Ball bearing 6202
  ring: {{name: Retaining ring 35 mm, once: true}}   # once: it cannot be used a second time
  cap: Dust cap
  screws: 3 × Screw M4                   # three of them

tools:
  tw-1-10: {{name: Torque wrench 1 to 10 N·m, range: 1 to 10 N·m}}

# Fasteners that are tightened alike.
joints:
  cap-screws:
    thread: M4
    count: 3
    torque: {{value: 2.5 N·m, source: Invented for this example}}

# What is measured, looked at or felt.
checks:
  spin:
    feel: Spin the pulley by hand
    good: runs on without a sound
    bad: rubs or grates

# What is done, in the order that you have in mind. What must come before what is said by `after`,
# by `onto` (the part must be on) and by `ways_in`: the program proves whether any order works.
steps:
  clean: Wipe the spindle and the bore of the pulley clean.
  bearing-in:
    do: Press the bearing home into the pulley.
    fits: [pulley, bearing]
    after: clean
    caution: Push on the outer ring only. Force on the inner ring dents the raceways.
  ring-in:
    do: Seat the retaining ring in its groove, and tug at it.
    fits: ring
    onto: bearing
    ways_in:                             # how it gets there, and what shuts that way
      open side of the pulley: {{opening: 36 mm, shut_by: cap}}
  pulley-on:
    do: Push the pulley on to the spindle until it stops.
    fits: arm
    after: ring-in
  cap-on:
    do: Fit the dust cap and tighten its screws.
    fits: [cap, screws]
    after:
      - {{step: pulley-on, why: The cap hides the end of the spindle}}
    tighten: cap-screws
    tools: tw-1-10
  try:
    do: Try it by hand.
    after: cap-on
    check: spin
"""


def starter(name: str) -> str:
    """Return the text of a new model; `name` is its id, and that of its file without ending."""
    return f"{FIRST_LINE}\n{_MODEL.format(id=scalar(name), file=f'{name}.yaml')}"
