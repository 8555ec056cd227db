"""The pack of a trip: what lies on top, and that its pages are those that were counted."""

from datetime import timedelta
from io import BytesIO

import pypdfium2
import pytest

from relations.consent import papers
from relations.consent.states import State
from relations.documents.models import Sheet
from relations.meetings.models import Meeting
from relations.privacy.refused import Refused
from relations.trips import packing, rules
from relations.trips.values import Part
from tests import cast
from tests.consent import desk as wordings
from tests.rows import make
from tests.trips import desk

pytestmark = pytest.mark.django_db


def texts(content: bytes) -> list[str]:
    """The words of each page, on one line."""
    with pypdfium2.PdfDocument(BytesIO(content)) as opened:
        return [" ".join(page.get_textpage().get_text_bounded().split()) for page in opened]


def pack(trip, part=Part.WHOLE, **more):
    given = {"by": cast.assistant(), "at": cast.moment(), **more}
    return packing.pack(trip=trip, part=part, **given)


def refused(trip):
    with pytest.raises(Refused) as caught:
        pack(trip)
    return caught.value.codes


@pytest.fixture
def trip():
    return desk.trip()


def test_pack_is_of_the_pages_that_were_counted_and_in_order_of_need(trip):
    """By hand: 2 x 5 + 1 + 4 + 1 + 1 = 17; on top lie 2 x 5, the sitting and 3 days."""
    forms = desk.blank_forms(trip, fr=2)
    desk.days(trip, 4, rounds=1)
    at = cast.moment(desk.FIRST, 15)
    person = desk.sitter("fr", code="28")
    make(Meeting, person=person, trip=trip, state="fixed", at=at, with_camera=True)
    held = packing.contents(trip)
    assert held.size == rules.Pack(blanks=2, sittings=1, days=4, rounds=1)
    assert (held.size.pages, held.top.size.pages) == (17, 5 + 5 + 1 + 3)
    pages = texts(pack(trip))
    assert len(pages) == 17
    first, second = sorted(form.sheet.serial for form in forms)
    assert all(first in page for page in pages[:4])
    assert all(second in page for page in pages[5:9])
    assert (pages[0], pages[1]) == (pages[2], pages[3]), "two copies of both sides"
    assert pages[4] == pages[9], "the explanation of one pair of languages is printed once"
    assert "28-T7" in pages[10]
    assert all("Day sheet" in page for page in pages[11:15])
    assert "30 November 2026" in pages[11]
    assert "Round of prints" in pages[15]
    assert all(serial in pages[16] for serial in (first, second))
    assert Sheet.objects.filter(kind="explanation").count() == 1
    assert Sheet.objects.filter(kind="sitting").count() == 1


def test_short_pack_is_what_lies_on_top(trip):
    desk.blank_forms(trip, fr=5)
    desk.days(trip, 14)
    held = packing.contents(trip)
    assert (held.top.size.blanks, held.rest.size.blanks) == (2, 3)
    pages = texts(pack(trip, Part.SHORT))
    assert len(pages) == held.top.size.pages == 2 * 5 + 3
    whole = held.size.pages
    assert whole == 5 * 5 + 14 + 1


def test_no_pack_is_made_without_a_day_or_without_a_blank(trip):
    desk.days(trip, 0)
    assert refused(trip) == ("no_days",)
    desk.days(trip, 1)
    assert refused(trip) == ("no_blanks",)


def test_sitting_sheet_is_not_printed_where_nothing_was_read(trip):
    desk.days(trip, 1)
    wordings.wordings()
    with pytest.raises(Refused) as caught:
        packing._pair(["fr"])
    assert caught.value.codes == ("first_unread",)
    wordings.frozen("fr")
    with pytest.raises(Refused) as caught:
        packing._pair(["ar", "fr"])
    assert caught.value.codes == ("second_unread",)


def test_blank_that_is_written_on_is_not_printed_again_but_stays_on_the_list(trip):
    first, second = desk.blank_forms(trip, fr=2)
    desk.days(trip, 1)
    papers.step(first, to=State.FILLED_IN, on=cast.TODAY)
    held = packing.contents(trip)
    assert [*held.top.blanks, *held.rest.blanks] == [second]
    assert [form.sheet.serial for page in held.rest.lists for form in page] == sorted(
        form.sheet.serial for form in (first, second)
    )


def test_sittings_of_the_first_three_days_lie_on_top_and_undated_ones_after(trip):
    desk.days(trip, 14)
    soon = cast.moment(desk.FIRST + timedelta(days=2), 15)
    early = make(Meeting, trip=trip, state="fixed", at=soon, with_camera=True)
    late = make(Meeting, trip=trip, state="fixed", at=cast.moment(desk.LAST), with_camera=True)
    undated = make(Meeting, trip=trip, state="proposed", with_camera=True)
    make(Meeting, trip=trip, state="proposed")
    held = packing.contents(trip)
    assert list(held.top.sittings) == [early]
    assert set(held.rest.sittings) == {late, undated}


def test_list_of_many_blanks_has_as_many_pages_as_it_needs(trip, monkeypatch):
    monkeypatch.setattr(packing, "LISTED", 2)
    desk.blank_forms(trip, fr=3)
    assert [len(page) for page in packing.contents(trip).rest.lists] == [2, 1]
    assert packing.contents(trip).size.lists == 2
