"""What is found about formulas, gauges that go in, and packs of shims, told in full."""

from __future__ import annotations

from textwrap import dedent
from typing import TYPE_CHECKING

import pytest

from sequencer.planning.plan import check, plan
from sequencer.reading import read_text
from tests.trade.test_cases_measuring import model

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly
    from sequencer.problem import Problem


def told(finding: Problem) -> list[str]:
    """Give all that a finding says: grade, message, facts, why, fix."""
    head = f"{finding.severity}[{finding.code}] {finding.step}: {finding.message}"
    return [head, *(fact.text for fact in finding.facts), finding.why, finding.fix]


def checked(fields: str) -> list[Problem]:
    """Check a model with one check, taken in its one step."""
    text = f"""\
assembly: rig
tools:
  gauge: {{name: Gauge, reads: 0.01 mm}}
  scale: {{name: Scale, reads: 0.5 N}}
checks:
  play: {fields}
steps:
  read: {{do: Read it., check: play}}
"""
    reading = read_text(text, "rig.yaml")
    assert reading.assembly is not None, reading.problems
    found = list(check(reading.assembly))
    for finding in found:
        for path in (finding.path, *(fact.path for fact in finding.facts)):
            assert reading.place_of(path) is not None, path
    return found


def only(fields: str) -> Problem:
    (finding,) = checked(fields)
    return finding


# Formulas.


def test_a_length_less_a_force_is_told_with_its_limit() -> None:
    finding = only(
        "{readings: {a: {with: gauge}, b: {with: scale}}, compute: a - b, limit: 1 to 2 mm}"
    )
    assert told(finding) == [
        "error[formula] read: check `play` cannot be reckoned: `a - b` adds or takes away unlike "
        "things",
        "it is reckoned as `a - b`",
        "its limit is `1 to 2 mm`",
        "the builder would have readings, and no figure to hold against a limit",
        "give both sides the same quantity",
    ]


# Fields of a check, what cannot be, what to do.
FORMULAS = [
    (
        "{readings: {a: A}, compute: a - c, limit: 1 to 2 mm}",
        "`c` in `a - c` is not a reading of this check",
        "use `a`",
    ),
    (
        "{readings: {a: A}, compute: a +, limit: 1 to 2 mm}",
        "something is missing at the end of `a +`",
        "use names of readings, plain numbers, + - * / and parentheses",
    ),
    (
        "{readings: {a: A}, compute: a ** 9, limit: 1 to 2 mm}",
        "`*` does not belong there in `a ** 9`",
        "use names of readings, plain numbers, + - * / and parentheses",
    ),
    (
        "{readings: {a: A}, compute: a / 0, limit: 1 to 2 mm}",
        "`a / 0` divides by nothing",
        "mend what stands below the line",
    ),
    (
        "{readings: {a: A}, compute: a - 3, limit: 1 to 2 mm}",
        "`a - 3` adds or takes away unlike things",
        "give both sides the same quantity",
    ),
    (
        "{with: gauge, readings: {a: A, b: B}, compute: a * b, limit: 1 to 2 mm}",
        "`a * b` gives something with no name here, where the limit is a length",
        "mend the formula, or the unit of the limit or of a reading",
    ),
    (
        "{with: gauge, readings: {a: A, b: B}, compute: a - b, limit: 1 to 2 N}",
        "`a - b` gives a length, where the limit is a force",
        "mend the formula, or the unit of the limit or of a reading",
    ),
    (
        "{readings: {rim-a: A, b: B}, compute: rim-a - b, limit: 1 to 2 mm}",
        "`rim` in `rim-a - b` is not a reading of this check",
        "give reading `rim-a` a name without a hyphen, which reads as a minus",
    ),
    (
        "{readings: {a: A, b: {is: at most 2 mm}}, compute: a - b, limit: 1 to 2 mm}",
        "`b` is `at most 2 mm`, open at one end",
        "give both its ends, or one figure",
    ),
]


