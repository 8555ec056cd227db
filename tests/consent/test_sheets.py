"""Papers other than the form: in every two languages, under a serial, refused while unread."""

import hashlib
import itertools
import subprocess
from datetime import date
from io import BytesIO

import pikepdf
import pypdfium2
import pytest
import zxingcpp

from relations.consent import sheets
from relations.consent.models import Clause, Wording
from relations.consent.values import ClauseState
from relations.documents import qr
from relations.documents.models import Sheet
from relations.documents.values import ALONE, LETTERS, PaperKind
from relations.languages.paper_days import paper_day
from relations.privacy.keys import keyring
from relations.privacy.refused import Refused
from relations.rights.leaving import NAMED
from relations.uses.telling import Part, Shown, Taken, Told
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db
LANGUAGES = ["en", "fr", "es", "pt", "ar", "ne", "bn"]
# Every kind for the sitter, with values that fill every line of it.
UNDO = ("cover", "take_down", "out_of_slides", "out_of_box", "seal", "withdraw_offer", "off_wall")
ASKED = ("ask_holder", "ask_unsold_stock", "out_of_next_printing", "out_of_book")
CANNOT = ("sold_prints_stay", "sold_copies_stay", "copies_by_others")
DAY = date(2026, 11, 25)
SHOWN = [Shown("use_exhibition", "K12"), Shown("use_web", "K30")]
ANSWER = {
    "said": [
        Taken("said_all", "", DAY),
        Taken("use_web", "", DAY),
        Taken("said_picture", "K12", DAY),
    ],
    "parts": [
        Part("done", [Told(f"undo_{code}", "done_on", DAY, SHOWN) for code in UNDO[:4]]),
        Part("to_do", [Told(f"undo_{code}", "by_day", DAY, SHOWN) for code in UNDO[4:]]),
        Part("asked", [Told(f"undo_{code}", "by_day", DAY, SHOWN) for code in ASKED]),
        Part(
            "cannot",
            [
                Told("undo_cover", "could_not", DAY, SHOWN),
                *(Told(f"undo_{code}", "", None, SHOWN) for code in CANNOT),
            ],
        ),
    ],
}
VALUES = {
    PaperKind.EXPLANATION: {},
    PaperKind.STOP_CARD: {},
    PaperKind.TAKE_BACK: {"form_serial": "70042-74"},
    PaperKind.ANSWER: ANSWER,
    PaperKind.NOTICE: {"kinds": [(f"kind_{kind}", f"long_{kind}") for kind in NAMED]},
}
OURS = list(VALUES)
STOP = "+33 4 65 71 00 42"  # set aside for fiction
AT = cast.moment()
# Each language once at the left and once at the right, as far apart as the list lets them be.
TWOS = list(zip(LANGUAGES, LANGUAGES[3:] + LANGUAGES[:3], strict=True))


@pytest.fixture(autouse=True)
def stop_number(settings):
    settings.RELATIONS_STOP_NUMBER = STOP


def wording(language: str) -> Wording:
    """A wording of the words that the site brings, read by a second person all at once."""
    found = Wording.objects.filter(language=language, frozen_at__isnull=False).first()
    if found is None:
        desk.wordings()
        reader = desk.reader()
        Clause.objects.update(
            state=ClauseState.APPROVED,
            read_back=desk.SAID_BACK,
            read_back_by=reader,
            approved_by=reader,
            approved_on=cast.TODAY,
        )
        Wording.objects.update(read_by=reader, read_on=cast.TODAY, frozen_at=AT)
        found = Wording.objects.get(language=language)
    return found


def printed(kind: PaperKind, one: str = "fr", other: str = "ar", **changed) -> tuple[Sheet, bytes]:
    said = {"values": VALUES[kind], "by": cast.artist(), "at": AT, **changed}
    first, second = wording(one), wording(other)
    if kind == PaperKind.STOP_CARD and "serial" not in said:
        said["serial"] = form_serial()
    return sheets.print_sheet(kind=kind, first=first, second=second, **said)


def test_sheet_about_somebody_is_theirs_once_printed():
    people = [cast.danuta(), cast.bruno()]
    sheet, _ = printed(PaperKind.ANSWER, of=people)
    assert {row.person for row in sheet.of.all()} == set(people)
    assert not printed(PaperKind.EXPLANATION)[0].of.exists()


def test_days_bear_the_calendar_that_the_one_person_it_is_about_named():
    danuta = cast.danuta()
    danuta.calendar = "bikram_sambat"
    assert "BS)" in said(printed(PaperKind.ANSWER, of=[danuta])[1])
    assert "BS)" not in said(printed(PaperKind.ANSWER, of=[danuta, cast.bruno()])[1])
    danuta.calendar = ""
    assert "BS)" not in said(printed(PaperKind.ANSWER, of=[danuta])[1])


