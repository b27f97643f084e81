"""The author's pictures: where they may be, what they may be, and how they are printed."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from PIL import Image, ImageDraw

from sequencer.model.assembly import Assembly
from sequencer.model.checking import Check
from sequencer.model.complete import complete
from sequencer.model.parts import Part
from sequencer.model.steps import Fit, Step
from sequencer.planning.plan import plan
from sequencer.sheets.packet import packet_html
from sequencer.sheets.pdf import write_pdf
from sequencer.sheets.photos import Photo, photo_findings, read_photos
from tests.sheets.making import limit, links, torque
from tests.sheets.pages import Printed

if TYPE_CHECKING:
    from pypdf import PageObject

    from sequencer.problem import Problem

ROOT = Path(__file__).resolve().parent.parent.parent
POINTS_A_MM = 72 / 25.4


def drawing(width: int, height: int, mode: str = "RGB") -> Image.Image:
    image = Image.new(mode, (width, height), "white")
    ImageDraw.Draw(image).rectangle((0, 0, width // 4, height // 4), fill="black")
    return image


def job(picture: str, **fields: object) -> Assembly:
    step = Step(id="fit", do="Fit the worm.", picture=picture)
    return complete(Assembly(assembly="a", steps=(step,), **fields))  # type: ignore[arg-type] # the fields are the caller's affair


def found(folder: Path, picture: str) -> tuple[Problem, ...]:
    """Return what is found by the first bytes, which is what reading the whole finds."""
    first = photo_findings(job(picture), lambda _: folder, folder)
    whole = read_photos(job(picture), lambda _: folder, folder)[1]
    assert not first or first == whole
    return whole


def read(folder: Path, picture: str) -> tuple[Photo, Image.Image]:
    photos, problems = read_photos(job(picture), lambda _: folder, folder)
    assert problems == ()
    (photo,) = photos.values()
    return photo, Image.open(io.BytesIO(photo.data))


@pytest.mark.parametrize(
    ("picture", "code", "message"),
    [
        ("gone.jpg", "no-picture", "the picture `gone.jpg` of step `fit` is not there"),
        ("x" * 300, "no-picture", f"the picture `{'x' * 79}…` of step `fit` is not there"),
        (
            "../worm.png",
            "picture-place",
            "the picture `../worm.png` of step `fit` leads out of the folder of the model",
        ),
        (
            "/worm.png",
            "picture-place",
            "the picture `/worm.png` of step `fit` is not a path from the folder of the model",
        ),
        (
            "photos\\worm.png",
            "picture-place",
            "the picture `photos\\worm.png` of step `fit` is not a path from the folder of the "
            "model",
        ),
        (
            "http://127.0.0.1:9/worm.png",
            "picture-place",
            "the picture `http://127.0.0.1:9/worm.png` of step `fit` is an address, not a file "
            "beside the model",
        ),
        (
            "file:///etc/hostname",
            "picture-place",
            "the picture `file:///etc/hostname` of step `fit` is an address, not a file beside "
            "the model",
        ),
        (
            "C:/worm.png",
            "picture-place",
            "the picture `C:/worm.png` of step `fit` is an address, not a file beside the model",
        ),
        (
            "link.png",
            "picture-place",
            "the picture `link.png` of step `fit` is reached by a link that leads out of the "
            "folder of the model",
        ),
        ("note.png", "not-a-picture", "the picture `note.png` of step `fit` is no PNG and no JPEG"),
        ("worm.gif", "not-a-picture", "the picture `worm.gif` of step `fit` is no PNG and no JPEG"),
        (
            "empty.jpg",
            "not-a-picture",
            "the picture `empty.jpg` of step `fit` is no PNG and no JPEG",
        ),
        ("cut.jpg", "not-a-picture", "the picture `cut.jpg` of step `fit` is damaged, or cut off"),
        ("cut.png", "not-a-picture", "the picture `cut.png` of step `fit` is damaged, or cut off"),
        (
            "heavy.png",
            "picture-size",
            "the picture `heavy.png` of step `fit` takes 257 MB, and 256 are the most",
        ),
    ],
)
def test_picture_that_cannot_be_printed_is_told_with_its_step(
    tmp_path: Path, picture: str, code: str, message: str
) -> None:
    folder = tmp_path / "model"
    folder.mkdir()
    drawing(90, 60).save(tmp_path / "worm.png")
    (folder / "link.png").symlink_to(tmp_path / "worm.png")
    (folder / "note.png").write_text("<svg/>", encoding="utf-8")
    (folder / "empty.jpg").touch()
    drawing(90, 60).save(folder / "worm.gif")
    for kind in ("jpg", "png"):
        whole = io.BytesIO()
        Image.effect_noise((200, 200), 90).save(whole, format={"jpg": "JPEG"}.get(kind, "PNG"))
        (folder / f"cut.{kind}").write_bytes(whole.getvalue()[: len(whole.getvalue()) // 2])
    with (folder / "heavy.png").open("wb") as heavy:
        heavy.truncate(257 * 2**20)
    (problem,) = found(folder, picture)
    assert (problem.code, problem.severity, problem.message) == (code, "error", message)
    assert problem.path == ("steps", "fit", "picture")
    assert problem.why
    assert problem.fix


def test_picture_may_be_reached_by_a_link_inside_the_folder(tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    drawing(90, 60).save(tmp_path / "photos" / "worm.png")
    (tmp_path / "worm.png").symlink_to(tmp_path / "photos" / "worm.png")
    assert found(tmp_path, "worm.png") == found(tmp_path, "photos/worm.png") == ()


def test_picture_of_a_part_or_a_check_is_told_with_the_step_that_needs_it(tmp_path: Path) -> None:
    assembly = complete(
        Assembly(
            assembly="a",
            parts=(Part(id="worm", picture="w.png"),),
            checks=(Check(id="gap", look="at it", picture="g.png"),),
            steps=(Step(id="fit", do="Fit it.", fits=(Fit("worm"),), check=links("check", "gap")),),
        )
    )
    assert [p.message for p in photo_findings(assembly, lambda _: tmp_path, tmp_path)] == [
        "the picture `w.png` of part `worm`, fitted in step `fit` is not there",
        "the picture `g.png` of check `gap`, taken in step `fit` is not there",
    ]


def test_png_of_more_points_than_can_be_read_is_told(tmp_path: Path) -> None:
    Image.new("1", (9000, 7000)).save(tmp_path / "plan.png")
    (problem,) = found(tmp_path, "plan.png")
    assert problem.message == (
        "the picture `plan.png` of step `fit` has 9,000 × 7,000 points, and 60 million are the "
        "most of a PNG, or of a JPEG stored in turns"
    )
    assert problem.fix == "make it smaller: 1,400 points on the longer side are all that is printed"
    Image.new("L", (30, 20)).save(tmp_path / "turns.jpg", progressive=True)
    data = (tmp_path / "turns.jpg").read_bytes()
    as_said = data.replace(bytes((0, 20, 0, 30)), (8000).to_bytes(2) * 2, 1)
    (tmp_path / "turns.jpg").write_bytes(as_said)
    (problem,) = found(tmp_path, "turns.jpg")
    assert "has 8,000 × 8,000 points, and 60 million are the most" in problem.message


READ_IT = """
import resource, sys
from pathlib import Path
from PIL import Image, ImageOps
from sequencer.sheets.photos import _read
def peak():
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
before = peak()
photo = _read(sys.argv[2], Path(sys.argv[1]), Path(sys.argv[1]))
print(peak() - before, photo.width, photo.height, len(photo.data))
"""


@pytest.mark.parametrize(("name", "most"), [("photo.jpg", 60), ("turns.jpg", 300), ("p.png", 300)])
def test_photograph_of_a_large_camera_takes_little_memory_and_comes_out_small(
    tmp_path: Path, name: str, most: int
) -> None:
    noise = Image.effect_noise((225, 150), 60).convert("RGB")
    noise.resize((9000, 6000), Image.Resampling.NEAREST).save(
        tmp_path / name, compress_level=1, quality=80, progressive=name == "turns.jpg"
    )
    done = subprocess.run(  # noqa: S603 - our own code
        [sys.executable, "-c", READ_IT, str(tmp_path), name],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    taken, width, height, size = map(float, done.stdout.split())
    assert (width, height) == (1400, 933)
    assert taken < most, "MB"
    assert size < 600_000


@pytest.mark.parametrize("mode", ["1", "P", "L"])
def test_thin_lines_of_a_large_drawing_are_not_lost(tmp_path: Path, mode: str) -> None:
    plan = Image.new("L", (5600, 560), "white")
    for across in range(3, 5600, 80):
        ImageDraw.Draw(plan).line((across, 0, across, 560), fill="black")
    plan.convert(mode).save(tmp_path / "p.png")
    _, image = read(tmp_path, "p.png")
    row = image.convert("L").crop((0, 70, 1400, 71)).tobytes()
    assert sum(min(row[at - 3 : at + 3]) < 230 for at in range(3, 1400, 20)) == 70


def test_picture_stands_as_the_camera_was_held_and_tells_nothing_else(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[0x0112] = 6  # turned a quarter
    exif[0x010F] = "name of a maker"
    drawing(300, 200).save(tmp_path / "p.jpg", exif=exif)
    photo, image = read(tmp_path, "p.jpg")
    assert (photo.width, photo.height) == (200, 300) == image.size
    black = image.convert("L").point(lambda value: 255 * (value < 128))
    assert black.getbbox() == (149, 0, 200, 76)
    assert dict(image.getexif()) == {}
    assert b"name of a maker" not in photo.data


def test_what_a_drawing_lets_through_is_white(tmp_path: Path) -> None:
    image = Image.new("RGBA", (40, 40), (0, 0, 0, 0))
    image.save(tmp_path / "p.png")
    photo, printed = read(tmp_path, "p.png")
    assert photo.kind == "image/png"
    assert printed.convert("RGB").getpixel((20, 20)) == (255, 255, 255)


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "I;16", "RGB", "RGBA", "CMYK"])
def test_picture_of_any_make_is_printed(tmp_path: Path, mode: str) -> None:
    name = "p.jpg" if mode == "CMYK" else "p.png"
    Image.new(mode, (60, 40), None if mode == "I;16" else "white").save(tmp_path / name)
    _, image = read(tmp_path, name)
    assert image.mode in ("L", "RGB")
    assert image.size == (60, 40)


def test_photograph_kept_as_png_is_stored_as_jpeg(tmp_path: Path) -> None:
    Image.effect_noise((1200, 800), 80).save(tmp_path / "p.png")
    photo, image = read(tmp_path, "p.png")
    assert (photo.kind, image.format) == ("image/jpeg", "JPEG")


@pytest.fixture
def pictured(tmp_path: Path) -> tuple[Assembly, Path]:
    drawing(2000, 800).save(tmp_path / "step.jpg")
    drawing(800, 600).save(tmp_path / "worm.png")
    drawing(500, 900).save(tmp_path / "gap.png")
    step = Step(
        id="fit",
        do="Fit the <worm>. Turn it.",
        warning=("It bites.",),
        fits=(Fit("worm"), Fit("lid")),
        torque=torque("9 N·m"),
        check=links("check", "gap"),
        picture="step.jpg",
    )
    filling = tuple(Step(id=f"s{at}", do="Lay it out.\n" * 6) for at in range(3))
    assembly = Assembly(
        assembly="a",
        parts=(
            Part(id="worm", name="Worm", picture="worm.png"),
            Part(id="lid", picture="gone.png"),
        ),
        checks=(Check(id="gap", measure="Gap", limit=limit("1 to 2 mm"), picture="gap.png"),),
        steps=(*filling, step),
    )
    return complete(assembly), tmp_path


def packet(assembly: Assembly, folder: Path) -> Printed:
    photos, _ = read_photos(assembly, lambda _: folder, folder)
    html = packet_html(assembly, plan(assembly), fingerprint="f", sheets=("steps",), photos=photos)
    return Printed.of(html, photos=tuple(photos.values()))


def test_pictures_stand_on_the_page_of_their_step_inside_its_margins(
    pictured: tuple[Assembly, Path],
) -> None:
    printed = packet(*pictured)
    assert printed.logged == ()
    page = printed.page_of_step(4) - 1
    assert "It bites." in printed.pages[page]
    assert "9 N·m" in printed.pages[page]
    placed = [_pictures(one) for one in printed.reader.pages]
    assert [len(found) for found in placed] == [3 if at == page else 0 for at in range(len(placed))]
    for x, y, width, height in placed[page]:
        assert 22 * POINTS_A_MM < x < x + width < (210 - 14) * POINTS_A_MM
        assert 19 * POINTS_A_MM < y < y + height < (297 - 22) * POINTS_A_MM
    sizes = [(width / POINTS_A_MM, height / POINTS_A_MM) for *_, width, height in placed[page]]
    assert sizes == [pytest.approx(size, abs=0.2) for size in ((124, 49.6), (48, 36), (28.9, 52))]


def _pictures(page: PageObject) -> list[tuple[float, float, float, float]]:
    """Return where pictures stand on a page, in points from the bottom left, and their sizes."""
    found = []

    def note(operator: bytes, _: object, now: list[float], __: object) -> None:
        if operator == b"Do":
            width, height = abs(now[0]), abs(now[3])
            found.append((now[4], min(now[5], now[5] + now[3]), width, height))

    page.extract_text(visitor_operand_before=note)
    return found


def test_missing_picture_is_printed_as_missing(pictured: tuple[Assembly, Path]) -> None:
    assert "PICTURE MISSING: gone.png" in packet(*pictured).text


def test_pictures_have_words_for_those_who_do_not_see_them(
    pictured: tuple[Assembly, Path],
) -> None:
    printed = packet(*pictured)
    catalog: Any = printed.reader.trailer["/Root"]
    said = [
        element["/Alt"]
        for element in _elements(catalog["/StructTreeRoot"])
        if element.get("/S") == "/Figure"
    ]
    assert said == [
        "Picture to step 4: Fit the <worm>.",
        "Picture of Worm",
        "Picture to the check: Measure Gap",
    ]


def _elements(element: Any) -> list[Any]:
    kids = element.get("/K", [])
    below = [kid.get_object() for kid in (kids if isinstance(kids, list) else [kids])]
    dicts = [kid for kid in below if hasattr(kid, "get")]
    return [element, *(one for kid in dicts for one in _elements(kid))]


def test_same_pictures_give_the_same_bytes(pictured: tuple[Assembly, Path]) -> None:
    assert packet(*pictured).pdf == packet(*pictured).pdf


def test_page_gets_no_picture_that_is_not_given_to_it(pictured: tuple[Assembly, Path]) -> None:
    assembly, folder = pictured
    photos, _ = read_photos(assembly, lambda _: folder, folder)
    html = packet_html(assembly, plan(assembly), fingerprint="f", photos=photos, sheets=("steps",))
    assert b"/Image" not in write_pdf(html)
