"""Pages of the findings about options, and about models that use others."""

from __future__ import annotations

from sequencer.planning.pages.page import Page

OPTIONS = (
    Page(
        code="condition",
        severity="error",
        short="a condition that says nothing that could be decided",
        what="The text of a `when` is no condition: something is missing, or stands where it does "
        "not belong, or words are asked which is more. A condition holds options against their "
        "choices (`fluid == hot`, `gap >= 8 mm`, `fluid in [hot, cold]`), joined by `and`, `or`, "
        "`not` and parentheses.",
        why="Whether a part or a step is there could not be decided. It is told even where the "
        "choices made now do not lead there.",
        example="""\
assembly: sump-pump
options:
  fluid: {choices: [clean, gritty], default: clean}
steps:
  body-up: Stand the pump body up.
  strainer-on: {do: Clip the strainer on., when: fluid = gritty}
""",
        says="`=` means nothing in a condition",
        do="Mend it as the message says. In brackets `{ }` a condition with a list needs quotes "
        "round it.",
    ),
    Page(
        code="option",
        severity="error",
        short="an option, or what it is set to, that cannot be chosen by",
        what="An option under `options` has fewer than two choices, the same choice twice, a "
        "default that is none of them, or choices of several kinds; or a used model is passed "
        "something that its option cannot be.",
        why="What is there and what is not depends on it, and nobody could set it.",
        example="""\
assembly: sump-pump
options:
  fluid: {choices: [clean, gritty], default: dirty}
steps:
  body-up: Stand the pump body up.
  strainer-on: {do: Clip the strainer on., when: fluid == gritty}
""",
        says="option `fluid` has no choice `dirty` to default to",
        do="Write all choices as single words, or all as figures of one kind, each once, and a "
        "default that is one of them.",
    ),
    Page(
        code="option-open",
        severity="error",
        short="an option without a default for which no choice was made",
        what="An option has no default, and the call does not set it; or a used model has such an "
        "option, and the model that uses it passes nothing to it.",
        why="There is no model before it is chosen: parts and steps depend on it.",
        example="""\
assembly: sump-pump
options:
  fluid: {choices: [clean, gritty], ask: What the sump holds}
steps:
  body-up: Stand the pump body up.
  strainer-on: {do: Clip the strainer on., when: fluid == gritty}
""",
        says="option `fluid` (What the sump holds) has no default, and no choice was made",
        do="Give `--set fluid=gritty` in the call, or write a `default` where one choice is usual. "
        "For a used model write it under `options` of its entry in `uses`.",
    ),
    Page(
        code="nothing-left",
        severity="error",
        short="a step whose parts are all left out",
        what="A step fits parts, and by the choices made none of them is there, while the step "
        "itself is.",
        why="Its card would tell the builder to fit something that is not in the kit.",
        example="""\
assembly: sump-pump
options:
  fluid: {choices: [clean, gritty], default: clean}
parts:
  body: Pump body
  strainer: {name: Strainer, when: fluid == gritty}
steps:
  body-up: {do: Stand the pump body up., fits: body}
  strainer-on: {do: Clip the strainer on., fits: strainer}
""",
        says="step `strainer-on` keeps nothing to fit: `strainer` is not there",
        do="Write the part's `when` in the step as well. If another part goes there instead, name "
        "both in the step's `fits`; if it is the same part with another number, use `instead`.",
    ),
    Page(
        code="uses",
        severity="error",
        short="a used model that cannot be read from where it is said to be",
        what="The `file` of an entry in `uses` is not there, or its path leads out of the folder "
        "of the model: from the root of the disk, by `..`, or by a link.",
        why="A model is a folder that can be copied whole, sent on and read by others; what lies "
        "elsewhere would be missing there.",
        example="""\
assembly: pump-set
uses:
  pump: ../pumps/sump-pump.yaml
steps:
  pump-in: {do: Stand the pump on the plate., fits: pump}
""",
        says="`../pumps/sump-pump.yaml` leads out of the folder that this file is in",
        do="Put the used file beside the one that uses it or in a folder below, and write its "
        "path from there.",
    ),
    Page(
        code="uses-circle",
        severity="error",
        short="models that use each other in a circle",
        what="A model uses itself, straight or by way of others.",
        why="A unit would be a part of itself, and its steps would never end.",
        example="""\
assembly: pump-set
uses:
  pump: unit.yaml
steps:
  pump-in: {do: Stand the pump on the plate., fits: pump}
""",
        says="`unit.yaml` uses itself",
        do="One of the entries in `uses` is meant to be another file: follow the chain in the "
        "message.",
    ),
    Page(
        code="two-of-one-name",
        severity="warning (of a source only a note)",
        short="joined models call two different things alike",
        what="Sources, tools and compounds of a used model are shared with the model that uses "
        "it: one of the same id that says the same is one thing. Here two say different things. "
        "Both are kept, one under the prefix of its model. Prices in two kinds of money are told "
        "likewise.",
        why="If they are one thing, it is laid out and listed twice; if they are two, whoever "
        "reads the list should be able to tell them apart.",
        example="""\
assembly: pump-set
uses:
  pump: pump.yaml
tools: {gauge: Dial gauge}
steps:
  pump-in: {do: Stand the pump on the plate., fits: pump}
  level: {do: Measure the height of the shaft., tools: gauge}
""",
        beside=(
            (
                "pump.yaml",
                """\
assembly: pump
tools: {gauge: Feeler gauges}
steps:
  rotor-in: {do: Hang the rotor in., fits: rotor, tools: gauge}
""",
            ),
        ),
        says="tool `gauge` of `pump` is another one than the tool `gauge` met before, and is "
        "called `pump/gauge`",
        do="Write both alike if they are one thing. If not, give one of them another id.",
    ),
)
