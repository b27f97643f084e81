"""Traps of real work, one small model each: what is found, what is planned, and no false alarm.

The models are in tests/models/cases; a variant of one is made by changing words of its text.
"""

from __future__ import annotations

from dataclasses import replace
from math import factorial
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from sequencer.model.assembly import Assembly
from sequencer.model.fastening import Joint
from sequencer.model.steps import OneOf
from sequencer.planning.mending import revise
from sequencer.planning.plan import check, count, plan, try_order
from sequencer.planning.why import why
from sequencer.reading import read_text
from tests.helpers import assembly, case, links, step

if TYPE_CHECKING:
    from collections.abc import Iterable

    from sequencer.planning.results import Tested
    from sequencer.problem import Problem

CASES = Path(__file__).resolve().parent.parent / "models" / "cases"


def model(name: str, *changes: tuple[str, str]) -> Assembly:
    return case(CASES / f"{name}.yaml", *changes)


def codes(findings: Iterable[Problem]) -> list[str]:
    """Give the code of each finding, with the step at fault."""
    return [f"{finding.code} {finding.step or ''}".strip() for finding in findings]


def said(finding: Problem) -> list[str]:
    """Give the sentences of a finding: its message, then its facts."""
    return [finding.message, *(fact.text for fact in finding.facts)]


def tried(unit: Assembly, order: str) -> Tested:
    """Try an order given as words."""
    return try_order(unit, order.split())


def planned(unit: Assembly) -> str:
    """Give the planned order as words."""
    order = plan(unit).order
    assert order is not None
    return " ".join(order)


def forced(unit: Assembly, first: str, second: str) -> list[str] | None:
    """Say why a step must come before another; None if they may come either way round."""
    answer = why(unit, first, second)
    assert (answer.first, len(answer.examples)) == (first, 1 if answer.must else 2)
    return [fact.text for fact in answer.facts] if answer.must else None


# Parts that enter by an end.


def test_runners_go_in_before_the_second_end_is_stopped() -> None:
    rail = model("runners-in-a-rail")
    found = plan(rail)
    assert found.order == ("rail-up", "left-bracket", "runners-in", "right-bracket")
    assert (found.moves, found.fewest) == (1, True)
    assert found.steps["runners-in"].ways_in == ("right end",)
    assert found.steps["left-bracket"].last_chance_for == ()
    assert found.steps["right-bracket"].last_chance_for == ("runners-in",)


def test_the_bracket_that_shut_the_last_end_is_named() -> None:
    rail = model("runners-in-a-rail")
    tested = tried(rail, "rail-up right-bracket left-bracket runners-in")
    (finding,) = tested.findings
    assert codes([finding]) == ["shut-out runners-in"]
    assert said(finding) == [
        "`runners-in` has no way in left at its turn: `left-bracket` has shut the last, “left end”",
        "`left-bracket` fits `bracket-l`, which shuts “left end”, a way in of `runners-in`",
        "`right-bracket` fits `bracket-r`, which shuts “right end”, a way in of `runners-in`",
    ]
    assert tested.mended == ("rail-up", "right-bracket", "runners-in", "left-bracket")


def test_either_bracket_may_go_on_before_the_runners() -> None:
    rail = model("runners-in-a-rail")
    assert forced(rail, "runners-in", "left-bracket") is None
    assert forced(rail, "runners-in", "right-bracket") is None
    assert count(rail).count == 4  # of 6 orders after the rail, 2 have the runners last


def test_gliders_that_turn_in_from_the_front_raise_no_alarm() -> None:
    rail = model("clip-in-runners")
    assert check(rail) == ()
    found = plan(rail)
    assert found.moves == 0
    assert found.steps["gliders-in"].ways_in == ("mouth of the rail",)
    assert found.steps["right-stop"].last_chance_for == ()
    assert found.steps["pelmet-on"].last_chance_for == ("gliders-in",)


def test_the_pelmet_and_not_the_stops_shuts_gliders_out() -> None:
    tested = tried(model("clip-in-runners"), "rail-up left-stop right-stop pelmet-on gliders-in")
    (finding,) = tested.findings
    assert finding.message == (
        "`gliders-in` has no way in left at its turn: `pelmet-on` has shut the last, "
        "“mouth of the rail”"
    )
    one_stop_off = "rail-up left-stop pelmet-on gliders-in right-stop"
    assert tried(model("clip-in-runners"), one_stop_off).ok


def test_gliders_too_wide_for_the_mouth_go_in_by_an_end() -> None:
    rail = model("clip-in-runners", ("largest: 7.5 mm", "largest: 8 mm"))
    (finding,) = check(rail)
    assert (finding.code, finding.severity) == ("shut-out", "warning")
    assert finding.facts[2].text == (
        "“mouth of the rail” (7.8 mm) is too small for `gliders-in`: "
        "`gliders` is 8 mm, 0.2 mm too much"
    )
    assert planned(rail) == "rail-up left-stop gliders-in right-stop pelmet-on"


