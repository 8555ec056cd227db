"""The filters of the rights room."""

from relations.rights.models import Alarm
from relations.rights.templatetags import rights_words as said
from tests import cast


def test_what_was_lost_is_said_in_words():
    assert str(said.lost("bag")) == "A bag"


def test_an_alarm_says_until_when_the_authority_is_told():
    alarm = Alarm(known_at=cast.moment(hour=9))
    assert said.until(alarm) == cast.moment(cast.days(3), 9)
