"""What printing is known to spoil: rows cut, heads lost, text off the page, figures turned round.

Each test makes the smallest job that has the hazard, and reads the page back.
"""

from __future__ import annotations

import io
import re
import unicodedata
from itertools import pairwise

import pytest
from pypdf import PdfReader

from sequencer.model.assembly import Assembly
from sequencer.model.complete import complete
from sequencer.model.fastening import Joint
from sequencer.model.parts import Part
from sequencer.model.steps import Fit, Section, Step, Unit
from sequencer.planning.results import Plan
from sequencer.sheets.glyphs import glyph_findings
from sequencer.sheets.packet import packet_html
from sequencer.sheets.pdf import write_pdf
from tests.sheets.making import links, torque
from tests.sheets.pages import Printed, holds, letters_of, look_at, runs, squeezed

POINTS_A_MM = 72 / 25.4


def printed(*steps: Step, sheets: tuple[str, ...] = ("steps",), **fields: object) -> Printed:
    job = complete(Assembly(assembly="a", steps=steps, **fields))  # type: ignore[arg-type] # the fields are the caller's affair
    order = tuple(step.id for step in job.steps)
    return Printed.of(packet_html(job, Plan(order), fingerprint="f", sheets=sheets))


@pytest.mark.parametrize("before", range(4))
def test_card_near_the_end_of_a_page_is_not_cut(before: int) -> None:
    filling = [Step(id=f"s{at}", do="Lay it out.\n" * (4 + at)) for at in range(before)]
    cautions = tuple(f"Caution number {at} of this step." for at in range(12))
    whole = Step(id="whole", do="Tighten it.", caution=cautions, torque=torque("55 N·m"))
    paper = printed(*filling, whole)
    page = squeezed(paper.pages[paper.page_of_step(before + 1) - 1])
    places = [page.index(squeezed(text)) for text in (*cautions, "Tighten it.", "55 N·m")]
    assert places == sorted(places)
    assert not re.search(r"step \d+, continued", paper.text)


def test_cautions_of_a_step_longer_than_a_page_come_before_its_box() -> None:
    cautions = tuple(f"Caution number {at}. " + "Mind the edge. " * 40 for at in range(12))
    paper = printed(Step(id="s", do="Tighten it.\n" * 70, caution=cautions, torque=torque("9 N·m")))
    assert len(paper.pages) > 2
    looks = [look_at(page) for page in paper.reader.pages]
    drawn = [(at, -run.y, run.text) for at, (found, _) in enumerate(looks) for run in found]
    last = max((at, y) for at, y, text in drawn if "Caution number" in text or "the edge" in text)
    ((page, box),) = [
        (at, one) for at, (_, boxes) in enumerate(looks) for one in boxes if one.is_tick
    ]
    assert last < (page, -box.y)
    assert last[0] > 0
    for text in paper.pages[page + 1 :]:
        assert "step 1, continued" in text


def test_head_of_a_table_stands_on_every_page_and_no_row_is_lost() -> None:
    parts = [Part(id=f"p{at}", name=f"Spacer ring number {at}") for at in range(300)]
    parts[150] = Part(id="p150", name="Ring with a long name. " * 150, renew="always")
    fitting = Step(id="s", do="Fit them.", fits=tuple(Fit(part.id) for part in parts))
    paper = printed(fitting, sheets=("kit", "steps"), parts=tuple(parts))
    kit = [page for page in paper.pages if "Kit · issue" in page]
    rows = [page for page in kit if "Spacer ring" in page]
    assert len(rows) > 6
    for page in rows:
        assert re.search(r"Count\s+Part\s+Number", page)
    listed = squeezed("".join(kit))
    assert all(squeezed(part.name[:200]) in listed for part in parts)
    assert listed.count(squeezed(parts[150].name[:200])) == 2  # among the parts, and to buy
    on_the_card = squeezed("".join(page for page in paper.pages if page not in kit))
    assert on_the_card.count(squeezed("Ring with a long name.")) >= 149  # a page may part one