def test_a_sleeve_still_goes_on_over_the_end_that_is_bare() -> None:
    rope = model("sleeve-before-the-second-eye")
    found = plan(rope)
    assert found.order == ("rope-out", "left-eye", "plate-on", "sleeve-on", "right-eye")
    assert found.steps["sleeve-on"].ways_in == ("right end",)
    assert found.steps["sleeve-on"].last_chance_for == ("plate-on",)
    assert found.steps["right-eye"].last_chance_for == ("sleeve-on",)
    assert forced(rope, "sleeve-on", "right-eye") is None
    thicker_first = tried(rope, "rope-out left-eye sleeve-on plate-on right-eye")
    assert [finding.message for finding in thicker_first.findings] == [
        "`plate-on` has no way in left at its turn: `sleeve-on` has shut the last, “right end”"
    ]
    assert tried(rope, "rope-out right-eye sleeve-on plate-on left-eye").ok


def test_a_sleeve_and_a_plate_are_shut_out_by_the_second_eye() -> None:
    tested = tried(
        model("sleeve-before-the-second-eye"), "rope-out left-eye right-eye plate-on sleeve-on"
    )
    assert codes(tested.findings) == ["shut-out plate-on", "shut-out sleeve-on"]
    assert said(tested.findings[1]) == [
        "`sleeve-on` has no way in left at its turn: `right-eye` has shut the last, “right end”",
        "`left-eye` fits `eye-l`, which shuts “left end”, a way in of `sleeve-on`",
        "`right-eye` fits `eye-r`, which shuts “right end”, a way in of `sleeve-on`",
    ]
    assert tested.moves == 1


def test_nuts_go_on_back_to_back_before_the_second_collar() -> None:
    lance = model("nuts-back-to-back")
    assert count(lance).count == 1
    assert planned(lance) == "inlet-nut outlet-nut swage"
    assert plan(lance).steps["inlet-nut"].ways_in == ("outlet",)
    assert {one.id: one.fits[0].facing for one in lance.steps if one.id != "swage"} == {
        "inlet-nut": "thread towards the inlet",
        "outlet-nut": "thread towards the outlet",
    }
    assert forced(lance, "inlet-nut", "outlet-nut") == [
        "`inlet-nut` cannot come from “inlet”, which is shut",
        "`outlet-nut` fits `nut-out`, which shuts “outlet”, a way in of `inlet-nut`",
    ]


def test_a_collar_swaged_first_shuts_both_nuts_out() -> None:
    tested = tried(model("nuts-back-to-back"), "swage inlet-nut outlet-nut")
    assert codes(tested.findings) == ["shut-out inlet-nut", "shut-out outlet-nut"]
    assert [fact.why for fact in tested.findings[0].facts] == [
        "",
        "A swaged collar does not come off",
    ]


def test_gaiters_go_over_the_open_end_the_farthest_first() -> None:
    shaft = model("gaiters-over-the-open-end")
    found = plan(shaft)
    assert found.order == (
        "far-clip",
        "grease",
        "far-gaiter",
        "near-clip",
        "near-gaiter",
        "hub-on",
        "ring-on",
    )
    assert found.steps["far-gaiter"].last_chance_for == ("far-clip", "grease")
    assert found.steps["hub-on"].last_chance_for == ("near-gaiter",)
    assert count(shaft).count == 2  # the grease before or after the far clip


def test_a_hub_fitted_first_shuts_the_gaiters_out() -> None:
    shaft = model("gaiters-over-the-open-end")
    tested = tried(shaft, "far-clip grease near-clip near-gaiter hub-on ring-on far-gaiter")
    (finding,) = tested.findings
    assert said(finding) == [
        "`far-gaiter` has no way in left at its turn: `near-clip` has shut the last, “splined end”",
        "`near-clip` fits `clip-near`, which shuts “splined end”, a way in of `far-gaiter`",
        "`far-gaiter` cannot come from “fixed joint”, which is shut",
    ]
    assert forced(shaft, "far-gaiter", "hub-on") == [
        "`hub-on` fits `hub`, which shuts “splined end”, a way in of `far-gaiter`",
        "`far-gaiter` cannot come from “fixed joint”, which is shut",
    ]


def test_a_carrier_goes_over_the_thread_with_a_sleeve_that_comes_off_again() -> None:
    rod = model("guide-over-the-thread")
    assert planned(rod) == "rod-up lip-in sleeve-on carrier-on sleeve-off disc-on nut-on"
    assert forced(rod, "sleeve-on", "carrier-on") == [
        "`carrier-on` builds on `sleeve`, which `sleeve-on` fits"
    ]
    assert forced(rod, "carrier-on", "sleeve-off") == [
        "`carrier-on` builds on `sleeve`, which `sleeve-off` takes off"
    ]
    assert forced(rod, "carrier-on", "nut-on") == [
        "`carrier-on` cannot come from “eye”, which is 75 mm",
        "`disc-on` fits `valve-disc`, which shuts “thread”, a way in of `carrier-on`",
        "`nut-on` builds on `valve-disc`, which `disc-on` fits",
    ]


def test_a_disc_does_not_go_over_the_sleeve_that_is_still_on() -> None:
    tested = tried(
        model("guide-over-the-thread"),
        "rod-up lip-in sleeve-on carrier-on disc-on nut-on sleeve-off",
    )
    (finding,) = tested.findings
    assert codes([finding]) == ["shut-out disc-on"]
    assert finding.fix == "move `disc-on` to before `sleeve-on` or after `sleeve-off`"


