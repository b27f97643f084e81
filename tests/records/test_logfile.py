"""The file of a log: whatever happens to a writer, every entry told `ok` is there and readable."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.records import locking, logfile
from sequencer.records.entries import Entry, Note, Stop
from sequencer.records.lines import to_line
from sequencer.records.locking import BusyError, locked
from sequencer.records.logfile import LogError, append, log_of, read_log, start_log
from tests.records.making import TIME, entries

ROOT = Path(__file__).resolve().parent.parent.parent


def note(text: str, number: int = 0) -> Entry:
    return Entry(number=number, time=TIME, what=Note(text=text))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A log with three entries."""
    log = tmp_path / "unit.log.jsonl"
    start_log(log, note("first"))
    append(log, [note("second"), note("third – Ø")])
    return log


def texts(path: Path) -> list[str]:
    return [getattr(entry.what, "text", "") for entry in read_log(path).entries]


@settings(max_examples=60, deadline=None)
@given(st.lists(entries(), min_size=1, max_size=4), st.data())
def test_any_beginning_of_a_log_reads_as_its_first_entries(
    several: list[Entry], data: st.DataObject
) -> None:
    numbered = [replace(entry, number=at) for at, entry in enumerate(several, start=1)]
    lines = [to_line(entry) for entry in numbered]
    whole = b"".join(lines)
    cut = data.draw(st.integers(0, len(whole)))
    log = log_of(whole[:cut])
    ends = [sum(map(len, lines[: at + 1])) for at in range(len(lines))]
    kept = sum(1 for end in ends if end - 1 <= cut)  # an entry lacks nothing but its line feed
    assert log.entries == tuple(numbered[:kept])
    assert log.findings == ()
    assert bool(log.torn) == (cut not in {0, *ends, *(end - 1 for end in ends)})


def test_the_writer_goes_on_after_a_cut_at_any_byte(path: Path) -> None:
    whole = path.read_bytes()
    lines = whole.splitlines(keepends=True)
    for cut in range(len(whole) + 1):
        torn = path.with_name("cut.log.jsonl")
        beside = torn.with_name("cut.log.jsonl.torn")
        torn.write_bytes(whole[:cut])
        before = log_of(whole[:cut])
        appended = append(torn, [note("after")])
        after = read_log(torn)
        assert after.entries == (*before.entries, *appended.entries)
        assert after.findings == ()
        assert after.torn == b""
        assert appended.entries[0].number == len(before.entries) + 1
        # Nothing is thrown away: what was torn is beside the log, and was told.
        assert [finding.code for finding in appended.findings] == (
            ["torn-line"] if before.torn else []
        )
        set_aside = beside.read_bytes() if beside.exists() else b""
        assert set_aside == (before.torn + b"\n" if before.torn else b"")
        with suppress(FileNotFoundError):
            beside.unlink()
    assert len(lines) == 3


class _Killed(BaseException):
    """Stands for a process that ends in the middle of a write: nothing after it is run."""


