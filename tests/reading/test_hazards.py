"""What people really type, and what a program might make of it: each hazard and its outcome.

Each was tried on common libraries for YAML and for units before this was written; what they make
of it stands in the remarks. Sources: discussions in the public trackers of those libraries.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from sequencer.model.fields import Figure
from sequencer.model.numerals import AmountError
from sequencer.model.quantities import read_amount
from sequencer.planning.plan import check, plan
from sequencer.problem import Place, Problem
from sequencer.reading import read_file, read_text
from sequencer.reading.figures import read_figure
from sequencer.writing.importing import Asked, import_table
from tests.reading.models import model


def problems(text: str) -> tuple[Problem, ...]:
    return read_text(text, "x.yaml").problems


def only(text: str) -> Problem:
    (problem,) = problems(text)
    return problem


def torque(text: str) -> float:
    return read_amount(text, ("torque",)).si


# Ids and part numbers that look like something else. YAML libraries make 83 of 0123, 7 of 007,
# False of no, 181 of 3:1, 100000.0 of 1e5, 1.1 of 1.10 and a date of 2024-01-10.

ODD_IDS = (
    *("0123", "0189", "007", "7", "00", "09", "08"),
    *("no", "NO", "off", "on", "Yes", "y", "N"),
    *("3:1", "10:1", "41:12", "41:72", "12:30", "08:30", "1:30:00"),
    *("12E4", "1e5", "5319E7", "0x10", "0b1", "1.0e+5"),
    *("1.10", "1.1", "0.050", "0.30"),
    *("2024-01-10", "2024-1-5", "2024-13-45", "12-05-2024", "10-32"),
)


def test_ids_and_part_numbers_stay_as_they_were_typed() -> None:
    lines = "".join(f"  {odd}: {{name: {odd}, number: {odd}}}\n" for odd in ODD_IDS)
    fits = ", ".join(ODD_IDS)
    assembly = read_text(
        f"assembly: x\nparts:\n{lines}steps:\n  s: {{do: Fit all., fits: [{fits}]}}\n", "x.yaml"
    ).assembly
    assert assembly is not None
    assert [(part.id, part.name, part.number) for part in assembly.parts] == [
        (odd, odd, odd) for odd in ODD_IDS
    ]
    assert tuple(fit.part for fit in assembly.steps[0].fits) == ODD_IDS


def test_a_number_with_a_power_of_ten_is_a_number_where_one_is_wanted() -> None:
    assert read_amount("5e-3 m", ("length",)).value == Fraction(5, 1000)


def test_the_decimals_typed_are_kept_for_they_tell_the_resolution() -> None:
    amount = read_amount("0.050 mm", ("length",))
    assert (amount.text, amount.places) == ("0.050 mm", 3)


def test_a_time_with_colons_is_asked_about() -> None:
    problem = only("assembly: x\nsteps:\n  s: {do: Go., time: '12:30'}\n")
    assert problem.message == "`12:30` could be a time of day or a length of time"
    assert problem.place == Place("x.yaml", 3, 23, 5)


# Keys written twice. Libraries keep the last without a word.


def test_a_field_written_twice_is_told_with_both_lines() -> None:
    problem = only("assembly: x\nsteps:\n  s:\n    do: Go.\n    time: 1 min\n    time: 2 min\n")
    assert problem.message == "`time` is written twice, first in line 5"
    assert (problem.place, problem.facts[0].place) == (
        Place("x.yaml", 6, 5, 4),
        Place("x.yaml", 5, 5, 4),
    )


def test_a_step_written_twice_is_told_with_both_lines() -> None:
    problem = only("assembly: x\nsteps:\n  s: Go.\n  t: Stop.\n  s: Turn.\n")
    assert problem.message == "`s` is written twice, first in line 3"


# Texts that YAML takes for signs of its own.


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("#10-32", "YAML takes `#10-32` for a remark and drops it"),
        ("5 #10 screws", "YAML takes `#10 screws` for a remark and drops it"),
        ("Note: use oil", "the text of `do` holds a colon, which YAML takes for a field"),
        (
            "- 2 washers",
            "the text begins with `-`, which YAML takes for an entry of a list",
        ),
        ("> 5 mm", "the text begins with `>`, which YAML takes for a mark for folded text"),
        ("& grease", "the text begins with `&`, which YAML takes for a name for what follows"),
        (
            "!important",
            "YAML takes `!important` for the type of what follows, which models do not use",
        ),
        ("%5", "the text begins with `%`, which YAML takes for an instruction to itself"),
        ("@5", "the text begins with `@`, which YAML takes for a sign kept for later use"),
        ("{{ x }}", "words are wanted here, and this is a set of fields"),
        ("[M8]", "words are wanted here, and this is a list"),
        ('"3/4" bolt', 'the text goes on after the closing `"`, where YAML takes it to end'),
        ("'M8' bolt", "the text goes on after the closing `'`, where YAML takes it to end"),
    ],
)
def test_a_text_that_yaml_breaks_is_told_where_it_stands(text: str, message: str) -> None:
    problem = only(f"assembly: x\nsteps:\n  s:\n    do: {text}\n")
    assert problem.message == message
    assert problem.place is not None
    assert problem.place.line == 4
    assert "put quotes round" in problem.fix


@pytest.mark.parametrize("text", ["M8x1.25#2", '3/4" bolt', "5' 10\"", "a “big” one", "5′ 10″"])
def test_a_text_that_yaml_leaves_whole_is_kept(text: str) -> None:
    assert model(f"assembly: x\nsteps:\n  s: {text}\n").steps[0].do == text


@pytest.mark.parametrize("text", ['3/4"', "3/4 ″", "3/4 ”", "3/4 in", "¾ in"])
def test_inch_marks_of_every_kind_are_inches(text: str) -> None:
    assert read_amount(text, ("length",)).si == pytest.approx(0.01905)


# Spaces that cannot be seen, and files that are no text.


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "assembly:\u00a0x\nsteps:\n  s: Go.\n",
            "the space after the colon is not an ordinary one but an unseen no-break space "
            "(U+00A0)",
        ),
        (
            "assembly: x\n\u00a0title: y\nsteps:\n  s: Go.\n",
            "an unseen no-break space (U+00A0) stands before `title`",
        ),
        ("assembly: x\nsteps:\n\ts: Go.\n", "a tab stands where YAML wants spaces"),
        ("a:1\n", "a model is a set of fields, and this file holds one text, `a:1`"),
    ],
)
def test_what_cannot_be_seen_is_named(text: str, message: str) -> None:
    assert only(text).message == message


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_a_mark_and_the_line_ends_of_other_systems_are_no_matter(
    tmp_path: Path, encoding: str, end: str
) -> None:
    file = tmp_path / "x.yaml"
    file.write_bytes(f"assembly: x{end}steps:{end}  s: 5 µm{end}".encode(encoding))
    assert read_file(file).problems == ()


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (
            "title: 5 µm".encode("cp1252"),
            "byte 10 of the file, 0xB5 (`µ` in Windows-1252), is not UTF-8",
        ),
        (
            "title: x".encode("utf-16"),
            "`x.yaml` is saved as UTF-16 or UTF-32, and a model is UTF-8",
        ),
        (b"title: x\x07", "an unseen character stands here: U+0007"),
        (b"", "`x.yaml` holds no model: there is no text in it but remarks and spaces"),
    ],
)
def test_a_file_that_is_no_model_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, data: bytes, message: str
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("x.yaml").write_bytes(data)
    (problem,) = read_file(Path("x.yaml")).problems
    assert problem.message == message


@pytest.mark.parametrize(
    ("name", "data", "message", "fix"),
    [
        (
            "parts.csv",
            b"id,name\n1,Arm\n",
            "`parts.csv` is a table, and no model",
            "`sequencer import` makes a model of it, or puts it into one",
        ),
        (
            "unit.pdf",
            b"%PDF-1.7\n\xb5",
            "`unit.pdf` is a printed packet or another PDF, and no model",
            "name the model that it was printed from",
        ),
        (
            "parts.xlsx",
            b"PK\x03\x04\0\0",
            "`parts.xlsx` is a workbook or a packed file, and no model",
            "save a sheet as CSV, and `import` that",
        ),
        (
            "unit.log.jsonl",
            b'{"entry": 1, "kind": "start"}\n',
            "`unit.log.jsonl` is the log of a unit, and no model",
            "name it with --log",
        ),
    ],
)
def test_a_file_of_another_kind_is_told_for_what_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, data: bytes, message: str, fix: str
) -> None:
    monkeypatch.chdir(tmp_path)
    Path(name).write_bytes(data)
    (problem,) = read_file(Path(name)).problems
    assert (problem.code, problem.message) == ("not-a-model", message)
    assert (problem.why, problem.fix) == ("there is nothing to plan", fix)


def test_a_second_model_in_the_file_is_told() -> None:
    problem = only("assembly: x\nsteps:\n  s: Go.\n---\nassembly: y\n")
    assert problem.message == "a second model begins here, and a file holds one"


# Files that blow up. Libraries walk 20 million leaves, hold lists in themselves, or recurse.


def test_references_are_refused_and_depth_is_bounded() -> None:
    lines = ["a0: &a0 [x, x]", *(f"a{n}: &a{n} [{f'*a{n - 1}, ' * 9}]" for n in range(1, 9))]
    assert {problem.code for problem in problems("\n".join(lines))} >= {"anchor", "alias"}
    itself = problems("assembly: x\ntitle: &a [*a]\nsteps: {s: Go.}\n")
    assert [problem.code for problem in itself] == ["anchor", "alias"]
    assert only("title: " + "[" * 1500).code == "too-deep"


# Figures.


@pytest.mark.parametrize(
    ("text", "newton_metres"),
    [
        *((text, 1.0) for text in ("1 Nm", "1 N-m", "1 N.m", "1 N·m", "1 N⋅m", "1 N m")),
        *((text, 1.3558) for text in ("1 ft-lbs", "1 lb-ft", "1 lbf-ft", "1 ft.lbs", "1 lb ft")),
        ("1 in-lb", 0.11298),
        *((text, 0.0980665) for text in ("1 kgf-cm", "1 kgfcm")),
        ("1 daNm", 10.0),
    ],
)
def test_torques_are_read_as_they_are_spelt_at_the_bench(text: str, newton_metres: float) -> None:
    assert torque(text) == pytest.approx(newton_metres, rel=1e-4)


@pytest.mark.parametrize(
    ("text", "what", "fix"),
    [
        ("5 nm", "`nm` is a nanometre", "write `N·m` for newton metres"),
        ("5 NM", "`NM` is not a torque", "write `N·m` for newton metres"),
        ("5 foot_pound", "`5 foot_pound` is not a torque: `foot_pound` is no unit known here", ""),
        (
            "1,234 N·m",
            "`1,234` could be thousands or a decimal comma",
            "write `1234` or `1.234`, as is meant",
        ),
        ("12.345,6 N·m", "`12.345,6` has more than one decimal mark", ""),
        ("60 to 55 N·m", "`60 to 55 N·m` runs from the larger figure to the smaller", ""),
        (
            "10**10**10 N·m",
            "`10**10**10 N·m` is not a torque: `**10**10 N·m` is no unit known here",
            "",
        ),
        ("9**9**9", "`9**9**9` is not a torque: `**9**9` is no unit known here", ""),
        ("nan N·m", "`nan N·m` has no number where one belongs", ""),
        ("inf N·m", "`inf N·m` has no number where one belongs", ""),
        ("１２ N·m", "`１２ N·m` has no number where one belongs", ""),
        ("", "a figure is missing", ""),
    ],
)
def test_what_is_no_torque_is_refused_at_once(text: str, what: str, fix: str) -> None:
    with pytest.raises(AmountError) as refused:
        read_amount(text, ("torque",))
    assert refused.value.what == what
    assert not fix or refused.value.fix == fix


@pytest.mark.parametrize(
    ("text", "value"), [("2,5 N·m", 2.5), ("1 234 N·m", 1234), ("1'234 N·m", 1234)]
)
def test_a_comma_is_a_decimal_mark_and_gaps_are_none(text: str, value: float) -> None:
    assert torque(text) == value


@pytest.mark.parametrize(
    "text",
    ["55–60 Nm", "55-60 Nm", "55 to 60 Nm", "55..60 Nm", "57.5 ± 2.5 Nm", "57.5 +/- 2.5 Nm"],
)
def test_a_range_is_a_range_and_no_product(text: str) -> None:
    amount = read_amount(text, ("torque",))
    assert (amount.low, amount.high) == (Fraction(55), Fraction(60))


def test_unequal_tolerances_are_read() -> None:
    amount = read_amount("48 mm +0.05/-0.00", ("length",))
    assert (amount.low, amount.high) == (Fraction(48), Fraction("48.05"))


@pytest.mark.parametrize("text", ["20 °C", "20 degC", "20 C", "68 F", "20 ℃", "68 °F"])
def test_temperatures_are_temperatures(text: str) -> None:
    assert read_figure(Figure(("temperature",)), text).si == pytest.approx(293.15)


def test_other_letters_are_no_units_and_a_mil_is_a_thousandth_of_an_inch() -> None:
    assert read_amount("5 mil", ("length",)).si == pytest.approx(0.000127)
    for text in ("10 M", "10 #"):
        with pytest.raises(AmountError):
            read_amount(text, ("length",))
    assert read_amount("5 %", ("ratio",)).si == pytest.approx(0.05)


# Letters that look the same.


def test_twin_letters_are_one_unit_and_two_ids_with_a_warning() -> None:
    assert read_amount("5 \u00b5m", ("length",)).si == read_amount("5 \u03bcm", ("length",)).si
    assert read_amount("5 \u2126", ("resistance",)) is not None
    assert read_amount("\u22125 °C", ("temperature",)).low == -5
    assert read_amount("5 ㎜", ("length",)).si == pytest.approx(0.005)
    parts = "parts: {\u00b5: a, \u03bc: b}"
    problem = only(f"assembly: x\n{parts}\nsteps: {{s: {{do: Fit., fits: [\u00b5, \u03bc]}}}}\n")
    assert (problem.code, problem.severity) == ("look-alike", "warning")


# Tables out of spreadsheets.


def test_a_table_is_all_text_and_what_a_spreadsheet_has_changed_is_warned_of() -> None:
    table = '\ufeffid;name;mass\n0010;"Arm; 1";2,5 kg\n2-Jan;Bar;\n1.2E+05;Cap;\n=1+1;Rod;\n'
    done = import_table(table.encode(), "parts.csv", Asked())
    assert [entry.id for entry in done.entries] == ["0010", "2-Jan", "1.2E+05", "=1+1"]
    assert done.entries[0].fields == {"name": "Arm; 1", "mass": "2.5 kg"}
    warned = [problem.place.line for problem in done.problems if problem.place]
    assert warned == [3, 4, 5, 5]  # the last is no id at all, besides


# References.


def test_references_are_compared_as_text() -> None:
    text = "assembly: x\nparts: {'10': Ten}\nsteps: {s: {do: Fit., fits: 10}}\n"
    assert problems(text) == ()
    trailing = "assembly: x\nsteps: {s: {do: Fit., after: 't '}, t: Go.}\n"
    assert problems(trailing) == ()


A_WORD = "`{}` means nothing to YAML, and a word to a reader"


@pytest.mark.parametrize("null", ["null", "~"])
@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("steps: {{s: {{do: Fit., after: [{}]}}}}", A_WORD),
        ("steps: {{s: {{do: {}}}}}", A_WORD),
        ("steps: {{{}: Go., s: Fit.}}", "`{}` is no name"),
    ],
)
def test_a_word_for_nothing_is_no_name(null: str, text: str, message: str) -> None:
    assert only(f"assembly: x\n{text.format(null)}\n").message == message.format(null)


def test_a_reference_to_nothing_lists_what_is_near() -> None:
    problem = only("assembly: x\nsteps: {Wipe: Wipe., s: {do: Fit., after: wipe}}\n")
    assert problem.message == "there is no step, section or check `wipe`"
    assert problem.fix == "did you mean `Wipe`?"


# Rules that go round in a circle. Libraries say that there is one, and not which.

CIRCLE = """\
assembly: x
steps:
  a: {do: A., before: b}
  b: {do: B., before: c}
  c: {do: C., before: a}
  d: {do: D., after: a}
  e: {do: E., after: d}
together:
  - [d, e]
"""


def test_the_smallest_circle_is_told_with_its_lines() -> None:
    reading = read_text(CIRCLE, "x.yaml")
    assert reading.assembly is not None
    (problem,) = check(reading.assembly)
    assert problem.message == (
        "`a`, `b` and `c` wait for each other in a circle, so none of them can be first"
    )
    assert [
        (fact.text, place.line if (place := reading.place_of(fact.path)) else 0)
        for fact in problem.facts
    ] == [
        ("`a` comes before `b`", 3),
        ("`b` comes before `c`", 4),
        ("`c` comes before `a`", 5),
    ]


def test_the_same_model_has_the_same_order_every_time() -> None:
    text = CIRCLE.replace(", before: a", "")
    orders = {plan(model(text)).order for _ in range(3)}
    assert orders == {("a", "b", "c", "d", "e")}