def test_a_sleeve_that_never_comes_off_is_an_error() -> None:
    rod = model(
        "guide-over-the-thread",
        ("  sleeve-off: {do: Pull the lip sleeve off., takes_off: sleeve}\n", ""),
    )
    (finding,) = (finding for finding in check(rod) if finding.code == "left-on")
    assert finding.severity == "error"
    assert finding.message == "`sleeve-on` fits `sleeve`, an aid, and no later step takes it off"
    assert plan(rod).order is None


def test_both_ends_of_a_rotor_fill_up_from_the_middle() -> None:
    rotor = model("rotor-from-the-middle")
    found = plan(rotor)
    assert found.order is not None
    turn = {step: number for number, step in enumerate(found.order)}
    for side in ("left", "right"):
        names = [f"{side}-{what}" for what in ("collar", "cover", "bearing", "nut")]
        assert sorted(names, key=turn.__getitem__) == names
        assert found.steps[f"{side}-bearing"].last_chance_for == (f"{side}-cover",)
        assert found.steps[f"{side}-cover"].ways_in == (f"{side} end",)
    assert forced(rotor, "left-cover", "left-bearing") == [
        "`left-bearing` fits `bearing-l`, which shuts “left end”, a way in of `left-cover`",
        "`left-cover` cannot come from “right end” past the seat of `collar-l` (55 mm)",
    ]
    assert forced(rotor, "left-nut", "right-cover") is None


def test_collars_are_locked_after_the_wheel_is_centred() -> None:
    rotor = model("rotor-from-the-middle")
    found = plan(rotor)
    assert found.order is not None
    assert found.order[-2:] == ("centre", "lock-collars")
    loose = found.order[found.order.index("left-collar") : -1]
    assert not set(loose) & set(found.rest_after)
    assert forced(rotor, "centre", "lock-collars") == [
        "`lock-collars` comes after check `centred` (`centre`)"
    ]


def test_a_leg_is_filled_from_its_foot_before_the_tube_shuts_it() -> None:
    leg = model("scraper-in-front-of-the-bush")
    assert planned(leg) == "outer-up bush-in felt-in scraper-in inner-in"
    assert count(leg).count == 1
    assert plan(leg).steps["scraper-in"].last_chance_for == ("felt-in",)
    assert forced(leg, "felt-in", "scraper-in") == [
        "`felt-in` cannot come from “foot”, which is shut",
        "`scraper-in` fits `scraper`, which shuts “mouth”, a way in of `felt-in`",
    ]
    written = [one.id for one in leg.steps]
    shut_out = ["shut-out scraper-in", "shut-out felt-in", "shut-out bush-in"]
    assert codes(try_order(leg, written).findings) == shut_out


# Tools and sizes.


def test_a_driver_too_long_for_the_gap_puts_the_motor_first() -> None:
    feeder = model("short-key-under-a-tray")
    assert planned(feeder) == "feeder-on tray-on"
    assert forced(feeder, "feeder-on", "tray-on") == [
        "`tray-on` fits `tray`, which shuts “open underside”, a way in of `feeder-on`",
        "“gap over the tray” leaves 35 mm, too little for `power-driver` (140 mm), "
        "which `feeder-on` needs",
    ]


def test_a_short_key_leaves_the_order_free() -> None:
    feeder = model("short-key-under-a-tray", ("[[power-driver]]", "[[power-driver, key]]"))
    assert check(feeder) == ()
    assert forced(feeder, "feeder-on", "tray-on") is None
    found = plan(feeder)
    assert found.order == ("tray-on", "feeder-on")
    assert found.steps["feeder-on"].ways_in == ("gap over the tray",)


def test_of_tools_that_are_all_too_long_each_is_named_with_its_length() -> None:
    feeder = model(
        "short-key-under-a-tray",
        ("[[power-driver]]", "[[power-driver, key]]"),
        ("needs: 30 mm", "needs: 36 mm"),
    )
    (finding,) = check(feeder)
    assert finding.facts[1].text == (
        "“gap over the tray” leaves 35 mm, too little for `power-driver` (140 mm) or "
        "`key` (36 mm), which `feeder-on` needs"
    )


def test_a_front_goes_on_before_the_knob_that_does_not_pass_its_hole() -> None:
    panel = model("knob-after-the-front")
    assert planned(panel) == "switch-in front-on knob-on"
    assert forced(panel, "front-on", "knob-on") == [
        "`knob-on` fits `knob`, which shuts “over the bare switch”, a way in of `front-on`"
    ]


def test_what_is_only_easier_is_never_forced() -> None:
    panel = model("knob-after-the-front")
    assert forced(panel, "switch-in", "front-on") is None
    assert plan(panel).steps["switch-in"].ways_in == ("before the front is on",)
    tested = tried(panel, "front-on switch-in knob-on")
    assert tested.findings == ()
    smaller = model("knob-after-the-front", ("opening: 15 mm", "opening: 12 mm"))
    assert codes(tried(smaller, "front-on switch-in knob-on").findings) == ["shut-out switch-in"]


