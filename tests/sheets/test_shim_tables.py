"""The shim table: every reading finds the pack that the one-by-one choice would give."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.model.checking import Check, Otherwise
from sequencer.model.parts import Pack, Part, ShimSize
from sequencer.model.steps import Fit, Step
from sequencer.model.units import unit_for
from sequencer.sheets.job import Ref
from sequencer.sheets.shim_tables import PackRow, shim_table
from sequencer.trade.basics import Unknown
from sequencer.trade.measuring import Limits
from sequencer.trade.shims import Shimming, Supply, choose_shims
from tests.sheets.making import amount, limit, links
from tests.sheets.views import cards

MM = unit_for("mm")


def sizes(*texts: str) -> tuple[ShimSize, ...]:
    return tuple(ShimSize(f"{one} mm", MM, Fraction(one), Fraction(one)) for one in texts)


def check(text: str) -> Check:
    return Check(id="c", measure="Float", limit=limit(text))


def rows(pack: Pack, text: str, division: str = "") -> tuple[PackRow, ...]:
    table = shim_table(pack, check(text), amount(division) if division else None)
    assert not isinstance(table, Unknown), table
    return table


def words(pack: Pack, text: str) -> str:
    table = shim_table(pack, check(text))
    assert isinstance(table, Unknown)
    return table.words


def ends(span: str) -> tuple[Fraction, Fraction]:
    first, _, last = span.replace("−", "-").partition(" to ")
    return Fraction(first), Fraction(last or first)


def test_pump_gap_has_both_packs_that_serve() -> None:
    # Our own figures after a pump set by feelers: gap 0.047 in, wanted 0.010 to 0.020 in, shims
    # of 0.005 and 0.010 in, which close it: 0.030 gives 0.017, and 0.035 gives 0.012.
    inch = unit_for("in")
    pack = Pack(
        sizes=tuple(
            ShimSize(f"{one} in", inch, Fraction(one), Fraction(one)) for one in ("0.005", "0.010")
        ),
        at_most=4,
        effect="+1 in pack = -1 in gap",
    )
    serving = {
        row.total
        for row in rows(pack, "0.010 to 0.020 in")
        if ends(row.serves)[0] <= Fraction("0.047") <= ends(row.serves)[1]
    }
    assert serving == {"0.03 in", "0.035 in"}


def test_row_tells_readings_pack_total_and_result() -> None:
    pack = Pack(
        sizes=sizes("0.10", "0.25"),
        at_most=2,
        start=amount("0.25 mm"),
        effect="+1 mm pack = +1 mm float",
    )
    found = rows(pack, "0.10 to 0.20 mm")
    assert found[0] == PackRow(
        "0.00 to 0.09", "0.25 + 0.10", "0.35 mm", "0.10 to 0.19", "0.00 to 0.10"
    )
    assert "no pack does it" not in {row.pack for row in found}
    assert found[-1] == PackRow("0.25 to 0.35", "0.10", "0.10 mm", "0.10 to 0.20", "0.25 to 0.35")


def test_readings_that_no_pack_serves_say_so() -> None:
    pack = Pack(sizes=sizes("0.10", "1.00"), at_most=1, effect="+1 mm pack = -1 mm float")
    packs = [row.pack for row in rows(pack, "0.10 to 0.20 mm")]
    assert packs == ["0.10", "no pack does it", "1.00"]


def test_runs_of_sizes_are_taken_one_by_one() -> None:
    run = ShimSize(
        "1.00 to 1.10 mm step 0.05 mm", MM, Fraction(1), Fraction("1.1"), Fraction("0.05")
    )
    pack = Pack(sizes=(run,), at_most=1, effect="+1 mm pack = -1 mm float")
    assert [row.pack for row in rows(pack, "0.10 to 0.20 mm")] == ["1.00", "1.05", "1.10"]


def test_rule_of_rounding_comes_before_the_nearest() -> None:
    # The rule of a maker's table: 0 to 2 down, 3 to 7 to 5, 8 and 9 up.
    run = ShimSize(
        "0.30 to 0.60 mm step 0.05 mm", MM, Fraction("0.3"), Fraction("0.6"), Fraction("0.05")
    )
    pack = Pack(sizes=(run,), at_most=1, effect="+1 mm pack = -1 mm float", aim=amount("0.05 mm"))
    plain = {ends(row.measured): row.pack for row in rows(pack, "0.00 to 0.10 mm")}
    ruled = replace(pack, rounding="0-4 = 0, 5-9 = 10")
    by_rule = {row.pack for row in rows(ruled, "0.00 to 0.10 mm")}
    assert "0.45" in plain.values()
    assert "0.45" not in by_rule


def test_table_that_cannot_be_made_says_why() -> None:
    pack = Pack(sizes=sizes("0.1"), at_most=1, effect="+1 mm pack = +1 mm float")
    assert words(pack, "at most 0.2 mm") == (
        "no table: the limit `at most 0.2 mm` is open at one end"
    )
    assert words(replace(pack, effect="more is more"), "0.1 to 0.2 mm") == (
        "no table: `more is more` does not say what a pack does"
    )
    astray = replace(pack, aim=amount("0.3 mm"))
    assert words(astray, "0.1 to 0.2 mm") == (
        "no table: its aim is outside the limit `0.1 to 0.2 mm`"
    )
    assert words(replace(pack, sizes=()), "0.1 to 0.2 mm") == "no table: it has no sizes"
    assert words(pack, "1 to 2 N") == "no table: the limit `1 to 2 N` is not a length"
    fine = replace(pack, sizes=sizes("0.0001"), effect="+1 mm pack = -1 mm float")
    assert (
        words(replace(fine, at_most=70), "0.0001 to 0.0002 mm") == "no table: too many packs serve"
    )


SIZES = st.lists(st.integers(1, 40), min_size=1, max_size=4, unique=True)


@settings(max_examples=40)
@given(
    hundredths=SIZES,
    at_most=st.integers(1, 3),
    start=st.integers(0, 40),
    effect=st.sampled_from(
        ["+1 mm pack = +1 mm float", "+1 mm pack = -1 mm float", "+2 mm pack = -1 mm float"]
    ),
    low=st.integers(-20, 20),
    width=st.integers(0, 30),
)
def test_every_reading_finds_the_pack_that_is_best_for_it(
    hundredths: list[int], at_most: int, start: int, effect: str, low: int, width: int
) -> None:
    pack = Pack(
        sizes=sizes(*(str(Fraction(one, 100)) for one in hundredths)),
        at_most=at_most,
        start=amount(f"{start / 100:.2f} mm"),
        effect=effect,
    )
    typed = f"{low / 100:.2f} to {(low + width) / 100:.2f} mm"
    table = shim_table(pack, check(typed))
    limits = Limits(Fraction(low, 100), Fraction(low + width, 100))
    supply = Supply({Fraction(one, 100): None for one in hundredths}, at_most)
    sign = {"+1": 1, "-1": -1}[effect.partition("= ")[2][:2]]
    change = Fraction(sign, 2 if effect.startswith("+2") else 1)
    found = () if isinstance(table, Unknown) else table
    for row in found:
        first, last = ends(row.measured)
        for reading in (first, last):
            choice = choose_shims(Shimming(reading, change, Fraction(start, 100)), supply, limits)
            if choice.best is None:
                assert row.pack == "no pack does it"
                continue
            assert row.total == f"{float(choice.best.total):.2f} mm"
            assert limits.holds(choice.best.result)
            assert ends(row.gives)[0] <= choice.best.result <= ends(row.gives)[1]
        if row.gives:
            assert all(limits.holds(end) for end in ends(row.gives))
    if not found:  # no reading at all, then, that any pack serves
        for at in range(60):
            reading = Fraction(at, 100)
            choice = choose_shims(Shimming(reading, change, Fraction(start, 100)), supply, limits)
            assert choice.best is None


def test_card_of_the_check_has_the_table_and_the_final_card_the_choice() -> None:
    shims = Part(
        id="shims",
        name="Shims",
        pack=Pack(
            sizes=sizes("0.10", "0.25"),
            at_most=3,
            settled_by=links("check", "c"),
            effect="+1 mm pack = +1 mm float",
            source="card",
        ),
    )
    again = replace(check("0.10 to 0.20 mm"), else_=Otherwise(most=2))
    lay = Step(id="lay", do="Lay it.", fits=(Fit("shims"),))
    read = Step(id="read", do="Read it.", check=links("check", "c"))
    off = Step(id="off", do="Take it off.", takes_off=links("part", "shims"))
    final = Step(id="final", do="Fit the pack.", fits=(Fit("shims"),))
    first, second, _, last = cards(lay, read, off, final, parts=(shims,), checks=(again,))
    (block,) = second.packs
    assert block.name == "Shims"
    assert block.known == (
        ("Sizes", "0.10 mm, 0.25 mm"),
        ("At most", "3 in a pack"),
        ("Effect", "+1 mm pack = +1 mm float"),
        ("Source", "card"),
    )
    assert block.blanks == ("", "+", "+")
    assert block.rows
    assert (first.packs, last.packs) == ((), ())
    assert first.fitted[0].chosen == ()
    assert last.fitted[0].chosen == ("pack chosen in ", Ref(2))
    assert last.fitted[0].blanks == ("", "+", "+")
