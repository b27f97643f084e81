"""What cards and cover say about compounds, times and what follows from the data."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.planning.plan import plan
from sequencer.reading import read_text
from sequencer.sheets.cover import cover_view
from sequencer.sheets.job import Ref, job_of
from sequencer.sheets.kit import CompoundRow, kit_view
from sequencer.sheets.steps import Signal, steps_view
from tests.planning.test_cases import model

if TYPE_CHECKING:
    from sequencer.model.assembly import Assembly
    from sequencer.sheets.job import Job, Said
    from sequencer.sheets.steps import Card

_QUICK = (
    ("    leaves: loose\n    time: 5 min", "    leaves: loose\n    time: 3 min"),
    ("    closes: joint-face\n    time: 6 min", "    closes: joint-face\n    time: 4 min"),
    ("wait: 2 h", "wait: 24 h"),
)


def _job(assembly: Assembly) -> Job:
    return job_of(assembly, plan(assembly), fingerprint="f", sheets=("steps",))


def _cards(assembly: Assembly) -> dict[str, Card]:
    job = _job(assembly)
    cards = [card for stretch in steps_view(job).stretches for card in stretch.cards]
    return {step.id: card for step, card in zip(job.steps, cards, strict=True)}


def _said(card: Card, *labels: str) -> list[Said]:
    return [line.said for line in card.lines if line.label in labels]


def _made(text: str) -> Assembly:
    reading = read_text(text, "unit.yaml")
    assert reading.assembly is not None
    return reading.assembly


def test_a_bead_and_its_closing_are_one_block_with_a_clock() -> None:
    cards = _cards(model("paste-between-the-halves", *_QUICK))
    assert [cards[one].rail for one in ("wipe", "bead", "upper-on", "screws-in", "oil-in")] == [
        *("", "first", "middle", "last", ""),
    ]
    assert _said(cards["bead"], "Clock") == [
        ("started ____:____; ", Ref(7), " is done within 15 min, 14 min as planned")
    ]
    assert _said(cards["sort"], "No break") == [("the clock of ", Ref(3), " runs until ", Ref(7))]
    assert _said(cards["screws-in"], "Clock") == [("closed ____:____, within 15 min of ", Ref(3))]
    assert [name for name, card in cards.items() if card.rest] == ["wipe"]


def test_what_is_put_on_is_told_with_where_and_how_much_and_blanks_for_the_batch() -> None:
    cards = _cards(model("paste-between-the-halves"))
    assert _said(cards["wipe"], "Clean") == [("Face between the halves; leave it clean and dry",)]
    assert _said(cards["bead"], "Put on", "Batch") == [
        (
            "Sealing paste on Face between the halves, a bead of 3 mm. It is to be clean and dry "
            "there.",
        ),
        ("______________ expiry ______________",),
    ]


def test_a_wait_has_a_blank_for_the_time_of_day() -> None:
    longer = _cards(model("paste-between-the-halves"))
    assert _said(longer["oil-in"], "Not before") == [
        ("____:____ – 24 h after ", Ref(7), " (Sealing paste sets)")
    ]
    plain = _made(
        "assembly: a\nsteps:\n  one: Do one.\n"
        "  two: {do: Do two., after: {step: one, wait: 2 h, why: it swells}}\n"
    )
    assert _said(_cards(plain)["two"], "Not before") == [("____:____ – 2 h after ", Ref(1))]


def test_a_window_between_steps_has_a_clock_at_both_ends_and_no_bar() -> None:
    cards = _cards(model("chain-aligned-before-the-locker"))
    assert _said(cards["clean"], "Clock") == [("ended ____:____; ", Ref(5), " begins within 1 h")]
    assert _said(cards["lock-first"], "Clock") == [("begun ____:____, within 1 h of ", Ref(4))]
    assert {card.rail for card in cards.values()} == {""}


_HEATED = """\
assembly: a
parts:
  race: {name: Inner race, hottest: 120 °C}
  pin: Pin
steps:
  race-on:
    do: Slip the race on.
    fits: [race, pin]
    heat:
      part: race
      to: 110 °C
      fit_within: 20 s
      cold: {part: pin, to: -30 °C}
      why: cold it is too tight
    unattended: true
"""


def test_heat_brings_gloves_the_limit_and_a_blank_for_the_thermometer() -> None:
    card = _cards(_made(_HEATED))["race-on"]
    assert _said(card, "Heat", "Chill", "Measured", "Meanwhile") == [
        (
            "Inner race to 110 °C, never above 120 °C; in its place within 20 s – cold it is too "
            "tight.",
        ),
        ("________ °C",),
        ("Pin to -30 °C.",),
        ("________ °C",),
        ("nobody needs to stand by",),
    ]
    assert [signal.word for signal in card.signals] == ["CAUTION", "CAUTION"]
    assert "gloves that stand the heat" in card.signals[0].text


def test_a_hot_step_is_told_of_the_glue_that_bears_less() -> None:
    cards = _cards(model("cell-glued-before-the-hot-bush"))
    assert cards["bush-in"].signals[1:] == (
        Signal(
            "NOTICE",
            "Two-part glue, on since step 2, bears 80 °C at the most. Keep the heat of this step "
            "off it, and look at it afterwards.",
        ),
    )


def test_the_authors_own_cautions_stand_first_word_for_word_and_nothing_twice() -> None:
    own = (
        "assembly: a\nsteps:\n  one:\n    do: Do it.\n    notice: Mind the paint.\n"
        "    caution: Mind the edge.\n    hazards: [Mind the edge., spring]\n"
    )
    signals = _cards(_made(own))["one"].signals
    assert [(signal.word, signal.text.partition(".")[0]) for signal in signals] == [
        ("CAUTION", "Mind the edge"),
        ("NOTICE", "Mind the paint"),
        ("WARNING", "A loaded spring can fly out and hit you"),
    ]


def test_the_compounds_are_laid_out_with_what_they_take() -> None:
    paste = _job(model("paste-between-the-halves"))
    cover = cover_view(paste)
    assert kit_view(paste).compounds == (
        CompoundRow(
            name="Sealing paste",
            about="sealant, open 15 min, cures in 24 h",
            amounts="a bead of 3 mm",
            steps="3",
        ),
    )
    assert (cover.time, cover.waiting) == ("39 min", "2 h")
    chain = kit_view(_job(model("chain-aligned-before-the-locker")))
    assert [(one.amounts, one.steps) for one in chain.compounds] == [("1 drop", "5, 6")]