def test_a_screw_longer_than_the_room_in_front_of_the_bore_is_told_with_both_lengths() -> None:
    table = model("screw-with-no-room-to-enter", ("opening: 40 in", "opening: 24 in"))
    (finding,) = check(table)
    assert codes([finding]) == ["too-big screw-through"]
    assert said(finding) == [
        "`screw-through` fits through none of its ways in",
        "“wall side” (24 in) is too small for `screw-through`: "
        "what must get through is 36 in, 12 in too much",
    ]


def test_a_screw_goes_through_a_nut_and_a_gear_held_in_place_with_the_dial_off() -> None:
    table = model("screw-with-no-room-to-enter")
    assert planned(table) == "dial-off nut-in-case gear-in-case screw-through dial-on"
    assert forced(table, "dial-off", "screw-through") == [
        "`dial` is on from the start until `dial-off` takes it off, and shuts “wall side”, "
        "a way in of `screw-through`"
    ]
    tested = tried(table, "nut-in-case gear-in-case screw-through dial-off dial-on")
    assert codes(tested.findings) == ["shut-out screw-through"]
    assert tested.findings[0].message == (
        "`screw-through` has no way in yet at its turn: `dial` is still on"
    )
    assert tested.findings[0].fix == "move `screw-through` to after `dial-off`"


# Checks and settings that get shut in.


def test_a_chain_is_drawn_tight_and_measured_before_the_guard() -> None:
    chain = model("tension-before-the-guard")
    found = plan(chain)
    assert found.order == ("plate-on", "chain-in", "draw-tight", "cut-tail", "guard-on")
    assert found.steps["guard-on"].last_chance_for == ("draw-tight", "cut-tail")
    assert codes(check(chain)) == ["shut-out draw-tight", "shut-out cut-tail"]
    assert forced(chain, "draw-tight", "guard-on") == [
        "`guard-on` fits `guard`, which shuts “take-up face”, "
        "a way in of `draw-tight` for check `sag`"
    ]


def test_focus_is_set_before_the_hood_or_on_the_bench() -> None:
    eye = model("focus-before-the-hood")
    assert planned(eye) == "sensor-on set-focus hood-on run-in"
    on_the_bench = tried(eye, "set-focus sensor-on hood-on run-in")
    assert on_the_bench.ok
    assert forced(eye, "set-focus", "sensor-on") is None
    assert plan(eye).steps["hood-on"].last_chance_for == ("set-focus",)


UPSET = ("    bad: blurred\n", "    bad: blurred\n    upset_by: run-in\n")


def test_focus_to_be_set_again_after_running_in_names_both_parts_in_the_way() -> None:
    (finding,) = check(model("focus-before-the-hood", UPSET))
    assert codes([finding]) == ["no-order set-focus"]
    assert {fact.text for fact in finding.facts} == {
        "`hood-on` fits `hood`, which shuts “side slot”, a way in of `set-focus` for check `sharp`",
        "`sensor-on` fits `sensor`, which shuts “bench stand”, "
        "a way in of `set-focus` for check `sharp`",
        "check `sharp`, taken in `set-focus`, is upset by `run-in`",
        "`run-in` comes after `hood-on`",
        "`hood-on` builds on `sensor`, which `sensor-on` fits",
    }


def test_a_slot_in_the_hood_leaves_the_focus_within_reach() -> None:
    slot = ("    needs_open:\n", "    needs_open:\n      slot in the hood: {}\n")
    eye = model("focus-before-the-hood", UPSET, slot)
    found = plan(eye)
    assert found.order == ("sensor-on", "hood-on", "run-in", "set-focus")
    assert found.steps["set-focus"].ways_in == ("slot in the hood",)
    assert all(facts.last_chance_for == () for facts in found.steps.values())


def test_screws_are_locked_after_the_belt_runs_in_line() -> None:
    fan = model("aligned-before-locked")
    assert planned(fan) == "wheel-on belt-on line-up lock-a lock-b"
    assert plan(fan).rest_after == ("lock-b",)
    assert codes(check(fan)) == ["not-yet lock-a"]
    answer = why(fan, "lock-b", "line-up")
    assert (answer.first, answer.must) == ("line-up", True)
    assert [(fact.text, fact.why) for fact in answer.facts] == [
        ("`lock-b` comes after `lock-a`", ""),
        (
            "`lock-a` comes after check `in-line` (`line-up`)",
            "Once set the screw moves only with heat",
        ),
    ]


def test_the_side_is_confirmed_before_what_cannot_be_undone() -> None:
    driver = model("side-confirmed-before-potting")
    found = plan(driver)
    assert found.order == ("posts-in", "board-in", "confirm", "pot", "lid-on")
    assert found.steps["pot"].last_chance_for == ("confirm",)
    answer = why(driver, "confirm", "pot")
    assert answer.must
    assert [(fact.text, fact.why) for fact in answer.facts] == [
        (
            "`pot` fits `resin`, which shuts “sight of both faces”, "
            "a way in of `confirm` for check `posts-up`",
            "Potting is for good",
        )
    ]
    unconfirmed = tried(driver, "posts-in board-in pot lid-on")
    assert codes(unconfirmed.findings) == ["step-missing confirm"]
    assert unconfirmed.mended == found.order


STONE = ("Fill the box with resin.", "Fill the box., undo: {never: It sets like stone}")


