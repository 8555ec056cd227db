"""Journey 4, home from T7: 20 blanks, 13 scans, a slip of the pen, all counted to zero."""

from collections import Counter
from datetime import date
from io import BytesIO

import pypdfium2
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from relations.consent import blanks
from relations.consent.models import Form
from relations.consent.words import USES
from relations.documents.models import Scan
from relations.meetings.models import Trip
from relations.people.actions import put_in_sight
from relations.people.models import Participant, Why
from relations.privacy.models import User
from relations.today.management.drawings import scan
from tests.flows.hand import Hand

HOME = date(2026, 12, 14)
# Who answered on the trip; each of them has sat and answers alone.
ANSWERED = ("01", "02", "03", "08", "09", "10", "11", "12", "15", "16", "18", "19", "20")
# By F6 of the job's own formulas: three in ten more than are expected to answer in each.
OUT = {"fr": 10, "es": 4, "bn": 3, "ar": 3}
YES = ("exhibition", "web")
DOTS = 110  # an inch, as a quick scan in grey


@pytest.fixture
def assistant(rehearsal, settings) -> Hand:
    settings.RELATIONS_TODAY = HOME
    loic = User.objects.get(username="loic")
    # Whom one has just met on the trip one has in sight on the day of coming home.
    for person in Participant.objects.filter(code__in=ANSWERED):
        put_in_sight(person=person, user=loic, day=HOME, why=Why.MEETING)
    return Hand(loic)


@pytest.fixture
def artist(assistant) -> Hand:
    return Hand(User.objects.get(username="ines"))


@pytest.fixture
def carried(assistant) -> list[str]:
    """The serials of the twenty blanks that were signed out to T7: fr 10, es 4, bn 3, ar 3."""
    found = list(blanks.out(Trip.objects.get(code="T7")))
    assert [one.state for one in found] == ["carried"] * 20
    assert Counter(one.first_wording.language for one in found) == OUT
    return [one.sheet.serial for one in found]


def say(hand: Hand, serial: str, *states: str) -> None:
    for to in states:
        hand.go(f"/forms/{serial}/move/").press("Note it", to=to)


def paper_of(serial: str, number: int) -> SimpleUploadedFile:
    return SimpleUploadedFile("IMG.png", scan(f"{number}-{serial}", [True, False]), "image/png")


def file(hand: Hand, serial: str, code: str) -> None:
    hand.go("/forms/file/").press("File it", serial=serial, code=code, scan=paper_of(serial, 1))


def reads(hand: Hand, serial: str, *uses: str) -> None:
    """Every box of one paper, as this person reads it."""
    hand.go(f"/forms/{serial}/read/")
    names = sorted({box.get("name") for box in hand.page.iter("input") if box.get("name")})
    marks = {name: "no" for name in names if name.startswith("use_")}
    marks |= {f"use_{use}": "yes" for use in uses}
    read = {
        "way": "signed", "given_on": "2026-12-05", "copy_kept": "yes", "may_keep": "yes",
        "name_form": "first", "place_word": "none", "if_cannot_answer": "ask", "if_died": "ask",
    }  # fmt: skip
    if "sittings" in names:
        read["sittings"] = [box.get("value") for box in hand.boxes("sittings")]
    hand.press("This is what I read", {**marks, **read})


def form(serial: str) -> Form:
    return Form.objects.get(sheet__serial=serial)


def test_twenty_blanks_balance_and_thirteen_are_filed_and_read_twice(assistant, artist, carried):
    home, left, blank, spoilt = carried[:13], carried[13:15], carried[15:19], carried[19]
    assistant.go("/trips/T7/balance/")
    assert assistant.sees("20 blanks are not accounted for yet.")
    for serial in left:
        say(assistant, serial, "filled_in", "left_with_them")
    for serial in blank:
        say(assistant, serial, "brought_back_blank")
    say(assistant, spoilt, "spoilt")
    for serial, code in zip(home, ANSWERED, strict=True):
        file(assistant, serial, code)
    assert Scan.objects.filter(sheet__serial__in=home).count() == 13
    assistant.go("/trips/T7/balance/")
    assert assistant.sees("Balanced: every blank is accounted for.")
    counted = "Printed 20 Filled in and home 13 Left with them 2 Brought back blank 4 Spoilt 1"
    assert assistant.sees(f"{counted} Missing 0")
    differing = home[4]
    for serial in home:
        reads(assistant, serial, *YES)
        reads(artist, serial, *(["exhibition"] if serial == differing else YES))
    standing = Form.objects.filter(sheet__serial__in=home, state="standing")
    assert set(standing.values_list("sheet__serial", flat=True)) == set(home) - {differing}
    assert artist.go("/trips/T7/balance/").sees("Balanced: every blank is accounted for.")


def test_slip_of_the_pen_is_refused_by_its_check_digits_and_nothing_is_lost(assistant, carried):
    serial = carried[0]
    slip = serial[:4] + str((int(serial[4]) + 1) % 10) + serial[5:]
    assistant.go("/forms/file/").send("File it", serial=slip, code="01", scan=paper_of(serial, 1))
    assert assistant.answer.status_code == 422
    assert assistant.sees("This number is mistyped: one of its figures is wrong.")
    assert (assistant.value("serial"), assistant.value("code")) == (slip, "01")
    assert form(serial).state == "carried"
    assert not Scan.objects.filter(sheet__serial=serial).exists()
    assistant.press("File it", serial=serial, scan=paper_of(serial, 1))
    assert form(serial).state == "scanned"
    assert form(serial).person.code == "01"


