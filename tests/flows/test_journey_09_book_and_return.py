"""Journey 9, the book: three talks before the press day, and the wall after the trip: 24, 4, 5."""

from datetime import UTC, date, datetime

import pytest

from relations.consent import actions as consent
from relations.consent.models import Form
from relations.documents.serials import check
from relations.people import actions as people
from relations.people.models import Participant
from relations.pictures.actions import mend
from relations.pictures.models import Caption, Picture
from relations.privacy.models import User
from relations.today.management.drawings import scan
from tests.flows.hand import Hand
from tests.uses.plans import DEMO

TALKED, HOME = date(2026, 12, 8), date(2026, 12, 14)
AT = datetime(2026, 12, 9, 18, tzinfo=UTC)


@pytest.fixture
def artist(rehearsal) -> Hand:
    return Hand(User.objects.get(username="ines"))


@pytest.fixture
def ines(rehearsal) -> User:
    return User.objects.get(username="ines")


def person(code: str) -> Participant:
    return Participant.objects.get(code=code)


def newest(code: str) -> Form:
    given = Form.objects.filter(person__code=code, given_on__isnull=False)
    return given.order_by("given_on").last()


def signs(code: str, ines: User, *uses: str, **more: str) -> None:
    """A new form for every sitting of theirs, filed, read and complete."""
    digits = f"810{code}"
    sitter = person(code)
    said = {"name_form": "full", "place_word": "exact", "copy_kept": True, "may_keep": True, **more}
    form = consent.bring_in(
        serial=f"{digits}-{check(digits)}", person=sitter, given_on=TALKED, language="fr",
        way="signed", sittings=sitter.sittings.all(), answers={"uses": list(uses), **said},
        by=ines, at=AT, scan=scan(digits, [True]), wording_was_read=True,
    )  # fmt: skip
    assert form.state == "standing"


def test_three_talks_stand_between_the_book_and_three_pictures(artist):
    artist.go("/uses/plan/B1/")
    assert artist.sees("9 may go in, 2 with conditions, 22 not.")
    assert artist.sees("Three talks stand between this book and three pictures. K10 K18 K20")
    assert artist.sees("It counts from 19 November 2026 until the press day, 18 January 2027.")
    assert artist.sees("After this day nothing can be taken back.")
    # Where they also agree: 07 10 13 14 18 20 32 38, and for 13, 17 and 40 who may answer.
    assert artist.sees("11 talks stand between this book and 11 pictures.")


def test_each_of_the_three_talks_clears_its_picture(artist):
    for code in ("10", "18", "20"):
        people.note_talk(person=person(code), on=date(2026, 11, 23))
    artist.go("/uses/plan/B1/")
    expected = DEMO["expected"]["B1"]
    assert [expected[f"K{code}"]["result"] for code in ("10", "18", "20")] == ["not_cleared"] * 3
    assert artist.sees("12 may go in, 2 with conditions, 19 not.")


def trip(ines: User, artist: Hand) -> None:
    """What T7 brought home, as job.md tells it."""
    by = {"by": ines, "on": TALKED}
    signs("07", ines, "exhibition", "book")
    born = date(2008, 3, 5)
    people.note_birth(
        person=person("14"), earliest=born, latest=born, said="2008-03-05", by=ines, at=AT
    )
    signs("14", ines, "exhibition", "book")
    for code in ("13", "40"):
        consent.answer_guardian(form=newest(code), authority="parent", name="", is_yes=True, **by)
    consent.wording_was_read(form=newest("24"), **by)
    for code in ("20", "10", "18", "31", "32", "29", "30"):
        people.note_talk(person=person(code), on=TALKED)
    seen = Picture.objects.get(code="K31")
    consent.answer_picture(form=newest("31"), picture=seen, is_yes=True, **by)
    signs("32", ines, "exhibition", name_form="none")
    words = Caption.objects.get(picture__code="K38", version="c2")
    consent.answer_caption(form=newest("38"), caption=words, **by)
    mend(picture=Picture.objects.get(code="K16"), changes={"others": "settled"}, by=ines, at=AT)
    consent.speaker_says(person=person("17"), use="exhibition", is_yes=True, **by)


def test_after_the_trip_the_wall_is_24_and_4_and_5(artist, ines, settings):
    settings.RELATIONS_TODAY = HOME
    trip(ines, artist)
    artist.go("/uses/plan/E1/")
    assert artist.sees("24 may hang, 4 with conditions, 5 not.")
