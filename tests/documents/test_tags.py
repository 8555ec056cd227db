"""WeasyPrint is pinned because three of its inner functions are wrapped; this says if they move."""

import re
from importlib.metadata import version
from io import BytesIO

import pikepdf
import pytest

from relations.documents import fonts, tags
from relations.documents.render import render

ARABIC = '<div lang="ar" dir="rtl" style="font-family:Amiri">{}</div>'


def made(body: str) -> pikepdf.Pdf:
    page = f'<!doctype html><html lang="en"><title>t</title><body>{body}</body></html>'
    return pikepdf.open(BytesIO(render(page, lang="en", title="x")))


def nodes(pdf: pikepdf.Pdf) -> list[pikepdf.Dictionary]:
    """Every structure element, in reading order."""

    def walk(node):
        found = [node] if "/S" in node else []
        kids = node.get("/K", [])
        for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
            if isinstance(kid, pikepdf.Dictionary):
                found += walk(kid)
        return found

    return walk(pdf.Root.StructTreeRoot)


def texts_of_glyphs(pdf: pikepdf.Pdf) -> list[str]:
    """What each glyph of each font maps to."""
    maps = [font.ToUnicode.read_bytes().decode() for font in pdf.pages[0].Resources.Font.values()]
    pairs = [pair for text in maps for pair in re.findall(r"^<([0-9a-f]{4})> <(.*)>$", text, re.M)]
    assert pairs
    return [bytes.fromhex(code).decode("utf-16-be") for _, code in pairs if code != "ffff"]


def test_engine_is_the_one_the_wrappers_were_written_for():
    assert version("weasyprint") == "70.0"


def test_language_of_a_column_is_told():
    pdf = made('<div lang="fr"><p>Oui</p></div>' + ARABIC.format("<p>نعم</p>"))
    assert [str(node.Lang) for node in nodes(pdf) if "/Lang" in node] == ["fr", "ar"]


def test_header_of_a_row_or_column_says_which():
    table = (
        "<table><thead><tr><th scope=col>Use<th scope=col>Yes</thead>"
        "<tbody><tr><th scope=row>Book<td>x</table>"
    )
    pdf = made(table)
    heads = [node for node in nodes(pdf) if node.S == "/TH"]
    assert [str(node.A.Scope) for node in heads if "/A" in node] == ["/Column", "/Column", "/Row"]


def test_box_to_tick_has_a_name():
    body = '<p>Yes <span role="img" aria-label="Book: yes" style="display:inline-block;width:9px;height:9px"></span></p>'  # noqa: E501
    pdf = made(body)
    assert [str(node.Alt) for node in nodes(pdf) if "/Alt" in node] == ["Book: yes"]


@pytest.mark.parametrize(
    "text, is_needed",
    [("क्षेत्र", True), ("স্ত্রী", True), ("Oui 12", False), ("السلام", False), ("", False)],
)
def test_only_reordered_scripts_carry_their_words_beside_the_glyphs(text, is_needed):
    assert tags.needs_actual_text(text) is is_needed


def test_line_of_devanagari_or_bengali_carries_its_words_and_arabic_does_not():
    page = '<p lang="ne">श्री स्त्री</p><p lang="bn">স্ত্রী ক্ষেত্র</p><p>Oui</p>'
    pdf = made(page + ARABIC.format("لا إله"))
    said = [
        str(operands[1].ActualText)
        for operands, operator in pikepdf.parse_content_stream(pdf.pages[0])
        if str(operator) == "BDC" and "/ActualText" in operands[1]
    ]
    assert said == ["श्री स्त्री", "স্ত্রী ক্ষেত্র"]


def test_every_glyph_means_something():
    pdf = made('<p lang="ne">र्‍य प्राप्त ट्ठ हस्ताक्षर किन्तु</p>' + ARABIC.format("الله لا بُدَّ مِن ﷲ"))
    assert all(texts_of_glyphs(pdf))


def test_arabic_glyphs_mean_what_the_font_says():
    content = (fonts.font_folders()[1] / "Amiri-Regular.ttf").read_bytes()
    texts = tags.texts_of_font(content)
    assert {"ب", "لا", "\u064e"} <= set(texts.values())
    assert not [text for text in texts.values() if "\ufe70" <= text[0] <= "\ufefc"]
    assert len([text for text in texts.values() if text == "ب"]) > 1, "all its shapes"


def test_other_fonts_speak_for_themselves():
    content = (fonts.font_folders()[0] / "Mukta-Regular.ttf").read_bytes()
    assert tags.texts_of_font(content) == {}


def test_glyph_keeps_the_font_s_text_then_its_first_use_then_something():
    texts = tags.GlyphTexts({7: "ب"})
    texts[7], texts[8], texts[9] = "بّ", "x", ""
    assert texts == {7: "ب", 8: "x", 9: tags.NOTHING_SEEN}


def test_untagged_drawing_still_works():
    """The wrapped function is used for untagged files too, by a caller of the engine itself."""
    tags.install()
    import weasyprint

    assert weasyprint.HTML(string="<p>x</p>").write_pdf()[:5] == b"%PDF-"