@pytest.mark.parametrize(("fields", "what", "fix"), FORMULAS)
def test_a_formula_that_cannot_be_reckoned_is_an_error(fields: str, what: str, fix: str) -> None:
    finding = only(fields)
    assert (finding.code, finding.severity) == ("formula", "error")
    assert finding.message == f"check `play` cannot be reckoned: {what}"
    assert finding.fix == fix


def test_of_several_results_the_one_at_fault_is_named() -> None:
    finding = only(
        "{readings: {a: A, b: B}, results: "
        "{sum: {compute: a + b, limit: 1 to 2 mm}, half: {compute: (a - x) / 2, limit: 1 mm}}}"
    )
    assert finding.message.startswith("result `half` of check `play` cannot be reckoned: `x` in")


# Formulas in which each reading may be what it must be.
SOUND = [
    "{readings: {a: A, b: B}, compute: a / b, limit: 1 to 2 MPa}",
    "{readings: {a: A, n: N, h: {is: 0.01 mm}}, compute: a - n * h, limit: 1 to 2 mm}",
    "{readings: {a: A, b: B, n: N, h: {is: 0.01 mm}}, compute: a - b - n * h, limit: 1 to 2 mm}",
    "{with: scale, readings: {p: P, arm: {with: gauge}}, compute: p * arm, limit: 1 to 2 N·m}",
    "{readings: {a: A, b: B}, compute: (a − b) ÷ 2, limit: -0.05 to 0.05 mm}",
    "{readings: {a: A, b: B}, limit: 1 to 2 mm}",
    "{measure: Bore, go: plug 10.00, no_go: plug 10.02}",
    "{measure: Bore, go: plug 10.00, limit: 10.00 to 10.02 mm}",
]


@pytest.mark.parametrize("fields", SOUND)
def test_a_check_that_can_be_reckoned_raises_no_alarm(fields: str) -> None:
    assert checked(fields) == []


def test_a_reading_in_no_formula_is_told() -> None:
    finding = only("{readings: {a: A, b: B, gasket: G}, compute: a - b, limit: 1 to 2 mm}")
    assert told(finding) == [
        "warning[unused-reading] read: reading `gasket` of check `play` stands in no formula",
        "`a - b`",
        "it is taken for nothing, or a formula lacks it and gives the wrong figure",
        "put `gasket` into the formula that wants it, or take it out of `readings`",
    ]


def test_a_result_without_a_limit_is_told() -> None:
    finding = only("{readings: {a: A, b: B}, results: {sum: a + b}}")
    assert told(finding) == [
        "warning[unjudged] read: result `sum` of check `play` is reckoned, and nothing says what "
        "is good",
        "it is reckoned as `a + b`",
        "the builder has a figure and no way to judge it",
        "write a `limit` for it, or leave it out",
    ]


def test_readings_held_against_nothing_are_told() -> None:
    assert told(only("{readings: {a: A, b: B, c: C}}")) == [
        "warning[unjudged] read: check `play` has readings, and nothing says what is good",
        "it reads `a` and `b` and more",
        "the builder has figures and no way to judge them",
        "write `compute` and a `limit`, or a `limit` alone that each reading must lie in",
    ]


GAUGES = [
    (
        "{measure: Bore, go: plug 10}",
        "check `play` has a gauge that must go in, and none that must not",
        "a hole that is too large passes as well",
    ),
    (
        "{measure: Bore, no_go: plug 11}",
        "check `play` has a gauge that must not go in, and none that must",
        "a hole that is too small passes as well",
    ),
    (
        "{measure: Bore, go: plug 10, no_go: plug 10}",
        "check `play` names one gauge that must go in and must not, `plug 10`",
        "no part can pass, or whoever checks has to guess",
    ),
]


