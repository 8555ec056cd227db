"""A bag lost on the scooter, told from a borrowed browser: who was on paper, and who was not."""

import pytest

from relations.meetings.models import DayLine
from relations.privacy.models import User
from relations.rights.models import Alarm
from tests import cast
from tests.flows.hand import Hand, tell_from_elsewhere

ELSEWHERE = "20"


@pytest.fixture
def loic_knows_his_password(rehearsal) -> None:
    loic = User.objects.get(username="loic")
    loic.set_password(cast.PASSWORD)
    loic.save()


def test_a_wrong_password_raises_nothing(loic_knows_his_password):
    before = Alarm.objects.count()
    assert tell_from_elsewhere("another", "phone")[1].status_code == 422
    assert Alarm.objects.count() == before


def test_of_a_bag_only_who_stands_on_a_paper_of_the_day_is_rung(loic_knows_his_password):
    tell_from_elsewhere(cast.PASSWORD, "bag")
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
    tell_from_elsewhere(cast.PASSWORD, "papers")
    after = set(Alarm.objects.get(what="papers").affected.values_list("code", flat=True))
    assert after == before | on_paper
    assert ELSEWHERE not in after
