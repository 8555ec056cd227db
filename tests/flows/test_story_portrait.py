"""The life of a portrait, by the pages alone: an artist, an assistant and those who read wordings.

Nothing is written but by a form that a page holds; only the users, the home's own wordings, the
scans and pictures that are handed in, and a reader's word on the later clauses of a wording, come
from the test: tests/consent/test_wording_views.py presses each of them.
"""

import re
from collections.abc import Callable
from datetime import date, timedelta
from io import BytesIO

import pypdfium2
import pytest
import zxingcpp
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from relations.consent import actions as consent
from relations.consent.source import latest
from relations.documents.serials import check
from relations.privacy.home import today
from relations.privacy.models import Role, User
from tests import cast
from tests.consent import desk
from tests.flows.hand import Hand

pytestmark = pytest.mark.django_db
Dawn = Callable[[date], None]
FIRST_DAY = date(2026, 11, 23)
CLAUSES_PRESSED = 1  # the others by the act itself: each press draws the long page twice


@pytest.fixture
def dawn(settings) -> Dawn:
    """Let another day begin."""

    def begin(day: date) -> None:
        settings.RELATIONS_TODAY = day

    begin(FIRST_DAY)
    return begin


@pytest.fixture
def artist() -> Hand:
    consent.load_wordings(path=desk.WORDINGS, by=cast.artist())
    return Hand(cast.artist())


@pytest.fixture
def assistant() -> Hand:
    return Hand(cast.assistant())


def reader(language: str) -> Hand:
    """Whoever reads a language as its second person."""
    return Hand(
        User.objects.create_user(
            f"reader-{language}", None, role=Role.WORDING_READER, called="Y", languages=[language]
        )
    )


def picture_file() -> SimpleUploadedFile:
    out = BytesIO()
    Image.new("RGB", (900, 1200), "#886644").save(out, format="JPEG")
    return SimpleUploadedFile("a.jpg", out.getvalue(), "image/jpeg")


def scan_file(shade: int) -> SimpleUploadedFile:
    return SimpleUploadedFile("scan.png", desk.scan(shade), "image/png")


def code_of(hand: Hand) -> str:
    """The code in the address of the page before somebody."""
    found = re.search(r"/(?:people|person|ring|fix|sit)/([^/]+)/", hand.address)
    assert found, hand.address
    return found[1]


def hear_of_the_root(artist: Hand) -> str:
    """The artist's own start: heard of, vouched for, ready to be rung."""
    artist.go("/").follow("Word came through")
    artist.press("Save", call_name="Odile", source="own")
    code = code_of(artist)
    artist.press("Vouched for", asked_first="yes", may_say_who="yes", has_power="no")
    ready_to_ring(artist, code, "06 39 98 00 71")
    return code


def ready_to_ring(hand: Hand, code: str, number: str) -> None:
    """A number as it was typed, a language, hours."""
    hand.go(f"/people/{code}/").follow("Add a number").press("Save", number=number)
    hand.follow("Change").press("Save", first="fr", hours_unknown=True)


def rung_by(hand: Hand, code: str) -> int:
    """A ring, from Today, that ends in a meeting; how many presses it took until it was noted."""
    hand.go("/")
    before = hand.presses
    hand.follow_to(f"/meetings/ring/{code}/").press("Yes, let us meet")
    return hand.presses - before


def meeting_fixed_held_and_written_up(hand: Hand, dawn: Dawn, day: date) -> None:
    """From the page a yes leads to, until it is written up on its day."""
    hand.press(
        "Fix", day=f"{day:%Y-%m-%d}", hour="09:30", place="The bench by the lock",
        place_is_theirs=True, exit_signal="Scarf off",
    )  # fmt: skip
    where = hand.address
    dawn(day - timedelta(days=1))
    hand.go(where).press("Confirm")
    dawn(day)
    hand.go(where).press("Held")
    hand.press(
        "Write up", power_present="no",
        explained=[box.get("value") for box in hand.boxes("explained")],
        told_back=[box.get("value") for box in hand.boxes("told_back")],
    )  # fmt: skip
    assert hand.sees("Told back4/4")


def sat_with_a_picture(hand: Hand, artist: Hand, code: str, picture: str) -> None:
    """A sitting with its film, and a picture with its light copy and its words."""
    hand.go(f"/person/{code}/").follow("Note a sitting").press("Save", sheets="4", holders="11 12")
    assert hand.sees("Film 4")
    assert hand.sees("412exposed")
    where = hand.address
    artist.go(where).follow("Add a picture")
    artist.press(
        "Save",
        {f"place_{code}": "1", f"recognisable_{code}": "yes"},
        code=picture,
        others="none",
        light_copy=picture_file(),
    )
    assert "image/jpeg" in artist.client.get(f"/pictures/{picture}/light-copy/")["Content-Type"]
    artist.follow("Write a new version").press("Write this version", words_under="By the lock.")
    assert artist.sees("By the lock.")