@pytest.mark.parametrize(("fields", "message", "why"), GAUGES)
def test_gauges_that_tell_nothing_or_half_are_told(fields: str, message: str, why: str) -> None:
    finding = only(fields)
    assert (finding.code, finding.severity) == ("unjudged", "warning")
    assert (finding.message, finding.why) == (message, why)


# Packs.


def of_pump(*changes: tuple[str, str]) -> Problem:
    (finding,) = check(model("gap-of-a-wear-plate", *changes))
    return finding


UNCLEAR = [
    (
        ("      effect: +1 in pack = -1 in gap\n", ""),
        "nothing says what it does to the figure",
        "write `effect`, such as `+1 mm pack = -1 mm float`",
    ),
    (
        ("+1 in pack = -1 in gap", "less gap"),
        "`less gap` does not say what a pack does",
        "write it like `+1 mm pack = -1 mm float`",
    ),
    (
        ("+1 in pack = -1 in gap", "+1 in pack = 0 in gap"),
        "by `+1 in pack = 0 in gap` it does nothing",
        "mend its effect",
    ),
    (
        ("      sizes: [0.005 in, 0.010 in]\n", ""),
        "it has no sizes",
        "list the shims at hand under `sizes`",
    ),
    (
        ("0.010 to 0.020 in", "at most 0.020 in"),
        "the limit `at most 0.020 in` is open at one end",
        "give both ends of the limit",
    ),
    (
        ("      at_most: 6\n", "      at_most: 6\n      aim: 0.030 in\n"),
        "its aim is outside the limit `0.010 to 0.020 in`",
        "aim inside it, or leave `aim` out for its middle",
    ),
    (
        ("      at_most: 6\n", "      at_most: 6\n      aim: 3 N\n"),
        "its aim `3 N` is not a length",
        "mend its unit",
    ),
    (
        ("      at_most: 6\n", "      at_most: 6\n      rounding: 0-4 = 0\n"),
        "the rule leaves out some digits",
        "say what becomes of 0 to 9",
    ),
    (
        ("      at_most: 6\n", "      at_most: 6\n      rounding: to the nearest\n"),
        "`to the nearest` is no rule for digits",
        "write it like `3-7 = 5`",
    ),
    (
        ("      at_most: 6\n", "      at_most: 6\n      rounding: 0-9 = 3\n"),
        "no pack from its sizes has a total that its rounding rule allows",
        "mend the rule, or list the sizes that it was made for",
    ),
    (
        ("      settled_by: gap\n", ""),
        "nothing says which figure it sets",
        "write `settled_by` with the check of it",
    ),
]


@pytest.mark.parametrize(("change", "what", "fix"), UNCLEAR)
def test_what_choosing_a_pack_lacks_is_told(change: tuple[str, str], what: str, fix: str) -> None:
    finding = of_pump(change)
    assert told(finding) == [
        f"warning[pack] None: no pack of `shims` can be chosen: {what}",
        "`shims` is a pack of shims",
        "the card has no table to choose from, and the builder has to guess the pack",
        fix,
    ]


def test_packs_farther_apart_than_the_limit_is_wide_are_told() -> None:
    finding = of_pump(("[0.005 in, 0.010 in]", "[0.015 in, 0.030 in]"))
    assert told(finding) == [
        "warning[no-pack] None: packs of `shims` are at least 0.015 in apart, which is 0.015 in "
        "of the figure of check `gap`, and its limit is 0.01 in wide",
        "the limit is `0.010 to 0.020 in`",
        "sizes and effect of `shims`",
        "the unit is apart and measured, and then no pack does it",
        "add sizes between these, or allow more shims with `at_most`",
    ]


def test_an_effect_by_which_no_pack_can_serve_is_told() -> None:
    """The gap is read without shims, and shims that open it would want one below nothing."""
    finding = of_pump(
        ("+1 in pack = -1 in gap", "+1 in pack = +1 in gap"),
        ("[0.005 in, 0.010 in]", "[0.025 in, 0.030 in]"),
    )
    assert finding.message == (
        "no pack of `shims` brings any figure of check `gap` within its limit: measured without a "
        "pack, it would have to be below nothing"
    )
    assert finding.fix == "mend the `effect` (more pack, or less?), the `start`, or the sizes"


