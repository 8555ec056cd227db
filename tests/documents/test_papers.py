"""The style that all papers but the form share, on words made for this test."""

import subprocess
from contextlib import nullcontext
from dataclasses import replace
from io import BytesIO

import pikepdf
import pypdfium2
import pytest
import zxingcpp
from django.core.exceptions import ImproperlyConfigured
from PIL import ImageChops

from relations import settings as site
from relations.documents import papers, qr
from relations.documents.columns import ClausesDifferError, Column, PaperClause, line
from relations.documents.render import MissingLetters
from relations.documents.values import LETTERS, PaperKind

KEY = bytes(range(32))
SAID = {
    "fr": ("Papier d’essai", "côté {page} sur {pages}", "Première", "Il faut du temps."),
    "ar": ("ورقة تجربة", "الوجه {page} من {pages}", "الأولى", "لكم وقت للتفكير في كل هذا."),
    "bn": ("পরীক্ষার কাগজ", "পৃষ্ঠা {page} / {pages}", "প্রথম", "ভাবার জন্য সময় নিন।"),
}


def column(lang: str, times: int = 1) -> Column:
    title, pages, heading, text = SAID[lang]
    labels = {"title": title, "page_of": pages, "wording": "v", "draft": "X", "draft_note": "Y"}
    said = tuple(PaperClause(f"c{n}", n, heading, f"{text} " * 6) for n in range(1, times + 1))
    return Column(lang, said, labels)


def paper(one: str = "fr", other: str = "ar", times: int = 1, **changed) -> papers.Paper:
    kind = PaperKind.TAKE_BACK
    columns = column(one, times), column(other, times)
    return replace(
        papers.Paper(
            kind=kind,
            template="documents/paper/sheet.html",
            serial="70042-74",
            version="2",
            first=columns[0],
            second=columns[1],
            payload=lambda page: qr.payload(LETTERS[kind], "70042-74", page, "2", key=KEY),
            foot=line(columns, "foot", [("tel", "+33 4 65 71 00 42"), ("tel", "")]),
        ),
        **changed,
    )


def codes(content: bytes) -> list[list[str]]:
    """What the square codes of each page say, from the top down, at 150 dpi."""
    with pypdfium2.PdfDocument(content) as pdf:
        images = [page.render(scale=150 / 72).to_pil().convert("L") for page in pdf]
    pages = [
        sorted(zxingcpp.read_barcodes(image), key=lambda code: code.position.top_left.y)
        for image in images
    ]
    return [[str(qr.read_payload(code.text, key=KEY)) for code in page] for page in pages]


@pytest.mark.parametrize("times", [1, 12])
def test_each_page_bears_its_code_at_both_edges(times):
    made = papers.lay(paper(times=times))
    assert made.pages == (1 if times == 1 else 2)
    assert codes(made.content) == [
        [f"T/70042-74/{page}/2"] * 2 for page in range(1, made.pages + 1)
    ]


def test_sort_that_takes_as_many_pages_as_the_last_is_laid_out_once(monkeypatch):
    tried, lay_out = [], papers.lay_out
    monkeypatch.setattr(papers, "_took", {})
    monkeypatch.setattr(
        papers,
        "lay_out",
        lambda *page, **said: tried.append(said["most"]) or lay_out(*page, **said),
    )
    first, again = (papers.lay(paper(times=12)) for _ in range(2))
    assert (tried, first) == ([1, 2, 2], again)
    short = papers.lay(paper())  # tried with the two pages of the last one
    assert (tried[3:], short.pages) == ([2, 1], 1)
    assert papers.lay(paper()) == short and tried[5:] == [1]
    monkeypatch.setattr(papers, "_took", {})
    assert papers.lay(paper()) == short


@pytest.mark.needs("pdftotext")
def test_each_page_says_how_many_there_are_and_what_number_to_ring():
    content = papers.lay(paper(times=12)).content
    ran = subprocess.run(["pdftotext", "-", "-"], input=content, capture_output=True, check=True)
    for said in ("côté 1 sur 2", "côté 2 sur 2"):
        assert said in ran.stdout.decode()
    assert ran.stdout.decode().count("+33 4 65 71 00 42") == 2


@pytest.mark.needs("qpdf")
@pytest.mark.parametrize("size, points", [("A4", (595, 842)), ("Letter", (612, 792))])
def test_paper_is_of_the_size_that_the_settings_name(settings, tmp_path, size, points):
    settings.RELATIONS_PAPER_SIZE = size
    made = papers.lay(paper("bn", "fr"))
    with pikepdf.open(BytesIO(made.content)) as pdf:
        assert [round(side) for side in pdf.pages[0].mediabox[2:]] == list(points)
        assert str(pdf.docinfo.Title) == "70042-74"
        assert set(pdf.docinfo) <= {"/Title", "/Producer"}
    (tmp_path / "paper.pdf").write_bytes(made.content)
    subprocess.run(["qpdf", "--check", tmp_path / "paper.pdf"], check=True, capture_output=True)


def test_paper_is_black_white_and_grey():
    with pypdfium2.PdfDocument(papers.lay(paper(draft=True)).content) as pdf:
        red, green, blue = pdf[0].render(scale=1).to_pil().convert("RGB").split()
    assert ImageChops.difference(red, green).getbbox() is None
    assert ImageChops.difference(green, blue).getbbox() is None


def test_four_squares_stand_seven_millimetres_from_the_corners():
    with pypdfium2.PdfDocument(papers.lay(paper()).content) as pdf:
        image = pdf[0].render(scale=254 / 72).to_pil().convert("L")  # ten dots a millimetre
    width, height = image.size
    for x in (95, width - 95):
        for y in (95, height - 95):
            assert image.getpixel((x, y)) == 0, (x, y)
            assert image.getpixel((x + (35 if x > 200 else -35), y)) == 255


def test_a_proof_has_no_number_and_no_code():
    made = papers.lay(paper(serial="", draft=True))
    assert codes(made.content) == [[]]


def test_the_same_paper_gives_the_same_bytes():
    assert papers.lay(paper()).content == papers.lay(paper()).content


def test_a_letter_that_no_font_has_stops_the_paper():
    first = replace(column("fr"), labels={**column("fr").labels, "title": "தமிழ்"})
    with pytest.raises(MissingLetters) as stopped:
        papers.lay(paper(first=first))
    assert "U+0BA4 த" in stopped.value.letters


def test_columns_that_say_different_things_are_refused():
    with pytest.raises(ClausesDifferError):
        papers.lay(paper(second=column("ar", 2)))


def test_a_paper_without_end_is_refused(monkeypatch):
    monkeypatch.setattr(papers, "MOST_PAGES", 1)
    with pytest.raises(papers.TooLongError):
        papers.lay(paper(times=12))


@pytest.mark.parametrize(
    "said, stops", [("A4", False), ("Letter", False), ("a4", True), ("A5", True)]
)
def test_a_size_that_no_paper_has_stops_the_site(monkeypatch, said, stops):
    monkeypatch.setenv("RELATIONS_PAPER_SIZE", said)
    with pytest.raises(ImproperlyConfigured) if stops else nullcontext():
        assert site._paper_size("PAPER_SIZE", "A4") == said
