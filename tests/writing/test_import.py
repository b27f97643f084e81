"""Tables into models: what is found, what is asked, what a spreadsheet has spoiled."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.problem import Place, has_errors
from sequencer.reading import read_text
from sequencer.reading.names import id_problem
from sequencer.writing.cells import rows_of, separator_of
from sequencer.writing.importing import Asked, Imported, import_table
from sequencer.writing.merging import UnfitError, merged, new_model
from sequencer.writing.spoiled import guarded, lost_zeros, spoiled, unguarded
from sequencer.writing.values import decimal_mark_of, with_points


def take(text: str, file: str = "parts.csv", **asked: str) -> Imported:
    return import_table(text.encode(), file, Asked(**asked))


def fields(text: str, file: str = "parts.csv", **asked: str) -> dict[str, object]:
    done = take(text, file, **asked)
    assert not has_errors(done.problems), done.problems
    return {entry.id: entry.fields for entry in done.entries}


def told(done: Imported) -> list[tuple[str, str, int, int]]:
    return [
        (problem.code, problem.message, problem.place.line, problem.place.column)
        for problem in done.problems
        if problem.place
    ]


@pytest.mark.parametrize("sign", [",", ";", "\t", "|"])
def test_the_separator_is_found(sign: str) -> None:
    text = f"id{sign}name{sign}quantity\n0010{sign}Arm left{sign}2\n"
    assert fields(text) == {"0010": {"name": "Arm left", "quantity": "2"}}


def test_a_separator_in_the_cells_is_not_taken_for_one() -> None:
    assert separator_of("id;name\na;Arm, left\nb;Bar, right, long\n") == ";"
    assert separator_of('id,name\na,"Arm; left"\nb,"Bar; right"\n') == ","
    assert fields("sep=|\nid|name\na|Arm\n") == {"a": {"name": "Arm"}}


def test_a_table_of_one_column_needs_no_separator() -> None:
    assert list(fields("name\nArm, left\n".replace(", left", " left"))) == ["arm-left"]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_encoding_and_line_ends_are_found(encoding: str, end: str) -> None:
    data = f"id;name{end}a;Öse 5 µm{end}".encode(encoding)
    done = import_table(data, "parts.csv", Asked())
    assert [(entry.id, entry.fields) for entry in done.entries] == [("a", {"name": "Öse 5 µm"})]
    assert [problem.code for problem in done.problems] == ["encoding"] * (encoding == "cp1252")


def test_an_encoding_that_does_not_fit_is_told() -> None:
    done = import_table("id;name\na;Öse\n".encode("cp1252"), "parts.csv", Asked(encoding="utf-8"))
    (problem,) = done.problems
    assert problem.message == "byte 11 of `parts.csv`, 0xD6, means nothing in utf-8"


@pytest.mark.parametrize("head", [b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1"])
def test_a_workbook_is_no_table(head: bytes) -> None:
    (problem,) = import_table(head + b"\0" * 50, "parts.csv", Asked()).problems
    assert problem.code == "not-a-table"


def test_a_model_named_as_a_table_is_told() -> None:
    (problem,) = import_table(
        b"assembly: winch\nparts:\n  a: Arm, left\n", "w.yaml", Asked()
    ).problems
    assert (problem.code, problem.message, problem.why, problem.fix) == (
        "not-a-table",
        "`w.yaml` is a model, and no table",
        "a model is what tables are put into",
        "name the tables first, and the model behind `--into`",
    )


@pytest.mark.parametrize("data", [b"", b"\xef\xbb\xbf", b" \r\n\r\n"])
def test_an_empty_table_is_told(data: bytes) -> None:
    (problem,) = import_table(data, "parts.csv", Asked()).problems
    assert (problem.code, problem.message, problem.why, problem.fix) == (
        "not-a-table",
        "there is nothing in `parts.csv`",
        "a table has a row with the names of its columns, and the rows below",
        "look whether it was saved, and whether it is the right file",
    )


def test_cells_in_quotation_marks_hold_anything() -> None:
    text = 'id,name\na,"Arm, ""left"",\nlower half"\nb,Bar 3/4"\nc,"O" ring\nd,  "Rod" \n'
    assert fields(text) == {
        "a": {"name": 'Arm, "left",\nlower half'},
        "b": {"name": 'Bar 3/4"'},
        "c": {"name": '"O" ring'},
        "d": {"name": "Rod"},
    }
    rows = rows_of(text, ",")
    assert [(row[0].line, row[1].line, row[1].column) for row in rows[1:]] == [
        (2, 2, 4),
        (4, 4, 3),
        (5, 5, 3),
        (6, 6, 6),
    ]


def test_a_quotation_mark_that_stays_open_is_told_where_it_is() -> None:
    assert told(take('id,name\na,"Arm\nb,Bar\n')) == [
        ("open-quote", "the quotation mark opened here is never closed", 2, 3)
    ]


def test_heads_may_be_what_people_call_them() -> None:
    text = "Item No.,Description,Part Number,Qty,Weight [kg],Once\n10,Arm,0012,4,2.5,x\n"
    assert fields(text, "list.csv") == {
        "10": {"name": "Arm", "number": "0012", "quantity": "4", "mass": "2.5 kg", "once": "true"}
    }


def test_rows_above_the_heads_are_passed_over() -> None:
    assert fields("Gear box 12,,\nof 4 May,,\nid,name,qty\na,Arm,2\n") == {
        "a": {"name": "Arm", "quantity": "2"}
    }


def test_steps_are_known_by_their_heads() -> None:
    text = "op;instruction;parts;after;minutes\n10;Fit it.;arm, 4 bolts;;5\n20;Turn.;;10;1,5\n"
    assert fields(text, "list.csv") == {
        "10": {"do": "Fit it.", "fits": ["arm", "4 bolts"], "time": "5 min"},
        "20": {"do": "Turn.", "after": ["10"], "time": "1.5 min"},
    }


def test_what_cannot_be_taken_over_is_told_with_its_column() -> None:
    done = take("id,name,Supplier,title\na,Arm,X,Y\n")
    assert told(done) == [
        ("column", "the column `Supplier` is left out", 1, 9),
        ("column", "the column `title` is left out: `name` is `name`", 1, 18),
    ]


def test_a_table_without_heads_is_told() -> None:
    assert told(take("1,2,3\n4,5,6\n", "list.csv")) == [
        ("no-head", "no row has the names of columns that are known here", 1, 1)
    ]


def test_a_row_with_a_cell_too_many_is_told() -> None:
    assert told(take("id,name\na,Arm\nb,Bar, long\n")) == [
        ("column", "this row has more cells than the table has heads", 3, 8)
    ]


def test_an_id_that_two_rows_have_is_told_with_both() -> None:
    done = take("id,name\n10,Arm\n20,Bar\n10,Cap\n")
    assert told(done) == [("duplicate-key", "`10` is there twice, first in line 2", 4, 1)]
    assert done.problems[0].facts[0].place == Place("parts.csv", 2, 1, 2)


@pytest.mark.parametrize(
    ("cell", "what"),
    [
        ("1.2E+05", "a number in powers of ten"),
        ("1,2E+05", "a number in powers of ten"),
        ("2-Jan", "a date"),
        ("Jan-02", "a date"),
        ("02.01.2024", "a date"),
        ("123456789012345000", "a number rounded to 15 digits"),
        ("#REF!", "the mark of a formula that failed"),
        ("=A1+1", "a formula"),
    ],
)
def test_an_id_that_a_spreadsheet_has_spoiled_is_warned_of(cell: str, what: str) -> None:
    done = take(f"id;name;number\na;Arm;{cell}\n")
    assert told(done) == [
        (
            "spoiled-id",
            f"`{cell}` looks like {what}, which a spreadsheet has made of it",
            2,
            7,
        )
    ]
    assert done.entries[0].fields["number"] == cell


@pytest.mark.parametrize("text", ["0010", "12-34", "M8", "1.10", "A-2-Jan", "2024", "12E4"])
def test_an_id_that_nothing_has_happened_to_is_not(text: str) -> None:
    assert spoiled(text) is None
    assert take(f"id;name;number\na;Arm;{text}\n").problems == []


@pytest.mark.parametrize(
    ("ids", "short"),
    [
        (["1140", "1141", "23", "1150"], "23"),
        (["0010", "20", "10"], "10"),
        (["0010", "0020"], None),
        (["1", "2", "10", "100"], None),
        (["A10", "B2000"], None),
        ([], None),
    ],
)
def test_zeros_that_may_be_lost_are_seen(ids: list[str], short: str | None) -> None:
    assert lost_zeros(ids) == short


def test_zeros_that_may_be_lost_are_told() -> None:
    assert told(take("id,name\n1140,Arm\n23,Bar\n1150,Cap\n")) == [
        ("spoiled-id", "zeros at the start of `23` may be lost: others are longer", 3, 1)
    ]


@pytest.mark.parametrize(
    ("numbers", "mark"),
    [
        (["2,5"], ","),
        (["2.5"], "."),
        (["1.234,50"], ","),
        (["1,234.50"], "."),
        (["1 234,5"], ","),
        (["1,234"], None),
        (["1,234", "0,5"], ","),
        (["12", "7"], None),
    ],
)
def test_the_decimal_mark_is_found(numbers: list[str], mark: str | None) -> None:
    assert decimal_mark_of(numbers) == mark


def test_numbers_are_written_with_a_point() -> None:
    text = "id;name;mass (kg);price\na;Arm;1.234,5;€ 2,50\nb;Bar;0,5 kg;3\n"
    assert fields(text) == {
        "a": {"name": "Arm", "mass": "1234.5 kg", "price": "2.50"},
        "b": {"name": "Bar", "mass": "0.5 kg", "price": "3"},
    }
    assert with_points("7 1/4 in", ",") == "7 1/4 in"
    for price in ("2.50", "$2.50", "EUR 2.50", "2.50 kr", "2.50 £"):
        assert fields(f"id;name;price\na;Arm;{price}\n")["a"] == {"name": "Arm", "price": "2.50"}


def test_a_number_that_can_be_read_in_two_ways_is_asked_about() -> None:
    text = "id;name;mass (kg)\na;Arm;1,234\n"
    done = take(text)
    assert told(done) == [("doubtful", "`1,234` could be thousands or a decimal comma", 2, 7)]
    assert done.problems[0].fix == "say `--decimal ,` or `--decimal .`"
    assert fields(text, decimal=",")["a"] == {"name": "Arm", "mass": "1.234 kg"}
    assert fields(text, decimal=".")["a"] == {"name": "Arm", "mass": "1234 kg"}


def test_a_number_with_another_mark_than_the_rest_is_told() -> None:
    done = take("id;name;mass (kg)\na;Arm;2,5\nb;Bar;1.75\n")
    what = "`1.75` does not fit in with `,` as the decimal mark"
    assert told(done) == [("cell", what, 3, 7)]


@pytest.mark.parametrize(
    ("head", "cell", "what"),
    [
        ("quantity", "two", "`two` is not a whole number from 1 to 999999"),
        ("mass", "2.5", "`2.5` has no unit, and a mass needs one"),
        ("price", "dear", "`dear` has no number where one belongs"),
        ("price", "2.5 kg", "`2.5 kg` is not a plain number"),
        ("once", "perhaps", "`perhaps` is not one of `true`"),
    ],
)
def test_a_cell_that_is_not_what_its_column_wants_is_told(head: str, cell: str, what: str) -> None:
    assert told(take(f"id;name;{head}\na;Arm;{cell}\n")) == [("cell", what, 2, 7)]


def test_a_size_in_brackets_behind_a_part_is_warned_of() -> None:
    fits = '"4 bolts (M8 × 20), nuts (4), seal (lip up), cap (A 1)"'
    done = take(f"id,do,fits\ns,Fit them.,{fits}\n", "steps.csv", section="steps")
    what = "is taken for which way round it goes in"
    assert told(done) == [
        ("doubtful", f"`M8 × 20` behind `4 bolts` {what}", 2, 14),
        ("doubtful", f"`4` behind `nuts` {what}", 2, 14),
    ]
    (entry,) = done.entries
    assert entry.fields["fits"] == [
        {"4 bolts": "M8 × 20"},
        {"nuts": "4"},
        {"seal": "lip up"},
        {"cap": "A 1"},
    ], "it is kept: it may be meant"


def test_an_id_is_made_where_the_table_has_none() -> None:
    text = "Description,Qty\nCap screw M8,4\nCap screw M8,2\n!!,1\n"
    assert list(fields(text)) == ["cap-screw-m8", "cap-screw-m8-2", "part"]
    assert list(fields("number,name\n0012,Arm\n12 A,Bar\n")) == ["0012", "bar"]


def test_what_is_imported_is_a_model() -> None:
    parts = take('id,name,qty\n0010,"Arm: left",1\nno,Cap screw,4\nb,2 × Shim,1\n')
    steps = take("id,do,fits\n1,Note: fit it,0010; b\n2,Screw.,no\n", "steps.csv")
    text = new_model("unit", [parts, steps])
    reading = read_text(text, "unit.yaml")
    assert reading.assembly is not None, reading.problems
    assert [(part.id, part.name, part.quantity) for part in reading.assembly.parts] == [
        ("0010", "Arm: left", 1),
        ("no", "Cap screw", 4),
        ("b", "2 × Shim", 1),
    ]
    assert reading.assembly.steps[0].do == "Note: fit it"


MODEL = (
    "# head\r\nassembly: x   # so\r\n\r\nparts:\r\n   a: Arm\r\n   # a remark\r\n\r\n"
    "steps:\r\n   s:\r\n      do: |\r\n        Go on.\r\n\r\n# the end"
)


def test_a_model_that_is_there_keeps_every_byte() -> None:
    made = merged(MODEL, "x.yaml", take("id,name,qty\nb,Bar,2\na,Arm,1\n"))
    new = "   b:\r\n     name: Bar\r\n     quantity: 2\r\n"
    assert made.text == MODEL.replace("   a: Arm\r\n", f"   a: Arm\r\n{new}")
    assert [problem.message for problem in made.left_out] == [
        "`a` is in the model already, and this row was left out"
    ]


def test_what_was_left_out_points_to_where_it_stands_once_all_is_in() -> None:
    parts = take("id,name\nb,Bar\nc,Cap\na,Arm\n")
    made = merged(MODEL, "x.yaml", parts, take("id,do\ns,Stop.\n", "steps.csv"))
    lines = made.text.splitlines()
    places = [fact.place for problem in made.left_out for fact in problem.facts]
    assert [place and lines[place.line - 1].strip() for place in places] == ["a: Arm", "s:"]


def test_an_id_that_an_earlier_table_has_put_in_is_left_out_too() -> None:
    made = merged(MODEL, "x.yaml", take("id,name\nb,Bar\n"), take("id,name\nb,Bolt\n", "q.csv"))
    (problem,) = made.left_out
    assert problem.place is not None
    assert (problem.place.file, problem.place.line) == ("q.csv", 2)
    (fact,) = problem.facts
    assert fact.place is not None
    assert made.text.splitlines()[fact.place.line - 1] == "   b: Bar"


def test_steps_go_behind_a_text_of_several_lines() -> None:
    made = merged(MODEL, "x.yaml", take("id,do\nt,Stop.\n", "steps.csv"))
    reading = read_text(made.text, "x.yaml")
    assert reading.assembly is not None
    assert [step.do for step in reading.assembly.steps] == ["Go on.", "Stop."]
    assert made.text.replace("   t: Stop.\r\n", "") == MODEL


@pytest.mark.parametrize("parts", ["", "parts:\n", "parts:  # none yet\n"])
def test_a_section_that_is_missing_or_empty_is_filled(parts: str) -> None:
    text = f"assembly: x\n{parts}steps:\n  s: {{do: Go., fits: b}}"
    made = merged(text, "x.yaml", take("id,name\nb,Bar\n")).text
    reading = read_text(made, "x.yaml")
    assert reading.assembly is not None, made
    assert reading.assembly.parts[0].name == "Bar"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("assembly: x\nparts: {a: Arm}\n", "layout"),
        ("assembly: x\nparts: [a]\n", "layout"),
        ("assembly: x\nparts: {}\n", "layout"),
        ("assembly: x\nparts: a: b\n", "needs-quotes"),
        ("- a\n", "not-a-mapping"),
        ("", "not-a-mapping"),
    ],
)
def test_a_model_that_nothing_can_be_put_into_is_told(text: str, code: str) -> None:
    with pytest.raises(UnfitError) as stopped:
        merged(text, "x.yaml", take("id,name\nb,Bar\n"))
    assert [problem.code for problem in stopped.value.problems] == [code]


WORDS = st.text(
    st.characters(exclude_categories=["C", "Zl", "Zp"], exclude_characters="\ufffd\ufeff"),
    min_size=1,
    max_size=12,
).map(str.strip)
IDS = st.from_regex(r"[0-9a-zA-Z][0-9a-zA-Z.+#/-]{0,8}", fullmatch=True).filter(
    lambda text: id_problem(text) is None
)


@settings(max_examples=150, deadline=None)
@given(
    st.dictionaries(IDS, WORDS.filter(bool), min_size=1, max_size=4), st.sampled_from([",", ";"])
)
def test_ids_and_names_come_through_as_they_are(parts: dict[str, str], separator: str) -> None:
    table = io.StringIO()
    writer = csv.writer(table, delimiter=separator)
    writer.writerow(["id", "name"])
    writer.writerows((guarded(part), guarded(name)) for part, name in parts.items())
    done = take(table.getvalue(), separator=separator)
    assert {entry.id: entry.fields["name"] for entry in done.entries} == parts
    steps = take("id,do\ns,Go.\n", "steps.csv")
    assembly = read_text(new_model("x", [done, steps]), "x.yaml").assembly
    assert assembly is not None
    assert {part.id: part.name for part in assembly.parts} == parts


@given(st.text(max_size=12))
def test_the_mark_of_a_text_comes_off_again(text: str) -> None:
    assert unguarded(guarded(text)) == text


@settings(max_examples=150, deadline=None)
@given(st.text(st.sampled_from("ab0,;\"\n\r\t |'=é1."), max_size=40), st.sampled_from([",", ";"]))
def test_any_table_is_read_or_told_why_not(text: str, separator: str) -> None:
    for held in (text, f"id{separator}name{separator}mass\n{text}"):
        done = take(held)
        lines = held.split("\n")
        for problem in done.problems:
            assert problem.place is not None
            assert problem.place.line <= max(len(lines), len(done.lines))
        if not has_errors(done.problems):
            new_model("x", [done])