@pytest.mark.parametrize(
    ("changes", "is_warned"),
    [
        ((), False),
        ((("{sight of both faces: {shut_by: resin, why: Potting is for good}}", "{}"),), True),
        (
            (
                ("{sight of both faces: {shut_by: resin, why: Potting is for good}}", "{}"),
                ("fits: resin, onto: board", "fits: resin, onto: board, after: confirm"),
            ),
            False,
        ),
        ((("posts-up, hold: inspector, onto: posts", "posts-up, after: lid-on"),), False),
        ((("fits: resin, onto: board", "fits: resin, onto: board, check: posts-up"),), False),
    ],
    ids=["by the way in", "either way round", "by after", "no order", "in the step itself"],
)
def test_a_point_of_no_return_that_may_be_passed_unlooked_is_warned_of(
    changes: tuple[tuple[str, str], ...], *, is_warned: bool
) -> None:
    """Stand-offs on the wrong face, found when all switches were soldered."""
    driver = model("side-confirmed-before-potting", STONE, *changes)
    warned = [one for one in check(driver) if one.code == "unconfirmed"]
    assert [(one.severity, one.step, *said(one)) for one in warned] == [
        (
            "warning",
            "pot",
            "`pot` cannot be undone, and nothing has to be checked or signed before it",
            "`pot` is marked: It sets like stone",
        )
    ] * is_warned


# Eight caps, each of which can lock the shaft: that of the case is found by the turn after it.
CAPS = range(1, 9)


def _eight_caps() -> Assembly:
    turns = f"free: {{feel: Turn it, upset_by: [{', '.join(f'on-{cap}' for cap in CAPS)}]}}"
    steps = (
        "shaft-in: {do: Lay it in., fits: shaft}",
        *(
            f"on-{cap}: {{do: Fit it. Turn the shaft., fits: cap-{cap}, onto: shaft, check: free}}"
            for cap in CAPS
        ),
    )
    lines = ("assembly: shaft", f"checks: {{{turns}}}", "steps:", *(f"  {one}" for one in steps))
    shaft = read_text("\n".join(lines) + "\n", "shaft.yaml").assembly
    assert shaft is not None
    return shaft


def test_a_turn_after_each_of_eight_caps_is_no_matter() -> None:
    shaft = _eight_caps()
    assert check(shaft) == ()
    assert plan(shaft).moves == 0
    assert count(shaft).count == factorial(7), "the last turn is for all of them"


@pytest.mark.parametrize("bad", CAPS)
def test_of_eight_caps_the_bad_one_alone_comes_off(bad: int) -> None:
    done = ("shaft-in", *(f"on-{cap}" for cap in range(1, bad + 1)))
    mend = revise(_eight_caps(), done, redo=(f"on-{bad}",)).mend
    assert mend is not None
    assert (mend.undo, mend.back_in) == ((f"on-{bad}",), (f"on-{bad}",))


# Rules that contradict each other.


def test_the_glass_is_bedded_before_the_bush_goes_in_hot() -> None:
    cup = model("glass-before-the-hot-bush")
    assert planned(cup) == "body-out glass-in bush-in"
    (finding,) = check(cup)
    assert [fact.why for fact in finding.facts] == [
        "The hot bush swells the wall and the glass stands proud"
    ]


def test_two_rules_that_contradict_each_other_are_both_named() -> None:
    heat = "{step: bush-in, why: The heat spoils what holds the glass}"
    both = ("fits: glass, onto: body}", f"fits: glass, onto: body, after: {heat}}}")
    cup = model("glass-before-the-hot-bush", both)
    (finding,) = check(cup)
    assert codes([finding]) == ["circle bush-in"]
    assert [(fact.text, fact.why) for fact in finding.facts] == [
        ("`glass-in` comes after `bush-in`", "The heat spoils what holds the glass"),
        (
            "`bush-in` comes after `glass-in`",
            "The hot bush swells the wall and the glass stands proud",
        ),
    ]
    assert plan(cup).order is None


def test_three_parts_that_hold_each_other_go_on_as_one() -> None:
    clutch = model("three-in-one-motion")
    assert planned(clutch) == "case-up yoke-on slide-on collar-on ring-on detent-in"
    tested = tried(clutch, "case-up yoke-on slide-on detent-in collar-on ring-on")
    assert codes(tested.findings) == ["stray detent-in"]
    assert plan(clutch).steps["ring-on"].last_chance_for == ("collar-on",)


def test_a_rule_that_splits_the_three_is_named_with_the_group() -> None:
    between = ("fits: detent}", "fits: detent, after: yoke-on, before: collar-on}")
    (finding,) = check(model("three-in-one-motion", between))
    assert codes([finding]) == ["split-pair yoke-on"]
    assert said(finding) == [
        "`yoke-on`, `slide-on` and `collar-on` must go in together, "
        "yet `detent-in` would have to come in between",
        "`yoke-on`, `slide-on` and `collar-on` go in together, with nothing foreign in between",
        "`detent-in` comes after `yoke-on`",
        "`detent-in` comes before `collar-on`",
    ]


def test_a_rule_inside_the_three_splits_nothing() -> None:
    inside = ("{do: Hook the slide into the yoke., ", "{do: Hook it in., after: collar-on, ")
    assert planned(model("three-in-one-motion", inside)) == (
        "case-up yoke-on collar-on slide-on ring-on detent-in"
    )