def word_comes_through(assistant: Hand, artist: Hand, root: str) -> str:
    """By somebody who has sat, asked first; the assistant notes it and the artist says yes."""
    artist.go(f"/people/{root}/").press("May vouch for others")
    assistant.go("/").follow("Word came through")
    assistant.press("Save", call_name="Teodor", source="person", introducer=root.lower())
    code = code_of(assistant)
    assistant.press("Vouched for", asked_first="yes", may_say_who="yes", has_power="no")
    assert assistant.sees("Named")
    artist.go("/")
    assert artist.sees("Waits for your yes")
    artist.follow_to(f"/people/{code}/vouch/").press("Vouched for")
    assistant.go(assistant.address)
    assert assistant.sees("Vouched for")
    return code


def somebody_rings_us(assistant: Hand, code: str) -> None:
    """A code, a number or a name is typed; nothing is shown back but that it was heard."""
    for said in (code, "06 39 98 00 72", "Teodor", "Nobody At All"):
        assistant.go("/").follow("Somebody rang us").press("Heard", typed=said)
        assert assistant.address == "/people/heard/"
        assert said not in assistant.html
        assert "Teodor" not in assistant.html


def approve_the_others(language: str) -> None:
    """What a reader presses clause by clause, of those that wait still."""
    by, on = User.objects.get(username=f"reader-{language}"), today()
    for clause in latest(language).clauses.exclude(state="approved"):
        consent.approve(clause=clause, by=by, on=on, words=clause.read_back)


def wording_read_and_frozen(artist: Hand, language: str, heading: str) -> None:
    """Written by the artist, read clause by clause by somebody else, and frozen by them."""
    artist.go(f"/forms/wordings/{language}/write/")
    artist.press("Keep these words", {"heading_paper": heading})
    assert not artist.has_button("Approve")
    second = reader(language)
    second.go(artist.address)
    waiting = [box.get("name") for box in second.page.iter("textarea")]
    second.press("Keep what I typed", dict.fromkeys(waiting, "It says what the artist wrote."))
    for _clause in range(CLAUSES_PRESSED):
        second.press("Approve")
    assert second.has_button("Approve")
    approve_the_others(language)
    second.go(second.address)
    assert not second.has_button("Approve")
    second.press("Freeze this version")
    assert second.sees("and frozen")


def printed_form(artist: Hand, code: str) -> str:
    """A two-language form under a serial of its own, which its drawn code says too."""
    artist.go("/forms/").follow("Print a form")
    artist.press(
        "Print the form", code=code, first=artist.choice("first", "العربية"),
        second=artist.choice("second", "Français"),
    )  # fmt: skip
    serial = artist.address.strip("/").rpartition("/")[2]
    pdf = pypdfium2.PdfDocument(artist.client.get(f"/forms/{serial}/pdf/").content)
    assert len(pdf) == 2
    assert serial in pdf[0].get_textpage().get_text_range()
    seen = zxingcpp.read_barcodes(pdf[0].render(scale=150 / 72).to_pil())
    assert any(serial in one.text for one in seen)
    return serial


READ = {
    "way": "signed", "given_on": "2026-12-01", "copy_kept": "yes", "may_keep": "yes",
    "name_form": "first", "place_word": "city", "if_cannot_answer": "go on", "if_died": "go on",
}  # fmt: skip


def answered(hand: Hand, **marks: str) -> dict[str, str]:
    """Every box of a form as it is read; a use that is not named is marked no."""
    uses = {box.get("name") or "" for box in hand.page.iter("input")}
    return READ | {name: "no" for name in uses if name.startswith("use_")} | marks


def filed_read_twice_and_settled(assistant: Hand, artist: Hand, serial: str, sitting: str) -> None:
    """Signed out, filled in, home; filed by its typed serial, read by two, settled."""
    for to in ("carried", "filled_in", "brought_home"):
        assistant.go(f"/forms/{serial}/").follow("Where is it now?").press("Note it", to=to)
    assistant.follow("File a scan").press("File it", serial=serial, scan=scan_file(17))
    assistant.follow("Read it")
    assistant.press(
        "This is what I read",
        answered(assistant, use_exhibition="yes", use_book="yes", use_press="yes"),
    )
    artist.go(f"/forms/{serial}/").follow("Read it")
    theirs = answered(artist, use_exhibition="yes", use_book="yes")
    artist.press("This is what I read", theirs, sittings=[artist.choice("sittings", sitting)])
    assert artist.sees("Doubtful: only its limits act")
    artist.follow("Settle it")
    artist.press("Settle it", box_1=artist.choice("box_1", "no"))
    assert artist.sees("It stands")


def brought_in_from_before(artist: Hand, code: str, sitting: str) -> None:
    """A paper from before the site, of which nobody noted that its wording was read."""
    artist.go("/forms/").follow("A paper from before")
    serial = f"60777-{check('60777')}"
    boxes = answered(artist, use_exhibition="yes")
    artist.press("Bring it in", boxes, serial=serial, code=code, language="pt",
                 sitting_codes=sitting, scan=scan_file(23))  # fmt: skip
    assert artist.address == f"/forms/{serial}/"


