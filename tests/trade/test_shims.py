"""Shim packs."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations_with_replacement

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sequencer.trade.basics import TradeError
from sequencer.trade.measuring import Limits
from sequencer.trade.shims import (
    RoundingRule,
    Shimming,
    Supply,
    choose_shims,
    packs_of,
    read_effect,
    read_rounding,
)
from tests.trade.figures_typed import exact

HUNDREDTH = Fraction("0.01")


def _limits(low: str, high: str) -> Limits:
    return Limits(Fraction(low), Fraction(high))


def _supply(at_most: int, *sizes: str) -> Supply:
    return Supply(dict.fromkeys(exact(*sizes)), at_most)


def test_every_pack_inside_is_listed_the_nearest_to_the_middle_first() -> None:
    choice = choose_shims(
        Shimming(Fraction("0.50"), -1), _supply(3, "0.10", "0.15"), _limits("0.10", "0.30")
    )
    found = [(pack.shims, float(pack.result)) for pack in choice.packs]
    assert found == [
        (exact("0.15", "0.15"), 0.20),
        (exact("0.15", "0.10"), 0.25),
        (exact("0.15", "0.10", "0.10"), 0.15),
        (exact("0.10", "0.10"), 0.30),
        (exact("0.15", "0.15", "0.10"), 0.10),
    ]


def test_of_two_packs_equally_near_the_one_with_fewer_shims_is_best() -> None:
    choice = choose_shims(
        Shimming(Fraction("0.50"), -1), _supply(2, "0.20", "0.40"), _limits("0.05", "0.35")
    )
    assert choice.best is not None
    assert [float(shim) for shim in choice.best.shims] == [0.2]


def test_total_is_made_of_the_fewest_and_largest_shims() -> None:
    assert packs_of(Fraction("0.6"), _supply(3, "0.1", "0.3", "0.5", "0.2")) == exact("0.5", "0.1")
    assert packs_of(Fraction("0.6"), _supply(1, "0.1", "0.5")) is None


def test_shims_on_hand_are_not_used_twice() -> None:
    supply = Supply({Fraction("0.3"): 1, Fraction("0.1"): None}, 4)
    assert packs_of(Fraction("0.6"), supply) == exact("0.3", "0.1", "0.1", "0.1")
    assert packs_of(Fraction("0.9"), supply) is None


def test_no_pack_does_it_names_the_nearest_on_both_sides() -> None:
    choice = choose_shims(
        Shimming(Fraction("1.00"), -1), _supply(4, "0.20"), _limits("0.45", "0.55")
    )
    assert choice.packs == ()
    assert choice.best is None
    assert choice.ideal == Fraction("0.5")
    assert choice.short is not None
    assert choice.over is not None
    assert (float(choice.short.result), float(choice.over.result)) == (0.4, 0.6)


def test_effect_the_other_way_turns_the_choice_round() -> None:
    opens = choose_shims(Shimming(Fraction("0.05"), 1), _supply(3, "0.05"), _limits("0.10", "0.15"))
    assert [float(pack.result) for pack in opens.packs] == [0.10, 0.15]


def test_measured_with_a_pack_in_place_counts_from_there() -> None:
    """1.20 measured with 0.50 in: 0.70 in gives 1.00."""
    assert Shimming(Fraction("1.20"), -1, Fraction("0.50")).result(Fraction("0.70")) == 1


def test_decimals_are_exact() -> None:
    """Three tenths are 0.3, on the limit and inside."""
    choice = choose_shims(Shimming(0, 1), _supply(3, "0.1"), _limits("0.3", "0.3"))
    assert choice.best is not None
    assert len(choice.best.shims) == 3


SIZES = st.lists(st.integers(1, 40), min_size=1, max_size=5, unique=True)


@given(
    st.integers(-50, 50),
    st.sampled_from([-1, 1, 2]),
    SIZES,
    st.integers(1, 4),
    st.integers(-60, 60),
    st.integers(0, 30),
)
def test_packs_are_exactly_those_that_brute_force_finds(
    measured: int, effect: int, sizes: list[int], at_most: int, low: int, width: int
) -> None:
    limits = Limits(Fraction(low, 100), Fraction(low + width, 100))
    shimming = Shimming(Fraction(measured, 100), effect)
    supply = Supply({Fraction(size, 100): None for size in sizes}, at_most)
    choice = choose_shims(shimming, supply, limits)
    packs = [
        pack
        for count in range(1, at_most + 1)
        for pack in combinations_with_replacement(sorted(sizes), count)
    ]
    good = [pack for pack in packs if limits.holds(shimming.result(Fraction(sum(pack), 100)))]
    fewest = {sum(pack): len(pack) for pack in sorted(good, key=len, reverse=True)}
    assert {pack.total * 100: len(pack.shims) for pack in choice.packs} == fewest
    for pack in choice.packs:
        assert pack.total == sum(pack.shims)
        assert pack.result == shimming.result(pack.total)
        assert limits.holds(pack.result)


@given(st.integers(-500, 500), st.integers(-500, 500), st.sampled_from([-2, -1, 1, 3]))
def test_ideal_pack_gives_the_figure_wanted(measured: int, wanted: int, effect: int) -> None:
    shimming = Shimming(Fraction(measured, 100), effect, Fraction("0.5"))
    assert shimming.result(shimming.pack_for(Fraction(wanted, 100))) == Fraction(wanted, 100)


def test_grid_of_sizes_is_quick() -> None:
    """57 sizes in hundredths, up to four in a pack."""
    sizes = dict.fromkeys(Fraction(size, 100) for size in range(115, 172))
    choice = choose_shims(Shimming(5, -1), Supply(sizes, 4), _limits("0.00", "0.02"))
    assert len(choice.packs) == 3


BAD_SHIMMINGS = [
    (Shimming(0, 0), _supply(1, "0.1"), _limits("0.1", "0.2")),
    (Shimming(0, 1), Supply({Fraction(0): None}, 1), _limits("0.1", "0.2")),
    (Shimming(0, 1), _supply(1, "0.1"), Limits(None, Fraction(1))),
]


@pytest.mark.parametrize(("shimming", "supply", "limits"), BAD_SHIMMINGS)
def test_shims_that_cannot_settle_anything_are_refused(
    shimming: Shimming, supply: Supply, limits: Limits
) -> None:
    with pytest.raises(TradeError):
        choose_shims(shimming, supply, limits)


def test_endless_choice_is_refused() -> None:
    sizes = dict.fromkeys(Fraction(1, prime) for prime in (2, 3, 5, 7, 11, 13, 17, 19, 23))
    with pytest.raises(TradeError, match="too many"):
        choose_shims(Shimming(0, 1), Supply(sizes, 12), _limits("1", "4"))


FIVES = "0-2 = 0, 3-7 = 5, 8-9 = 10"


@pytest.mark.parametrize(
    ("typed", "rounded"),
    [("0.50", "0.50"), ("0.52", "0.50"), ("0.53", "0.55"), ("0.57", "0.55"), ("0.58", "0.60")],
)
def test_digit_is_rounded_by_the_rule_of_the_job(typed: str, rounded: str) -> None:
    assert read_rounding(FIVES, HUNDREDTH).round(Fraction(typed)) == Fraction(rounded)


def test_figure_is_first_rounded_half_up_to_the_digit() -> None:
    rule = read_rounding("0–4 → 0; 5–9 → 10", HUNDREDTH)
    assert rule.round(Fraction("0.545")) == Fraction("0.60")
    assert rule.round(Fraction("-0.52")) == Fraction("-0.50")


@pytest.mark.parametrize("text", ["", "0-2 = 0", "0-5 = 0, 5-9 = 10", "to the nearest five"])
def test_rule_must_say_what_becomes_of_each_digit(text: str) -> None:
    with pytest.raises(TradeError):
        read_rounding(text, HUNDREDTH)


@given(st.integers(0, 10_000))
def test_rounding_moves_by_less_than_a_step_and_stays_put(hundredths: int) -> None:
    rule: RoundingRule = read_rounding(FIVES, HUNDREDTH)
    value = Fraction(hundredths, 100)
    rounded = rule.round(value)
    assert abs(rounded - value) <= Fraction("0.02")
    assert rule.round(rounded) == rounded


EFFECTS = [
    ("+1 mm pack = +1 mm float", 1),
    ("+1 mm pack = -1 mm float", -1),
    ("1 mm pack = −0,5 mm end play", Fraction(-1, 2)),
    ("0.01 in pack = 0.02 in gap", 2),
]


@pytest.mark.parametrize(("text", "effect"), EFFECTS)
def test_effect_of_a_pack_is_read(text: str, effect: Fraction) -> None:
    assert read_effect(text) == effect


@pytest.mark.parametrize(
    "text", ["", "more pack, less play", "1 mm pack = 1 in float", "0 mm pack = 1 mm gap"]
)
def test_effect_told_otherwise_is_refused(text: str) -> None:
    with pytest.raises(TradeError):
        read_effect(text)