def form_serial() -> str:
    found = Sheet.objects.filter(kind="form").first()
    return (found or desk.paper().sheet).serial


def codes(content: bytes) -> list[list[qr.PageCode]]:
    """What the two square codes of each page say, read at 200 dpi as a scanner would."""
    with pypdfium2.PdfDocument(content) as pdf:
        images = [page.render(scale=200 / 72).to_pil().convert("L") for page in pdf]
    key = keyring.subkey("mark")
    return [
        [qr.read_payload(code.text, key=key) for code in zxingcpp.read_barcodes(image)]
        for image in images
    ]


def said(content: bytes) -> str:
    ran = subprocess.run(["pdftotext", "-", "-"], input=content, capture_output=True, check=True)
    return " ".join(ran.stdout.decode().split())


def check(content: bytes, folder) -> None:
    """qpdf finds no fault in the file."""
    path = folder / "paper.pdf"
    path.write_bytes(content)
    subprocess.run(["qpdf", "--check", path], check=True, capture_output=True)


# One test a kind, not one a pair: the wordings are taken in once. Any letter that no font has and
# any line that the engine logs stops the paper, so that it is not made at all.
@pytest.mark.needs("qpdf")
@pytest.mark.parametrize("kind", OURS)
def test_paper_is_made_with_each_language_on_either_side(kind, tmp_path):
    # Four hold each language; of the kinds each begins with another, so that all are on both sides.
    start = OURS.index(kind)
    twos = [TWOS[(start + step) % len(TWOS)] for step in (0, 1, 2, 6)]
    assert {lang for two in twos for lang in two} == set(LANGUAGES)
    for one, other in twos:
        sheet, content = printed(kind, one, other)
        holds(kind, sheet, content, tmp_path)


def holds(kind: PaperKind, sheet: Sheet, content: bytes, folder) -> None:
    """One page (what is about somebody, at most two), two codes on each that read; a whole file."""
    most = 2 if kind in (PaperKind.ANSWER, PaperKind.NOTICE) else 1
    found = codes(content)
    assert found == [
        [qr.PageCode(LETTERS[kind], sheet.serial, number, "1")] * 2
        for number in range(1, len(found) + 1)
    ]
    assert 1 <= len(found) <= most
    # A stop card has no row of its own: its form has two sides.
    assert kind == PaperKind.STOP_CARD or sheet.pages == len(found)
    check(content, folder)


@pytest.mark.long
@pytest.mark.needs("qpdf")
@pytest.mark.parametrize("kind", OURS)
def test_paper_is_made_in_every_two_languages(kind, tmp_path):
    for one, other in itertools.permutations(LANGUAGES, 2):
        sheet, content = printed(kind, one, other)
        holds(kind, sheet, content, tmp_path)


@pytest.mark.parametrize("kind", [PaperKind.EXPLANATION, PaperKind.STOP_CARD, PaperKind.TAKE_BACK])
def test_paper_fits_one_page_of_letter_too(kind, settings):
    settings.RELATIONS_PAPER_SIZE = "Letter"
    for one, other in (("ar", "fr"), ("pt", "es"), ("ne", "bn")):
        _sheet, content = printed(kind, one, other)
        with pikepdf.open(BytesIO(content)) as pdf:
            assert len(pdf.pages) == 1, (kind, one, other)


@pytest.mark.parametrize("kind", [PaperKind.EXPLANATION, PaperKind.TAKE_BACK])
def test_a_paper_has_a_serial_and_a_row_of_its_own(kind):
    sheet, content = printed(kind)
    sheet.refresh_from_db()
    assert (sheet.kind, sheet.pages, sheet.version) == (kind, 1, "1")
    assert sheet.digest == hashlib.sha256(content).hexdigest()
    assert (sheet.printed_by, sheet.printed_at) == (cast.artist(), AT)
    with pikepdf.open(BytesIO(content)) as pdf:
        assert str(pdf.docinfo.Title) == sheet.serial


def test_stop_card_bears_the_serial_of_its_form_and_makes_no_row():
    form = desk.paper()
    sheet, content = printed(PaperKind.STOP_CARD, serial=form.sheet.serial)
    assert sheet == form.sheet and Sheet.objects.count() == 1
    assert said(content).count(form.sheet.serial) == 4  # two heads, two cards


def test_stop_card_says_one_number_and_no_title(settings):
    settings.RELATIONS_PROJECT = "Harbour faces"
    found = said(printed(PaperKind.STOP_CARD, "fr", "en")[1])
    assert found.count(STOP) == 4 and "Harbour" not in found
    assert found.count("Ring and say: stop. No reason needed.") == 2


