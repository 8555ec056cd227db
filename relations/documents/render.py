"""HTML to tagged PDF, shut off from network and files, and loud about any fault."""

import logging
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from typing import Any

from . import fonts, tags

VARIANT = "pdf/ua-1"

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
    """Make the fetcher that opens nothing but data: addresses and stops at any other."""
    _engine()
    from weasyprint.urls import FatalURLFetchingError, URLFetcher

    class DataOnly(URLFetcher):  # type: ignore[misc]  # the package brings no types
        def fetch(self, url: str, headers: dict[str, str] | None = None) -> Any:
            if not url.lower().startswith("data:"):
                raise FatalURLFetchingError(url)
            return super().fetch(url, headers)

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


def _write(html: str, css: str, lang: str, title: str, variant: str | None) -> bytes:
    """Lay out and write one document; nothing of the page becomes metadata."""
    from weasyprint.pdf.metadata import DocumentMetadata
    from weasyprint.urls import FatalURLFetchingError

    try:
        page = _engine().HTML(string=html, url_fetcher=_fetcher())
        document = page.render(
            font_config=_own_configuration(),
            stylesheets=_style_sheets(css),
            pdf_variant=variant,
        )
        asked = document.metadata.attachments  # kept, so that one from outside stops the paper
        document.metadata = DocumentMetadata(title=title, lang=lang, attachments=asked)
        return bytes(document.write_pdf(pdf_variant=variant))
    except FatalURLFetchingError as error:
        raise OutsideAddress([str(error)]) from None


def render(html: str, *, lang: str, title: str, css: str = "", is_tagged: bool = True) -> bytes:
    """Make a PDF/UA-1 file of a whole HTML document; the same bytes each time on one machine.

    `lang` is the document's language (BCP 47) and `title` its serial: both replace whatever the
    page says of itself. `css` is a style sheet kept ready between papers. Without `is_tagged` it
    is a plain PDF, to be laid over a tagged one. Raises MissingLetters, OutsideAddress, or
    RenderFault for any other line the engine logs: a paper is right or it is not made.
    """
    with _lock:
        _engine()
        with _listening() as heard:
            content = _write(html, css, lang, title, VARIANT if is_tagged else None)
    if heard.letters:
        raise MissingLetters(list(heard.letters))
    if heard.lines:
        raise RenderFault(heard.lines)
    return content