# Stretches of the job in which something holds.


def test_the_drum_shaft_goes_in_while_the_cluster_is_low() -> None:
    drum = model("lowered-then-raised")
    assert planned(drum) == "case-up cluster-in input-in drum-shaft-in raise pin-in"
    assert forced(drum, "drum-shaft-in", "pin-in") == [
        "`pin-in` comes after `raise`",
        "`drum-shaft-in` and then `raise`: `drum-shaft-in` needs `low` to last",
    ]
    raised = tried(drum, "case-up cluster-in input-in raise drum-shaft-in pin-in")
    assert codes(raised.findings) == ["not-yet raise"]


def test_a_cluster_with_one_place_only_is_a_contradiction_and_no_wrong_order() -> None:
    drum = model("one-place-only")
    (finding,) = check(drum)
    assert codes([finding]) == ["no-order cluster-in"]
    assert said(finding) == [
        "`cluster-in` and `drum-shaft-in` shut each other out: no order reaches them all",
        "`drum-shaft-in` fits `drum-shaft`, which shuts “shaft bore”, a way in of `cluster-in`",
        "`cluster-in` fits `cluster`, which shuts “shaft bore”, a way in of `drum-shaft-in`",
    ]
    assert plan(drum).order is None


def test_the_nut_is_slackened_standing_or_strapped() -> None:
    mortiser = model("stands-or-is-strapped")
    found = plan(mortiser)
    assert found.order == ("slacken-standing", "spacer-in", "tighten", "lay-down")
    assert found.fallbacks == {"slacken-standing": ("slacken-strapped",)}
    tested = tried(mortiser, "spacer-in slacken-standing tighten lay-down")
    assert codes(tested.findings) == ["not-yet spacer-in"]


def test_what_stands_is_not_laid_down_while_it_is_slack_and_what_is_strapped_may_be() -> None:
    mortiser = model("stands-or-is-strapped")
    tested = tried(mortiser, "slacken-standing spacer-in lay-down tighten")
    (finding,) = tested.findings
    assert codes([finding]) == ["falls-out lay-down"]
    assert said(finding) == [
        "`lay-down` turns the unit over while what `slacken-standing` left loose "
        "is not yet made fast",
        "`lay-down` needs “level”, and from `slacken-standing` to `tighten` “on its tail” is kept",
    ]
    assert tried(mortiser, "slacken-strapped spacer-in lay-down tighten").ok


def test_a_rest_is_never_taken_while_the_nut_is_slack() -> None:
    assert plan(model("stands-or-is-strapped")).rest_after == ("tighten", "lay-down")


def test_nothing_is_turned_while_a_ball_could_drop() -> None:
    ram = model("balls-with-the-arbor-out")
    order = "balls-in-nut arbor-out line-up balls-in-tubes tubes-in try cap-on"
    (finding,) = tried(ram, order).findings
    assert codes([finding]) == ["not-yet line-up"]
    assert said(finding) == [
        "`line-up` is barred while `open-tracks` lasts, which `arbor-out` has begun",
        "`line-up` is not done while `open-tracks` lasts, from `arbor-out` to `tubes-in`",
    ]
    assert finding.fix == "move `line-up` to before `arbor-out` or after `tubes-in`"
    assert tried(ram, order.replace("line-up ", "") + " line-up").ok


def test_a_screw_is_turned_from_end_to_end_before_its_cap() -> None:
    ram = model("balls-with-the-arbor-out")
    found = plan(ram)
    assert found.order is not None
    assert found.order[-2:] == ("try", "cap-on")
    assert found.steps["cap-on"].last_chance_for == ("try",)


# What is for a time only, or left loose.


def test_pegs_come_out_before_their_holes_are_capped() -> None:
    motor = model("pegs-out-before-the-caps")
    found = plan(motor)
    assert found.order == (
        "frame-up",
        "pegs-in",
        "packs-in",
        "rotor-in",
        "pegs-out",
        "caps-on",
    )
    assert found.steps["rotor-in"].last_chance_for == ("packs-in",)
    assert found.steps["caps-on"].last_chance_for == ("pegs-out",)
    assert codes(check(motor)) == ["shut-out pegs-out"]
    answer = why(motor, "rotor-in", "pegs-out")
    assert [fact.why for fact in answer.facts] == [
        "The springs snap the brushes in front of the rotor"
    ]


def test_pegs_that_stay_in_are_an_error() -> None:
    whole = (CASES / "pegs-out-before-the-caps.yaml").read_text(encoding="utf-8")
    motor = model("pegs-out-before-the-caps", (whole[whole.index("  pegs-out:") :], ""))
    (finding,) = check(motor)
    assert (finding.code, finding.severity, finding.step) == ("left-on", "error", "pegs-in")
    assert plan(motor).order is None


def test_screws_eased_for_now_and_never_tightened_are_an_error_with_their_number() -> None:
    carriage = model("eased-for-now")
    (finding,) = check(carriage)
    assert finding.severity == "error"
    assert codes([finding]) == ["left-loose bar-on"]
    assert said(finding) == [
        "`bar-on` leaves something loose, and no step makes it fast",
        "`bar-on` fits `guide` and 8 `guide-screws`",
    ]
    assert plan(carriage).order is None