def use_planned_and_weighed(artist: Hand, root: str, code: str) -> None:
    """A wall is planned; every reason is shown with what to do next; one by one they go."""
    artist.go("/uses/plans/").follow("Plan a use")
    artist.press("Note the plan", code="E7", use="exhibition", starts_on="2026-12-12",
                 place="The hall", countries="FR", captions=False)  # fmt: skip
    artist.press("Ask for these", pictures=["K901", "K902"]).press("Name them so")
    assert artist.sees("0 may hang, 0 with conditions, 2 not.")
    assert "Nothing is known of their age. Learn it." in artist.words
    assert "Nobody has read the wording in the language of the form." in artist.words
    artist.go(f"/people/{code}/born/").press("Save", said="1/5/1980")
    artist.go(f"/people/{code}/level/").press("Save", theirs="ordinary", ours="ordinary")
    artist.go("/uses/plan/E7/").press("Keep these answers")
    assert artist.sees("1 may hang, 0 with conditions, 1 not.")
    assert f"{root} Odile" in artist.words
    assert f"{code} Teodor" not in artist.words


def print_from_owed_to_acknowledged(artist: Hand, assistant: Hand, code: str) -> None:
    """Each step is one press or one small form; the last word is the sitter's."""
    artist.go("/prints/").press("Owe what is missing")
    assistant.go(f"/prints/{code}/K902/").follow("Asked how")
    assistant.press("Asked how", is_safe="yes", size="18 × 24 cm", into_whose_hand="their own")
    assistant.press("Keep where and when", place="the net store", opens_at="10:00")
    for step in ("The file is ready", "Ordered", "It is at the lab", "Collected", "Checked, good"):
        assistant.press(step)
    assistant.follow("Set out for a round").press("Set out for a round")
    assistant.press("In hand").press("They have it, and said so")
    assert assistant.sees("They have it and said so on 1 December 2026.")
    artist.go("/prints/")
    assert artist.sees("1 of 2 are acknowledged (50 %).")


def stop_and_what_must_come_down(artist: Hand, assistant: Hand, code: str) -> None:
    """Anybody hears it, it acts at once, and the list of what must come down stands there."""
    artist.go("/uses/shown/").follow("Keep a use")
    artist.press(
        "Keep in the register",
        code="U7",
        use="exhibition",
        plan=artist.choice("plan", "E7"),
        pictures=["K902"],
        place="The hall",
        starts_on="2026-12-01",
        holder="The curator",
    )
    assistant.go(f"/person/{code}/").follow("Stop")
    assistant.press("Stop everything")
    assert assistant.address == f"/uses/undo/{code}/"
    assert assistant.sees("K902")
    assert assistant.sees("The hall")
    artist.go("/uses/plan/E7/")
    assert artist.sees("0 may hang, 0 with conditions, 2 not.")
    assert "Teodor: Took it back." in artist.row("K902")
    assistant.go(f"/prints/{code}/K902/")
    assert assistant.sees("They have it and said so on 1 December 2026.")


def wrong_entry_mended(artist: Hand, assistant: Hand, code: str) -> None:
    """The new name stands everywhere; the artist still reads the old one, the assistant not."""
    assistant.go(f"/people/{code}/").follow("Mend a wrong entry").press(
        "Mend", call_name="Théodore"
    )
    assert assistant.sees("Théodore")
    artist.go(f"/person/{code}/")
    assert artist.sees("Théodore")
    assert artist.sees("Teodor")
    assistant.go(f"/person/{code}/")
    assert not assistant.sees("Teodor")


def test_a_portrait_from_first_word_to_print_in_hand(artist, assistant, dawn):
    root = hear_of_the_root(artist)
    artist.go(f"/meetings/ring/{root}/plan/").press("Plan the ring")
    rung_by(artist, root)
    meeting_fixed_held_and_written_up(artist, dawn, date(2026, 11, 25))
    sat_with_a_picture(artist, artist, root, "K901")
    code = word_comes_through(assistant, artist, root)
    ready_to_ring(assistant, code, "06 39 98 00 72")
    somebody_rings_us(assistant, code)
    artist.go("/meetings/rings/").follow_to(f"/meetings/ring/{code}/plan/").press("Plan the ring")
    assert rung_by(assistant, code) <= 4
    meeting_fixed_held_and_written_up(assistant, dawn, date(2026, 11, 30))
    dawn(date(2026, 12, 1))
    sat_with_a_picture(assistant, artist, code, "K902")
    wording_read_and_frozen(artist, "fr", "Ce papier entre nous")
    wording_read_and_frozen(artist, "ar", "هذه الورقة بيننا")
    brought_in_from_before(artist, root, f"{root}-1")
    serial = printed_form(artist, code)
    filed_read_twice_and_settled(assistant, artist, serial, f"{code}-1")
    use_planned_and_weighed(artist, root, code)
    print_from_owed_to_acknowledged(artist, assistant, code)
    stop_and_what_must_come_down(artist, assistant, code)
    wrong_entry_mended(artist, assistant, code)
    assert Hand(cast.keeper()).client.get(f"/person/{code}/").status_code == 404
