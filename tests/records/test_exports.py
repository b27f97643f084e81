"""The export of the tablet page: read whole, or refused with the line that is wrong."""

from __future__ import annotations

import json

import pytest

from sequencer.records.entries import Correct, Done, Entry
from sequencer.records.exports import Export, Exported, ExportError, export_of

NOW = "2031-05-02T15:00:00+02:00"
AT = "2031-05-02T14:05:09+02:00"
HEAD = {"tablet": 1, "assembly": "pinion", "issue": "B", "fingerprint": "7f3a·c91e", "unit": "0017"}


def line(kind: str, name: str, **fields: object) -> dict[str, object]:
    return {"id": name, "at": AT, "kind": kind, **fields, "by": "AB"}


def written(*told: object) -> bytes:
    return "".join(f"{json.dumps(one)}\n" for one in told).encode()


def test_entries_are_read_with_their_times_and_ids() -> None:
    told = written(
        HEAD,
        line("done", "a1", steps=["chock-on"]),
        line("correct", "a2", corrects="a1", why="ticked by mistake"),
    )
    done = Entry(number=1, time=NOW, what=Done(steps=("chock-on",)), at=AT, by="AB", id="a1")
    wrong = Correct(corrects=1, why="ticked by mistake")
    taken_back = Entry(number=1, time=NOW, what=wrong, at=AT, by="AB", id="a2")
    expected = Export("7f3a·c91e", "0017", (Exported(done), Exported(taken_back, "a1")))
    assert export_of(told, NOW) == expected
    copied = told.replace(b"\n", b"\r\n\r\n").removesuffix(b"\r\n")  # by way of an editor
    assert export_of(b"\xef\xbb\xbf" + copied, NOW) == expected


NOT_FIRST = "is not the first line of an export of the tablet page"
STRANGE = [
    (b"", 1, "holds nothing"),
    (b"a log, perhaps", 1, "is torn: it is no JSON object"),
    (b"[]", 1, "is no JSON object"),
    (written({"entry": 1, "kind": "start"}), 1, NOT_FIRST),
    (written({**HEAD, "tablet": 2}), 1, NOT_FIRST),
    (written(HEAD, line("done", "a", steps=["x"]))[:-20], 2, "is torn: it is no JSON object"),
    (written(HEAD, line("done", "a")), 2, "lacks the field `steps`"),
    (written(HEAD, line("done", "", steps=["x"])), 2, "has no id of its own"),
    (written(HEAD, {**line("stop", "a")}), 2, "tells what no page records: `stop`"),
    (written(HEAD, {**line("note", "a", text="x"), "at": "noon"}), 2, "does not say when it was"),
    (written(HEAD, {**line("note", "a", text="x"), "at": AT[:16]}), 2, "does not say when it was"),
    (
        written(HEAD, line("note", "a", text="x"), line("note", "a", text="y")),
        3,
        "has the id of an entry before it: a",
    ),
    (
        written(HEAD, line("dance", "a")),
        2,
        'is of a kind that this version does not know: "dance"',
    ),
]  # fmt: skip


@pytest.mark.parametrize(("data", "number", "why"), STRANGE)
def test_what_is_no_export_is_refused_with_its_line(data: bytes, number: int, why: str) -> None:
    with pytest.raises(ExportError) as caught:
        export_of(data, NOW)
    assert (caught.value.line, str(caught.value)) == (number, why)
