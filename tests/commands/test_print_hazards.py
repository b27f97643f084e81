"""What printing is known to spoil, tried on the whole way: a file, the command, its PDF."""

from __future__ import annotations

import contextlib
import io
import json
import os
import pty
import re
import subprocess
import sys
from pathlib import Path

import pypdf
from PIL import Image

from tests.commands.running import run
from tests.sheets.pages import holds, squeezed

ROOT = Path(__file__).resolve().parent.parent.parent
COMMAND = "from sequencer.commands import main; main()"

PICTURED = """\
assembly: pump
sections: {housing: The housing}
parts: {worm: {name: Worm, number: 12-3456-AB, picture: worm.jpg}}
steps:
  fit: {do: Fit the worm., fits: worm, picture: plan.png, section: housing, caution: It bites.}
  tight: {do: Tighten it., torque: {value: 9 N·m, source: card 3}, section: housing}
"""


def pages_of(pdf: Path) -> list[str]:
    reader = pypdf.PdfReader(io.BytesIO(pdf.read_bytes()))
    return [page.extract_text() for page in reader.pages]


def started(
    *arguments: str, stderr: int = subprocess.PIPE, **settings: str
) -> subprocess.Popen[str]:
    return subprocess.Popen(  # noqa: S603 - our own code
        [sys.executable, "-W", "error", "-c", COMMAND, *arguments],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), **settings},
        stdout=subprocess.PIPE,
        stderr=stderr,
        text=True,
    )


def said_on_the_terminal(terminal: int) -> str:
    """Return all that is written to a terminal until it is let go."""
    pieces = []
    with contextlib.suppress(OSError):  # so Linux says that nobody writes any more
        while piece := os.read(terminal, 4096):
            pieces.append(piece)
    os.close(terminal)
    return b"".join(pieces).decode()


def test_two_machines_print_the_same_bytes_one_of_them_without_fonts(tmp_path: Path) -> None:
    (tmp_path / "pump.yaml").write_text(PICTURED, encoding="utf-8")
    Image.effect_noise((300, 200), 60).save(tmp_path / "worm.jpg")
    Image.new("1", (1200, 800), 1).save(tmp_path / "plan.png")
    empty = tmp_path / "fonts.conf"
    empty.write_text(
        '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig>'
        f"<cachedir>{tmp_path}/cache</cachedir></fontconfig>",
        encoding="utf-8",
    )
    model = str(tmp_path / "pump.yaml")
    ours, theirs = pty.openpty()
    one = started("packet", model, "--into", str(tmp_path / "1"), stderr=theirs, PYTHONHASHSEED="1")
    os.close(theirs)
    other = started(
        *("packet", model, "--into", str(tmp_path / "2")),
        PYTHONHASHSEED="2",
        FONTCONFIG_FILE=str(empty),
        TZ="Asia/Tokyo",
        SOURCE_DATE_EPOCH="1000000000",
    )
    shown = said_on_the_terminal(ours)
    _, complaint = other.communicate(timeout=100)
    one.communicate(timeout=100)
    assert (one.returncode, other.returncode) == (0, 0), complaint
    assert "warning" not in complaint
    first, second = ((tmp_path / at / "pump-A.pdf").read_bytes() for at in "12")
    assert first == second
    for words in ("reading picture 2", "composing the sheets", "laying out page 2", "writing the"):
        assert f"\r\x1b[K{words}" in shown  # each wipes the line before it
    assert shown.rstrip().endswith("\r\x1b[K")


WATCHED = """
import json, os, sys
import weasyprint  # which looks for its libraries by running other programs
seen = []
def watch(event, arguments):
    if event == "open" and isinstance(arguments[0], (str, bytes)):
        seen.append(os.path.realpath(os.fsdecode(arguments[0])))
    elif event.split(".")[0] in ("socket", "urllib", "subprocess", "ftplib", "http", "webbrowser"):
        seen.append(f"{event} {arguments[:2]}")
from sequencer.commands import main
sys.addaudithook(watch)
try:
    main()
finally:
    told = json.dumps(seen)
    with open(os.environ["SEEN"], "w") as file:
        file.write(told)
"""

HOSTILE = """\
assembly: pump
title: '<link rel="attachment" href="file:///etc/hostname"><link href=//127.0.0.1:9/a>'
parts:
  worm: {name: '<img src="file:///etc/passwd"> <img src="secret.txt">', picture: ../secret.png}
  lid: {name: '<style>@import url(http://127.0.0.1:9/a.css); @font-face {src: url(secret.txt)}'}
  seal: {name: '<object data="secret.txt"></object> <svg><image href="secret.txt"/></svg>'}
steps:
  fit:
    do: '<a rel="attachment" href="secret.txt">Fit</a> {% include "/etc/hostname" %} {{ 7*7 }}'
    fits: [worm, lid, seal]
    picture: file:///etc/hostname
  look: {do: '</p><iframe src="http://127.0.0.1:9/">', picture: 'http://127.0.0.1:9/a.png'}
  show: {do: 'url(secret.txt) <base href="http://127.0.0.1:9/">', picture: worm.png}
"""


