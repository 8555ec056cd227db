"""What the register of requests, alarms and endings refuses."""

from datetime import timedelta

import pytest

from relations.people.models import Participant
from relations.privacy.models import User
from relations.rights.models import (
    Alarm,
    Closing,
    CountsReport,
    Ending,
    Handover,
    LettingGo,
    Misuse,
    OthersAsk,
    Request,
    TakingOut,
    Telling,
    ToIntroduce,
)
from tests.constraints import cases, constraints_of, fate, links, links_of, once_in, refused_by
from tests.rows import AT, DAY, LATER, NEXT_DAY, come_back_in_order, make, twice

pytestmark = pytest.mark.django_db


def handed_to_themselves():
    user = make(User)
    make(Handover, gone=user, come=user)


def confirmed_by_who_asked():
    user = make(User)
    make(TakingOut, asked_by=user, confirmed_by=user, confirmed_at=AT)


def confirmed():
    return {"confirmed_at": AT, "confirmed_by": make(User)}


def once_more(**given):
    make(LettingGo, due_on=DAY, **given)
    make(LettingGo, due_on=NEXT_DAY, **given)


BEFORE = DAY - timedelta(days=1)
LATER_ON = {"postponed_until": NEXT_DAY, "sentence": "A print is still owed."}
ON_ITS_DAY = {"due_on": DAY, "postponed_until": DAY}
CALLED_OFF = {"is_current": None, "called_off_on": DAY}
OVER = {"is_open": None, "ended_at": AT}
NEVER = [
    ("TakingOut.is_open", lambda: twice(TakingOut)),
    ("taking_out_confirmed_by_another", lambda: make(TakingOut, confirmed_at=AT)),
    ("taking_out_confirmed_by_another", lambda: make(TakingOut, confirmed_by=make(User))),
    ("taking_out_confirmed_by_another", confirmed_by_who_asked),
    ("taking_out_open_until_it_ends", lambda: make(TakingOut, ended_at=AT)),
    ("taking_out_open_until_it_ends", lambda: make(TakingOut, ended_how="refused")),
    ("taking_out_open_until_it_ends", lambda: make(TakingOut, is_open=None)),
    ("taking_out_open_until_it_ends", lambda: make(TakingOut, **OVER)),
    ("taking_out_open_until_it_ends", lambda: make(TakingOut, **OVER, ended_how="lost")),
    ("taking_out_taken_once_confirmed", lambda: make(TakingOut, digest="0")),
    (
        "taking_out_taken_once_confirmed",
        lambda: make(TakingOut, **OVER, ended_how="taken", digest="0"),
    ),
    (
        "taking_out_taken_once_confirmed",
        lambda: make(TakingOut, **OVER, **confirmed(), ended_how="taken"),
    ),
    (
        "alarm_authority_told_or_not_needed",
        lambda: make(Alarm, authority_told_on=DAY, not_needed_on=DAY),
    ),
    ("telling_once", lambda: twice(Telling, alarm=make(Alarm), person=make(Participant))),
    ("request_sure_how_and_when", lambda: make(Request, sure_how="face")),
    ("request_sure_how_and_when", lambda: make(Request, sure_on=DAY)),
    ("request_extended_after_it_was_asked", lambda: make(Request, extended_on=BEFORE)),
    ("request_answered_how_and_when", lambda: make(Request, answered_on=DAY)),
    ("request_answered_how_and_when", lambda: make(Request, outcome="done")),
    (
        "request_answered_how_and_when",
        lambda: make(Request, answered_on=BEFORE, outcome="done"),
    ),
    ("Closing.is_current", lambda: twice(Closing)),
    ("closing_closed_by_whom", lambda: make(Closing, closed_on=DAY)),
    ("closing_closed_by_whom", lambda: make(Closing, closed_by=make(User))),
    ("closing_is_current_until_called_off", lambda: make(Closing, is_current=None)),
    ("closing_is_current_until_called_off", lambda: make(Closing, is_current=False)),
    ("closing_is_current_until_called_off", lambda: make(Closing, **CALLED_OFF)),
    (
        "closing_is_current_until_called_off",
        lambda: make(Closing, called_off_on=DAY, called_off_by=make(User)),
    ),
    ("letting_go_postponed_with_a_sentence", lambda: make(LettingGo, postponed_until=NEXT_DAY)),
    ("letting_go_postponed_beyond_its_day", lambda: make(LettingGo, **{**LATER_ON, **ON_ITS_DAY})),
    ("letting_go_confirmed_by_somebody", lambda: make(LettingGo, confirmed_on=DAY)),
    ("letting_go_confirmed_by_somebody", lambda: make(LettingGo, confirmed_by=make(User))),
    ("letting_go_clock_known", lambda: make(LettingGo, clock="some_day")),
    (
        "letting_go_of_one_thing",
        lambda: make(LettingGo, person=make(Participant), thing="2026-08"),
    ),
    ("letting_go_once_a_person", lambda: twice(LettingGo, person=make(Participant))),
    ("letting_go_once_a_thing", lambda: twice(LettingGo, clock="backups", thing="2026-08")),
    ("CountsReport.as_of", lambda: twice(CountsReport, as_of=DAY)),
    ("Ending.person", lambda: twice(Ending, person=make(Participant))),
    ("handover_between_two_people", handed_to_themselves),
    ("Handover.is_open", lambda: twice(Handover, is_open=True)),
    ("handover_open_until_signed", lambda: make(Handover, is_open=True, signed_by_both_at=AT)),
    ("handover_open_until_signed", lambda: make(Handover, is_open=True, called_off_on=DAY)),
    ("handover_open_until_signed", lambda: make(Handover, is_open=False)),
    (
        "handover_signed_or_called_off",
        lambda: make(Handover, signed_by_both_at=AT, called_off_on=DAY),
    ),
    ("ending_how_known", lambda: make(Ending, how="kept")),
    ("ending_was_somewhere_since_a_day", lambda: make(Ending, was="gone_quiet")),
    ("ending_was_somewhere_since_a_day", lambda: make(Ending, was_since=DAY)),
    (
        "ending_looked_at_again_where_nobody_could_ask",
        lambda: make(Ending, how="could_not_ask"),
    ),
    (
        "ending_looked_at_again_where_nobody_could_ask",
        lambda: make(Ending, how="destroyed", look_again_on=DAY),
    ),
    (
        "introduced_once_a_handover",
        lambda: twice(ToIntroduce, handover=make(Handover), person=make(Participant)),
    ),
    ("introduced_on_a_day", lambda: make(ToIntroduce, spoken_on=DAY)),
    ("introduced_on_a_day", lambda: make(ToIntroduce, said="refused")),
    ("introduced_on_a_day", lambda: make(ToIntroduce, said="perhaps", spoken_on=DAY)),
]
MAY = [
    ("taking_out_confirmed_by_another", lambda: make(TakingOut, **confirmed())),
    ("taking_out_open_until_it_ends", lambda: make(TakingOut)),
    ("taking_out_open_until_it_ends", lambda: twice(TakingOut, **OVER, ended_how="refused")),
    (
        "taking_out_taken_once_confirmed",
        lambda: make(TakingOut, **OVER, **confirmed(), ended_how="taken", digest="0"),
    ),
    ("alarm_authority_told_or_not_needed", lambda: make(Alarm, authority_told_on=DAY)),
    ("alarm_authority_told_or_not_needed", lambda: make(Alarm, not_needed_on=DAY)),
    ("telling_once", lambda: twice(Telling, alarm=make(Alarm))),
    ("request_sure_how_and_when", lambda: make(Request, sure_how="face", sure_on=DAY)),
    ("request_sure_how_and_when", lambda: make(Request)),
    ("request_extended_after_it_was_asked", lambda: make(Request, extended_on=DAY)),
    ("request_answered_how_and_when", lambda: make(Request, answered_on=DAY, outcome="done")),
    ("closing_closed_by_whom", lambda: make(Closing, closed_on=DAY, closed_by=make(User))),
    ("closing_closed_by_whom", lambda: make(Closing)),
    (
        "closing_is_current_until_called_off",
        lambda: twice(Closing, called_off_by=make(User), **CALLED_OFF),
    ),
    (
        "letting_go_postponed_with_a_sentence",
        lambda: make(LettingGo, postponed_until=NEXT_DAY, sentence="A print is still owed."),
    ),
    ("letting_go_postponed_with_a_sentence", lambda: make(LettingGo)),
    ("letting_go_postponed_beyond_its_day", lambda: make(LettingGo, **LATER_ON)),
    (
        "letting_go_confirmed_by_somebody",
        lambda: make(LettingGo, confirmed_on=DAY, confirmed_by=make(User)),
    ),
    ("letting_go_clock_known", lambda: make(LettingGo, clock="said_no")),
    ("letting_go_of_one_thing", lambda: make(LettingGo, person=make(Participant))),
    ("letting_go_of_one_thing", lambda: make(LettingGo, clock="backups", thing="2026-08")),
    ("letting_go_once_a_person", lambda: once_more(person=make(Participant))),
    ("letting_go_once_a_thing", lambda: once_more(clock="backups", thing="2026-08")),
    ("letting_go_once_a_thing", lambda: twice(LettingGo)),
    ("handover_between_two_people", lambda: make(Handover)),
    ("handover_open_until_signed", lambda: make(Handover, is_open=True)),
    ("handover_open_until_signed", lambda: twice(Handover, signed_by_both_at=AT)),
    ("handover_signed_or_called_off", lambda: make(Handover, called_off_on=DAY)),
    ("ending_how_known", lambda: make(Ending, how="given_back")),
    (
        "ending_was_somewhere_since_a_day",
        lambda: make(Ending, was="gone_quiet", was_since=DAY),
    ),
    (
        "ending_looked_at_again_where_nobody_could_ask",
        lambda: make(Ending, how="could_not_ask", look_again_on=DAY),
    ),
    ("introduced_once_a_handover", lambda: twice(ToIntroduce, handover=make(Handover))),
    ("introduced_on_a_day", lambda: make(ToIntroduce, spoken_on=DAY, said="introduced")),
]
NEEDS = {
    "Closing.closed_by": {"closed_on": DAY},
    "Closing.called_off_by": CALLED_OFF,
    "LettingGo.confirmed_by": {"confirmed_on": DAY},
    "TakingOut.confirmed_by": {"confirmed_at": AT},
}
LINKS = links(
    kept="OthersAsk.heard_by Alarm.raised_by LettingGo.confirmed_by Handover.gone Handover.come "
    "Handover.begun_by Ending.decided_by CountsReport.said_by Closing.begun_by Closing.closed_by "
    "Closing.called_off_by Telling.told_by Request.heard_by TakingOut.asked_by "
    "TakingOut.confirmed_by TakingOut.ended_by",
    gone="Request.person OthersAsk.person Misuse.picture LettingGo.person Ending.person "
    "ToIntroduce.handover ToIntroduce.person Telling.alarm Telling.person",
)