def test_section_that_goes_on_is_named_at_the_head_of_the_next_page() -> None:
    section = Section(id="pump", title="Oil pump")
    steps = [Step(id=f"s{at}", do="Lay it out.\n" * 12, section="pump") for at in range(12)]
    paper = printed(*steps, sections=(section,))
    assert len(paper.pages) > 3
    for page in paper.pages:
        assert "Oil pump · issue A" in page


def test_unit_that_is_built_is_named_on_every_card_of_it() -> None:
    steps = [Step(id=f"s{at}", do=f"Set pin {at}.\nPush it.", unit="pump") for at in range(80)]
    paper = printed(*steps, units=(Unit(id="pump", name="Oil pump"),))
    assert len(paper.pages) > 5
    for number in range(1, 81):
        page = paper.pages[paper.page_of_step(number) - 1]
        assert squeezed(page).count("Oilpump") == squeezed(page).count("Setpin")


def test_fasteners_that_no_page_is_wide_enough_for_are_told_in_several_tables() -> None:
    joint = Joint(id="j", name="Screws", thread="M8", count=24, torque=torque("9 N·m"))
    paper = printed(
        Step(id="s", do="Tighten.", tighten=links("joint", "j")),
        sheets=("torque-record",),
        joints=(joint,),
    )
    heads: set[str] = set()
    for page in paper.reader.pages:
        found, boxes = look_at(page)
        right = float(page.mediabox.width) - 13 * POINTS_A_MM
        assert max(letter.right for letter in letters_of(page)) < right
        assert max(box.x + box.width for box in boxes) < right
        heads |= {run.text.strip() for run in found}
    assert {str(number) for number in range(1, 25)} <= heads


def test_figures_and_part_numbers_in_a_narrow_cell_are_not_cut() -> None:
    name = "Seal 55–60 N·m and more words than go on a line, 12-3456-7890-AB at the end of it"
    parts = tuple(Part(id=f"p{at}", name="x" * at + name, number="98-7654-AB") for at in range(30))
    fitting = Step(id="s", do="Fit.", fits=tuple(Fit(part.id) for part in parts))
    paper = printed(fitting, sheets=("kit",), parts=parts)
    said = [run.text.replace("\u2060", "") for page in paper.reader.pages for run in runs(page)]
    for whole in ("55–60 N·m", "12-3456-7890-AB", "98-7654-AB"):
        assert sum(text.count(whole) for text in said) == 30


def test_what_cannot_be_broken_pushes_nothing_off_the_page() -> None:
    long = "12-3456-7890-AB-" * 12 + "W" * 90
    part = Part(id="p", name=long, number=long, bag=long)
    steps = (
        Step(id="s", do=long, fits=(Fit("p"),), caution=(long,), hold=long),
        Step(id="t", do="Tighten.", tighten=links("joint", "j")),
    )
    joint = Joint(id="j", name=long, thread=long, count=6, torque=torque("9 N·m", source=long))
    sheets = ("cover", "kit", "steps", "torque-record", "sources", "labels", "checklist")
    paper = printed(*steps, sheets=sheets, title=long, parts=(part,), joints=(joint,))
    for page in paper.reader.pages:
        right = float(page.mediabox.width) - 4 * POINTS_A_MM
        assert [one for one in letters_of(page) if one.right > right] == []
    numbers = [page for page in paper.pages if "Kit · issue" in page]
    assert squeezed("".join(numbers)).count("W" * 10) >= 3  # wrapped in its column, and all there


def test_line_breaks_of_a_note_are_kept() -> None:
    paper = printed(Step(id="s", do="Set it.", note=("first\nsecond\n\nthird",)))
    lines = {run.text.strip(): run.y for run in runs(paper.reader.pages[0])}
    first, second, third = lines["first"], lines["second"], lines["third"]
    assert first - second > 10
    assert second - third == pytest.approx(2 * (first - second), abs=0.1)