def test_a_writer_killed_at_any_byte_loses_no_entry_that_was_told_ok(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = path.read_bytes()
    told = texts(path)
    length = len(to_line(note("fourth", 4)))
    write = os.write

    for most in range(length + 1):
        path.write_bytes(whole)

        def stops(descriptor: int, data: bytes, most: int = most) -> int:
            write(descriptor, data[:most])
            raise _Killed

        monkeypatch.setattr(os, "write", stops)
        with pytest.raises(_Killed):
            append(path, [note("fourth")])
        monkeypatch.setattr(os, "write", write)
        assert texts(path)[:3] == told
        append(path, [note("fifth")])
        assert texts(path)[:3] == told
        assert texts(path)[-1] == "fifth"
        assert [entry.number for entry in read_log(path).entries] == list(
            range(1, len(texts(path)) + 1)
        )


def test_a_full_disk_leaves_the_log_as_it_was(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = path.read_bytes()
    write = os.write
    for room in range(len(to_line(note("fourth", 4)))):
        left = [room]

        def full(descriptor: int, data: bytes, left: list[int] = left) -> int:
            if not left[0]:
                raise OSError(errno.ENOSPC, "No space left on device")
            written = write(descriptor, data[: left[0]])
            left[0] -= written
            return written

        monkeypatch.setattr(os, "write", full)
        with pytest.raises(LogError) as refused:
            append(path, [note("fourth")])
        monkeypatch.setattr(os, "write", write)
        assert path.read_bytes() == whole
        problem = refused.value.problem
        assert problem.message == f"cannot write `{path}`: No space left on device"
        assert (
            problem.why == "nothing of it was recorded; what stood in the log before is untouched"
        )


def test_a_disk_that_does_not_keep_what_it_took_is_not_told_ok(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = path.read_bytes()

    def lost(_: int) -> None:
        raise OSError(errno.EIO, "Input/output error")

    monkeypatch.setattr(os, "fsync", lost)
    with pytest.raises(LogError, match="Input/output error"):
        append(path, [note("fourth")])
    assert path.read_bytes() == whole


@pytest.mark.skipif(sys.platform == "win32", reason="no limits on the size of files there")
def test_a_limit_on_the_size_of_files_loses_nothing(path: Path) -> None:
    told = texts(path)
    script = f"""
import resource, signal, sys
from pathlib import Path
from sequencer.records.entries import Entry, Note
from sequencer.records.logfile import LogError, append
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
path = Path({str(path)!r})
size = path.stat().st_size
resource.setrlimit(resource.RLIMIT_FSIZE, (size + 250, size + 250))
for at in range(9):
    try:
        append(path, [Entry(time="", what=Note(text=f"more {{at}}"))])
    except LogError as error:
        sys.exit(f"{{at}} {{error.problem.code}}")
"""
    done = subprocess.run(  # noqa: S603  # our own interpreter on our own code
        [sys.executable, "-c", script], capture_output=True, text=True, check=False, cwd=ROOT
    )
    count, code = done.stderr.split()
    assert code == "not-recorded"
    assert int(count) > 0
    assert texts(path) == [*told, *(f"more {at}" for at in range(int(count)))]
    assert read_log(path).torn == b""


def test_two_writers_at_once_lose_nothing_and_number_alike(path: Path) -> None:
    script = f"""
import sys
from pathlib import Path
from sequencer.records.entries import Entry, Note
from sequencer.records.logfile import append
for at in range(40):
    append(Path({str(path)!r}), [Entry(time="", what=Note(text=f"{{sys.argv[1]}} {{at}}"))])
    print(at, flush=True)
"""
    writers = [
        subprocess.Popen(  # noqa: S603  # our own interpreter on our own code
            [sys.executable, "-c", script, name], stdout=subprocess.PIPE, text=True, cwd=ROOT
        )
        for name in ("left", "right")
    ]
    told = {
        name: writer.communicate()[0].split() for name, writer in zip("lr", writers, strict=True)
    }
    assert [writer.returncode for writer in writers] == [0, 0]
    log = read_log(path)
    assert log.findings == ()
    assert log.torn == b""
    assert [entry.number for entry in log.entries] == list(range(1, 84))
    for name, side in (("l", "left"), ("r", "right")):
        assert told[name] == [str(at) for at in range(40)]
        mine = [text for text in texts(path) if text.startswith(side)]
        assert mine == [f"{side} {at}" for at in range(40)]


def test_a_process_killed_while_it_writes_has_lost_nothing_that_it_told(path: Path) -> None:
    script = f"""
from itertools import count
from pathlib import Path
from sequencer.records.entries import Entry, Note
from sequencer.records.logfile import append
for at in count():
    append(Path({str(path)!r}), [Entry(time="", what=Note(text=f"more {{at}} " + "x" * 9000))])
    print(at, flush=True)
"""
    writer = subprocess.Popen(  # noqa: S603  # our own interpreter on our own code
        [sys.executable, "-c", script], stdout=subprocess.PIPE, text=True, cwd=ROOT
    )
    assert writer.stdout is not None
    for _ in range(20):
        writer.stdout.readline()
    writer.kill()
    rest = writer.communicate()[0].split()
    told = 20 + len(rest)
    found = [text.rpartition(" ")[0] for text in texts(path)[3:]]
    assert found[:told] == [f"more {at}" for at in range(told)]
    append(path, [note("after")])
    assert texts(path)[-1] == "after"
    assert read_log(path).findings == ()


def test_a_writer_that_dies_lets_go_of_the_lock(path: Path) -> None:
    script = f"""
import os
from pathlib import Path
from sequencer.records.locking import locked
descriptor = os.open({str(path)!r}, os.O_RDWR)
with locked(descriptor):
    os._exit(9)
"""
    done = subprocess.run([sys.executable, "-c", script], check=False, cwd=ROOT)  # noqa: S603
    assert done.returncode == 9
    assert append(path, [note("fourth")]).findings == ()


def test_a_writer_that_does_not_let_go_is_told(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    holder = os.open(path, os.O_RDWR)
    other = os.open(path, os.O_RDWR)
    try:
        with locked(holder) as is_locked:
            assert is_locked
            with pytest.raises(BusyError), locked(other, patience=0.05):
                pass
            monkeypatch.setattr(locking, "_PATIENCE", 0.05)
            monkeypatch.setattr(logfile, "locked", lambda d: locked(d, 0.05))
            with pytest.raises(LogError) as refused:
                append(path, [note("fourth")])
    finally:
        os.close(holder)
        os.close(other)
    assert refused.value.problem.message == (
        f"`{path}` is being written by somebody else, who does not let go of it"
    )
    assert len(texts(path)) == 3


def test_a_system_without_locks_records_and_says_so(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(locking, "_system", lambda: None)
    appended = append(path, [note("fourth")])
    assert [(one.code, one.severity) for one in appended.findings] == [("no-lock", "note")]
    assert appended.findings[0].why == (
        "two people who write at the same moment would not be kept apart"
    )
    assert texts(path)[-1] == "fourth"


def test_a_log_is_never_begun_over_another(path: Path) -> None:
    whole = path.read_bytes()
    with pytest.raises(LogError) as refused:
        start_log(path, note("again"))
    assert refused.value.problem.message == f"there is a log at `{path}` already"
    assert path.read_bytes() == whole
    assert [child.name for child in path.parent.iterdir()] == [path.name]


def test_a_log_is_begun_whole_or_not_at_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(LogError, match="No space left"):
        start_log(tmp_path / "unit.log.jsonl", note("first"))
    assert list(tmp_path.iterdir()) == []


def test_a_disk_without_links_is_good_enough_for_a_log(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(_: Path, __: Path) -> None:
        raise PermissionError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", none)
    path = tmp_path / "unit.log.jsonl"
    start_log(path, note("first"))
    with pytest.raises(LogError, match="there is a log"):
        start_log(path, note("again"))
    assert texts(path) == ["first"]


def test_a_damaged_line_is_told_and_stays_where_it_is(path: Path) -> None:
    lines = path.read_bytes().splitlines(keepends=True)
    spoilt = b"".join((lines[0], b"\x00\x00\xff, not a line\n", b"\n", lines[2]))
    path.write_bytes(spoilt)
    log = read_log(path)
    assert [entry.number for entry in log.entries] == [1, 3]
    (finding,) = log.findings
    assert finding.code == "damaged-line"
    assert finding.message == "line 2 of the log is torn or overwritten: it is no JSON object"
    append(path, [Entry(time=TIME, what=Stop())])
    assert path.read_bytes().startswith(spoilt)
    assert read_log(path).entries[-1].number == 4


def test_numbers_that_do_not_rise_are_told_once(path: Path) -> None:
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join((lines[0], lines[2], lines[1], lines[1])))
    (finding,) = read_log(path).findings
    assert finding.message == f"entry 2 comes after entry 3 in `{path}`"


def test_editors_may_change_line_ends_and_add_a_mark(path: Path) -> None:
    entries_before = read_log(path).entries
    text = path.read_bytes()
    path.write_bytes(b"\xef\xbb\xbf" + text.replace(b"\n", b"\r\n").rstrip())
    assert read_log(path) == replace(read_log(path), entries=entries_before, findings=(), torn=b"")
    append(path, [note("fourth")])
    assert texts(path) == ["first", "second", "third – Ø", "fourth"]


def test_a_log_that_is_not_there_is_told(tmp_path: Path) -> None:
    path = tmp_path / "none.log.jsonl"
    with pytest.raises(LogError) as refused:
        read_log(path)
    assert refused.value.problem.message == f"cannot read `{path}`: No such file or directory"
    with pytest.raises(LogError, match="cannot write"):
        append(path, [note("first")])
    assert not path.exists()
