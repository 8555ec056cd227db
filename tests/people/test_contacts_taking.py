"""One line is taken by the actions of a press, or not at all."""

from datetime import date

import pytest

from relations.people.contacts_taking import take
from relations.people.models import InSight, Introduction, Participant, PhoneLine
from relations.privacy.models import AccessEntry
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db

NUMBER = {"typed": "06 39 98 00 51", "country": "FR"}


def told(**said: object) -> dict[str, object]:
    return {"on": date(2026, 11, 20), "introducer": cast.marcel(), "asked_first": True, **said}


def taken(**said: object) -> Participant:
    return take(by=said.pop("by", cast.artist()), at=cast.moment(), call_name="Nour", **said)


def test_word_comes_through_with_the_numbers_and_nobody_is_vouched_for() -> None:
    nour = taken(told=told(may_say_who=True), numbers=[NUMBER])
    word = nour.introductions.get()
    assert (nour.standing, word.introducer.code, word.vouched_on) == ("named", "01", None)
    assert (word.asked_first, word.may_say_who, word.has_power) == (True, True, None)
    assert nour.lines.get().number == "+33639980051"
    assert InSight.objects.get(person=nour).day == cast.TODAY
    assert AccessEntry.objects.get(verb="took").key == nour.log_key


@pytest.mark.parametrize("asked", [False, None])
def test_no_number_is_stored_of_somebody_who_was_not_asked(asked: bool | None) -> None:
    marcel, before = cast.marcel(), PhoneLine.objects.count()
    with pytest.raises(Refused) as no:
        taken(told=told(asked_first=asked, introducer=marcel), numbers=iter([NUMBER]))
    assert no.value.codes == ("not_asked_first",)
    assert (PhoneLine.objects.count(), Participant.objects.count()) == (before, 1)


def test_a_name_alone_waits_to_be_asked_about_but_never_after_a_no() -> None:
    assert not taken(told=told(asked_first=None)).lines.exists()
    with pytest.raises(Refused):
        taken(told=told(asked_first=False))


def test_a_number_that_cannot_be_leaves_no_name_either() -> None:
    cast.marcel()
    with pytest.raises(Refused) as no:
        taken(told=told(), numbers=[NUMBER, NUMBER])
    assert no.value.codes == ("already_theirs",)
    assert Participant.objects.count() == 1
    assert not AccessEntry.objects.filter(verb="took").exists()


def test_somebody_known_gets_one_more_word_and_no_number() -> None:
    nour = cast.told(cast.person("51", "Nour"), cast.danuta()).person
    assert taken(told=told(), known=nour, numbers=[NUMBER]) == nour
    assert (nour.introductions.count(), nour.lines.count()) == (2, 0)
    with pytest.raises(Refused) as no:
        taken(told=told(), known=nour)
    assert no.value.codes == ("told_before",)
    assert Introduction.objects.filter(person=nour).count() == 2


def test_it_is_for_the_artist() -> None:
    with pytest.raises(Refused) as no:
        taken(told=told(), by=cast.assistant())
    assert no.value.codes == ("artist_only",)
