from io import BytesIO

import pikepdf
import pypdfium2
import pytest

from relations.documents.overlay import UnlikeSheetsError, stamp
from relations.documents.render import render


def page(body: str) -> str:
    return f'<!doctype html><html lang="fr"><title>x</title><body>{body}</body></html>'


SHEET = render(page('<h1>Un</h1><p lang="ne">क्षेत्र</p>'), lang="fr", title="")
OVER = render(page("<p style='margin-top:60px'>70042-74</p>"), lang="fr", title="", is_tagged=False)


def test_both_are_seen_and_read():
    with pypdfium2.PdfDocument(stamp(SHEET, OVER, title="70042-74")) as pdf:
        text = pdf[0].get_textpage().get_text_bounded()
    assert all(word in text for word in ("Un", "क्षेत्र", "70042-74"))


def test_sheet_stays_tagged_and_what_lies_over_it_is_an_artifact():
    with pikepdf.open(BytesIO(stamp(SHEET, OVER, title="70042-74"))) as pdf:
        assert pdf.Root.MarkInfo.Marked and "/StructTreeRoot" in pdf.Root
        with pdf.open_metadata() as metadata:
            assert metadata["pdfuaid:part"] == "1"
            assert metadata["dc:title"] == "70042-74"
        assert str(pdf.docinfo["/Title"]) == "70042-74"
        operators = [
            (str(operator), [str(operand) for operand in operands[:1]])
            for operands, operator in pikepdf.parse_content_stream(pdf.pages[0])
        ]
    drawn = [name for name, _ in operators].index("Do")
    assert operators[drawn - 2] == ("BMC", ["/Artifact"])
    assert operators[drawn + 2][0] == "EMC"
    opened = sum(name in {"BMC", "BDC"} for name, _ in operators)
    assert opened == sum(name == "EMC" for name, _ in operators)


def test_the_same_two_files_give_the_same_bytes():
    assert stamp(SHEET, OVER, title="70042-74") == stamp(SHEET, OVER, title="70042-74")


def test_plain_file_is_not_tagged():
    with pikepdf.open(BytesIO(OVER)) as pdf:
        assert "/StructTreeRoot" not in pdf.Root


@pytest.mark.parametrize(
    "body",
    ["<style>@page{size:A5}</style><p>x</p>", "<p>x</p><p style='break-before:page'>y</p>"],
)
def test_sheets_must_be_alike(body):
    with pytest.raises(UnlikeSheetsError):
        stamp(SHEET, render(page(body), lang="fr", title="", is_tagged=False), title="x")
