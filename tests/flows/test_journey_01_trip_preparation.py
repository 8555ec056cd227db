"""Journey 1, the trip T7 is prepared: blanks, film, portfolio, a pack that fits before the cut."""

from io import BytesIO

import pypdfium2
import pytest

from relations.consent import blanks
from relations.consent.printing import read_serial
from relations.meetings.models import Trip
from relations.people.actions import put_in_sight
from relations.people.models import Participant, Why
from relations.privacy.models import User
from tests import cast
from tests.flows.hand import Hand

# By F6 of the job's own formulas, of fr 7, es 3, bn 2, ar 2 who are expected to answer.
OUT = {"French": (7, 10), "Spanish": (3, 4), "Bangla": (2, 3), "Arabic": (2, 3)}
SITTINGS = ("12", "19", "23", "28", "22", "34", "29", "32", "04")


@pytest.fixture
def artist(rehearsal) -> Hand:
    return Hand(User.objects.get(username="ines"))


@pytest.fixture
def assistant(rehearsal) -> Hand:
    return Hand(User.objects.get(username="loic"))


def pages_of(hand: Hand) -> list[str]:
    """The words of each page of the PDF that was answered."""
    assert hand.answer.headers["Content-Type"] == "application/pdf"
    with pypdfium2.PdfDocument(BytesIO(hand.answer.content)) as opened:
        return [" ".join(page.get_textpage().get_text_bounded().split()) for page in opened]


def to_pack(hand: Hand) -> Hand:
    return hand.go("/").follow("Trips").follow("T7").follow("Pack")


def test_assistant_sees_what_the_trip_needs_and_nobody_out_of_sight(assistant):
    assistant.go("/").follow("Trips").follow("T7")
    for says in (
        "Days on which you work 14", "Rounds of prints 3", "Sittings planned 9",
        "Blanks needed 20", "Sheets of film to carry 64 · 32 holders",
    ):  # fmt: skip
        assert assistant.sees(says)
    for language, (people, count) in OUT.items():
        says = f"{language}{count}{people} people expected · {count} forms signed out"
        assert assistant.row(language) == says
    refused = assistant.row("Portuguese")
    assert refused.startswith("Portugueserefused 1 person expected")
    assert "Its wording is not read: a second person must read it first." in refused
    names = Participant.objects.filter(meetings__trip__code="T7").exclude(
        in_sight__user__username="loic", in_sight__day=cast.TODAY
    )
    assert names.count() > 5
    assert not [one.code for one in names if f">{one.call_name}<" in assistant.html]


def test_twenty_serials_are_signed_out_and_each_has_its_check_figures(assistant):
    out = list(blanks.out(Trip.objects.get(code="T7")))
    serials = [one.sheet.serial for one in out]
    assert (serials[0], serials[-1], len(serials)) == ("70001-03", "70020-43", 20)
    assert [read_serial(serial) for serial in serials] == serials
    assistant.go("/trips/T7/").follow("Blanks out")
    assert all(assistant.sees(serial) for serial in serials)


def test_portfolio_offers_six_and_says_why_the_others_stay(artist, assistant):
    artist.go("/trips/T7/").follow("Carried portfolio")
    assert artist.sees("6 pictures may be carried.")
    assert artist.sees("K01K02K10K12K36bK38")
    for picture, why in {
        "K20": "It is too long since somebody spoke with them.",
        "K24": "Nobody has read the wording in the language of the form.",
        "K36a": "Somebody in it can be recognised and is not settled.",
    }.items():
        assert why in artist.row(picture)
    there = assistant.client.get("/trips/T7/portfolio/")
    assert there.status_code == 404, "it follows the levels, so it is the artist's to see"


@pytest.mark.parametrize(
    ("begin", "says"),
    [
        ("16:20", "fits The whole pack fits: 23 minutes of printing, and ten to spare."),
        ("16:35", "short pack The whole pack needs 23 minutes and ten to spare: too long."),
    ],
)
def test_pack_of_127_pages_fits_at_20_past_four_and_not_at_25_to_five(assistant, begin, says):
    to_pack(assistant)
    assert assistant.sees(
        "127 pages to print 20 blanks, in two copies 80 An explanation for each 20"
    )
    assert assistant.sees("Sitting sheets 9 Day sheets 14 Sheets for rounds 3 List of the blanks 1")
    assistant.press("Does it fit?", begin=begin, cut="17:00", a_minute="6")
    assert assistant.sees(says)


def test_pack_asked_for_with_no_trip_days_is_refused(assistant):
    to_pack(assistant)
    Trip.objects.get(code="T7").days.all().delete()
    assistant.send("Whole pack")
    assert assistant.answer.status_code == 422
    assert assistant.errors == ["Say first on which days you work. Without days there is no pack."]
    assistant.follow("Days").press("Keep these days")
    assert to_pack(assistant).sees("Day sheets 14")


def test_somebody_more_is_planned_and_the_need_follows(assistant):
    person = Participant.objects.get(code="38")
    loic = User.objects.get(username="loic")
    put_in_sight(person=person, user=loic, day=cast.TODAY, why=Why.RING)
    assistant.go("/trips/T7/").follow("Plan somebody").press("Plan them", code="38", sheets="6")
    assert assistant.sees("Sittings planned 10")
    assert assistant.row("French").startswith("French118 people expected"), "1.3 x 8 = 10.4"
    # 60 x 1.15 = 69 -> 70 sheets in 35 holders.
    assert assistant.sees("Sheets of film to carry 70 · 35 holders")


@pytest.mark.long
def test_whole_pack_is_127_pages_in_order_of_need(assistant):
    pages = pages_of(to_pack(assistant).press("Whole pack"))
    assert len(pages) == 127
    serials = [one.sheet.serial for one in blanks.out(Trip.objects.get(code="T7"))]
    assert all(sum(serial in page for page in pages[:-1]) == 4 for serial in serials)
    assert all(serial in pages[-1] for serial in serials)
    days = [place for place, page in enumerate(pages) if "Day sheet" in page]
    assert days[:3] == [36, 37, 38], "after seven blanks and the sitting of the first three days"
    assert len(days) == 14
    codes = [place for place, page in enumerate(pages) for code in SITTINGS if f"{code}-T7" in page]
    assert len(codes) == 9
    names = [one.call_name for one in Participant.objects.all()]
    assert not [name for name in names if len(name) > 4 and any(name in page for page in pages)]


@pytest.mark.long
def test_short_pack_is_39_pages_for_the_first_three_days(assistant):
    to_pack(assistant).press("Does it fit?", begin="16:35", cut="17:00", a_minute="6")
    pages = pages_of(assistant.press("Short pack"))
    assert len(pages) == 39
    assert assistant.go("/trips/T7/pack/").sees("On top lies what the first three days need: 39")
