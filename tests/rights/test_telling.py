"""Whom what was lost may lead to, when each may be rung, and words that give nobody away."""

from datetime import timedelta

import pytest
from django.http import Http404

from relations.consent.models import Form, PaperOf, Wording
from relations.documents.models import Sheet
from relations.people.models import PersonHold
from relations.prints.models import Print, Round, RoundDoor
from relations.rights import actions, telling
from relations.rights.values import Lost
from tests import cast
from tests.cast import days, moment
from tests.rows import make

pytestmark = pytest.mark.django_db


def codes(what):
    return {one.code for one in telling.touched(what, cast.TODAY)}


def printed(who, at):
    sheet = make(Sheet, kind="day_sheet", digest="0" * 64, printed_at=at, printed_by=cast.artist())
    make(PaperOf, sheet=sheet, person=who)


@pytest.mark.parametrize("what", [Lost.PHONE, Lost.LAPTOP])
def test_device_leads_to_who_was_in_sight_of_an_assistant_on_that_day_or_seven_before(what):
    cast.in_sight(cast.danuta(), cast.assistant())
    cast.in_sight(cast.danuta(), cast.second_assistant(), day=days(-1))
    cast.in_sight(cast.marcel(), cast.assistant(), day=days(-7))
    cast.in_sight(cast.bruno(), cast.assistant(), day=days(-8))
    cast.in_sight(cast.lucas(), cast.artist())
    cast.in_sight(cast.herve(), cast.assistant(), day=days(1))
    printed(cast.rachid(), moment())
    assert codes(what) == {"12", "01"}


@pytest.mark.parametrize("what", [Lost.BAG, Lost.PAPERS])
def test_bag_and_papers_lead_to_who_stands_on_a_sheet_of_that_day_only(what):
    cast.in_sight(cast.danuta(), cast.assistant())
    printed(cast.marcel(), moment())
    printed(cast.bruno(), moment(days(-1), 20))
    printed(cast.rachid(), moment(days(-2), 20))
    assert codes(what) == {"01", "19"}


def test_bag_holds_the_rounds_of_that_day_and_forms_that_are_not_home_yet():
    for who, on in ((cast.marcel(), cast.TODAY), (cast.danuta(), days(-2))):
        make(RoundDoor, round=make(Round, on=on), print=make(Print, person=who))
    make(Form, person=cast.rachid(), state="filled_in")
    make(Form, person=cast.bruno(), state="carried")
    make(Form, person=None, state="filled_in")
    assert codes(Lost.BAG) == {"01", "17"}


def alarm_of(*people):
    alarm = actions.raise_alarm(what="phone", by=cast.assistant(), at=moment())
    alarm.affected.set(people)
    return alarm


def test_grave_are_rung_now_at_any_hour_and_all_others_from_their_next_safe_one():
    alarm = alarm_of(cast.marcel(), cast.daud(), cast.ibrahima(), cast.danuta())
    at = moment(hour=2)
    found = {one.person.code: one for one in telling.ring_list(alarm, at)}
    assert list(found) == ["35", "42", "01", "12"]
    assert [one.is_now for one in found.values()] == [True, False, False, False]
    assert found["35"].starts is None
    # 10-12 as they said; 10-12 and 14-19 where nobody has asked yet (F1).
    assert found["01"].starts == moment(hour=10)
    assert found["12"].starts == moment(hour=10)
    noon = {one.person.code: one for one in telling.ring_list(alarm, moment(hour=13))}
    assert noon["12"].starts == moment(hour=14)
    assert noon["01"].starts == moment(days(1), 10)
    assert all(one.is_now for one in telling.ring_list(alarm, moment(hour=11)))


def test_hours_are_those_of_the_line_and_shown_by_our_clock():
    marcel = cast.marcel()
    marcel.lines.update(zone="Asia/Kathmandu")
    one = telling.ring_list(alarm_of(marcel), moment(hour=2))[0]
    # 10:00 +05:45 is 05:15 in Paris in November (tzdata).
    assert (one.starts, one.zone) == (moment(hour=5, minute=15), "Asia/Kathmandu")
    assert telling.ring_list(alarm_of(marcel), moment(hour=6))[0].is_now


def test_days_that_are_not_safe_are_passed_over():
    marcel = cast.marcel()
    marcel.safe_days = [3]
    marcel.save()
    thursday = cast.TODAY + timedelta(days=3)
    assert telling.ring_list(alarm_of(marcel), moment())[0].starts == moment(thursday, 10)


def test_who_is_not_rung_is_not_rung_after_an_alarm_either():
    ibrahima = cast.ibrahima()
    ibrahima.standing = "never_ring"
    ibrahima.save()
    one = telling.ring_list(alarm_of(ibrahima), moment())[0]
    assert (one.is_now, one.is_closed, one.may_show) == (True, True, False)


def test_hold_and_who_was_told_are_known():
    danuta, marcel = cast.danuta(), cast.marcel()
    make(PersonHold, person=danuta)
    alarm = alarm_of(danuta, marcel)
    told = actions.tell(alarm=alarm, person=marcel, by=cast.artist(), at=moment())
    found = {one.person.code: one for one in telling.ring_list(alarm, moment())}
    assert (found["12"].is_held, found["12"].told) == (True, None)
    assert (found["01"].is_held, found["01"].told) == (False, told)


def test_one_of_them_by_code_and_nobody_else():
    alarm = alarm_of(cast.danuta())
    assert telling.one_of(alarm, "12", moment()).person == cast.danuta()
    cast.marcel()
    for code in ("01", "99"):
        with pytest.raises(Http404):
            telling.one_of(alarm, code, moment())


def wording(tag, **rest):
    labels = {key: f"{tag} {key}" for key in telling.SAID}
    return make(Wording, language=tag, labels=labels, **rest)


def test_words_are_in_each_of_their_languages_that_we_have_the_preferred_one_first():
    wording("fr", frozen_at=moment(), read_by=cast.keeper(), read_on=cast.TODAY)
    wording("ar")
    make(Wording, language="es", labels={"yes": "sí"})
    said = telling.words_for(cast.rachid(), cast.artist())
    assert [(one.language, one.was_read) for one in said] == [("ar", False), ("fr", True)]
    assert said[0].lines == tuple(f"ar {key}" for key in telling.SAID)
    assert telling.words_for(cast.daud(), cast.artist()) == []
    assert [one.language for one in telling.words_for(cast.lucas(), cast.artist())] == ["fr"]
