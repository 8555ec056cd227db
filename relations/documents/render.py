"""HTML to tagged PDF, shut off from network and files, and loud about any fault."""

import logging
import threading
import warnings
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from io import BytesIO
from typing import Any

from . import fonts, outside, tags

VARIANT, ARCHIVE = "pdf/ua-1", "pdf/a-3b"
MM = 25.4 / 96  # of a CSS pixel
Box = tuple[float, float, float, float]
# One mapping a page.
Anchors = tuple[Mapping[str, Box], ...]

# Cairo, Pango and the wrapped logger are shared by all threads; one render at a time.
_lock = threading.Lock()
_mine = threading.local()


class RenderFault(RuntimeError):  # noqa: N818 - read as a sentence where it is raised
    """The layout engine had something to say: `lines` are its words, kept out of every log."""

    def __init__(self, lines: list[str]) -> None:
        """Keep the lines; they may hold words of the page, so the message is only a count."""
        super().__init__(f"{len(lines)} faults while a paper was laid out")
        self.lines = lines


class MissingLetters(RenderFault):
    """None of our fonts has some letters: `letters` names each, as "U+0B95 க"."""

    def __init__(self, letters: list[str]) -> None:
        """Keep the letters, each once, in the order met."""
        super().__init__(letters)
        self.letters = letters


class OutsideAddress(RenderFault):
    """The page asked for something that is not inside itself; `lines` holds the address."""


class _Collector(logging.Handler):
    """Keeps what the engine says at level warning and above."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []
        self.letters: dict[str, None] = {}

    def emit(self, record: logging.LogRecord) -> None:
        """Keep one record, a letter without a glyph apart from the rest."""
        if str(record.msg).startswith(".notdef") and isinstance(record.args, tuple):
            letter, codepoint = record.args
            self.letters[f"U+{codepoint:04X} {letter}"] = None
        else:
            self.lines.append(record.getMessage())


@cache
def _engine() -> Any:
    """Import weasyprint with our fonts and tags; 0.3 s, so not before the first paper."""
    fonts.use_own_fonts()
    tags.install()
    import weasyprint

    return weasyprint


@cache
def _fetcher() -> Any:
    """Make the fetcher that takes pictures out of the page itself and stops at all else."""
    _engine()
    from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

    class DataOnly(URLFetcher):  # type: ignore[misc]  # the package brings no types
        def fetch(self, url: str, headers: dict[str, str] | None = None) -> Any:
            if not url.lower().startswith("data:"):
                raise FatalURLFetchingError(url)
            found = super().fetch(url, headers)
            content = found.read()
            if not outside.is_picture(content):
                raise FatalURLFetchingError(url)
            return URLFetcherResponse(url, content, found.info())

    return DataOnly(allowed_protocols={"data"}, allow_redirects=False, fail_on_errors=True)


@contextmanager
def _listening() -> Iterator[_Collector]:
    """Take the engine's log for ourselves, so that no word of a page reaches another log."""
    logger = logging.getLogger("weasyprint")
    collector = _Collector()
    before = logger.handlers, logger.propagate, logger.level
    logger.handlers, logger.propagate = [collector], False
    logger.setLevel(logging.WARNING)
    try:
        yield collector
    finally:
        logger.handlers, logger.propagate = before[0], before[1]
        logger.setLevel(before[2])


def _own_configuration() -> Any:
    """Give this thread's fonts: shared between threads they end the process (measured: 2 of 2)."""
    from weasyprint.text.fonts import FontConfiguration

    if not hasattr(_mine, "fonts"):
        _mine.fonts, _mine.styles = FontConfiguration(), {}
    return _mine.fonts


def _style_sheets(css: str) -> list[Any]:
    """Give the style sheet, read once a thread: it belongs to the thread's fonts."""
    if not css:
        return []
    configuration = _own_configuration()
    if css not in _mine.styles:
        sheet = _engine().CSS(string=css, font_config=configuration, url_fetcher=_fetcher())
        _mine.styles = {css: sheet}  # one form is printed many times; others take their turn
    return [_mine.styles[css]]