@pytest.mark.parametrize(("name", "attempt"), cases(NEVER))
def test_database_refuses_what_cannot_be(name, attempt):
    with refused_by("rights", name):
        attempt()


@pytest.mark.parametrize(("name", "attempt"), cases(MAY))
def test_database_takes_what_is_near_it_and_can_be(name, attempt):
    attempt()


@pytest.mark.parametrize(("link", "expected"), LINKS)
def test_row_whose_other_end_is_deleted(link, expected):
    assert fate("rights", link, **NEEDS.get(link, {})) == expected


def test_no_constraint_and_no_link_is_left_out():
    assert {name for name, _ in NEVER} == constraints_of("rights") | once_in("rights")
    assert {name for name, _ in MAY} == constraints_of("rights")
    assert {name for name, _ in LINKS} == links_of("rights")


@pytest.mark.parametrize(
    ("model", "first", "second"),
    [
        (Request, {"due_on": DAY}, {"due_on": NEXT_DAY}),
        (OthersAsk, {"asked_on": NEXT_DAY}, {"asked_on": DAY}),
        (Misuse, {"seen_on": NEXT_DAY}, {"seen_on": DAY}),
        (Alarm, {"known_at": LATER}, {"known_at": AT}),
        (LettingGo, {"due_on": DAY}, {"due_on": NEXT_DAY}),
        (Handover, {"on": NEXT_DAY}, {"on": DAY}),
        (CountsReport, {"as_of": NEXT_DAY}, {"as_of": DAY}),
    ],
)
def test_rows_come_back_in_their_order(model, first, second):
    assert come_back_in_order(model, first, second)
