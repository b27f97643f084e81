"""Characters that the packet's fonts lack are told before anybody finds an empty box."""

from __future__ import annotations

from dataclasses import replace

from sequencer.model.assembly import Assembly
from sequencer.model.fastening import Torque, TorqueValue
from sequencer.model.parts import Part
from sequencer.model.steps import Step
from sequencer.sheets.fonts import NAMES, characters, font_data, marks_font
from sequencer.sheets.glyphs import glyph_findings, missing_glyphs
from tests.sheets.pages import Printed
from tests.sheets.sample import winch

TRADE_SIGNS = "⌀Ø±°·×½⅜¼µμΩ⚠≤≥″′–—−№∅⌖◎○●□⟂⊥∥⏥‑☐☑✓→²³√"


def test_signs_of_the_trade_are_all_there() -> None:
    assert missing_glyphs(TRADE_SIGNS) == {}


def test_letter_and_accent_count_as_the_composed_letter() -> None:
    assert missing_glyphs("Cafe\u0301 Mu\u0308ller") == {}


def test_what_is_never_seen_is_never_missing() -> None:
    assert missing_glyphs("a\n\tb\u00a0c\u2009d\u200d\ufe0f\u2066e\u2069") == {}


def test_lacking_characters_are_named() -> None:
    assert missing_glyphs("🔧 日 🔧") == {
        "🔧": "U+1F527 WRENCH",
        "日": "U+65E5 CJK UNIFIED IDEOGRAPH-65E5",
    }


def test_signs_drawn_here_are_printed_as_text_that_can_be_searched() -> None:
    marks = "⌀ 25 ⚠ ∅ ⌖ ◎ ⏥ 5‑6"
    page = (
        "<!DOCTYPE html><html lang=en><title>t</title><style>"
        '@font-face { font-family: "M"; src: url(packet-font:marks) }'
        '@font-face { font-family: "S"; src: url(packet-font:regular) }'
        f"html {{ font-family: S, M }}</style><p>{marks}</p>"
    )
    printed = Printed.of(page)
    assert printed.logged == ()
    assert marks in printed.text


def test_fonts_are_the_same_bytes_each_time() -> None:
    first = marks_font()
    marks_font.cache_clear()
    assert marks_font() == first
    assert all(font_data(name)[:4] == b"\0\1\0\0" for name in NAMES)
    assert len(characters()) > 1000


def test_sound_model_has_no_finding() -> None:
    assert glyph_findings(winch()) == ()


def test_finding_says_which_characters_and_where() -> None:
    job = Assembly(
        assembly="a",
        parts=(Part(id="p", name="Ring 日本"),),
        steps=(
            Step(
                id="s",
                do="Fit it 🔧",
                note=("fine", "not 本"),
                torque=Torque(value=TorqueValue(text="5 N·m 🔧")),
            ),
        ),
    )
    (finding,) = glyph_findings(job)
    assert (finding.code, finding.severity) == ("no-glyph", "warning")
    assert finding.message == "the packet's fonts lack `日`, `本`, `🔧`"
    assert [(fact.path, fact.text) for fact in finding.facts] == [
        (("parts", "p", "name"), "`日`, `本` here"),
        (("steps", "s", "do"), "`🔧` here"),
        (("steps", "s", "torque", "value", "text"), "`🔧` here"),
        (("steps", "s", "note", 1), "`本` here"),
    ]
    assert finding.path == finding.facts[0].path


def test_finding_names_no_more_than_a_person_reads() -> None:
    letters = "".join(chr(0x4E00 + index) for index in range(40))
    job = replace(winch(), scope=letters)
    (finding,) = glyph_findings(job)
    assert finding.message.endswith("and 28 more")