def test_a_limit_below_nothing_has_no_such_bound() -> None:
    assert (
        check(
            model(
                "gap-of-a-wear-plate",
                ("+1 in pack = -1 in gap", "+1 in pack = +1 in gap"),
                ("0.010 to 0.020 in", "-0.010 to 0.004 in"),
                ("[0.005 in, 0.010 in]", "[0.025 in, 0.030 in]"),
            )
        )
        == ()
    )


# Packs fitted before they are settled.


def head(steps: str, more: str = "") -> Assembly:
    text = f"""\
assembly: head
parts:
  cap: Cap
  shims:
    name: Shims
    pack:
      sizes: [0.10 mm, 0.15 mm]
      settled_by: float
      effect: +1 mm pack = -1 mm float
checks:
  float: {{measure: End float, limit: 0.05 to 0.15 mm{more}}}
"""
    reading = read_text(text + dedent(steps), "head.yaml")
    assert reading.assembly is not None, reading.problems
    return reading.assembly


def test_a_pack_fitted_before_its_check_is_an_error() -> None:
    (finding,) = check(
        head(
            """\
            steps:
              cap-on: {do: Shims and cap on., fits: [shims, cap]}
              read: {do: Read the float., check: float, after: cap-on}
            """
        )
    )
    assert told(finding) == [
        "error[unsettled] cap-on: `cap-on` fits `shims` for good before check `float` has settled "
        "it",
        "`cap-on` fits `shims`, and nothing takes it off",
        "check `float` settles `shims`",
        "`read` comes later",
        "the pack is a guess, and what is fitted over it comes off again when the check tells",
        "measure before that: move `read` up, and write `after: read` in `cap-on`",
    ]


def test_a_check_in_the_step_that_fits_the_pack_comes_too_late() -> None:
    (finding,) = check(
        head("steps: {cap-on: {do: Shims and cap on., fits: [shims, cap], check: float}}")
    )
    assert (finding.code, finding.severity) == ("unsettled", "error")
    assert finding.fix == "measure in a step of its own before `cap-on`, best in a trial"


def test_a_pack_whose_check_is_not_taken_is_an_error() -> None:
    (finding,) = check(head("steps: {cap-on: {do: Shims and cap on., fits: [shims, cap]}}"))
    assert finding.message == (
        "`cap-on` fits `shims` for good, and check `float`, which settles it, is not taken"
    )
    assert finding.fix == (
        "take check `float` in a step before `cap-on`, in a trial or with another pack in"
    )


WRITTEN_FIRST = """\
    steps:
      read: {do: Read the float without shims., check: float}
      cap-on: {do: Shims and cap on., fits: [shims, cap]}
    """


def test_an_order_that_is_right_only_as_written_is_a_warning() -> None:
    (finding,) = check(head(WRITTEN_FIRST))
    assert told(finding) == [
        "warning[unsettled] cap-on: nothing in the model keeps `cap-on`, which fits `shims` for "
        "good, after `read`, which settles it",
        "`cap-on` fits `shims`, and nothing takes it off",
        "check `float` settles `shims`",
        "`read` stands before `cap-on`",
        "this order is right, and another may fit the pack first",
        "write `after: read` in `cap-on`",
    ]
    forced = WRITTEN_FIRST.replace("fits: [shims, cap]", "fits: [shims, cap], after: read")
    assert check(head(forced)) == ()


TRIAL = """\
    trials:
      trial: {steps: [dry, read], settles: shims, why: No two are alike}
    steps:
      dry: {do: Cap on without shims., fits: cap}
      read: {do: Read the float and take it off., check: float, after: dry}
      cap-on: {do: Shims and cap on., fits: [shims, cap], after: dry}
    """