def test_eased_screws_are_tightened_before_their_heads_are_covered() -> None:
    at_last = "  bar-fast: {do: Tighten all eight., secures: bar-on, ways_in: {heads: scale}}\n"
    text = "  scale-on: {do: Glue the scale over the screw heads., fits: scale, onto: guide}\n"
    carriage = model("eased-for-now", (text, text + at_last))
    assert codes(check(carriage)) == ["shut-out bar-fast"]
    found = plan(carriage)
    assert found.order == ("bar-on", "carriage-on", "bar-fast", "scale-on")
    assert found.steps["scale-on"].last_chance_for == ("bar-fast",)
    assert found.rest_after == ("bar-fast", "scale-on")


def test_what_a_step_loosens_for_good_is_told_with_its_number() -> None:
    bolts = Joint(id="flange-bolts", count=6)
    slack = step("slack", loosens=links("flange-bolts", "joint"))
    (finding,) = check(replace(assembly(slack), joints=(bolts,)))
    assert said(finding) == [
        "`slack` loosens `flange-bolts`, and no other step makes it fast again",
        "`flange-bolts` has 6 fasteners",
    ]
    bracket = step("bracket", fits="bracket")
    (finding,) = check(assembly(bracket, step("ease", after="bracket", loosens=links("bracket"))))
    assert said(finding) == [
        "`ease` loosens `bracket`, and no other step makes it fast again",
        "`bracket` fits `bracket`",
    ]


# One of several ways to the same end.


def test_a_pump_is_primed_one_way_and_the_others_are_the_fallback() -> None:
    pump = model("primed-one-way-or-another")
    assert check(pump) == ()
    found = plan(pump)
    assert found.order == ("fill-chamber", "lid-on", "motor-on", "plug-in", "first-start")
    assert found.fallbacks == {"fill-chamber": ("spin", "feed")}
    assert found.steps["lid-on"].last_chance_for == ("fill-chamber",)


def test_a_pump_closed_up_is_still_primed_by_the_way_that_is_left() -> None:
    pump = model("primed-one-way-or-another")
    assert tried(pump, "lid-on motor-on feed plug-in first-start").ok
    assert tried(pump, "lid-on spin motor-on plug-in first-start").ok


def test_a_pump_with_every_way_shut_is_a_trap() -> None:
    pump = model("primed-one-way-or-another")
    shut = tried(pump, "lid-on motor-on plug-in feed first-start")
    assert [finding.message for finding in shut.findings] == [
        "`feed` has no way in left at its turn: `plug-in` has shut the last, “bleed hole”"
    ]
    dry = tried(pump, "lid-on motor-on plug-in first-start")
    assert [finding.message for finding in dry.findings] == [
        "the order lacks `fill-chamber`, or `spin` or `feed` in its place"
    ]
    late = tried(pump, "lid-on motor-on first-start feed plug-in")
    assert "not-yet first-start" in codes(late.findings)


# Counting.


def test_every_pin_used_and_a_spare_declared_raise_no_alarm() -> None:
    assert check(model("counted-before-closing")) == ()


def test_a_pin_that_no_step_uses_is_counted_before_closing() -> None:
    drum = model("counted-before-closing", ("row., fits: 4 pawl-pins", "row., fits: 3 pawl-pins"))
    (finding,) = check(drum)
    assert (finding.code, finding.severity) == ("miscounted", "error")
    assert said(finding) == [
        "there are 12 of `pawl-pins`, but `first-row`, `second-row` and `third-row` fit 11",
        "`first-row` fits 4 of `pawl-pins`",
        "`second-row` fits 4 of `pawl-pins`",
        "`third-row` fits 3 of `pawl-pins`",
        "there are 12 of `pawl-pins`",
    ]
    assert finding.why == "1 would be left over when the unit is closed"
    assert finding.fix.endswith("if that is meant, write `quantity: 11` and `spare: 1`")


def test_a_list_with_fewer_pins_than_the_steps_use_names_the_steps() -> None:
    (finding,) = check(model("counted-before-closing", ("12 × Pawl pin", "11 × Pawl pin")))
    assert finding.code == "miscounted"
    assert [fact.path[1] for fact in finding.facts[:3]] == ["first-row", "second-row", "third-row"]
    assert finding.why == "1 would be missing at the bench"


def test_a_spare_counted_among_those_that_go_in_is_told() -> None:
    (finding,) = check(model("counted-before-closing", ("quantity: 6", "quantity: 7")))
    assert finding.facts[-1].text == "there are 7 of `springs`, and 1 spare on top"
    assert finding.fix.endswith("if that is meant, write `quantity: 6` and `spare: 1`")


def test_a_ball_too_few_is_told() -> None:
    (finding,) = (
        finding
        for finding in check(model("balls-with-the-arbor-out", ("fits: 10 balls", "fits: 9 balls")))
        if finding.code == "miscounted"
    )
    assert finding.message == (
        "there are 28 of `balls`, but `balls-in-nut` and `balls-in-tubes` fit 27"
    )


def test_what_only_a_trial_fits_is_not_missed() -> None:
    roller = model("dummy-in-a-trial")
    assert check(roller) == ()
    left_on = ("takes_off: dummy, ", "")
    assert check(model("dummy-in-a-trial", left_on)) == ()  # nothing of a trial stays


