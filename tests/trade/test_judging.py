"""Verdicts from typed readings, and packs: laws beside brute force, and what cannot be judged."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations_with_replacement, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.model.checking import Check, Computed, Otherwise, Reading, Rework
from sequencer.model.common import Limit, Link
from sequencer.model.fastening import Tool
from sequencer.model.parts import Pack, ShimSize
from sequencer.model.quantities import read_amount, to_si
from sequencer.model.units import unit_for
from sequencer.trade.basics import Unknown
from sequencer.trade.follows import what_follows
from sequencer.trade.formulas import read_formula
from sequencer.trade.judging import judge_check
from sequencer.trade.measuring import Limits, limits_of
from sequencer.trade.packs import PackRule, choose_pack, pack_rule, shim_table
from sequencer.trade.reckoning import shares
from sequencer.trade.spelt import number, spelt
from tests.trade.figures_typed import figure, length

MM = unit_for("mm")


def limit(text: str) -> Limit:
    return Limit(value=figure(text))


def readings(*names: str) -> tuple[Reading, ...]:
    return tuple(Reading(name=name) for name in names)


# Observations, gauges, and what cannot be judged.

FEEL = Check(id="feel", feel="Turn it.", good="even, no catch", bad="a catch")
PLUG = Check(id="bore", measure="Bore", go="plug 10.00", no_go="plug 10.02")
PLAY = Check(id="play", readings=readings("a", "b"), compute="a - b", limit=limit("1 to 2 mm"))

VERDICTS = [
    (FEEL, {"": "good"}, "accept", "even, no catch"),
    (FEEL, {"": "Even, no catch"}, "accept", "even, no catch"),
    (FEEL, {"": "bad"}, "out of limit", "a catch"),
    (FEEL, {"": "so-so"}, "cannot be told", "`so-so` is neither the good nor the bad finding"),
    (FEEL, {}, "cannot be told", "the finding is not there yet"),
    (Check(id="x", look="Look."), {"": "grey"}, "recorded", "the model does not say what is good"),
    (
        PLUG,
        {"go": "yes", "no_go": "no"},
        "accept",
        "plug 10.00 goes in and plug 10.02 does not go in",
    ),
    (PLUG, {"go": "no", "no_go": "no"}, "out of limit", "plug 10.00 does not go in"),
    (PLUG, {"go": "yes", "no_go": "yes"}, "out of limit", "plug 10.02 goes in"),
    (PLUG, {"go": "yes"}, "cannot be told", "nothing says yet whether plug 10.02 goes in"),
    (
        PLUG,
        {"go": "nearly", "no_go": "no"},
        "cannot be told",
        "`nearly` does not say whether plug 10.00 goes in",
    ),
    (PLAY, {"a": "5.00", "b": "3.50"}, "accept", "1.5 mm is within 1 to 2 mm"),
    (PLAY, {"a": "5.00 mm"}, "cannot be told", "the reading `b` is not there yet"),
    (
        PLAY,
        {"a": "5.00", "b": "3 N"},
        "cannot be told",
        "`a - b` adds or takes away unlike things",
    ),
    (PLAY, {"a": "at most 5 mm", "b": "3"}, "cannot be told", "`at most 5 mm` is not one figure"),
    (
        Check(id="x", measure="Play", limit=limit("1 to 2 mm")),
        {"": "3 N"},
        "cannot be told",
        "`3 N` is not compared with the limit `1 to 2 mm`",
    ),
    (
        Check(id="x", readings=readings("a"), compute="a * 2"),
        {"a": "3 mm"},
        "recorded",
        "the model gives it no limit",
    ),
]


@pytest.mark.parametrize(("check", "typed", "word", "why"), VERDICTS)
def test_the_verdict_says_why(check: Check, typed: dict[str, str], word: str, why: str) -> None:
    found = judge_check(check, typed)
    assert (found.word, found.why) == (word, why)
    assert found.follows.words or found.follows.goes_on


def test_each_result_of_one_set_of_readings_is_judged() -> None:
    rim = Check(
        id="rim",
        readings=readings("top", "bottom"),
        results=(
            Computed(name="up", compute="(bottom - top) / 2", limit=limit("-0.05 to 0.05 mm")),
            Computed(name="sum", compute="top + bottom", limit=limit("at most 1.00 mm")),
        ),
    )
    found = judge_check(rim, {"top": "0.10", "bottom": "0.30"})
    assert found.word == "out of limit"
    assert found.why == "`up`, 0.1 mm, is above the limit (-0.05 to 0.05 mm)"
    assert [(one.name, one.figure, one.says) for one in found.results] == [
        ("up", "0.1 mm", "out high"),
        ("sum", "0.4 mm", "accept"),
    ]


def test_a_reading_of_its_own_gauge_has_the_unit_of_that() -> None:
    tools = {"dial": Tool(id="dial", reads=length("0.001 in"))}
    check = Check(id="x", measure="Play", with_="dial", limit=limit("0.10 to 0.30 mm"))
    assert judge_check(check, {"": "0.008"}, tools).why == "0.2032 mm is within 0.10 to 0.30 mm"


def test_a_result_is_told_no_finer_than_its_readings_together() -> None:
    """Three readings to 0.01 in a product: told as finely as all of them being off allows."""
    check = Check(id="x", readings=readings("a", "b"), compute="a / b", limit=limit("1.00 to 1.01"))
    assert judge_check(check, {"a": "5.02 mm", "b": "5.00 mm"}).word == "accept"
    found = judge_check(check, {"a": "5.0 mm", "b": "5.0 mm"})
    assert found.word == "cannot be told"
    assert "is told only to" in found.why


# What follows.

SLEEVE, SEAT = (Link("sleeve", "part"),), (Link("seat"),)
FOLLOWS = [
    (Otherwise(), 1, "out of limit", "do not go on: tell who is in charge"),
    (Otherwise(stop="foreman"), 1, "stop", "stop, and tell: foreman"),
    (
        Otherwise(accept_by="foreman"),
        1,
        "sign",
        "do not go on unless this role accepts it as it is and signs: foreman",
    ),
    (
        Otherwise(again_from=SEAT, change="the pack."),
        9,
        "again",
        "do not go on: change the pack, then start again from `seat`",
    ),
    (
        Otherwise(again_from=SEAT, most=2),
        2,
        "out of limit",
        "do not go on: 2 rounds were tried, and the model allows no more",
    ),
    (Otherwise(again_from=SEAT, most=2, stop="foreman"), 2, "stop", "stop, and tell: foreman"),
    (
        Otherwise(renew=SLEEVE, again_from=SEAT),
        1,
        "renew",
        "do not go on: renew `sleeve`, and start again from `seat`",
    ),
]


@pytest.mark.parametrize(("other", "turn", "word", "words"), FOLLOWS)
def test_what_follows_is_the_models_own(other: Otherwise, turn: int, word: str, words: str) -> None:
    found = what_follows(Check(id="x", measure="Play", else_=other), turn)
    assert (found.word, found.words, found.goes_on) == (word, words, False)


def test_rework_without_a_limit_is_tried_once_before_all_else() -> None:
    rework, other = Rework(how="Stone the burr off."), Otherwise(renew=SLEEVE)
    check = Check(id="x", look="Edge", rework=rework, else_=other)
    assert what_follows(check).words == "Stone the burr off, then check again"
    assert what_follows(check, 2).word == "renew"
    assert what_follows(Check(id="x", look="Edge", rework=rework), 5).word == "rework"


def test_rework_without_a_limit_is_the_way_back_where_a_step_is_named() -> None:
    rework = Rework(how="Change the shim pack by the difference.")
    other = Otherwise(again_from=(Link("cap", "after"),), change="shim pack", most=4)
    check = Check(id="x", measure="Float", rework=rework, else_=other)
    found = what_follows(check)
    assert found.word == "again"
    assert found.words == "do not go on: change shim pack, then start again from `cap`"


def test_rework_with_a_limit_is_for_figures_in_it() -> None:
    rework = Rework(limit=limit("24.98 to 25.02 mm"), how="Hone it")
    check = Check(
        id="x",
        measure="Bore",
        limit=limit("25.02 to 25.06 mm"),
        rework=rework,
        else_=Otherwise(renew=SLEEVE),
    )
    assert [judge_check(check, {"": text}).word for text in ("25.04", "25.00", "24.97")] == [
        "accept",
        "rework",
        "renew",
    ]


# A turn of the thimble.

THIMBLES = [
    ("25.500", "25.000 to 25.020 mm", "measure again"),
    ("24.510", "25.000 to 25.020 mm", "measure again"),
    ("25.300", "25.000 to 25.020 mm", "out of limit"),
    ("0.55", "0.04 to 0.06 mm", "out of limit"),  # of a play nobody turns a thimble
    ("25.70", "25.00 to 25.30 mm", "out of limit"),  # many readings are half a mm from a wide band
    ("1.500", "at most 1.020 mm", "out of limit"),
]


@pytest.mark.parametrize(("reading", "asked", "word"), THIMBLES)
def test_a_turn_of_the_thimble_is_seen_where_it_is_likely(
    reading: str, asked: str, word: str
) -> None:
    check = Check(id="x", measure="Journal", limit=limit(asked))
    assert judge_check(check, {"": reading}).word == word


WORN = [
    ("24.90", "24.97 to 25.00 mm", "smaller", "out of limit"),
    ("25.05", "24.97 to 25.00 mm", "smaller", "measure again"),
    ("24.90", "24.97 to 25.00 mm", "larger", "measure again"),
    ("25.05", "24.97 to 25.00 mm", "larger", "out of limit"),
    ("25.05", "at least 24.97 mm", "smaller", "accept"),
]


@pytest.mark.parametrize(("reading", "asked", "wears", "word"), WORN)
def test_a_part_that_has_grown_by_wear_is_measured_again(
    reading: str, asked: str, wears: str, word: str
) -> None:
    check = Check(id="x", measure="Journal", limit=limit(asked), wears=wears)
    found = judge_check(check, {"": reading})
    assert found.word == word
    if word == "measure again":
        side = "above" if wears == "smaller" else "below"
        assert found.why == f"{reading.rstrip('0')} mm is {side} the limit ({asked}), and wear " + (
            f"makes it {wears}"
        )


# Laws.

CENTS = st.integers(-300, 300)
FORMULAS = ["a - b", "(b - a) / 2", "a + b / 3", "2 * a - b", "-(a - b) * 0.5"]


@given(CENTS, CENTS, st.integers(0, 20), st.integers(0, 20), st.sampled_from(FORMULAS), CENTS)
def test_the_verdict_holds_at_every_corner_of_the_readings(
    a: int, b: int, off_a: int, off_b: int, formula: str, low: int
) -> None:
    asked = f"{low / 100:.2f} to {low / 100 + 0.3:.2f} mm"
    check = Check(id="x", readings=readings("a", "b"), compute=formula, limit=limit(asked))
    typed = {
        name: f"{value / 100:.2f} ± {off / 100:.2f} mm"
        for name, value, off in (("a", a, off_a), ("b", b, off_b))
    }
    found = judge_check(check, typed)
    band = limits_of(figure(asked))
    moves = shares(read_formula(formula))
    assert moves is not None
    corners = [
        (moves["a"] * (a + i * off_a) + moves["b"] * (b + j * off_b)) / 100_000
        for i, j in product((-1, 1), repeat=2)
    ]
    inside = [band.holds(corner) for corner in corners]
    says = found.results[0].says
    if says == "accept":
        assert all(inside)
    elif says in ("out low", "out high"):
        assert not any(inside)
    else:
        assert says == "cannot be told"
        assert not all(inside)


@given(st.fractions(-5, 5, max_denominator=700), CENTS, st.integers(0, 100))
def test_a_figure_in_words_stays_on_its_side_of_the_limit(
    value: Fraction, low: int, width: int
) -> None:
    band = Limits(Fraction(low, 100), Fraction(low + width, 100))
    shown = Fraction(number(value, band).replace("−", "-"))
    assert band.holds(shown) == band.holds(value)
    assert abs(shown - value) <= max(abs(value) / 200, Fraction(1, 10**6))


@given(st.fractions(-5, 5, max_denominator=40))
def test_a_figure_in_words_reads_back(value: Fraction) -> None:
    again = read_amount(spelt(value, "mm"), ("length",))
    least = Fraction(1, 10**6)
    assert abs(to_si(again.value, again.unit) * 1000 - value) <= max(abs(value) / 200, least)


SIZES = st.lists(st.integers(1, 40), min_size=1, max_size=4, unique=True)


def rule_of(
    sizes: list[int], at_most: int, effect: int, start: int, low: int, wide: int
) -> PackRule:
    """Make ready a pack, its figures in hundredths of a millimetre."""
    pack = Pack(
        sizes=tuple(ShimSize("", MM, Fraction(s, 100), Fraction(s, 100)) for s in sizes),
        at_most=at_most,
        start=length(f"{start / 100:.2f} mm"),
        effect=f"+1 mm pack = {effect:+d} mm play",
    )
    return pack_rule(pack, figure(f"{low / 100:.2f} to {(low + wide) / 100:.2f} mm"))


@given(SIZES, st.integers(1, 3), st.sampled_from([-2, -1, 1]), st.integers(0, 50), st.data())
def test_packs_and_their_table_agree_with_brute_force(
    sizes: list[int], at_most: int, effect: int, start: int, data: st.DataObject
) -> None:
    low, wide = data.draw(st.integers(-20, 30)), data.draw(st.integers(0, 25))
    rule = rule_of(sizes, at_most, effect, start, low, wide)
    packs = [
        pack
        for count in range(1, at_most + 1)
        for pack in combinations_with_replacement(sizes, count)
    ]
    totals = {sum(pack) for pack in packs}
    fewest = {total: min(len(p) for p in packs if sum(p) == total) for total in totals}

    def serving(reading: int) -> dict[int, int]:
        results = {total: reading + effect * (total - start) for total in totals}
        return {total: got for total, got in results.items() if low <= got <= low + wide}

    table = shim_table(rule, Fraction(1, 100))
    rows = () if isinstance(table, Unknown) else table
    for reading in range(-60, 61):
        good = serving(reading)
        found = choose_pack(rule, Fraction(reading, 100)).choice
        assert {int(p.total * 100): int(p.result * 100) for p in found.packs} == good
        best = min(
            good,
            key=lambda total: (abs(2 * good[total] - 2 * low - wide), fewest[total], total),
            default=None,
        )
        assert (found.best and int(found.best.total * 100)) == best
        row = [row for row in rows if row.first * 100 <= reading <= row.last * 100]
        assert len(row) <= 1
        in_table = int(row[0].total * 100) if row and row[0].total is not None else None
        if reading >= 0 or low < 0:
            assert in_table == best
        for one in row:
            assert one.results is None or all(map(rule.limits.holds, one.results))


def test_a_table_that_rounds_gives_the_pack_of_its_rule() -> None:
    pack = Pack(
        sizes=(ShimSize("", MM, Fraction("0.01"), Fraction("0.60"), Fraction("0.01")),),
        at_most=1,
        effect="+1 mm pack = -1 mm play",
        rounding="0-2 = 0, 3-7 = 5, 8-9 = 10",
    )
    rule = pack_rule(pack, figure("-0.03 to 0.03 mm"))
    table = shim_table(rule, Fraction("0.01"))
    assert not isinstance(table, Unknown)
    rows = [
        (number(row.first), number(row.last), number(row.total))
        for row in table
        if row.total is not None and Fraction("0.05") <= row.first <= Fraction("0.20")
    ]
    assert rows == [
        ("0.08", "0.12", "0.1"),
        ("0.13", "0.17", "0.15"),
        ("0.18", "0.22", "0.2"),
    ]


def test_there_is_no_table_of_endless_readings_or_for_no_pack() -> None:
    rule = rule_of([40], 1, 1, 0, 0, 5)
    assert shim_table(rule, Fraction("0.01")) == Unknown(
        "no pack from these sizes brings a figure within the limit"
    )
    rule = rule_of([1], 3, -1, 0, 0, 25)
    assert shim_table(rule, Fraction(1, 10**6)) == Unknown(
        "too many readings are possible for a table"
    )
