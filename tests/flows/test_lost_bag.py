"""Journey 10, first half: bag and phone lost on the scooter, told from a borrowed browser."""

import re
import time
from uuid import uuid4

import pytest
from django.test import Client

from relations.consent.models import Wording
from relations.meetings.models import DayLine
from relations.people.models import InSight, Participant
from relations.privacy.models import User
from relations.rights.models import Alarm
from tests import cast
from tests.flows.hand import Hand

ORDINARY, GRAVE, ELSEWHERE = "12", "30", "20"


@pytest.fixture
def hands(rehearsal) -> dict[str, Hand]:
    """Everybody at a browser of their own, before anything is lost."""
    return {name: Hand(User.objects.get(username=name)) for name in ("ines", "loic", "aude")}


@pytest.fixture
def seen(hands) -> list[str]:
    """The codes of those on today's lists of the assistant; one of them at grave risk."""
    loic = User.objects.get(username="loic")
    InSight.objects.all().delete()
    for code in (ORDINARY, GRAVE):
        cast.in_sight(Participant.objects.get(code=code), loic)
    return [GRAVE, ORDINARY]


def tell(password: str = cast.PASSWORD, what: str = "phone"):
    """From a browser that never was here, with its checks on: look, type, send; no script."""
    borrowed = Client(enforce_csrf_checks=True)
    page = borrowed.get("/alarm/lost/").content.decode()
    assert "<script" not in page
    typed = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]+)"', page))
    said = {"username": "loic", "password": password, "what": what, **typed}
    return borrowed, borrowed.post("/alarm/lost/", said)


@pytest.fixture
def loic_knows_his_password(hands) -> None:
    loic = User.objects.get(username="loic")
    loic.set_password(cast.PASSWORD)
    loic.save()


def test_a_wrong_password_raises_nothing(loic_knows_his_password, seen):
    before = Alarm.objects.count()
    assert tell(password="another")[1].status_code == 422
    assert Alarm.objects.count() == before


def test_from_the_borrowed_browser_to_the_last_one_told(loic_knows_his_password, hands, seen):
    began = time.monotonic()
    borrowed, answer = tell()
    assert time.monotonic() - began < 120
    assert "The alarm is raised" in answer.content.decode()
    assert "sessionid" not in borrowed.cookies
    names = [one.call_name for one in Participant.objects.filter(code__in=seen)]
    assert all(names)
    assert not [name for name in names if name in answer.content.decode()]
    assert [hand.client.get("/").status_code for hand in hands.values()] == [302] * 3
    assert borrowed.get("/").status_code == 302

    ines = Hand(User.objects.get(username="ines")).go("/")
    alarm = Alarm.objects.get(closed_on=None)
    assert ines.sees("2 people are still to be told. 72 hours left to tell the authority")
    ines.follow_to(f"/alarm/{alarm.pk}/")
    listed = re.findall(r"/tell/(\w+)/", ines.html)
    assert list(dict.fromkeys(listed)) == seen
    assert ELSEWHERE not in listed

    for code in seen:
        person = Participant.objects.get(code=code)
        ines.follow_to(f"/alarm/{alarm.pk}/tell/{code}/")
        tag = person.language_list[0]
        words = Wording.objects.filter(language=tag).order_by("-version").first().labels
        assert ines.sees(words["warn_what"])
        assert ines.has_button("Show number") is (code == GRAVE), ines.words
        ines.press("Told them")
    assert ines.sees("0 still to be told")

    aude = (
        Hand(User.objects.get(username="aude")).go("/").follow_to(f"/alarm/{alarm.pk}/authority/")
    )
    assert aude.sees("72 hours left to tell the authority, until 26 November 2026, 09:00.")
    refused = aude.client.post(f"/alarm/{alarm.pk}/close/", {"token": str(uuid4())})
    assert refused.status_code == 422
    aude.press("Note it", told_on="2026-11-23")
    assert aude.sees("The authority was told on 23 November 2026.")
    aude.follow("Alarm").press("Close it")
    assert Alarm.objects.get(pk=alarm.pk).closed_on == cast.TODAY


def test_of_a_bag_only_who_stands_on_a_paper_of_the_day_is_rung(loic_knows_his_password, seen):
    tell(what="bag")
    before = set(Alarm.objects.get(what="bag").affected.values_list("code", flat=True))
    loic = Hand(User.objects.get(username="loic")).go("/").follow("Day sheet")
    languages = {
        name: loic.choice(name, words)
        for name, words in (("first", "Français"), ("second", "English"))
    }
    loic.press("Print the day sheet", languages)
    assert loic.answer.headers["Content-Type"] == "application/pdf"
    on_paper = set(DayLine.objects.exclude(person=None).values_list("person__code", flat=True))
    assert on_paper
    tell(what="papers")
    after = set(Alarm.objects.get(what="papers").affected.values_list("code", flat=True))
    assert after == before | on_paper
    assert ELSEWHERE not in after