@dataclass(frozen=True)
class Attached:
    """A file inside a PDF: its `name` (its ending tells its type), its bytes and their day."""

    name: str
    content: bytes
    at: datetime


@dataclass(frozen=True)
class LaidOut:
    """A finished PDF, how many `pages` it has, and where its named boxes stand.

    `anchors` has one mapping a page: the id of an element -> left, top, width and height of it in
    millimetres from the upper left corner of the page.
    """

    content: bytes
    pages: int
    anchors: Anchors


def _anchors(page: Any) -> dict[str, Box]:
    return {
        name: (left * MM, top * MM, (right - left) * MM, (bottom - top) * MM)
        for name, (left, top, right, bottom) in page.anchors.items()
    }


def _write(
    html: str,
    css: str,
    lang: str,
    title: str,
    variant: str | None,
    attached: Sequence[Attached],
    most: int | None,
) -> LaidOut:
    """Lay out and write one document; nothing of the page becomes metadata."""
    from weasyprint import Attachment
    from weasyprint.pdf.metadata import DocumentMetadata
    from weasyprint.urls import FatalURLFetchingError

    try:
        page = _engine().HTML(string=html, url_fetcher=_fetcher())
        if asked := outside.asked(page.etree_element.iter()):
            raise OutsideAddress(asked)
        document = page.render(
            font_config=_own_configuration(),
            stylesheets=_style_sheets(css),
            pdf_variant=variant,
        )
        if most is not None and len(document.pages) > most:
            return LaidOut(b"", len(document.pages), ())
        # What the page itself attaches is kept, so that one from outside stops the paper.
        files = [
            *document.metadata.attachments,
            *(
                Attachment(
                    file_obj=BytesIO(one.content),
                    name=one.name,
                    created=one.at,
                    modified=one.at,
                    relationship="Data",
                    url_fetcher=_fetcher(),
                )
                for one in attached
            ),
        ]
        document.metadata = DocumentMetadata(title=title, lang=lang, attachments=files)
        anchors = tuple(_anchors(page) for page in document.pages)
        with warnings.catch_warnings():
            # The engine leaves the file of its colour profile for the interpreter to close.
            warnings.filterwarnings("ignore", "unclosed file", ResourceWarning)
            content = bytes(document.write_pdf(pdf_variant=variant))
        return LaidOut(content, len(document.pages), anchors)
    except FatalURLFetchingError as error:
        raise OutsideAddress([str(error)]) from None


def lay_out(
    html: str,
    *,
    lang: str,
    title: str,
    css: str = "",
    variant: str | None = VARIANT,
    attached: Sequence[Attached] = (),
    most: int | None = None,
) -> LaidOut:
    """Make a PDF of a whole HTML document; the same bytes each time on one machine.

    `lang` is the document's language (BCP 47) and `title` its serial: both replace whatever the
    page says of itself. `css` is a style sheet kept ready between papers. `variant` is PDF/UA-1,
    `ARCHIVE` for a copy to be kept for decades, or None for a plain PDF to be laid over another.
    A document of more pages than `most` is not written: it comes without content and anchors.
    Raises MissingLetters, OutsideAddress, or RenderFault for any other line the engine logs: a
    paper is right or it is not made.
    """
    with _lock:
        _engine()
        with _listening() as heard:
            made = _write(html, css, lang, title, variant, attached, most)
    if heard.letters:
        raise MissingLetters(list(heard.letters))
    if heard.lines:
        raise RenderFault(heard.lines)
    return made


def render(html: str, *, lang: str, title: str, css: str = "", is_tagged: bool = True) -> bytes:
    """Give the bytes of a PDF/UA-1 file, or of a plain one; else as `lay_out`."""
    variant = VARIANT if is_tagged else None
    return lay_out(html, lang=lang, title=title, css=css, variant=variant).content