def test_a_trial_settles_a_pack_by_any_of_its_steps() -> None:
    """What comes after one step of a trial comes after them all."""
    assert check(head(TRIAL)) == ()
    loose = TRIAL.replace("fits: [shims, cap], after: dry", "fits: [shims, cap]")
    (finding,) = check(head(loose))
    assert (finding.code, finding.severity) == ("unsettled", "warning")
    assert finding.facts[1].text == "trial `trial` settles `shims`"
    assert finding.facts[1].why == "No two are alike"


def test_a_pack_that_comes_off_again_may_be_fitted_to_measure() -> None:
    assert (
        check(
            head(
                """\
            steps:
              dry: {do: Thick shims and cap on., fits: [shims, cap]}
              read: {do: Read the float., check: float, after: dry}
              off: {do: All off again., takes_off: [cap, shims], after: read}
              cap-on: {do: Chosen shims and cap on., fits: [shims, cap], after: off}
            """
            )
        )
        == ()
    )


def test_a_pack_tried_in_rounds_is_settled_by_the_check_after_it() -> None:
    rounds = """\
        steps:
          shims-in: {do: Shims in., fits: shims}
          cap-on: {do: Cap on., fits: cap, after: shims-in}
          read: {do: Read the float., check: float, after: cap-on}
        """
    again = ", else: {again_from: shims-in, change: the shims, most: 4}"
    assert check(head(rounds, again)) == ()
    (finding,) = check(head(rounds, again.replace("shims-in", "cap-on")))
    assert (finding.code, finding.severity) == ("unsettled", "error")


def test_what_only_a_way_in_forces_counts_as_forced() -> None:
    text = """\
        steps:
          read: {do: Read the float., check: float, ways_in: {open end: cap}}
          shims-in: {do: Shims in., fits: shims, onto: cap}
          cap-on: {do: Cap on., fits: cap, before: shims-in}
        """
    unit = head(text)
    assert "unsettled" not in {finding.code for finding in check(unit)}
    assert plan(unit).order == ("read", "cap-on", "shims-in")


def test_a_choice_of_steps_is_gone_through() -> None:
    text = """\
        one_of:
          - {steps: [by-dial, by-feeler], before: cap-on}
        steps:
          by-dial: {do: Read the float by dial., check: float}
          by-feeler: {do: Read the float by feeler., check: float}
          cap-on: {do: Shims and cap on., fits: [shims, cap]}
        """
    assert check(head(text)) == ()


# Gauges that tell a figure of several readings.


def test_a_difference_by_caliper_cannot_be_told() -> None:
    single, finding = check(model("clearance-by-caliper"))
    assert single.message == (
        "`feelers` reads 0.001 in, so it cannot tell 0.0100 to 0.0105 in of check `collar`"
    )
    assert told(finding) == [
        "warning[result-too-coarse] measured: check `clearance` cannot be told with this gauge: "
        "with `caliper` the figure is told to 0.04 mm, and the limit is 0.025 mm wide",
        "`caliper` reads 0.02 mm",
        "the limit is `0.025 to 0.050 mm`",
        "near an end of the limit, what is bad passes and what is good does not",
        "use what tells the figure to 0.0025 mm, a tenth of the limit",
    ]


RESULTS = (
    "{{readings: {{a: A, b: {b}}}, with: gauge, results: {{gap: {{compute: {how}, limit: {to}}}}}}}"
)

