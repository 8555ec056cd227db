"""What tagged PDF needs and WeasyPrint 70 leaves out: languages, scopes, names of boxes, words.

Three of its functions are wrapped; the version is pinned and tests/documents/test_tags.py fails
when a newer one behaves otherwise.
"""

import hashlib
import unicodedata
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from io import BytesIO
from typing import Any

# Devanagari and Bengali: readers get the words from /ActualText, as the glyphs are reordered.
# Arabic never: two common readers then give it backwards (measured).
REORDERED = range(0x0900, 0x0A00)
ARABIC_FORMS = (range(0xFB50, 0xFE00), range(0xFE70, 0xFEFF))
# A glyph without words of its own must map to something, or it would be dropped from the file.
NOTHING_SEEN = "\u200b"
PASSES = 4  # a ligature of ligatures needs another pass; nothing in our fonts needs more


def needs_actual_text(text: str) -> bool:
    """Say whether a line holds letters that are drawn in another order than they are read."""
    return any(ord(char) in REORDERED for char in text)


class GlyphTexts(dict[int, str]):
    """The words of each used glyph; what the font says wins, and none is ever empty."""

    def __init__(self, known: Mapping[int, str]) -> None:
        """Keep what the font's own tables say; the dictionary starts empty."""
        super().__init__()
        self._known = known

    def __setitem__(self, glyph: int, text: str) -> None:
        """Store the font's text for `glyph`, else the text it was first drawn for."""
        super().__setitem__(glyph, self._known.get(glyph) or text or NOTHING_SEEN)


def _plain_letters(cmap: Mapping[int, str]) -> dict[str, str]:
    """Give glyph name -> letter; a presentation form counts as its plain letter."""
    letters: dict[str, str] = {}
    for codepoint, name in sorted(cmap.items()):
        char = chr(codepoint)
        if any(codepoint in forms for forms in ARABIC_FORMS):
            char = unicodedata.normalize("NFKC", char)
        letters.setdefault(name, char)
    return letters


def _subtables(lookup: Any) -> Iterator[Any]:
    """Give the subtables of a GSUB lookup, those stored as extensions unwrapped."""
    for subtable in lookup.SubTable:
        yield getattr(subtable, "ExtSubTable", subtable)


def _learn(subtable: Any, letters: dict[str, str]) -> None:
    """Add the glyphs that one substitution makes from glyphs already known."""
    if subtable.LookupType == 1:
        for source, made in subtable.mapping.items():
            if source in letters:
                letters.setdefault(made, letters[source])
    elif subtable.LookupType == 4:
        for first, ligatures in subtable.ligatures.items():
            for ligature in ligatures:
                parts = [first, *ligature.Component]
                if all(part in letters for part in parts):
                    letters.setdefault(ligature.LigGlyph, "".join(letters[p] for p in parts))


def texts_of_font(content: bytes) -> dict[int, str]:
    """Give glyph id -> text of an Arabic font, from its character map and substitutions.

    Other fonts get an empty answer: their first use says enough. `content` is a font file.
    Source of the table layouts: OpenType, cmap and GSUB (lookup types 1 and 4).
    """
    from fontTools.ttLib import TTFont

    font = TTFont(BytesIO(content), lazy=True)
    cmap = font.getBestCmap() or {}
    if ord("ا") not in cmap or "GSUB" not in font:
        return {}
    letters = _plain_letters(cmap)
    for _ in range(PASSES):
        for lookup in font["GSUB"].table.LookupList.Lookup:
            for subtable in _subtables(lookup):
                _learn(subtable, letters)
    return {font.getGlyphID(name): text for name, text in letters.items()}


_texts: dict[bytes, dict[int, str]] = {}


def _known_texts(content: bytes) -> dict[int, str]:
    """Read each font file once; several sizes and threads share the answer."""
    digest = hashlib.sha256(content).digest()
    if digest not in _texts:
        _texts[digest] = texts_of_font(content)
    return _texts[digest]


def _describe(element: Any, attributes: Mapping[str, str], pdf_string: Any) -> None:
    """Copy lang, scope and aria-label of an HTML element to its PDF structure element."""
    if lang := attributes.get("lang"):
        element["Lang"] = pdf_string(lang)
    if element["S"] == "/TH" and (scope := attributes.get("scope")):
        element["A"]["Scope"] = "/Row" if scope == "row" else "/Column"
    if label := attributes.get("aria-label"):
        element["Alt"] = pdf_string(label)


@cache
def install() -> None:
    """Wrap the three functions, once a process; weasyprint is imported here."""
    import pydyf
    from weasyprint.pdf import fonts, stream, tags

    build = tags._build_box_tree

    def build_box_tree(box: Any, *rest: Any) -> Iterator[Any]:
        source: Any = getattr(box, "element", None)
        attributes = {} if source is None or source.tag in {"html", "body"} else source.attrib
        for position, element in enumerate(build(box, *rest)):
            if attributes and position == 0:
                _describe(element, attributes, pydyf.String)
            yield element

    start = fonts.Font.__init__

    def start_font(self: Any, *arguments: Any) -> None:
        start(self, *arguments)
        self.to_unicode = GlyphTexts(_known_texts(self.file_content))

    @contextmanager
    def marked(self: Any, box: Any, tag: str) -> Iterator[None]:
        if self._tags is None:
            yield
            return
        number = len(self._tags)
        self._tags[box] = {"tag": tag, "mcid": number}
        properties = pydyf.Dictionary({"MCID": number})
        text = getattr(box, "text", None) or ""
        if needs_actual_text(text):
            properties["ActualText"] = pydyf.String(text)
        self.begin_marked_content(tag, properties)
        try:
            yield
        finally:
            self.end_marked_content()

    tags._build_box_tree = build_box_tree
    fonts.Font.__init__ = start_font
    stream.Stream.marked = marked
