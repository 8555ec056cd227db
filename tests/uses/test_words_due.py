"""Whom to speak to before which day, from the plans of the scenario as they weigh."""

from datetime import date, timedelta

import pytest

from relations.people.models import Participant
from relations.uses import words_due
from tests import cast
from tests.uses import plans

pytestmark = pytest.mark.django_db
PRESS_DAY = date(2027, 1, 18)


@pytest.fixture(autouse=True)
def scenario():
    plans.demo()


def freeing(found):
    return {one.person.code: one.talk.frees for one in found if one.talk.frees}


def test_three_talks_stand_alone_between_the_book_and_three_pictures():
    """Journey 9 of the scenario, its days worked by hand: 60 days before the press day."""
    plans.plan("B1")
    found = words_due.due(plans.TODAY)
    assert freeing(found) == {"10": ("K10",), "18": ("K18",), "20": ("K20",)}
    of_20 = next(one for one in found if one.person.code == "20")
    assert of_20.talk.before == PRESS_DAY
    assert of_20.talk.needs[0].opens_on == date(2026, 11, 19)
    assert of_20.is_open


def test_one_talk_serves_the_wall_and_the_book():
    plans.plan("E1", "K20")
    plans.plan("B1", "K20")
    (one,) = [one for one in words_due.due(plans.TODAY) if one.person.code == "20"]
    assert [need.plan for need in one.talk.needs] == ["B1", "E1"]
    assert one.talk.before == PRESS_DAY


def test_an_earlier_talk_that_would_serve_one_plan_is_said_beside_the_one_that_serves_all():
    """20 is raised: B1 asks for a word within 60 days of its start, E2 within 180 (F12)."""
    plans.plan("E2", "K20")
    plans.plan("B1", "K20")
    (one,) = [one for one in words_due.due(plans.TODAY) if one.person.code == "20"]
    assert [need.plan for need in one.talk.needs] == ["B1", "E2"]
    assert (one.is_open, one.may_be_now) == (False, True)
    assert one.sooner.plan == "B1"
    assert one.sooner.opens_on == date(2026, 11, 19)
    assert one.talk.from_on == date(2026, 12, 6)  # 180 days before the 4th of June
    later = words_due.due(one.talk.from_on)
    assert [again.sooner for again in later if again.person.code == "20"] == [None]


def test_when_the_press_day_moves_all_windows_move_with_it():
    plan = plans.plan("B1", "K10", "K18", "K20", "K30")
    before = {one.person.code: one.talk for one in words_due.due(plans.TODAY)}
    type(plan).objects.filter(pk=plan.pk).update(starts_on=PRESS_DAY + timedelta(28), ends_on=None)
    after = {one.person.code: one.talk for one in words_due.due(plans.TODAY)}
    assert before
    assert set(before) == set(after)
    for code, talk in after.items():
        assert talk.before - before[code].before == timedelta(28), code
        moved = talk.needs[0].opens_on - before[code].needs[0].opens_on
        assert moved == timedelta(28), code
    keys = {entry.key for entry in words_due.entries(words_due.due(plans.TODAY), "")}
    assert len(keys) == len(after)


def test_who_was_spoken_to_inside_the_window_is_on_no_list():
    plans.plan("B1", "K20")
    assert [one.person.code for one in words_due.due(plans.TODAY)] == ["20"]
    Participant.objects.filter(code="20").update(last_talk_on=date(2026, 11, 19))
    assert words_due.due(plans.TODAY) == []


def test_a_plan_that_was_given_up_or_has_begun_waits_for_nobody():
    plan = plans.plan("B1", "K20")
    assert words_due.due(PRESS_DAY) == []
    type(plan).objects.filter(pk=plan.pk).update(dropped_on=plans.TODAY)
    assert words_due.due(plans.TODAY) == []


def test_the_page_says_day_person_and_what_it_frees_and_the_file_says_codes(client):
    plans.plan("B1", "K20")
    person = Participant.objects.get(code="20")
    person.call_name = "Zuleika"
    person.save()
    artist = cast.signed_in(client, plans.artist())
    page = " ".join(artist.get("/uses/last-words/").content.decode().split())
    assert "before <b>18 Jan 2027</b>" in page
    assert "A talk counts from 23 November 2026, before 18 January 2027." in page
    assert "This talk alone frees:" in page
    answer = artist.get("/uses/last-words/calendar/")
    assert answer.headers["Content-Type"] == "text/calendar; charset=utf-8"
    said = answer.content.decode()
    assert "SUMMARY:Last word 20\r\nDESCRIPTION:B1\r\n" in said
    assert "DTSTART;VALUE=DATE:20261123\r\nDTEND;VALUE=DATE:20270118" in said
    assert "Zuleika" in page
    assert "Zuleika" not in said


def test_with_nothing_planned_the_page_says_so(client):
    page = cast.signed_in(client, plans.artist()).get("/uses/last-words/").content.decode()
    assert "Nothing that is planned waits for a talk." in page
