"""Traps with compounds and time, one small model each: what is found, and no false alarm.

The models are in tests/models/cases; a variant of one is made by changing words of its text.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from sequencer.planning.plan import check, plan, plan_by_handling, try_order, without
from sequencer.reading import read_text
from tests.planning.test_cases import codes, model, planned, tried

if TYPE_CHECKING:
    from sequencer.problem import Problem

_STRIP = "by then it has a skin: all of it must be cleaned off and put on afresh"
_LETS_GO = "loaded before it has set, it lets go or leaks, and has to be done afresh"


def whole(finding: Problem) -> list[str]:
    """Give all the words of a finding: message, facts with their reasons, why, fix."""
    facts = (f"{fact.text}{f' – {fact.why}' if fact.why else ''}" for fact in finding.facts)
    return [finding.message, *facts, f"why: {finding.why}", f"fix: {finding.fix}"]


# A bead that skins over in a quarter of an hour.


def test_a_bead_closed_too_late_is_told_with_what_could_go_before_it() -> None:
    bead, _ = check(model("paste-between-the-halves"))
    assert (bead.code, bead.severity, bead.step) == ("open-too-long", "warning", "screws-in")
    assert whole(bead) == [
        "`screws-in` closes `joint-face` 18 min after `bead` puts `paste` on it, "
        "and that stays open for 15 min",
        "`bead` puts `paste` on `joint-face`",
        "`paste` stays open for 15 min",
        "`screws-in` closes it",
        f"why: {_STRIP}",
        "fix: do `layshaft-in` and `sort` before `bead`: that leaves 11 min",
    ]


def test_only_what_can_go_before_the_bead_is_named() -> None:
    tied = ("onto: lower, time: 4 min", "onto: lower, after: bead, time: 4 min")
    bead, _ = check(model("paste-between-the-halves", tied))
    assert bead.fix == "do `sort` before `bead`: that leaves 15 min"
    sorted_last = ("do: Sort the screws by length on the rag.,", "do: Sort them., after: upper-on,")
    bead, _ = check(model("paste-between-the-halves", tied, sorted_last))
    assert bead.fix == (
        "share out what stands in between, or take a compound that stays open for longer"
    )


def test_where_the_work_would_grow_too_much_nothing_is_said_for_certain(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("sequencer.planning.timing.sooner._WORK", 0)
    bead, _ = check(model("paste-between-the-halves"))
    assert bead.fix == "see what of all that stands in between can be done before `bead`"


def test_the_order_mended_as_told_is_in_time() -> None:
    case = model("paste-between-the-halves")
    order = "lower-in wipe layshaft-in sort bead upper-on screws-in oil-in"
    assert codes(tried(case, order).findings) == ["loaded-too-soon oil-in"]


def test_fourteen_minutes_are_in_time_and_no_place_to_rest() -> None:
    quick = model(
        "paste-between-the-halves",
        ("    leaves: loose\n    time: 5 min", "    leaves: loose\n    time: 3 min"),
        ("    closes: joint-face\n    time: 6 min", "    closes: joint-face\n    time: 4 min"),
        ("wait: 2 h", "wait: 24 h"),
    )
    assert check(quick) == ()
    found = plan(quick)
    assert found.rest_after == ("lower-in", "wipe", "screws-in", "oil-in")
    (window,) = found.times.windows
    assert (window.since, window.until, window.compound) == ("bead", "screws-in", "paste")
    assert (window.passed, window.minutes, window.text) == (14, 15, "15 min")


def test_oil_is_not_poured_in_before_the_paste_has_cured() -> None:
    _, soon = check(model("paste-between-the-halves"))
    assert (soon.code, soon.severity, soon.step) == ("loaded-too-soon", "warning", "oil-in")
    assert whole(soon) == [
        "`oil-in` loads `joint-face` 2 h after `screws-in`, and `paste` on it needs 24 h to cure",
        "`bead` puts `paste` on `joint-face`",
        "`screws-in` closes it",
        "`oil-in` loads it",
        "`paste` needs 24 h to cure",
        f"why: {_LETS_GO}",
        "fix: let `oil-in` come after `screws-in` with `wait: 24 h`",
    ]
    (wait,) = plan(model("paste-between-the-halves")).times.waits["oil-in"]
    assert (wait.since, wait.text, wait.compound) == ("screws-in", "24 h", "paste")


def test_a_bead_is_not_laid_while_the_screws_are_awaited() -> None:
    split = without(model("paste-between-the-halves"), "screws")
    assert split is not None
    assert whole(split.plan.findings[-1]) == [
        "`bead` puts `paste` on, which stays open for 15 min, and `screws-in` closes it only when "
        "`screws` has come",
        "`bead` puts `paste` on",
        "`paste` stays open for 15 min",
        "`screws-in` closes it",
        f"why: {_STRIP}",
        "fix: leave `bead` until `screws` is there",
    ]
    assert not any(
        "has come" in f.message for f in plan(model("paste-between-the-halves")).findings
    )


# Oil and locking compound on one thread. Common practice, no source: threads that get locking
# compound are degreased and dry first.


def test_locker_on_an_oiled_thread_is_an_error_and_the_order_still_works() -> None:
    case = model("oil-and-locker-on-one-thread")
    meet, dirty, soon = check(case)
    assert (meet.code, meet.severity, meet.step) == ("not-together", "error", "lock")
    assert whole(meet) == [
        "`lock` puts `locker` on `grub-thread`, over the `oil` that `oil-thread` puts there, "
        "and they must not meet",
        "`oil-thread` puts `oil` on `grub-thread`",
        "`lock` puts `locker` on it",
        "`locker` must not meet `oil` – It does not set on oil",
        "why: the one keeps the other from setting or holding",
        "fix: clean `grub-thread` in between, or leave one of them out",
    ]
    assert (dirty.code, soon.code) == ("unprepared", "loaded-too-soon")
    tested = try_order(case, plan(case).order or ())
    assert (tested.ok, tested.moves) == (True, 0)
    assert codes(tested.findings)[0] == "not-together lock"


def test_a_thread_for_locking_compound_is_degreased_and_dry_first() -> None:
    """Common practice, no source."""
    _, dirty, _ = check(model("oil-and-locker-on-one-thread"))
    assert (dirty.code, dirty.severity, dirty.step) == ("unprepared", "warning", "lock")
    assert whole(dirty) == [
        "`lock` puts `locker` on `grub-thread`, which is to be clean and dry, "
        "and no step cleans it",
        "`lock` puts `locker` on `grub-thread`",
        "`locker` wants it clean and dry",
        "why: it takes no hold there, or does not set, and comes loose or leaks later",
        "fix: add the step that `cleans: grub-thread` and `leaves: [clean, dry]`",
    ]


def test_a_run_waits_until_the_locking_compound_has_set() -> None:
    *_, soon = check(model("oil-and-locker-on-one-thread"))
    assert whole(soon) == [
        "`run` loads `grub-thread` right after `lock`, and `locker` on it needs 24 h to cure",
        "`lock` puts `locker` on `grub-thread`",
        "`run` loads it",
        "`locker` needs 24 h to cure",
        f"why: {_LETS_GO}",
        "fix: let `run` come after `lock` with `wait: 24 h`",
    ]


_DEGREASE = (
    "  lock:\n",
    "  degrease:\n"
    "    do: Degrease it.\n"
    "    cleans: grub-thread\n"
    "    leaves: [clean, dry]\n"
    "    after: oil-thread\n"
    "  lock:\n",
)
_WAIT = ("    after: lock\n", "    after: {step: lock, wait: 24 h}\n")


def test_degreased_in_between_and_left_to_set_it_is_sound() -> None:
    degreased = model("oil-and-locker-on-one-thread", _DEGREASE, _WAIT)
    assert check(degreased) == ()


def test_oil_after_the_degreasing_undoes_it() -> None:
    case = model(
        "oil-and-locker-on-one-thread",
        _DEGREASE,
        _WAIT,
        ("    after: oil-thread\n  lock", "  lock"),
    )
    order = "hub-on degrease oil-thread lock run"
    tested = tried(case, order)
    assert codes(tested.findings) == ["not-together lock", "unprepared lock"]
    assert whole(tested.findings[1])[:5] == [
        "`lock` puts `locker` on `grub-thread`, which is to be clean and dry, and `oil-thread` has "
        "put `oil` on it since `degrease` cleaned it",
        "`lock` puts `locker` on `grub-thread`",
        "`locker` wants it clean and dry",
        "`degrease` cleans it",
        "`oil-thread` puts `oil` on it",
    ]
    assert tested.findings[1].fix == "clean it after `oil-thread` and before `lock`"


def test_a_cleaning_that_leaves_it_wet_is_not_enough() -> None:
    wet = (_DEGREASE[0], _DEGREASE[1].replace("[clean, dry]", "clean"))
    (finding,) = check(model("oil-and-locker-on-one-thread", wet, _WAIT))
    assert finding.message == (
        "`lock` puts `locker` on `grub-thread`, which is to be dry, "
        "and `degrease` leaves it clean only"
    )
    assert finding.fix == "write `leaves: [clean, dry]` in `degrease` if it is so"


def test_a_cleaning_too_long_ago_counts_no_more() -> None:
    case = model(
        "chain-aligned-before-the-locker",
        ("  run:", "  guard-up:\n    do: Paint the guard.\n    time: 90 min\n  run:"),
    )
    assert check(case) == ()
    order = "sprocket-on chain-on align clean guard-up lock-first lock-second run"
    (finding,) = tried(case, order).findings
    assert whole(finding) == [
        "`lock-first` puts `locker` on `set-threads`, "
        "1 h 30 min after `clean` left it clean and dry",
        "`lock-first` puts `locker` on `set-threads`",
        "`locker` wants it clean and dry",
        "`clean` cleans it",
        "that holds for 1 h",
        "why: it takes no hold there, or does not set, and comes loose or leaks later",
        "fix: clean it again right before `lock-first`, or do `clean` later",
    ]


# A belt or chain is aligned before what holds it is locked for good.


def test_the_chain_is_aligned_before_the_screws_are_locked() -> None:
    case = model("chain-aligned-before-the-locker")
    assert check(case) == ()
    assert plan(case).moves == 0
    early = tried(case, "sprocket-on clean lock-first lock-second chain-on align run")
    assert codes(early.findings) == ["not-yet lock-first"]
    assert early.mended == (
        *("sprocket-on", "clean", "chain-on", "align", "lock-first", "lock-second", "run"),
    )


def test_screws_locked_one_by_one_on_one_surface_raise_no_alarm() -> None:
    found = plan(model("chain-aligned-before-the-locker"))
    (wait,) = found.times.waits["run"]
    assert (wait.since, wait.text, wait.compound) == ("lock-second", "20 min", "locker")
    assert [one.since for one in found.times.windows] == ["clean"]
    assert "clean" not in found.rest_after


# A hot tool beside glue that bears less.


def test_a_hot_step_after_glue_that_bears_less_is_told_and_keeps_its_place() -> None:
    case = model("cell-glued-before-the-hot-bush")
    (hot,) = check(case)
    assert (hot.code, hot.severity, hot.step) == ("too-hot", "warning", "bush-in")
    assert whole(hot) == [
        "`bush-in` works at 230 °C on what `glue` is on since `magnet-in`, "
        "and that bears 80 °C at the most",
        "`magnet-in` puts `glue` on `magnet-pocket`",
        "`glue` bears 80 °C",
        "`bush-in` heats to 230 °C",
        "why: it softens or burns, and what it holds comes loose",
        "fix: do `bush-in` first where that goes; else keep the heat off it and look at it after",
    ]
    assert planned(case) == "handle-up magnet-in bush-in"


def test_glue_on_another_part_or_after_the_heat_is_not_in_the_way() -> None:
    apart = ("    fits: magnet\n    onto: handle\n", "    fits: magnet\n")
    assert check(model("cell-glued-before-the-hot-bush", apart)) == ()
    free = (
        "    before: {step: bush-in, why: The wall bulges round the hot bush}\n",
        "",
    )
    assert (
        tried(model("cell-glued-before-the-hot-bush", free), "handle-up bush-in magnet-in").findings
        == ()
    )


def test_two_hard_rules_that_clash_are_named_and_none_is_chosen() -> None:
    both = (
        "    heat:",
        "    before: {step: magnet-in, why: Glue does not bear the heat}\n    heat:",
    )
    circle, _ = check(model("cell-glued-before-the-hot-bush", both))
    assert circle.message == (
        "`magnet-in` and `bush-in` wait for each other in a circle, so none of them can be first"
    )
    assert [fact.why for fact in circle.facts] == [
        "The wall bulges round the hot bush",
        "Glue does not bear the heat",
    ]


# A cement that sets by a table of temperatures: 60 °F is 15.6 °C, 110 °F 43.3 °C, 125 °F 51.7 °C.


def _at(temperature: str, *changes: tuple[str, str]) -> tuple[Problem, ...]:
    shop = ("temperature: 24 °C", f"temperature: {temperature}")
    return check(model("cement-by-the-thermometer", shop, *changes))


def test_in_its_table_a_cement_is_waited_for_by_the_colder_row() -> None:
    assert _at("24 °C") == ()
    assert _at("37 °C") == ()
    short = ("wait: 36 h", "wait: 3 h")
    assert codes(_at("37 °C", short)) == ["loaded-too-soon fill"]
    assert _at("38 °C", short) == ()
    assert _at("110 °F", short) == ()


def test_colder_than_its_table_nobody_knows_when_it_has_cured() -> None:
    (finding,) = _at("60 °F")
    assert (finding.code, finding.severity, finding.step) == ("cure-unknown", "warning", "fill")
    assert whole(finding) == [
        "`fill` loads `bore`, and nobody can say when `cement` on it has cured: "
        "no time is given for 60 °F",
        "`cement` cures in 36 h at 24 °C, 3 h at 38 °C",
        "`fill` loads it",
        "why: a guess would be too short in the cold, and the joint would look sound",
        "fix: ask its maker, and write his answer into the table; or bring the work into its range",
    ]


def test_without_a_temperature_it_is_asked_for() -> None:
    (finding,) = check(model("cement-by-the-thermometer", ("defaults: {temperature: 24 °C}\n", "")))
    assert finding.message.endswith("the cure time depends on the temperature, and none is given")
    assert finding.fix == "write how warm the shop is, as `temperature` under `defaults`"


def test_hotter_than_it_bears_no_time_is_given() -> None:
    (finding,) = _at("125 °F", ("wait: 36 h", "wait: 1 min"))
    assert (finding.code, finding.severity, finding.step) == ("too-hot", "warning", "seat-in")
    assert whole(finding) == [
        "`seat-in` puts `cement` on at 125 °F, and it bears 49 °C at the most",
        "it is 125 °F where the work is done",
        "`cement` bears 49 °C",
        "why: no cure time holds there, and what it holds may come loose",
        "fix: let it cool down where the work is done, or take a compound that bears it",
    ]


# A part is heated as far as it bears. 120 °C for a rolling bearing: as quoted in secondary
# sources; see trade/heating.py.


def _heated(part: str, to: str) -> tuple[Problem, ...]:
    text = (
        "assembly: heated\n"
        f"parts: {{ring: {part}}}\n"
        "steps:\n"
        f"  ring-on: {{do: Slip it on., fits: ring, heat: {{part: ring, to: {to}}}}}\n"
    )
    reading = read_text(text, "heated.yaml")
    assert reading.assembly is not None
    return check(reading.assembly)


def test_a_part_is_not_heated_above_what_it_bears() -> None:
    assert _heated("{name: Gear, hottest: 160 °C}", "160 °C") == ()
    (hot,) = _heated("{name: Gear, hottest: 160 °C}", "350 °F")
    assert (hot.code, hot.severity, hot.step) == ("too-hot", "warning", "ring-on")
    assert whole(hot) == [
        "`ring-on` heats `ring` to 350 °F, and that bears 160 °C at the most",
        "`ring-on` heats `ring` to 350 °F",
        "`ring` bears 160 °C",
        "why: too much heat changes the steel, or spoils seals and grease in it, unseen",
        "fix: heat it to 160 °C at the most; chill the other part if that is not enough",
    ]


def test_a_bearing_without_a_figure_bears_a_hundred_and_twenty_degrees() -> None:
    assert _heated("Ball bearing 6208", "120 °C") == ()
    (hot,) = _heated("Ball bearing 6208", "121 °C")
    assert hot.message == (
        "`ring-on` heats `ring` to 121 °C, a bearing, for which more than 120 °C takes its "
        "maker's word"
    )
    assert _heated("{name: Ball bearing 6208, hottest: 150 °C}", "140 °C") == ()
    assert _heated("Bearing housing", "200 °C") == ()


# By handling the oil lies under the locker; in the written order it does not.

_ORDERED = """\
assembly: a
compounds:
  oil: Oil
  locker: {name: Locker, not_with: oil}
tools: {swab: Swab, brush: Brush}
steps:
  oil-it: {do: Oil it., apply: {compound: oil, to: thread}, tools: brush}
  clean-it: {do: Clean it., cleans: thread, tools: swab}
  lock-it: {do: Lock it., apply: {compound: locker, to: thread}, tools: brush, after: oil-it}
"""


def test_the_printed_order_is_judged_and_not_the_written_one() -> None:
    reading = read_text(_ORDERED, "a.yaml")
    assert reading.assembly is not None
    assert check(reading.assembly) == ()
    assert plan(reading.assembly).findings == ()
    by_handling = plan_by_handling(reading.assembly)
    assert by_handling.order is not None
    assert [one.code for one in by_handling.findings] == ["not-together"]
