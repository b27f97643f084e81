"""The trade's numbers as a reader of the PDF finds them, on a model that uses them all."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from sequencer.model.assembly import Assembly
from sequencer.model.checking import Check
from sequencer.model.fastening import Joint
from sequencer.planning.plan import check, plan
from sequencer.reading import read_file
from sequencer.sheets.packet import SHEETS, packet_html
from sequencer.sheets.pdf import write_pdf
from tests.sheets.making import limit, links, torque
from tests.sheets.pages import Printed, holds, runs, squeezed
from tests.sheets.views import MEASURE, TIGHTEN, model

if TYPE_CHECKING:
    from sequencer.model.steps import Step

MODEL = Path(__file__).parent.parent / "models" / "mixer-head.yaml"
POINTS_A_MM = 72 / 25.4


def read() -> Assembly:
    reading = read_file(MODEL)
    assert reading.problems == ()
    assert reading.assembly is not None
    return reading.assembly


MIXER = read()
ORDER = plan(MIXER).order or ()
NUMBERS = {step: at for at, step in enumerate(ORDER, start=1)}
JOINTS = {joint.id: joint for joint in MIXER.joints}
CHECKS = {one.id: one for one in MIXER.checks}


def html_of(assembly: Assembly, paper: str = "A4", sheets: tuple[str, ...] = SHEETS) -> str:
    return packet_html(
        assembly,
        plan(assembly),
        fingerprint="7f3a·c91e",
        findings=check(assembly),
        paper=paper,
        sheets=sheets,
    )


@pytest.fixture(scope="module")
def mixer_html() -> str:
    return html_of(MIXER)


@pytest.fixture(scope="module")
def mixer(mixer_html: str) -> Printed:
    return Printed.of(mixer_html)


@pytest.fixture(scope="module")
def letter() -> PdfReader:
    return PdfReader(
        io.BytesIO(write_pdf(html_of(MIXER, "Letter", ("condition", "steps", "torque-record"))))
    )


def page_of(mixer: Printed, step: str) -> str:
    return mixer.pages[mixer.page_of_step(NUMBERS[step]) - 1]


def pages_of(mixer: Printed, sheet: str) -> str:
    return "\n".join(page for page in mixer.pages if f"{sheet} · issue D" in page)


def sources_of(mixer: Printed) -> str:
    """Return what the sources say; they begin on the last page of the torque record."""
    both = f"{pages_of(mixer, 'Torque record')}\n{pages_of(mixer, 'Sources')}"
    return both[both.index("The maker's manual comes first.") :]


def test_renderer_finds_nothing_wrong_with_the_sheets(mixer: Printed) -> None:
    assert mixer.logged == ()


@pytest.mark.parametrize("step", MIXER.steps, ids=lambda step: step.id)
def test_card_is_whole_on_one_page_with_every_figure_as_typed(mixer: Printed, step: Step) -> None:
    page = page_of(mixer, step.id)
    typed = [step.do, step.torque.value.text if step.torque else ""]
    for joint in (JOINTS[link.to] for link in step.tighten):
        assert joint.torque is not None
        others = [other.value.text for other in joint.torque.also]
        typed += [joint.torque.value.text, *others, joint.torque.because, joint.name]
        typed += [one.name for one in joint.passes]
        typed += [joint.turn_limit.most.text if joint.turn_limit else ""]
        typed += [joint.adapter.length.text if joint.adapter else ""]
    for one in (CHECKS[link.to] for link in step.check):
        limits = (one.limit, *(result.limit for result in one.results))
        typed += [found.value.text for found in limits if found]
        typed += [text for reading in one.readings for text in (reading.name, reading.ask)]
        typed += [one.go, one.no_go, one.good, one.bad]
    assert [text for text in typed if not holds(page, text)] == []


def test_passes_stand_in_the_units_of_the_wrench(mixer: Printed) -> None:
    page = " ".join(page_of(mixer, "lid-tight").split())
    # 30 and 60 % of 150 N·m are 45 and 90; the wrench shows every 2 N·m.
    assert "44 N·m 30 %" in page
    assert "90 N·m 60 %" in page
    assert "150 N·m 100 %, in the round, until none turns" in page


def test_settings_with_an_adapter_stand_beside_the_true_torque(mixer: Printed) -> None:
    page = " ".join(page_of(mixer, "unions").split())
    # 90 × 450 / (450 + 75) = 77.1; the wrench shows every 2 N·m, and 78 lies within 4 %.
    assert "Set 78 N·m on" in page
    assert "wrench L 450 mm from grip to square: the fastener gets 90 N·m" in page
    assert "at 90°: no correction" in page


def test_drag_castle_and_hand_of_the_thread_are_told(mixer: Printed) -> None:
    assert "LEFT-HAND THREAD" in page_of(mixer, "nut-on")
    assert "Never back off." in page_of(mixer, "nut-on")
    page = page_of(mixer, "glands")
    assert page.count("measured drag") == 3
    assert page.count("reach") == 3


def test_figure_without_a_source_says_so_in_print(mixer: Printed) -> None:
    assert "Source: no source given" in page_of(mixer, "plate-on")
    assert "No source given" in sources_of(mixer)
    assert "no source given" not in page_of(mixer, "lid-tight")


def test_every_fastener_of_every_pass_has_a_cell(mixer_html: str) -> None:
    record = mixer_html[mixer_html.index('class="sheet torque-record"') :]
    record = record[: record.index("</main>")]
    for joint, cells in (
        ("Lid bolts", 20 * 4),  # three passes, and the last one round
        ("Case bolts", 24 * 2),
        ("Cap bolts", 4 * 4),
        ("Gland nuts", 3 * 4),  # drag, from, to, and what was reached
    ):
        (entry,) = (one for one in record.split("<section")[1:] if f"<b>{joint}</b>" in one)
        assert entry.count('class="cell"') == cells


def test_record_names_its_joint_again_where_it_goes_on(mixer: Printed) -> None:
    record = [page for page in mixer.pages if "Torque record · issue D" in page]
    assert len(record) > 1
    for page in record[1:]:
        first = page.splitlines()[0]
        assert first.startswith("step ") or any(joint.name in first for joint in MIXER.joints)


def test_condition_sheet_has_limits_blanks_and_boxes(mixer: Printed) -> None:
    sheet = pages_of(mixer, "Condition of parts")
    for part in MIXER.parts:
        for one in (CHECKS[link.to] for link in part.inspect):
            assert part.name in sheet
            assert one.limit is None or one.limit.value.text in sheet
            assert all(place in sheet for place in one.each)
            assert all(holds(sheet, reading.ask) for reading in one.readings)
    assert holds(sheet, "(face − seat) ÷ 2 − ring")
    assert holds(sheet, "5.00 ± 0.02 mm")
    entries = sum(1 for part in MIXER.parts if part.name in sheet)
    assert entries == 4
    assert squeezed(sheet).count("acceptreworkrenewuseasis") == entries
    assert sheet.count("cleaned") == entries
    assert holds(sheet, "used as it is, signed by works engineer")


def test_shim_table_is_on_the_card_of_the_check_and_the_choice_is_carried_on(
    mixer: Printed,
) -> None:
    page = " ".join(page_of(mixer, "read").split())
    for text in ("0.10 mm, 0.15 mm, 0.25 mm, 0.50 mm", "+1 mm pack = +1 mm float", "4 in a pack"):
        assert text in page
    # With 0.50 mm in, 0.05 mm of float are measured: 0.10 more makes 0.15, mid-limit.
    assert "0.03 to 0.07 0.50 + 0.10 0.60 mm 0.13 to 0.17" in page
    number, at = NUMBERS["read"], mixer.page_of_step(NUMBERS["read"])
    final = " ".join(page_of(mixer, "cap-on").split())
    assert f"pack chosen in step {number}, page {at}:" in final


def test_isolation_sheet_has_each_point_with_three_lines_to_sign(mixer: Printed) -> None:
    sheet = pages_of(mixer, "Isolation")
    for point in MIXER.isolation:
        assert holds(sheet, point.point)
        assert holds(sheet, point.tag)
        assert holds(sheet, point.how)
    for stage in ("locked", "proved dead", "restored"):
        assert len(re.findall(rf"{stage}\s+name\s+sign\s+date, time", sheet)) == 3
    assert "Only authorised people" in sheet


def test_sources_page_has_every_torque_and_limit_as_typed(mixer: Printed) -> None:
    sheet = sources_of(mixer)
    assert "Assembly sheet 3" in sheet
    for joint in MIXER.joints:
        assert joint.torque is not None
        for value in (joint.torque.value, *(other.value for other in joint.torque.also)):
            assert holds(sheet, f"{joint.name}: {value.text}")
    for one in MIXER.checks:
        assert one.limit is None or holds(sheet, one.limit.value.text)
    assert holds(sheet, "Taken: 28 ft-lb, because: The thick cover came with sheet 3")


def test_every_page_is_a_draft_while_a_torque_is_not_chosen(mixer: Printed) -> None:
    assert all("DRAFT" in page for page in mixer.pages)
    assert "What is still open stands under “Before you start”." in " ".join(mixer.pages[0].split())
    assert re.search(r"joint\s+Guard\s+screws", pages_of(mixer, "Before you start"))
    page = page_of(mixer, "guard-on")
    assert "NOT CHOSEN" in page
    assert "wrench no." not in page.partition("Fit the guard.")[2].partition("Pinch")[0]


def test_with_every_torque_chosen_it_is_no_draft() -> None:
    guard = JOINTS["guard-joint"]
    assert guard.torque is not None
    chosen = replace(guard, torque=replace(guard.torque, because="The card is older"))
    joints = tuple(chosen if joint is guard else joint for joint in MIXER.joints)
    assert "DRAFT" not in html_of(replace(MIXER, joints=joints))


def test_text_is_eleven_points_and_figures_are_sixteen(mixer: Printed) -> None:
    first, last = mixer.page_of_step(1), mixer.page_of_step(len(ORDER))
    sizes: dict[str, float] = {}
    for page in mixer.reader.pages[first - 1 : last]:
        top, bottom = float(page.mediabox.height) - 22 * POINTS_A_MM, 19 * POINTS_A_MM
        for run in runs(page):
            if bottom < run.y < top:
                assert run.size >= 10.99, run
                sizes[run.text.strip()] = max(run.size, sizes.get(run.text.strip(), 0.0))
    for figure in ("150 N·m ± 5 %", "44 N·m", "78 N·m", "50°", "0.10 to 0.20 mm"):
        assert sizes[figure] >= 16
    assert sizes["-0.05 to 0.05 mm"] >= 16


def test_nothing_leaves_the_margins(mixer: Printed, letter: PdfReader) -> None:
    for page in (*mixer.reader.pages, *letter.pages):
        width, height = float(page.mediabox.width), float(page.mediabox.height)
        for run in runs(page):
            assert 15 * POINTS_A_MM < run.x < width - 14 * POINTS_A_MM, run
            assert 8 * POINTS_A_MM < run.y < height - 4 * POINTS_A_MM, run


AS_TYPED = st.builds(
    lambda number, unit, tail: f"{number} {unit}{tail}",
    st.sampled_from(["0.4", "9", "80", "55 to 60", "1200", "7.50"]),
    st.sampled_from(["N·m", "ft-lb", "in-lb", "kgf·cm", "Nm", "mkg"]),
    st.sampled_from(["", " ± 5 %"]),
).filter(lambda text: not (" to " in text and "±" in text))
LIMITS = st.builds(
    lambda number, unit: f"{number} {unit}",
    st.sampled_from(["0.02 to 0.06", "at most 0.050", "at least 3", "10.00 ± 0.10"]),
    st.sampled_from(["mm", "in", "µm", "N"]),
)


@settings(max_examples=15, deadline=None)
@given(AS_TYPED, LIMITS, st.sampled_from(["M6", "M30", "3/8-16", ""]))
def test_whatever_is_found_about_a_figure_it_is_printed_as_typed(
    typed: str, limits: str, thread: str
) -> None:
    joint = Joint(id="j", thread=thread, torque=torque(typed))
    asked = Check(id="c", measure="Gap", limit=limit(limits))
    step = replace(MEASURE, tighten=links("joint", "j"))
    html = html_of(model(step, joints=(joint,), checks=(asked,)))
    cards = html[html.index('class="sheet steps"') : html.index('class="sheet torque-record"')]
    words = squeezed(re.sub(r"<[^>]*>", "", cards))
    assert squeezed(typed) in words
    assert squeezed(limits) in words
    assert words.count(squeezed("no source given")) == 2


def test_sheets_with_nothing_to_say_are_left_out_unless_they_are_asked_for_alone() -> None:
    plain = model(replace(TIGHTEN, tighten=()))
    for sheet, words in (
        ("isolation", "The model names no point where energy is shut off."),
        ("condition", "The model names no part to look at before it is used."),
        ("torque-record", "Nothing in this job is tightened with a torque wrench."),
        ("sources", "The model states no figure that needs a source."),
    ):
        assert f'class="sheet {sheet}"' not in html_of(plain)
        alone = packet_html(plain, plan(plain), fingerprint="f", sheets=(sheet,))
        assert words in alone