def test_long_name_is_shortened_in_the_head_and_whole_on_the_first_page() -> None:
    title = 'Pump "A" \\ </style><b> &#34; ' * 22
    assert len(title) > 600
    filling = [Step(id=f"s{at}", do="Lay it out.\n" * 20) for at in range(4)]
    paper = printed(*filling, sheets=("cover", "steps"), title=title)
    assert holds(paper.pages[0], title)
    for page in paper.reader.pages:
        top = float(page.mediabox.height) - 20 * POINTS_A_MM
        head = [one for one in letters_of(page) if one.y > top]
        first = [one for one in head if one.left < float(page.mediabox.width) / 2]
        said = "".join(one.text for one in first)
        assert said.startswith('Pump "A" \\ </style><b> &#34; Pump')
        assert said.endswith("…")
        assert len({one.y for one in first}) == 1
        others = [one.left for one in head if one not in first]
        assert max(one.right for one in first) < min(others)


RIGHT_TO_LEFT = (
    "הדק את הבורג ל 55 N·m בחלק PN 0012 עכשיו",
    "شد البرغي 55 N·m بقطعة PN 0012 الآن",
)


@pytest.mark.parametrize("text", RIGHT_TO_LEFT)
def test_figures_stand_in_order_in_a_line_from_right_to_left(text: str) -> None:
    paper = printed(Step(id="s", do=text))
    letters = letters_of(paper.reader.pages[0])
    line = {one.y for one in letters if unicodedata.bidirectional(one.text[0]) in ("R", "AL")}
    assert len(line) == 1
    drawn = sorted((one for one in letters if one.y in line), key=lambda one: one.left)
    for one, following in pairwise(drawn):
        assert one.right <= following.left + 0.1
    seen = "".join(one.text for one in drawn).replace("\u2060", "")
    # From the left, as it lies on the paper: what comes last in the sentence stands first.
    assert re.findall("PN 0012|55 N·m", seen) == ["PN 0012", "55 N·m"]


@pytest.mark.parametrize("before", range(0, 60, 6))
def test_figure_in_a_line_from_right_to_left_is_not_parted_from_its_unit(before: int) -> None:
    paper = printed(Step(id="s", do="א" * before + " הדק את הבורג בחוזקה ל 55 N·m " * 3))
    lines = [run.text.replace("\u2060", "") for run in runs(paper.reader.pages[0])]
    assert sum(line.count("55 N·m") for line in lines) == 3


def test_letters_that_the_packet_has_no_font_for_are_told() -> None:
    job = complete(Assembly(assembly="a", steps=(Step(id="s", do="הדק 締める"),)))
    (finding,) = glyph_findings(job)
    assert finding.message == "the packet's fonts lack `ה`, `ד`, `ק`, `締`, `め`, `る`"
    assert finding.path == ("steps", "s", "do")


def test_units_in_units_make_no_boxes_in_boxes() -> None:
    deep = 200
    units = tuple(Unit(id=f"u{at}", name=f"Unit {at}") for at in range(deep))
    inner = ((), *((Fit(f"u{at}"),) for at in range(deep - 1)))
    steps = tuple(
        Step(id=f"s{at}", do=f"Build it {at}.", unit=f"u{at}", fits=inner[at]) for at in range(deep)
    )
    job = complete(Assembly(assembly="a", steps=steps, units=units))
    html = packet_html(job, Plan(tuple(step.id for step in steps)), fingerprint="f")
    depth = deepest = 0
    for tag in re.findall(r"<(/?)(?:div|section|main|p|table|ul|li)\b", html):
        depth += -1 if tag else 1
        deepest = max(deepest, depth)
    assert deepest < 8
    assert max((int(span) for span in re.findall(r'colspan="(\d+)"', html)), default=1) < 10


def test_page_says_how_its_letters_are_stored() -> None:
    text = "55–60 N·m ☐ 20 °C"
    job = complete(Assembly(assembly="a", steps=(Step(id="s", do=text),)))
    html = packet_html(job, Plan(("s",)), fingerprint="f", sheets=("steps",))
    assert html.index('<meta charset="utf-8">') < 100
    (page,) = PdfReader(io.BytesIO(write_pdf(html))).pages
    assert holds(page.extract_text(), text)