# Off and on again.


def test_a_plate_comes_off_after_the_screw_under_the_bung() -> None:
    drive = model("screw-under-the-bung")
    order = plan(drive).order
    assert order is not None
    assert order[:4] == ("screws-out", "bung-out", "deep-screw-out", "plate-off")
    assert forced(drive, "bung-out", "deep-screw-out") == [
        "`bung` is on from the start until `bung-out` takes it off, and shuts “bung bore”, "
        "a way in of `deep-screw-out`"
    ]
    tested = tried(drive, f"screws-out plate-off bung-out deep-screw-out {' '.join(order[4:])}")
    assert [finding.message for finding in tested.findings] == [
        "`plate-off` has no way in yet at its turn: `deep-screw` is still on"
    ]
    assert tested.findings[0].fix == "move `plate-off` to after `deep-screw-out`"


def test_a_fifth_screw_that_no_step_takes_out_is_named() -> None:
    text = (CASES / "screw-under-the-bung.yaml").read_text(encoding="utf-8")
    steps = text[text.index("  deep-screw-out:") : text.index("  plate-on:")]
    drive = model("screw-under-the-bung", (steps, ""))
    finding, *others = check(drive)
    assert codes([finding]) == ["too-big plate-off"]
    assert [other.facts[0].text for other in others] == [
        "`bung` is on from the start, and shuts “bung bore”, a way in of `deep-screw-in`",
        "`bung` is on from the start, and shuts “bung bore”, a way in of `deep-screw-in` "
        "for check `proud`",
    ]
    assert said(finding) == [
        "`plate-off` has no way in: `deep-screw` is on from the start and stays on",
        "`deep-screw` is on from the start, and shuts “free of screws”, a way in of `plate-off`",
    ]
    assert finding.fix == (
        "add `takes_off: deep-screw` to the step that takes it off, or add that step"
    )
    assert plan(drive).order is None


def test_a_screw_is_measured_below_its_bore_before_the_bung_goes_in() -> None:
    drive = model("screw-under-the-bung")
    found = plan(drive)
    assert found.order is not None
    assert found.order[-2:] == ("deep-screw-in", "bung-in")
    answer = why(drive, "deep-screw-in", "bung-in")
    assert answer.must
    assert [fact.why for fact in answer.facts] == ["On a proud screw it jams half way"]


# One check for many.


def test_a_shaft_may_be_turned_after_each_clamp_so_that_the_first_bad_one_shows() -> None:
    each = [
        (f"fits: clamp-{number}, onto", f"fits: clamp-{number}, check: free, onto")
        for number in range(1, 6)
    ]
    shaft = model("one-feel-for-many-clamps", *each)
    assert check(shaft) == ()
    assert plan(shaft).moves == 0


def test_one_feel_for_many_clamps_is_a_note() -> None:
    shaft = model("one-feel-for-many-clamps")
    (note,) = check(shaft)
    assert (note.code, note.severity, note.step) == ("one-check-for-many", "note", "turn")
    assert said(note) == [
        "`turn` takes check `free` once for 5 steps that can upset it, "
        "`close-1`, `close-2`, `close-3`, `close-4` and `close-5`",
        "only `turn` takes it",
        *(f"check `free` is upset by `close-{number}`" for number in range(1, 6)),
    ]
    after_one = model("one-feel-for-many-clamps", ("check: free}", "check: free, after: close-5}"))
    assert codes(check(after_one)) == ["one-check-for-many turn"]


def test_one_check_for_many_is_no_note_where_it_shows_the_place_or_could_not_be_taken_before() -> (
    None
):
    name = "one-feel-for-many-clamps"
    assert check(model(name, ("    feel: Turn", "    look: Watch the gaps and turn"))) == ()
    two = (
        "upset_by: [close-1, close-2, close-3, close-4, close-5]",
        "upset_by: [close-1, close-2]",
    )
    assert check(model(name, two)) == ()
    last = ("check: free}", "check: free, after: [close-2, close-3, close-4, close-5]}")
    assert check(model(name, last)) == ()


def test_a_shaft_is_turned_after_the_last_clamp() -> None:
    shaft = model("one-feel-for-many-clamps")
    early = tried(shaft, "shaft-in close-1 close-2 turn close-3 close-4 close-5")
    assert codes(early.findings) == ["not-yet turn"]
    assert [fact.text for fact in early.findings[0].facts] == [
        f"check `free`, taken in `turn`, is upset by `close-{number}`" for number in (3, 4, 5)
    ]


def test_every_model_of_a_case_is_read_in_a_test() -> None:
    tests = CASES.parent.parent.rglob("test_*cases*.py")
    read = "".join(file.read_text(encoding="utf-8") for file in tests)
    unread = [file.stem for file in CASES.glob("*.yaml") if f'"{file.stem}"' not in read]
    assert unread == []


def test_an_order_with_the_choice_that_leaves_something_loose_is_not_right() -> None:
    unit = Assembly(
        assembly="test",
        steps=(step("eased", leaves=("loose",)), step("kept")),
        one_of=(OneOf(steps=links("eased kept")),),
    )
    assert codes(try_order(unit, ["eased"]).findings) == ["left-loose eased"]
    assert try_order(unit, ["kept"]).ok