def test_nothing_that_an_author_writes_is_opened_or_fetched_but_pictures(tmp_path: Path) -> None:
    folder, seen = tmp_path / "model", tmp_path / "seen.json"
    folder.mkdir()
    (tmp_path / "fonts").mkdir()  # where the renderer lays its fonts out
    (folder / "pump.yaml").write_text(HOSTILE, encoding="utf-8")
    (folder / "secret.txt").write_text("a secret", encoding="utf-8")
    for place in (folder / "worm.png", tmp_path / "secret.png"):
        Image.new("RGB", (60, 40), "white").save(place)
    done = subprocess.run(  # noqa: S603 - our own code
        [
            *(sys.executable, "-c", WATCHED, "packet", str(folder / "pump.yaml")),
            *("--draft", "--sheets", "kit,steps", "--into", str(tmp_path / "out")),
        ],
        cwd=ROOT,
        env={
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "SEEN": str(seen),
            "TMPDIR": str(tmp_path / "fonts"),
        },
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 1, done.stderr
    assert re.findall(r"error\[[a-z-]+\]", done.stderr) == ["error[picture-place]"] * 3
    looked_at = set(json.loads(seen.read_text(encoding="utf-8")))
    beside = {str(Path(one).relative_to(tmp_path)) for one in looked_at if str(tmp_path) in one}
    assert {"model/pump.yaml", "model/worm.png"} <= beside
    others = beside - {"model/pump.yaml", "model/worm.png"}
    assert {Path(one).parts[0] for one in others} == {"fonts", "out"}
    ours = (str(ROOT), sys.prefix, sys.base_prefix, *sys.path)
    own = tuple(os.path.realpath(place) for place in ours if place)
    strangers = {one for one in looked_at if not one.startswith((*own, str(tmp_path)))}
    assert strangers == set()
    pdf = tmp_path / "out" / "pump-A.pdf"
    text = "".join(pages_of(pdf))
    for typed in ('{% include "/etc/hostname" %} {{ 7*7 }}', '<iframe src="http://127.0.0.1:9/">'):
        assert holds(text, typed)
    assert dict(pypdf.PdfReader(pdf).attachments) == {}
    assert "a secret" not in text


def test_more_pages_than_are_printed_at_once_are_refused(tmp_path: Path) -> None:
    words = "Lay the hose along the frame. " * 1500
    steps = "".join(f"  s{at}: {{do: Fit part {at}., note: {words}}}\n" for at in range(100))
    model = tmp_path / "hose.yaml"
    model.write_text(f"assembly: hose\nsteps:\n{steps}", encoding="utf-8")
    result = run("packet", str(model), "--into", str(tmp_path / "out"), exit_code=1)
    assert result.stdout == "nothing printed\n"
    assert result.stderr.splitlines() == [
        "error[packet-size]: about 920 pages would be printed, and 800 are the most",
        "  = why: all are laid out before one is written, and each takes 2 MB of memory meanwhile",
        "  = fix: print fewer sheets at a time with `packet --sheets`, or part the model into "
        "several that one uses, and print each with `packet --each`",
    ]
    assert not (tmp_path / "out").exists()


def test_models_that_use_each_other_without_end_are_told_plainly(tmp_path: Path) -> None:
    for at in range(200):
        uses = f"uses: {{m{at + 1}: {{file: m{at + 1}.yaml}}}}\n" if at < 199 else ""
        fits = f", fits: m{at + 1}" if at < 199 else ""
        text = f"assembly: m{at}\n{uses}steps: {{s: {{do: Build it {at}.{fits}}}}}\n"
        (tmp_path / f"m{at}.yaml").write_text(text, encoding="utf-8")
    result = run("packet", str(tmp_path / "m0.yaml"), "--into", str(tmp_path), exit_code=2)
    first, *rest = result.stderr.splitlines()
    assert first.endswith("error[too-deep]: models use each other more than 8 deep")
    assert rest[-1] == "  = fix: join some of them"


def test_units_in_units_are_printed_however_deep(tmp_path: Path) -> None:
    deep = 200
    units = "".join(f"  u{at}: Unit {at}\n" for at in range(deep))
    inner = (f", fits: u{at - 1}" if at else "" for at in range(deep))
    steps = "".join(
        f"  s{at}: {{do: Build it {at}., unit: u{at}{fits}}}\n" for at, fits in enumerate(inner)
    )
    steps += f"  last: {{do: Put it on., fits: u{deep - 1}}}\n"
    model = tmp_path / "deep.yaml"
    model.write_text(f"assembly: deep\nunits:\n{units}steps:\n{steps}", encoding="utf-8")
    run("packet", str(model), "--sheets", "before,checklist", "--into", str(tmp_path))
    text = squeezed("".join(pages_of(tmp_path / "deep-A.pdf")))
    assert [at for at in range(deep) if f"Buildit{at}." not in text] == []


def test_letters_without_a_font_are_told_with_their_steps(tmp_path: Path) -> None:
    model = tmp_path / "pump.yaml"
    model.write_text(
        "assembly: pump\nsteps:\n  one: {do: Set it ⌀ 25 ± 0.1.}\n  two: {do: 締める 🔧}\n",
        encoding="utf-8",
    )
    result = run("packet", str(model), "--sheets", "steps", "--into", str(tmp_path))
    assert "pump.yaml:4:13: warning[no-glyph]" in result.stderr
    assert "the packet's fonts lack `締`, `め`, `る`, `🔧`" in result.stderr
    (page,) = pages_of(tmp_path / "pump-A.pdf")
    assert holds(page, "Set it ⌀ 25 ± 0.1.")
    assert holds(page, "締める 🔧")
