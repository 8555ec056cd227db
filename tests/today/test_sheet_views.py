"""The day sheet on the screen: printed by a press, typed in by line number, told where it errs."""

import re
import subprocess
from html import unescape
from uuid import uuid4

import pytest
from django.urls import reverse

from relations.documents.models import Sheet
from relations.meetings.models import Call, DayLine
from relations.people.models import Participant
from relations.rights.erasing import erase
from tests import cast
from tests.consent import desk
from tests.today.test_day_sheet import printed

pytestmark = pytest.mark.django_db
PRINT = reverse("today:day_sheet")


@pytest.fixture
def loic(client):
    for person in (cast.bruno(), cast.daud()):
        cast.in_sight(person, cast.assistant())
        Call.objects.create(person=person, due_on=cast.TODAY)
    return cast.signed_in(client, cast.assistant())


@pytest.fixture
def sheet(loic) -> Sheet:
    """Lines 4 and 5 are the rings to 19 and 42."""
    return printed(cast.assistant())[0]


def said(answer) -> str:
    words = re.sub(r"<[^>]+>", " ", unescape(answer.content.decode()))
    return re.sub(r"\s+", " ", words)


def send(client, sheet, **typed):
    address = reverse("today:type_in", args=[sheet.serial])
    return client.post(address, {"token": str(uuid4()), "on": "2026-11-23", **typed})


@pytest.mark.needs("pdftotext")
def test_press_prints_the_sheet_with_codes_and_no_name(loic):
    held = desk.frozen("fr", "en")
    assert "5 lines" in said(loic.get(PRINT))
    press = {"token": str(uuid4()), "first": held["fr"].pk, "second": held["en"].pk}
    answer = loic.post(PRINT, press)
    assert answer.headers["Content-Type"] == "application/pdf", said(answer)
    ran = subprocess.run(
        ["pdftotext", "-", "-"], input=answer.content, capture_output=True, check=True
    )
    page = ran.stdout.decode()
    assert re.search(r"\b19\b", page)
    for name in ("Bruno", "দাউদ", "Danuta", "Loïc", "65 71"):
        assert name not in page
    waits = said(loic.get(PRINT))
    assert "2 lines are not typed in." in waits
    assert "Day sheets to type in" in said(loic.get("/"))


def test_lines_are_typed_in_by_number_and_then_stand_as_done(loic, sheet):
    answer = send(loic, sheet, came_4="no_answer", hour_4="10:40", came_5="off", hour_5="10:50")
    assert answer.status_code == 302, said(answer)
    done = said(loic.get(answer.headers["Location"]))
    assert "4 Typed in Ring · 19" in done
    assert "Bruno" not in done
    assert Call.objects.exclude(outcome="").count() == 2


def test_sheet_typed_twice_is_stored_once_and_says_so(loic, sheet):
    typed = {"came_4": "no_answer", "hour_4": "10:40", "came_5": "off", "hour_5": "10:50"}
    assert send(loic, sheet, **typed).status_code == 302
    again = send(loic, sheet, **typed)
    assert again.status_code == 422
    for number in (4, 5):
        words = f"Line {number}: it was typed in before. Nothing was stored twice."
        assert words in said(again)
    assert Call.objects.exclude(outcome="").count() == 2
    cast.signed_in(loic, cast.artist())
    assert "it was typed in before" in said(send(loic, sheet, **typed))
    assert Call.objects.exclude(outcome="").count() == 2


def test_good_lines_are_stored_beside_one_that_cannot_be(loic, sheet):
    answer = send(loic, sheet, came_4="off", hour_4="10:40", came_5="ring_later", hour_5="10:50")
    assert answer.status_code == 422
    assert "Line 5: Say on which day." in said(answer)
    assert "4 Typed in Ring" in said(answer)
    assert 'value="ring_later" selected' in answer.content.decode()
    assert [one.number for one in DayLine.objects.exclude(typed_at=None)] == [4]


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"came_4": "off"}, "Line 4: say at which hour."),
        ({"hour_4": "10:40"}, "Line 4: say which box was crossed."),
        ({"came_1": "all"}, "Line 1: say whose code was written."),
        ({"came_1": "all", "code_1": "99"}, "Line 1: nobody was found by this code."),
        ({"came_4": "off", "hour_4": "25:99"}, "This is no hour."),
        ({"came_4": "off", "hour_4": "10:40", "on": "2026-11-22"}, "printed on a later day"),
        ({"came_4": "off", "hour_4": "10:40", "on": "2026-11-24"}, "has not come yet"),
        ({"came_9": "off"}, "Line 9: nothing of it is kept any more. Nothing was stored."),
    ],
)
def test_what_is_wrong_is_said_with_the_number_of_the_line(loic, sheet, typed, words):
    answer = send(loic, sheet, **typed)
    assert answer.status_code == 422
    assert words in said(answer)
    assert not DayLine.objects.exclude(typed_at=None).exists()


def test_stop_on_paper_stops_somebody_out_of_sight_too(loic, sheet):
    danuta = cast.danuta()
    assert send(loic, sheet, came_1="all", code_1="12").status_code == 302
    assert danuta.taken_back.filter(scope="all").exists()


def test_ring_of_one_who_was_erased_a_minute_ago_is_not_stored(loic, sheet):
    erase(person=Participant.objects.get(code="42"), by=cast.keeper(), at=cast.moment())
    answer = send(loic, sheet, came_4="off", hour_4="10:40", came_5="thinking", hour_5="10:50")
    assert "Line 5: nothing of it is kept any more. Nothing was stored." in said(answer)
    assert list(Call.objects.exclude(outcome="").values_list("person__code", flat=True)) == ["19"]


def test_sheet_of_somebody_else_is_absent(loic, sheet):
    cast.signed_in(loic, cast.second_assistant())
    assert loic.get(reverse("today:type_in", args=[sheet.serial])).status_code == 404