def test_reading_that_differs_stays_no_until_it_is_settled(assistant, artist, carried):
    serial = carried[0]
    file(assistant, serial, "01")
    reads(assistant, serial, *YES)
    reads(artist, serial, "exhibition")
    assert form(serial).state == "doubtful"
    assert form(serial).uses == ["exhibition"]
    artist.go(f"/forms/{serial}/").follow("Settle it")
    asked = {box.get("name") for box in artist.page.iter("input") if box.get("type") == "radio"}
    assert len(asked) == 1, "only the box that differs is shown"
    (web,) = asked
    assert artist.sees(str(USES["web"]))
    artist.press("Settle it", {web: artist.choice(web, "yes")})
    settled = form(serial)
    assert (settled.state, settled.uses) == ("standing", ["exhibition", "web"])
    # What it proves is kept from that moment, and handed on by one press.
    assert settled.kept.count() == 1


# F10: film 58 exposed = 57 processed + 1 lost, of 64 taken; prints and money by hand.
COUNTED = {
    "film_taken": 64, "film_unused": 6, "film_exposed": 58, "film_processed": 57, "film_lost": 1,
    "prints_taken": 8, "prints_in_hand": 5, "prints_handed_on": 1, "prints_kept": 1,
    "prints_brought_back": 1, "money_taken": "240.00", "money_spent": "181.50",
    "money_brought_back": "58.50", "recordings_made": 2, "recordings_sealed": 2,
    "recordings_destroyed": 0,
}  # fmt: skip


def everything_is_somewhere(hand: Hand, carried: list[str]) -> None:
    for serial in carried:
        say(hand, serial, "brought_back_blank")


def test_film_prints_money_and_recordings_come_to_zero_and_the_trip_is_closed(assistant, carried):
    everything_is_somewhere(assistant, carried)
    assistant.go("/trips/T7/balance/").press(
        "This is what I counted", {**COUNTED, "film_processed": 56}
    )
    assert "Exposed: 1 not accounted for." in assistant.row("Film, in sheets")
    assert not assistant.sees("Everything is home.")
    assistant.press("This is what I counted", film_processed=57)
    for thing in ("Film, in sheets", "Prints", "Money", "Recordings"):
        assert assistant.row(thing).startswith(f"{thing}zero")
    assistant.press("Close the trip")
    assert assistant.sees("This trip was closed on 14 December 2026.")


def test_missing_blank_opens_an_alarm_that_names_it_until_it_is_written_off(
    assistant, artist, carried
):
    lost = carried[7]
    everything_is_somewhere(assistant, [one for one in carried if one != lost])
    say(assistant, lost, "missing")
    assistant.go("/trips/T7/balance/")
    assert assistant.sees("Counted, and something is missing.")
    assert "No alarm names it." in assistant.row(lost)
    assert assistant.sees("A blank is missing and no alarm names it.")
    assistant.press("This is what I counted", COUNTED)
    assert "alarm open" in assistant.row(lost)
    assert assistant.sees("Everything is home."), "what is missing is named, and nobody waits"
    artist.go("/alarm/")
    assert artist.sees("A blank form")
    assert artist.sees("0 people may be touched.")
    artist.press("Close it")
    artist.go("/trips/T7/balance/").press("Write it off")
    assert artist.sees("Balanced: every blank is accounted for.")
    assert form(lost).state == "written_off"


def scanned(serials: list[str]) -> bytes:
    """The printed papers as one PDF out of a scanner: pictures of pages, every second one turned.

    A simulation: the codes are drawn as they were printed, without stain or tear.
    """
    made = [Form.objects.get(sheet__serial=serial) for serial in serials]
    printed = pypdfium2.PdfDocument(blanks.pack(made))
    pages = [page.render(scale=DOTS / 72, grayscale=True).to_pil() for page in printed]
    turned = [page.rotate(180) if number % 2 else page for number, page in enumerate(pages)]
    out = BytesIO()
    turned[0].save(out, "PDF", save_all=True, append_images=turned[1:], resolution=DOTS)
    return out.getvalue()


def test_stack_from_the_scanner_finds_its_forms_and_asks_only_whose_each_is(assistant, carried):
    home = carried[:3]
    stack = SimpleUploadedFile("scan.pdf", scanned(home), "application/pdf")
    assistant.go("/forms/coming-home/").press("Bring them home", scans=stack)
    while assistant.has_button("Go on"):
        assistant.press("Go on")
    assert assistant.sees("In the tray 6")
    for serial, code in zip(home, ANSWERED, strict=False):
        assistant.go("/forms/tray/").follow_to(f"/forms/{serial}/whose/")
        assistant.press("It is theirs", code=code)
    found = Form.objects.filter(sheet__serial__in=home, state="scanned")
    assert {one.person.code for one in found} == set(ANSWERED[:3])
    assert assistant.go("/trips/T7/balance/").sees("Filled in and home 3")