# What b is, how it is reckoned, the limit; how grave it is, and in which words.
GAUGED = [
    (
        "B",
        "(a - b) / 2",
        "0 to 0.08 mm",
        "note",
        "with `gauge` the figure is told to 0.01 mm, more than a tenth of the limit of result "
        "`gap` of check `play`, which is 0.08 mm wide",
    ),
    (
        "B",
        "a - b",
        "0 to 0.07 mm",
        "warning",
        "with `gauge` the figure is told to 0.02 mm, more than a quarter of the limit of result "
        "`gap` of check `play`, which is 0.07 mm wide",
    ),
    (
        "{is: 2.00 ± 0.02 mm}",
        "a - b",
        "0 to 0.045 mm",
        "warning",
        "result `gap` of check `play` cannot be told with this gauge: with `gauge` the figure is "
        "told to 0.01 mm, and 0.04 mm is open beforehand, and the limit is 0.045 mm wide",
    ),
    ("B", "a - b", "at most 0.03 mm", "warning", "more than a quarter of the limit"),
]


@pytest.mark.parametrize(("b", "how", "to", "grade", "words"), GAUGED)
def test_what_readings_add_up_to_is_held_against_the_limit(
    b: str, how: str, to: str, grade: str, words: str
) -> None:
    finding = only(RESULTS.format(b=b, how=how, to=to))
    assert (finding.code, finding.severity) == ("result-too-coarse", grade)
    assert words in finding.message


FINE = [
    ("B", "a - b", "0 to 0.20 mm"),
    ("B", "a - b", "at most 0.04 mm"),  # a mark of the gauge
    ("B", "a - b", "at least 0.03 mm"),
    ("B", "a / b", "0.99 to 1.00"),  # depends on the readings
]


@pytest.mark.parametrize(("b", "how", "to"), FINE)
def test_what_is_told_finely_enough_raises_no_alarm(b: str, how: str, to: str) -> None:
    assert checked(RESULTS.format(b=b, how=how, to=to)) == []


def test_readings_held_against_one_limit_are_told_by_their_own_gauge() -> None:
    finding = only("{readings: {a: {with: gauge}, b: {with: gauge}}, limit: 1 to 1.05 mm}")
    assert finding.message == (
        "`gauge` reads 0.01 mm, more than a tenth of the limit of check `play`, which is 0.05 mm "
        "wide"
    )
    assert finding.path == ("checks", "play", "readings", "a", "with")


# Heat.

BEARING = """\
assembly: spindle
steps:
  bearing-on:
    do: Heat the bearing and slide it on.
    fits: bearing
    heat: {part: bearing, to: 100 °C, fit_within: 90 s}
"""


def spindle(more: str) -> tuple[Problem, ...]:
    reading = read_text(BEARING + more, "spindle.yaml")
    assert reading.assembly is not None, reading.problems
    return check(reading.assembly)


def test_a_hot_part_whose_step_takes_too_long_is_told() -> None:
    (finding,) = spindle("    time: 6 min\n")
    assert told(finding) == [
        "warning[cools-first] bearing-on: `bearing-on` takes 6 min, and `bearing`, hot, has to be "
        "in its place within 90 s",
        "`bearing` has to be in its place within 90 s",
        "`bearing-on` takes 6 min",
        "it grips before it is home, and then neither goes on nor comes off",
        "lay all else ready in a step before, and let this one begin when the part is hot",
    ]


@pytest.mark.parametrize("more", ["", "    time: 90 s\n", "    time: 1 min\n"])
def test_a_step_short_enough_or_without_a_time_raises_no_alarm(more: str) -> None:
    assert spindle(more) == ()


ROLL = """\
assembly: roll-neck
parts: {roll: Roll, ring: Labyrinth ring}
lines:
  neck:
    shaft: roll
    ends: {neck: open, barrel: shut}
    order:
      - {part: ring, bore: 4.000 in, seat: 4.004 in}
defaults: {temperature: 70 °F}
steps:
  roll-laid: {do: Lay the roll in its blocks., fits: roll}
  ring-on:
    do: Heat the ring and slide it on.
    fits: ring
    heat: {part: ring, to: 200 °F}
"""


def rolled(*changes: tuple[str, str]) -> tuple[Problem, ...]:
    text = ROLL
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    reading = read_text(text, "roll-neck.yaml")
    assert reading.assembly is not None, reading.problems
    return check(reading.assembly)


