"""The tables say what the sheets say: the kit, the steps in order, a row for each fastener."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from hypothesis import given, settings

from sequencer.model.quantities import to_si
from sequencer.planning.plan import plan
from sequencer.sheets.job import job_of
from sequencer.sheets.tables import TABLES, kit_table, steps_table, torque_table
from tests.reading.models import model
from tests.strategies import rich_models

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly
    from sequencer.sheets.job import Job

MODEL = """\
    assembly: x
    defaults: {source: Card 3}
    parts:
      "0010": {name: Arm, number: 1140-01, mass: 2.5 kg, price: 1.50}
      bolt: {name: Bolt, quantity: 2, spare: 1, renew: always, once: true, bag: B, on_hand: 0}
      base: {name: Base, at_start: fitted}
      cap: Cap
    joints:
      j: {name: Bolts, count: 2, torque: 28 to 32 ft-lb}
      k: {count: 1, torque: finger tight}
    steps:
      last: {do: Fit the cap., fits: cap, after: bolts, torque: 5 N·m ± 10 %, hold: foreman}
      arm-on: {do: Fit the arm., fits: "0010", time: 3 min}
      bolts:
        do: Screw in.
        fits: bolt
        onto: "0010"
        tighten: [j, k]
        tools: [[key, driver], hook]
        caution: [Hot., Sharp.]
        after: arm-on
"""


def job(assembly: Assembly) -> Job:
    return job_of(assembly, plan(assembly), fingerprint="7f3a·c91e", sheets=())


def test_the_kit_is_in_the_order_in_which_it_is_taken_up() -> None:
    grid = kit_table(job(model(MODEL)))
    assert " ".join(grid.heads) == (
        "id number name quantity spare mass price renew once aid matched serial bag on_hand "
        "bought_as in_steps"
    )
    assert [" | ".join(map(str, row)) for row in grid.rows] == [
        "0010 | 1140-01 | Arm | 1 | 0 | 2.5 kg | 3/2 |  |  |  |  |  |  |  |  | 1",
        "bolt |  | Bolt | 2 | 1 |  |  | always | yes |  |  |  | B | 0 |  | 2",
        "cap |  | Cap | 1 | 0 |  |  |  |  |  |  |  |  |  |  | 3",
    ]


def test_the_steps_are_in_the_order_of_the_plan() -> None:
    grid = steps_table(job(model(MODEL)))
    rows = [dict(zip(grid.heads, row, strict=True)) for row in grid.rows]
    assert [row["id"] for row in rows] == ["arm-on", "bolts", "last"]
    assert [row["turn"] for row in rows] == [Fraction(1), Fraction(2), Fraction(3)]
    assert rows[0]["time (min)"] == Fraction(3)
    assert rows[0]["guessed (min)"] == ""
    assert {name: held for name, held in rows[1].items() if held} == {
        "turn": 2,
        "id": "bolts",
        "do": "Screw in.",
        "fits": "2 bolt",
        "after": "arm-on",
        "tools": "key or driver; hook",
        "tighten": "j; k",
        "joint_torque": "28 to 32 ft-lb; finger tight",
        "guessed (min)": 3,
        "people": 1,
        "caution": "Hot.\nSharp.",
        "onto": "0010",
    }
    assert (rows[2]["torque"], rows[2]["hold"]) == ("5 N·m ± 10 %", "foreman")


def test_the_torque_record_has_a_row_for_each_fastener() -> None:
    grid = torque_table(job(model(MODEL)))
    rows = [dict(zip(grid.heads, row, strict=True)) for row in grid.rows]
    assert [(row["step"], row["joint"]) for row in rows] == [
        ("bolts", "j"),
        ("bolts", "j"),
        ("bolts", "k"),
        ("last", ""),
    ]
    assert [row["fastener"] for row in rows] == [Fraction(number) for number in (1, 2, 1, 1)]
    assert (rows[0]["torque"], rows[0]["source"]) == ("28 to 32 ft-lb", "Card 3")
    # 28 and 32 ft·lbf are 37.9629… and 43.3861… N·m by the definitions of foot and pound.
    assert (rows[0]["low (N·m)"], rows[0]["high (N·m)"]) == (Fraction("37.97"), Fraction("43.38"))
    assert (rows[2]["torque"], rows[2]["low (N·m)"]) == ("finger tight", "")
    assert (rows[3]["low (N·m)"], rows[3]["high (N·m)"]) == (Fraction("4.5"), Fraction("5.5"))
    assert {rows[0][blank] for blank in ("achieved", "wrench_number", "by", "date")} == {""}


def test_a_joint_of_very_many_fasteners_has_one_row() -> None:
    text = MODEL.replace("count: 2, torque", "count: 400, torque")
    grid = torque_table(job(model(text)))
    assert [row[5] for row in grid.rows] == ["all 400", Fraction(1), Fraction(1)]


@settings(max_examples=40, deadline=None)
@given(rich_models())
def test_every_table_of_any_model_has_a_cell_under_each_head(assembly: Assembly) -> None:
    for make in TABLES.values():
        grid = make(job(assembly))
        assert {len(row) for row in grid.rows} <= {len(grid.heads)}
    for row in torque_table(job(assembly)).rows:
        assert isinstance(row[8], str) or isinstance(row[9], str) or row[8] <= row[9]


def test_a_limit_is_never_rounded_outwards() -> None:
    assembly = model(MODEL)
    amount = assembly.joints[0].torque and assembly.joints[0].torque.value.amount
    assert amount
    assert amount.low is not None
    assert amount.high is not None
    low, high = torque_table(job(assembly)).rows[0][8:10]
    assert isinstance(low, Fraction)
    assert isinstance(high, Fraction)
    assert to_si(amount.low, amount.unit) <= low <= high <= to_si(amount.high, amount.unit)
