"""HTML to PDF: the only place that knows the renderer."""

from __future__ import annotations

import contextlib
import gc
import io
import logging
import warnings
from copy import copy
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit
from urllib.request import url2pathname

from sequencer.sheets import fonts
from sequencer.sheets.glyphs import missing_glyphs
from sequencer.sheets.paging import fill_in_pages
from sequencer.shipped import shipped_folder

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from sequencer.sheets.photos import Photo

_FIX = """\
Debian, Ubuntu: sudo apt install libpango-1.0-0 libpangoft2-1.0-0
Fedora: sudo dnf install pango
Arch: sudo pacman -S pango
Alpine: sudo apk add pango
macOS: brew install pango
Windows, in an MSYS2 shell: pacman -S mingw-w64-x86_64-pango"""

# Tables that lay text out, which is done by the time that fonts are embedded.
_NOT_EMBEDDED = (b"BASE", b"DSIG", b"GDEF", b"GPOS", b"GSUB", b"JSTF", b"SVG ")


class RendererMissing(RuntimeError):  # noqa: N818 - named for what is wrong, like the findings
    """A library that pages are laid out with cannot be loaded; `fix` says what to install."""

    def __init__(self, message: str, fix: str) -> None:
        super().__init__(message)
        self.fix = fix


def write_pdf(
    html: str,
    *,
    layouts: Path | None = None,
    photos: Iterable[Photo] = (),
    tell: Callable[[str], None] | None = None,
) -> bytes:
    """Return the PDF of a document made by `packet.packet_html`.

    The same document gives the same bytes on every machine with the same versions of the
    libraries, whether or not it has fonts of its own: those of the packet are embedded, cut down
    by one library everywhere, and nothing is dated (so that SOURCE_DATE_EPOCH has nothing left
    to settle). Only characters that the packet's fonts lack are looked for in the machine's
    fonts; `glyphs.glyph_findings` names them. Nothing is fetched but the packet's fonts and files
    in the folders of layouts.

    Parameters
    ----------
    html : str
        The whole document.
    layouts : Path or None
        The folder of layouts of the user's own that the document was made with; its files may
        be used by the page, beside those that ship.
    photos : iterable of Photo
        The author's pictures that the document may show.
    tell : callable or None
        Told what is being done, a few words at a time, while a long document is laid out.

    Raises
    ------
    RendererMissing
        If the system lacks Pango, or the package with the fonts is gone.
    """
    _renderer()
    folders = [shipped_folder("layouts"), *([layouts] if layouts else [])]
    fetcher = _fetcher(folders, _boxed(html), photos)
    base = folders[-1].resolve().as_uri() + "/"
    with _progress(tell), _no_collector():
        return _written(_document(html, base_url=base, url_fetcher=fetcher))


@contextlib.contextmanager
def _no_collector() -> Iterator[None]:
    """Keep Python's collector of circles from looking through the boxes over and over.

    Nearly all that the renderer makes lives until the pages are written, and the search for what
    does not takes a fifth of the time.
    """
    was_enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_enabled:
            gc.enable()


def _document(html: str, **where: Any) -> Any:
    """Return a document whose elements look as the renderer has them, but for what none uses.

    The renderer gives every element the styles of six kinds of notes and markers, and every page
    those of sixteen boxes in its margins; that they are left out saves time and memory.
    """
    import weasyprint
    from weasyprint.html import UA_STYLESHEET

    style, matcher = copy(UA_STYLESHEET), copy(UA_STYLESHEET.matcher)
    matcher.other_selectors = [entry for entry in matcher.other_selectors if entry[3] is None]
    style.matcher, style.page_rules = matcher, []

    class Document(weasyprint.HTML):  # type: ignore[misc] # the renderer ships no type hints
        def _ua_stylesheets(self, forms: bool = False) -> list[Any]:  # noqa: ARG002 - its own
            return [style]

    document = Document(string=html, **where)
    gc.collect(0)  # the parser's own tree, of circles, which nothing else would let go
    return document


def _written(page: Any) -> bytes:
    document = page.render()
    fill_in_pages(document)
    for laid_out in document.pages:
        laid_out.paint = partial(_paint, laid_out.paint)
    document.fonts = _Subset()
    pdf: bytes = document.write_pdf(pdf_tags=True)
    return pdf


def _paint(paint: Callable[..., None], stream: Any, scale: float = 1) -> None:
    """Paint a page, and keep what that gives as one piece: thousands take three times the room."""
    paint(stream, scale)
    pieces = (getattr(one, "data", one) for one in stream.stream)  # of its objects the bytes
    stream.stream[:] = [
        b"\n".join(one if isinstance(one, bytes) else one.encode() for one in pieces)
    ]


_TRIAL = """<!DOCTYPE html><html lang="en"><title>trial</title><style>
@font-face { font-family: trial; src: url(packet-font:marks) }
p { font-family: trial }
</style><p>"""


def _boxed(html: str) -> frozenset[int]:
    """Return the characters that no font has, neither the packet's nor one of this machine.

    Those that the packet's fonts lack are tried in a small document; mostly there are none.
    """
    lacking = missing_glyphs(html)
    if not lacking:
        return frozenset()
    with _missing_glyphs() as missing:
        _written(_document(_TRIAL + " ".join(lacking), url_fetcher=_fetcher([])))
    return frozenset(missing & {ord(letter) for letter in lacking})


