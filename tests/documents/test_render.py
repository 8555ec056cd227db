import logging
import subprocess
import sys
import threading
from datetime import UTC, datetime
from io import BytesIO

import pikepdf
import pytest

from relations.documents import render as module
from relations.documents.render import (
    ARCHIVE,
    Attached,
    LaidOut,
    MissingLetters,
    OutsideAddress,
    RenderFault,
    lay_out,
    render,
)


def page(body: str, head: str = "") -> str:
    return f'<!doctype html><html lang="en"><head><title>t</title>{head}</head><body>{body}</body>'


def made(body: str, head: str = "", css: str = "") -> bytes:
    return render(page(body, head), lang="en", title="70042-74", css=css)


def opened(content: bytes) -> pikepdf.Pdf:
    return pikepdf.open(BytesIO(content))


def test_paper_is_tagged_and_says_so():
    pdf = opened(made("<h1>One</h1><p>Two</p>"))
    assert pdf.Root.MarkInfo.Marked
    assert pdf.Root.Lang == "en"
    with pdf.open_metadata() as metadata:
        assert metadata["pdfuaid:part"] == "1"


def test_nothing_the_page_says_of_itself_becomes_metadata():
    head = '<meta name="author" content="Asha"><meta name="keywords" content="Asha">'
    content = render(
        page("<p>x</p>", head).replace("<title>t", "<title>Asha"), lang="fr", title="70042-74"
    )
    pdf = opened(content)
    assert pdf.docinfo["/Title"] == "70042-74"
    assert set(pdf.docinfo.keys()) <= {"/Title", "/Producer"}
    assert pdf.Root.Lang == "fr"
    with pdf.open_metadata() as metadata:
        assert "Asha" not in str(metadata)


def test_same_page_gives_the_same_bytes():
    body = '<p>Oui</p><p lang="ne">क्षेत्र</p><p lang="ar" dir="rtl" style="font-family:Amiri">لا</p>'
    assert made(body) == made(body)


def test_style_sheet_is_used_and_another_may_follow():
    # ISO 216 in points, WeasyPrint's own boxes read by another library (checks.md 6).
    for size, points in {"A5": [419.528, 595.276], "A4": [595.276, 841.890]}.items():
        pdf = opened(made("<p>x</p>", css=f"@page {{ size: {size} }}"))
        assert [float(n) for n in pdf.pages[0].MediaBox[2:]] == pytest.approx(points, abs=0.01)


def test_letter_that_no_font_has_is_named():
    with pytest.raises(MissingLetters) as refused:
        made("<p>Good தமிழ் day</p>")
    assert "U+0BA4 த" in refused.value.letters
    assert not [letter for letter in refused.value.letters if letter.endswith(tuple("Good day"))]


def test_joiners_are_spelling_and_no_missing_letters():
    assert made('<p lang="ne">र्\u200dय क\u200c्ष</p>')


@pytest.mark.parametrize(
    "head, body",
    [
        ("<style>p{colour:red}</style>", "<p>x</p>"),
        ("", '<p style="colour:red">x</p>'),
        ("", '<img alt="x" src="data:image/png;base64,iVBORw0KGgo=">'),
        (
            "",
            '<img src="data:image/gif;base64,R0lGODlh">',
        ),
    ],
)
def test_any_line_the_engine_logs_stops_the_paper(head, body):
    with pytest.raises(RenderFault) as refused:
        made(body, head)
    assert refused.value.lines
    assert not isinstance(refused.value, MissingLetters | OutsideAddress)


def test_fault_does_not_carry_words_of_the_page_in_its_message():
    with pytest.raises(RenderFault) as refused:
        made('<img src="asha.png" alt="">')
    assert "asha" not in str(refused.value)
    assert "asha" in " ".join(refused.value.lines)


def test_words_of_a_page_reach_no_other_log(caplog):
    with caplog.at_level(logging.DEBUG), pytest.raises(RenderFault):
        made("<p>தமிழ்</p><style>p{colour:red}</style>")
    assert not [record for record in caplog.records if record.name.startswith("weasyprint")]
    assert logging.getLogger("weasyprint").propagate


HOSTILE = [
    '<img alt="x" src="{url}">',
    '<link rel="stylesheet" href="{url}">',
    '<link rel="attachment" href="{url}">',
    '<a rel="attachment" href="{url}">x</a>',
    '<style>@import url("{url}");</style>',
    '<style>@font-face{{font-family:x;src:url("{url}")}} p{{font-family:x}}</style><p>x</p>',
    '<p style="background:url({url})">x</p>',
    '<p style="list-style-image:url({url});display:list-item">x</p>',
    '<style>p::before{{content:url("{url}")}}</style><p>x</p>',
    '<object data="{url}"></object>',
    '<svg width="9" height="9"><image href="{url}" width="9" height="9"/></svg>',
]
URLS = [
    "file:///etc/hostname",
    "FILE:///etc/hostname",
    "http://127.0.0.1:9/x",
    "https://127.0.0.1:9/x",
    "ftp://127.0.0.1:9/x",
]