def test_a_ring_heated_too_little_is_told_with_what_it_takes() -> None:
    """0.004 in of interference: 6.2e-6 per °F on 4 in over 130 °F gives 0.0032 in, 0.0008 short."""
    (finding,) = rolled()
    assert told(finding) == [
        "warning[still-tight] ring-on: `ring-on` heats `ring` to 200 °F, and if it is steel, its "
        "bore is then still 0.00078 in smaller than its seat",
        "the bore of `ring` is 4.000 in",
        "its seat is 4.004 in",
        "it jams half way, cools, and grips there",
        "heat it to more than 111 °C, if it bears that, or chill the shaft as well",
    ]


def test_where_the_part_bears_no_more_the_shaft_is_to_be_chilled() -> None:
    (finding,) = rolled(("ring: Labyrinth ring", "ring: {name: Labyrinth ring, hottest: 200 °F}"))
    assert finding.fix == (
        "chill the shaft as well: heat alone does not do it within what the part bears"
    )


HOT_BEARING = (
    ("ring: Labyrinth ring", "ring: {name: Roller bearing, hottest: 250 °F}"),
    ("to: 200 °F}", "to: 250 °F, slip: 0.005 in}"),
)


def test_a_bearing_is_never_asked_to_be_heated_above_what_it_bears() -> None:
    """4.000 on 4.004 in, 0.005 in to slip, 250 °F at the most: 0.009 in would take 433 °F."""
    (finding,) = rolled(*HOT_BEARING)
    assert told(finding) == [
        "warning[still-tight] ring-on: `ring-on` heats `ring` to 250 °F, and if it is steel, its "
        "bore is then only 0.00046 in larger than its seat, where 0.005 in is wanted",
        "the bore of `ring` is 4.000 in",
        "its seat is 4.004 in",
        "it cools while it slides, and may grip half way",
        "chill the shaft as well: heat alone does not do it within what the part bears",
    ]


@pytest.mark.parametrize(
    ("cold", "fix"),
    [
        (
            "-40 °F",
            "not reachable within what the part bears: with the shaft chilled that leaves "
            "0.0032 in; do with that, or chill the shaft further",
        ),
        ("-150 °F", ""),
    ],
)
def test_heat_and_chill_together_are_told_with_what_they_leave(cold: str, fix: str) -> None:
    heat, slip = HOT_BEARING[1]
    chilled = slip.replace("}", f", cold: {{part: roll, to: {cold}}}}}")
    found = rolled(HOT_BEARING[0], (heat, chilled))
    assert [one.fix for one in found if one.code == "still-tight"] == ([fix] if fix else [])


def test_a_bearing_without_a_figure_bears_what_is_usual() -> None:
    usual = (("ring: Labyrinth ring", "ring: Roller bearing"), ("to: 200 °F}", "to: 190 °F}"))
    (finding,) = rolled(*usual)
    assert (
        finding.fix == "heat it to more than 111 °C, if it bears that, or chill the shaft as well"
    )
    tighter = (*usual, ("seat: 4.004 in", "seat: 4.006 in"))
    (finding,) = rolled(*tighter)
    assert finding.fix == (
        "chill the shaft as well: heat alone does not do it within what the part bears"
    )


GOES_ON = [
    ("to: 200 °F}", "to: 240 °F}"),
    ("to: 200 °F}", "to: 200 °F, cold: {part: roll, to: -40 °F}}"),
    ("seat: 4.004 in", "seat: 4.003 in"),
    ("seat: 4.004 in", "seat: 3.999 in"),
    (", seat: 4.004 in", ""),
]


@pytest.mark.parametrize("change", GOES_ON)
def test_a_ring_that_goes_on_raises_no_alarm(change: tuple[str, str]) -> None:
    assert rolled(change) == ()