def _renderer() -> None:
    """Import the renderer quietly: it prints its own advice, and warns of what does not matter.

    It warns when HarfBuzz's subset library is not installed, which is not used here, and when a
    machine has no fonts, which a packet brings.
    """
    with warnings.catch_warnings(), contextlib.redirect_stdout(io.StringIO()):
        warnings.filterwarnings("ignore", "HarfBuzz-Subset", DeprecationWarning)
        warnings.filterwarnings("ignore", ".*FontConfig", UserWarning)
        try:
            import weasyprint  # noqa: F401 - loaded here, used below
        except OSError as error:
            raise RendererMissing(
                f"Pango, the library that pages are laid out with, cannot be loaded: {error}", _FIX
            ) from error


def _fetcher(
    folders: list[Path], boxed: frozenset[int] = frozenset(), photos: Iterable[Photo] = ()
) -> Any:
    """Return a fetcher of the packet's fonts, its pictures and files of the layouts, no more."""
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    try:
        data = {
            f"{fonts.SCHEME}:{name}": ("font/ttf", fonts.font_data(name, boxed))
            for name in fonts.NAMES
        }
    except FileNotFoundError as error:
        raise RendererMissing(
            str(error), "pip install --force-reinstall font-source-sans-pro"
        ) from error
    data |= {photo.address: (photo.kind, photo.data) for photo in photos}
    allowed = [folder.resolve() for folder in folders]

    class PacketFetcher(URLFetcher):  # type: ignore[misc] # the renderer ships no type hints
        def fetch(self, url: str, headers: object = None) -> Any:
            if url in data:
                kind, file = data[url]
                return URLFetcherResponse(url, file, {"Content-Type": kind})
            parts = urlsplit(url)
            path = Path(url2pathname(parts.path)).resolve()
            if parts.scheme != "file" or not any(folder in path.parents for folder in allowed):
                raise ValueError(f"not a file of the layouts: {url}")
            return super().fetch(url, headers)

    return PacketFetcher()


class _Subset(dict[Any, Any]):
    """The fonts of a document, each told to cut itself down by way of HarfBuzz's own bindings.

    The renderer does so with a system library, or else with a slow one that dates what it
    writes. This one comes with its own HarfBuzz, takes little time, and gives the same bytes
    everywhere.
    """

    def __setitem__(self, key: Any, font: Any) -> None:
        font.subset = partial(_cut_down, font)
        super().__setitem__(key, font)


def _cut_down(font: Any, to_unicode: dict[int, str], hinting: bool) -> None:
    """Keep of a font's file the glyphs that the document uses, under their own numbers.

    A font of the machine that cannot be cut down is embedded whole.
    """
    import uharfbuzz as hb  # type: ignore[import-untyped]

    if not to_unicode:
        return
    wanted = hb.SubsetInput()
    wanted.glyph_set.update(sorted(set(to_unicode) - set(font.missing.values())))
    wanted.drop_table_tag_set.update(int.from_bytes(tag, "big") for tag in _NOT_EMBEDDED)
    flags = hb.SubsetFlags.RETAIN_GIDS | hb.SubsetFlags.DESUBROUTINIZE
    flags |= hb.SubsetFlags.NO_HINTING if not hinting else 0
    flags |= hb.SubsetFlags.NOTDEF_OUTLINE if font.missing else 0
    wanted.flags = flags
    face = hb.Face(hb.Blob(font.file_content), font.index)
    with contextlib.suppress(RuntimeError):
        font.file_content = hb.subset(face, wanted).blob.data


@contextlib.contextmanager
def _progress(tell: Callable[[str], None] | None) -> Iterator[None]:
    """Pass on what the renderer says it is doing, page by page."""
    logger = logging.getLogger("weasyprint.progress")
    if tell is None:
        yield
        return
    teller = _Teller(tell)
    level = logger.level
    logger.addHandler(teller)
    logger.setLevel(logging.INFO)
    try:
        yield
    finally:
        logger.removeHandler(teller)
        logger.setLevel(level)


@contextlib.contextmanager
def _missing_glyphs() -> Iterator[set[int]]:
    """Collect the code points that the renderer says no font has."""
    logger = logging.getLogger("weasyprint")
    collector = _Collector()
    logger.addHandler(collector)
    try:
        yield collector.codes
    finally:
        logger.removeHandler(collector)


class _Collector(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.codes: set[int] = set()

    def emit(self, record: logging.LogRecord) -> None:
        if ".notdef" in str(record.msg) and isinstance(record.args, tuple):
            self.codes.update(value for value in record.args if isinstance(value, int))


class _Teller(logging.Handler):
    def __init__(self, tell: Callable[[str], None]) -> None:
        super().__init__()
        self.tell = tell

    def emit(self, record: logging.LogRecord) -> None:
        page = record.args[0] if isinstance(record.args, tuple) and record.args else None
        if "Repagination" in str(record.msg):
            self.tell("page numbers changed, laying out again")
        elif "layout" in str(record.msg) and isinstance(page, int):
            self.tell(f"laying out page {page}")
        elif "Creating PDF" in str(record.msg):
            self.tell("writing the PDF")
