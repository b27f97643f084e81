"""Whatever an author writes is printed as written, and hurts nothing else."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest

from sequencer.model.assembly import Assembly, Isolation, Source
from sequencer.model.checking import Check, Computed, Otherwise, Reading, Rework
from sequencer.model.complete import complete
from sequencer.model.fastening import Joint, OtherTorque, PassValue, TighteningPass
from sequencer.model.parts import Pack, Part
from sequencer.model.steps import Fit, OneOf, State, Step, Trial, Unit
from sequencer.planning.results import Plan, StepFacts
from sequencer.sheets.packet import packet_html
from tests.sheets.making import after, amount, limit, links, torque
from tests.sheets.pages import Printed, holds, runs, squeezed

NASTY = (
    "</style><script>x</script> <M8> AT&T &copy; <!-- note --> {{ 7*7 }} {% raw %} \\ \"A\" 'B' "
    '<img src="file:///etc/hostname"> </section></main>'
)
LONG = "Lay the hose along the frame and clip it at every third hole, slack to the pump. " * 60
TITLE = 'Pump "A" \\ </style><b> ' * 26

STEPS = (
    Step(
        id="nasty",
        section=NASTY,
        do=NASTY,
        warning=(NASTY,),
        caution=(NASTY, NASTY),
        notice=(NASTY,),
        note=(NASTY,),
        position=NASTY,
        by=NASTY,
        hold=NASTY,
    ),
    Step(
        id="long",
        do=LONG,
        warning=("The hose whips. " * 20,),
        note=(LONG[:2000],),
        torque=torque("55 N·m ± 5 %", source=NASTY, why=NASTY),
        check=links("check", "measured"),
    ),
    Step(id="right", do="הדק את הבורג ל 55 N·m ובדוק", caution=("شد البرغي 55–60 N·m",)),
    Step(id="east", do="ボルトを55 N·mで締める", note=("日本語 한국어 🔧",)),
    Step(
        id="word", unit="unit", do="W" * 300, fits=(Fit("p" * 200),), note=("1-" * 150, "a/" * 200)
    ),
    Step(id="stead", do=LONG, warning=(NASTY,), note=(LONG[:1500],)),
    Step(id="empty", do=" ", fits=(Fit("unit"),), note=("\n\n", "a\n\n\n b\tc")),
    Step(
        id="tall",
        do="Eighty lines:\n" + "\n".join(f"line number {line}" for line in range(80)),
        tighten=links("joint", "many", "cross", "short"),
        check=links("check", "seen"),
    ),
    *(
        Step(
            id=f"peg-{peg}",
            section="Pegs",
            do=f"Set peg {peg} in its hole until it clicks.",
            after=after("nasty", why="so it is") if peg % 10 == 0 else (),
        )
        for peg in range(1, 194)
    ),
)
CHECKS = (
    Check(
        id="measured",
        measure=NASTY,
        with_=NASTY,
        limit=limit("0.05 to 0.10 mm", NASTY, NASTY),
        rework=Rework(limit=limit("0.1 to 0.2 mm"), how=NASTY),
        else_=Otherwise(stop=NASTY, change=NASTY, most=4, again_from=after("nasty")),
    ),
    Check(id="seen", look=NASTY, good=NASTY, bad=NASTY),
    Check(
        id="worked-out",
        readings=(Reading(name="a", ask=NASTY, with_=NASTY), Reading(name="b", ask=LONG[:300])),
        compute="a - b",
        results=(Computed(name="c", compute=NASTY, limit=limit("1 to 2 mm")),),
        go=NASTY,
        no_go=NASTY,
        each=(NASTY, "W" * 90),
    ),
)
PARTS = (
    Part(id="case", name=NASTY, number=NASTY, inspect=links("check", "seen", "worked-out")),
    Part(
        id="shims",
        name=NASTY,
        pack=Pack(settled_by=links("check", "measured"), effect=NASTY, rounding=NASTY, why=NASTY),
    ),
)
NASTY_PASSES = (
    TighteningPass(value=PassValue("50 %", share=Fraction(1, 2)), name=NASTY, why=NASTY),
    TighteningPass(value=PassValue("90°", angle=amount("90°")), name="W" * 120),
)
CROSS = Joint(
    id="cross",
    name=NASTY,
    thread=NASTY,
    count=4,
    pattern="cross",
    places=(NASTY, "<b>", "W" * 60, '"'),
    passes=NASTY_PASSES,
    drag="add",
    align="castle",
    torque=replace(
        torque("9 N·m", NASTY, NASTY),
        also=(OtherTorque(value=torque("30 N·m").value, source=NASTY, why=NASTY),),
        because=NASTY,
    ),
)
SHORT = replace(CROSS, id="short", places=("<b>", "&lt;", '"', "{{"), passes=())
JOB = complete(
    Assembly(
        assembly="hostile",
        title=TITLE,
        issue="<&>" * 20,
        notice=NASTY * 3,
        scope=LONG,
        wear=(NASTY, NASTY),
        warning=(NASTY,),
        steps=STEPS,
        checks=CHECKS,
        units=(Unit(id="unit", name=NASTY),),
        trials=(Trial(id="trial", steps=after("right", "east"), why=NASTY),),
        states=(State(id=NASTY, begins=after("nasty"), ends=after("long"), why=NASTY),),
        one_of=(OneOf(steps=after("empty", "stead"), why=NASTY),),
        joints=(
            Joint(id="many", name=NASTY, thread="M8", count=60, torque=torque("9 N·m")),
            CROSS,
            SHORT,
        ),
        parts=PARTS,
        isolation=(Isolation(point=NASTY, tag=NASTY, how=NASTY), Isolation(point=LONG[:300])),
        sources=(Source(id=NASTY, name=LONG[:300]),),
    )
)
PLAN = Plan(
    order=tuple(step.id for step in STEPS if step.id != "stead"),
    fallbacks={"empty": ("stead",)},
    steps={"tall": StepFacts(last_chance_for=("nasty", "long", "right", "word"))},
)


@pytest.fixture(scope="module")
def hostile() -> Printed:
    return Printed.of(packet_html(JOB, PLAN, fingerprint="7f3a·c91e", draft=(NASTY,)))


def test_every_text_is_printed_as_written(hostile: Printed) -> None:
    everything = squeezed(hostile.text)
    assert everything.count(squeezed(NASTY)) >= 35
    assert holds(hostile.pages[0], TITLE)
    assert everything.count(squeezed("Set peg")) == 2 * 193  # on its card and on the checklist


def test_two_hundred_steps_all_have_their_card(hostile: Printed) -> None:
    steps = [title for depth, title, _ in hostile.bookmarks() if depth == 2]
    assert [title.split()[0] for title in steps] == [str(number) for number in range(1, 201)]


def test_long_title_is_shortened_at_the_head_of_pages(hostile: Printed) -> None:
    assert hostile.reader.metadata is not None
    assert hostile.reader.metadata.title == f"{TITLE}, issue {JOB.issue}"
    for page in hostile.pages[1:]:
        assert squeezed(page).count(squeezed('Pump "A" \\ </style><b>')) == 1


def test_step_longer_than_a_page_says_so_where_it_goes_on(hostile: Printed) -> None:
    start, end = hostile.page_of_step(2), hostile.page_of_step(3)
    assert end - start >= 2
    for page in hostile.pages[start : end - 1]:
        assert "step 2, continued" in page
    said = {
        (int(step), number)
        for number, page in enumerate(hostile.pages, start=1)
        for step in re.findall(r"step (\d+),\s+continued", page)
    }
    assert {step for step, _ in said} == {2, 6, 7}
    assert all(hostile.page_of_step(step) < page for step, page in said)
    assert all(page <= hostile.page_of_step(step + 1) for step, page in said)


def test_warnings_of_a_long_step_stand_where_it_starts(hostile: Printed) -> None:
    page = hostile.pages[hostile.page_of_step(2) - 1]
    assert holds(page, STEPS[1].warning[0])
    assert holds(page, LONG[:300])


def test_torque_block_is_never_parted(hostile: Printed) -> None:
    cards = [page for page in hostile.pages if "Torque record" not in page]
    with_torque = [page for page in cards if "55 N·m ± 5 %" in page and "cal. due" in page]
    assert len(with_torque) == 1
    assert "52.25 to 57.75 N·m" in with_torque[0]
    assert "wrench no." in with_torque[0]


def test_no_run_of_text_starts_beyond_the_edge(hostile: Printed) -> None:
    for page in hostile.reader.pages:
        right = float(page.mediabox.width) - 30
        assert [run for run in runs(page) if run.x > right] == []


def test_characters_that_no_font_has_can_be_searched_all_the_same(hostile: Printed) -> None:
    assert holds(hostile.text, "日本語 한국어 🔧")
    assert holds(hostile.text, "ボルトを55 N·mで締める")


def test_only_missing_characters_are_complained_of(hostile: Printed) -> None:
    assert all(".notdef glyph" in line for line in hostile.logged)
    assert len(hostile.logged) == len(set(hostile.logged))


def test_job_with_next_to_nothing_in_it_is_printed() -> None:
    job = complete(Assembly(assembly="a", steps=(Step(id="s", do="Do it."),)))
    printed = Printed.of(packet_html(job, Plan(("s",)), fingerprint="f"))
    assert printed.logged == ()
    assert len(printed.pages) <= 4
    no_steps = replace(job, steps=())
    assert Printed.of(packet_html(no_steps, Plan(()), fingerprint="f")).logged == ()