@pytest.mark.parametrize("snippet", HOSTILE)
def test_address_outside_the_page_stops_the_paper(snippet):
    for url in URLS:
        with pytest.raises(OutsideAddress):
            made(snippet.format(url=url))


def test_address_outside_the_page_is_never_opened():
    """A process of its own, as an audit hook cannot be taken away again."""
    code = f"""
import sys
from relations.documents.render import RenderFault, render
render("<html lang=en><p>warm</p></html>", lang="en", title="x")
touched = []
def hook(event, arguments):
    if event == "open" and "hostname" in str(arguments[0]) or event.startswith("socket.connect"):
        touched.append((event, arguments))
sys.addaudithook(hook)
for snippet in {HOSTILE!r}:
    for url in {URLS!r}:
        try:
            render("<html lang=en>" + snippet.format(url=url) + "</html>", lang="en", title="x")
        except RenderFault:
            continue
        raise SystemExit("made with " + snippet)
assert not touched, touched
open("/etc/hostname").close()
assert touched, "the hook sees nothing"
"""
    ran = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=300, check=False
    )
    assert ran.returncode == 0, ran.stderr


def test_data_address_inside_the_page_is_drawn():
    gif = "data:image/gif;base64,R0lGODlhAQABAIAAAAAAAP///yH5BAEAAAAALAAAAAABAAEAAAIBRAA7"
    pdf = opened(made(f'<img src="{gif}" alt="x">'))
    assert len(pdf.pages[0].get_images()) == 1


WORDS = [
    '<p lang="ne">क्षेत्र श्री प्राप्त</p>',
    '<div lang="ar" dir="rtl" style="font-family:Amiri">لا إله بُدَّ</div>',
    '<p lang="bn" style="font-family:Hind Siliguri">স্ত্রী ক্ষেত্র</p>',
    "<h1>One</h1><p>Deux</p>",
]


def test_four_threads_of_twelve_papers_each_give_the_bytes_of_one():
    """Each thread its own words and style, so that one thread's fonts in another would be seen."""
    styles = [f"p {{ color: #{shade}{shade}{shade} }}" for shade in "3456"]
    alone = [made(words, css=css) for words, css in zip(WORDS, styles, strict=True)]
    together: list[list[bytes]] = [[] for _ in WORDS]
    faults: list[BaseException] = []

    def work(one: int) -> None:
        try:
            for _ in range(12):
                together[one].append(made(WORDS[one], css=styles[one]))
        except BaseException as fault:  # noqa: BLE001 - told by the thread that waits
            faults.append(fault)

    threads = [threading.Thread(target=work, args=(one,)) for one in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not faults
    assert together == [[content] * 12 for content in alone]


def test_one_paper_is_laid_out_at_a_time(monkeypatch):
    inside, most = 0, 0
    write = module._write

    def counted(*arguments):
        nonlocal inside, most
        inside += 1
        most = max(most, inside)
        try:
            return write(*arguments)
        finally:
            inside -= 1

    monkeypatch.setattr(module, "_write", counted)
    threads = [threading.Thread(target=made, args=("<p>x</p>",)) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert most == 1


def test_fonts_are_of_one_thread_and_kept_for_it():
    mine, theirs = [module._own_configuration() for _ in range(2)], []
    thread = threading.Thread(target=lambda: theirs.append(module._own_configuration()))
    thread.start()
    thread.join()
    assert mine[0] is mine[1] is not theirs[0]


def test_named_boxes_are_found_in_millimetres():
    css = "@page { size: A4; margin: 10mm } * { margin: 0 } p { width: 4mm; height: 6mm }"
    two = page('<p id="one"></p><p id="two" style="break-before: page"></p>')
    assert lay_out(two, lang="en", title="", css=css, most=1) == LaidOut(b"", 2, ())
    made = lay_out(two, lang="en", title="70042-74", css=css, most=2)
    assert made.pages == 2
    assert made.anchors[0]["one"] == pytest.approx((10, 10, 4, 6), abs=0.01)
    assert made.anchors[1]["two"] == pytest.approx((10, 10, 4, 6), abs=0.01)
    assert "two" not in made.anchors[0]


def test_archive_copy_carries_its_file_unchanged():
    at = datetime(2026, 11, 23, tzinfo=UTC)
    record = Attached("record.json", b'{"a": 1}', at)
    body = page("<p>x</p>")
    made = lay_out(body, lang="en", title="70042-74", variant=ARCHIVE, attached=[record])
    pdf = opened(made.content)
    [name] = pdf.attachments
    assert name == "record.json"
    assert pdf.attachments[name].get_file().read_bytes() == record.content
    with pdf.open_metadata() as metadata:
        assert metadata["pdfaid:part"] == "3"