@pytest.mark.parametrize("serial, code", [("70042-74", "no_such_paper"), ("70042-75", "mistyped")])
def test_stop_card_of_no_form_is_refused(serial, code):
    with pytest.raises(Refused) as refused:
        printed(PaperKind.STOP_CARD, serial=serial)
    assert refused.value.codes == (code,)


def test_take_back_slip_asks_for_each_use_and_bears_the_number_of_the_form():
    content = printed(PaperKind.TAKE_BACK, "en", "fr", values={"form_serial": "70042-74"})[1]
    found = said(content)
    assert "70042-74" in found
    for use in ("Exhibition", "Juries and funders", "everything"):
        assert use in found


def test_boxes_to_tick_have_names_that_say_nothing_of_a_person():
    with pikepdf.open(BytesIO(printed(PaperKind.TAKE_BACK)[1])) as pdf:
        names = set(pdf.Root.Names.Dests.Names[::2]) if "/Names" in pdf.Root else set()
    assert {str(name) for name in names} >= {"t-taken.all", "t-taken.web", "t-taken.picture"}


@pytest.mark.parametrize("kind", OURS)
def test_nothing_is_printed_in_a_wording_nobody_has_read(kind):
    held = desk.frozen("fr")
    with pytest.raises(Refused) as refused:
        sheets.print_sheet(
            kind=kind,
            first=held["ar"],
            second=held["fr"],
            values=VALUES[kind],
            by=cast.artist(),
            at=AT,
            serial=form_serial(),
        )
    assert refused.value.codes == ("first_unread",)


def test_a_proof_says_draft_in_both_languages_and_leaves_no_row():
    held = desk.wordings()
    content = sheets.prove_sheet(
        kind=PaperKind.EXPLANATION, first=held["fr"], second=held["en"], values={}
    )
    found = said(content)
    assert "Brouillon. Ne pas signer." in found and "Draft. Not for signing." in found
    assert codes(content) == [[]] and not Sheet.objects.exists()


def test_one_language_twice_is_refused():
    with pytest.raises(Refused) as refused:
        printed(PaperKind.EXPLANATION, "fr", "fr")
    assert refused.value.codes == ("same_language",)


def test_a_serial_that_a_paper_has_is_not_given_twice():
    sheet, _ = printed(PaperKind.EXPLANATION)
    with pytest.raises(Refused) as refused:
        printed(PaperKind.EXPLANATION, serial=sheet.serial)
    assert refused.value.codes == ("serial_taken",)


def test_a_wording_without_words_of_the_paper_is_refused(monkeypatch):
    monkeypatch.setattr(sheets, "words_of", lambda wording, kind: ([], {}))
    with pytest.raises(Refused) as refused:
        printed(PaperKind.EXPLANATION)
    assert refused.value.codes == ("no_words",)


def test_wordings_with_different_clauses_are_refused():
    first = wording("fr")
    Clause.objects.filter(wording=first, paper=PaperKind.EXPLANATION, key="why").delete()
    with pytest.raises(Refused) as refused:
        printed(PaperKind.EXPLANATION)
    assert refused.value.codes == ("clauses_differ",)


@pytest.mark.parametrize("kind", [PaperKind.ANSWER, PaperKind.NOTICE])
def test_words_of_a_paper_about_somebody_stand_in_both_languages(kind):
    found = said(printed(kind, "en", "fr")[1])
    both = {
        PaperKind.ANSWER: ("It is covered on the wall.", "Elle est couverte au mur.", "K12", "K30"),
        PaperKind.NOTICE: ("Your name, and how to say it", "Votre nom, et comment le dire"),
    }
    assert all(words in found for words in both[kind])


def test_answer_says_each_day_in_the_language_of_its_column():
    found = said(printed(PaperKind.ANSWER, "en", "ne")[1])
    marks = str.maketrans("", "", "\u2066\u2067\u2068\u2069")
    for lang in ("en", "ne"):
        assert paper_day(date(2026, 11, 25), lang).translate(marks) in found.translate(marks)


def test_answer_of_nothing_shown_says_so():
    values = {"said": ANSWER["said"], "parts": []}
    found = said(printed(PaperKind.ANSWER, "en", "fr", values=values)[1])
    assert "Nothing of yours is shown anywhere that we know of." in found


@pytest.mark.parametrize("answerable", ["", "Harbour faces"])
def test_notice_names_the_project_only_where_asked(answerable):
    values = {**VALUES[PaperKind.NOTICE], "answerable": answerable}
    found = said(printed(PaperKind.NOTICE, "en", "fr", values=values)[1])
    assert ("Harbour faces" in found) == bool(answerable)


def test_every_kind_but_the_form_has_a_template():
    assert set(sheets.TEMPLATES) == set(PaperKind) - {PaperKind.FORM} - ALONE
