"""What the register of people refuses, and by what a person is called."""

import pytest

from relations.people.models import (
    Community,
    InSight,
    Introduction,
    MovedAbroad,
    Name,
    NeverRing,
    OutsideIntroducer,
    Participant,
    PersonHold,
    PhoneLine,
    ProjectClosed,
    RangUs,
    Speaker,
    Unwanted,
)
from relations.privacy.models import User
from tests.constraints import cases, constraints_of, fate, links, links_of, once_in, refused_by
from tests.rows import AT, DAY, LATER, NEXT_DAY, come_back_in_order, make, twice

pytestmark = pytest.mark.django_db

LIFTED = {"lifted_at": AT, "sentence": "She is home."}


def told_of_themselves():
    who = make(Participant)
    make(Introduction, person=who, introducer=who)


def own_speaker():
    who = make(Participant)
    make(Speaker, person=who, speaker=who)


NEVER = [
    ("ProjectClosed.only", lambda: twice(ProjectClosed)),
    ("project_closed_only_one", lambda: make(ProjectClosed, only=False)),
    ("unwanted_once", lambda: twice(Unwanted, person=make(Participant), user=make(User))),
    (
        "unwanted_lifted_after_it_was_said",
        lambda: make(Unwanted, said_on=NEXT_DAY, lifted_on=DAY),
    ),
    ("Community.key", lambda: twice(Community, key="aulne")),
    ("Community.name", lambda: twice(Community, name="Aulne")),
    ("OutsideIntroducer.code", lambda: twice(OutsideIntroducer, code="X2")),
    ("Participant.code", lambda: twice(Participant, code="12")),
    ("Participant.log_key", lambda: twice(Participant, log_key=make(Participant).pk)),
    ("person_standing_known", lambda: make(Participant, standing="liked")),
    ("person_calendar_known", lambda: make(Participant, calendar="julian")),
    ("person_well_has_no_day", lambda: make(Participant, condition_on=DAY)),
    (
        "introduction_once_an_outside_introducer",
        lambda: twice(Introduction, person=make(Participant), outside=make(OutsideIntroducer)),
    ),
    ("person_authority_one_or_two", lambda: make(Participant, authority_holders=0)),
    ("person_authority_one_or_two", lambda: make(Participant, authority_holders=3)),
    ("person_heard_before_standing", lambda: make(Participant, heard_on=NEXT_DAY)),
    (
        "phoneline_once_a_person",
        lambda: twice(PhoneLine, person=make(Participant), mark=bytes(16)),
    ),
    ("speaker_is_somebody_else", own_speaker),
    (
        "introduction_has_one_source",
        lambda: make(Introduction, introducer=make(Participant), outside=make(OutsideIntroducer)),
    ),
    (
        "introduction_has_one_source",
        lambda: make(Introduction, introducer=make(Participant), is_withheld=True),
    ),
    (
        "introduction_has_one_source",
        lambda: make(Introduction, outside=make(OutsideIntroducer), is_withheld=True),
    ),
    ("introduction_by_somebody_else", told_of_themselves),
    ("introduction_precision_known", lambda: make(Introduction, precision="week")),
    (
        "introduction_heard_before_vouched",
        lambda: make(Introduction, heard_on=NEXT_DAY, vouched_on=DAY),
    ),
    (
        "introduction_once_an_introducer",
        lambda: twice(Introduction, person=make(Participant), introducer=make(Participant)),
    ),
    ("personhold_lifted_by_whom_and_why", lambda: make(PersonHold, **LIFTED)),
    ("personhold_lifted_by_whom_and_why", lambda: make(PersonHold, lifted_by=make(User))),
    (
        "personhold_lifted_by_whom_and_why",
        lambda: make(PersonHold, lifted_at=AT, lifted_by=make(User)),
    ),
    ("personhold_one_at_a_time", lambda: twice(PersonHold, person=make(Participant))),
    ("moved_once_a_day", lambda: twice(MovedAbroad, person=make(Participant), since=DAY)),
    (
        "insight_once",
        lambda: twice(InSight, person=make(Participant), user=make(User)),
    ),
]
MAY = [
    ("project_closed_only_one", lambda: make(ProjectClosed)),
    (
        "unwanted_once",
        lambda: twice(Unwanted, person=make(Participant), user=make(User), lifted_on=DAY),
    ),
    ("unwanted_lifted_after_it_was_said", lambda: make(Unwanted, lifted_on=DAY)),
    ("person_standing_known", lambda: make(Participant, standing="closed")),
    (
        "introduction_once_an_outside_introducer",
        lambda: twice(Introduction, outside=make(OutsideIntroducer)),
    ),
    ("person_well_has_no_day", lambda: make(Participant, condition="died", condition_on=DAY)),
    ("person_well_has_no_day", lambda: make(Participant, condition="cannot_answer")),
    ("person_authority_one_or_two", lambda: make(Participant, authority_holders=1)),
    ("person_heard_before_standing", lambda: make(Participant, standing_since=NEXT_DAY)),
    # A telephone that two share, and two numbers kept raw, which have no mark.
    ("phoneline_once_a_person", lambda: twice(PhoneLine, mark=bytes(16))),
    ("phoneline_once_a_person", lambda: twice(PhoneLine, person=make(Participant))),
    ("speaker_is_somebody_else", lambda: make(Speaker, speaker=make(Participant))),
    ("speaker_is_somebody_else", lambda: make(Speaker, name="Latifa")),
    # The artist's own start, and what is left of an erased link.
    ("introduction_has_one_source", lambda: make(Introduction)),
    ("introduction_has_one_source", lambda: make(Introduction, is_withheld=True, wave=2)),
    ("introduction_has_one_source", lambda: make(Introduction, outside=make(OutsideIntroducer))),
    ("introduction_by_somebody_else", lambda: make(Introduction, introducer=make(Participant))),
    ("introduction_heard_before_vouched", lambda: make(Introduction, vouched_on=DAY)),
    ("introduction_precision_known", lambda: make(Introduction, precision="month")),
    ("introduction_once_an_introducer", lambda: twice(Introduction, introducer=make(Participant))),
    ("personhold_lifted_by_whom_and_why", lambda: make(PersonHold)),
    ("personhold_lifted_by_whom_and_why", lambda: make(PersonHold, lifted_by=make(User), **LIFTED)),
    (
        "personhold_one_at_a_time",
        lambda: twice(PersonHold, person=make(Participant), lifted_by=make(User), **LIFTED),
    ),
    ("insight_once", lambda: twice(InSight, person=make(Participant))),
    ("moved_once_a_day", lambda: twice(MovedAbroad, since=DAY)),
    ("person_calendar_known", lambda: make(Participant, calendar="buddhist")),
]
NEEDS = {"PersonHold.lifted_by": LIFTED}
LINKS = links(
    kept="Participant.community Introduction.introducer Introduction.outside PersonHold.laid_by "
    "PersonHold.lifted_by NeverRing.by RangUs.by",
    gone="Name.person PhoneLine.person Speaker.person Introduction.person PersonHold.person "
    "InSight.person InSight.user MovedAbroad.person Unwanted.person Unwanted.user",
    cut="PhoneLine.through Speaker.speaker",
)


@pytest.mark.parametrize(("name", "attempt"), cases(NEVER))
def test_database_refuses_what_cannot_be(name, attempt):
    with refused_by("people", name):
        attempt()


@pytest.mark.parametrize(("name", "attempt"), cases(MAY))
def test_database_takes_what_is_near_it_and_can_be(name, attempt):
    attempt()


@pytest.mark.parametrize(("link", "expected"), LINKS)
def test_row_whose_other_end_is_deleted(link, expected):
    assert fate("people", link, **NEEDS.get(link, {})) == expected


def test_no_constraint_and_no_link_is_left_out():
    assert {name for name, _ in NEVER} == constraints_of("people") | once_in("people")
    assert {name for name, _ in MAY} == constraints_of("people")
    assert {name for name, _ in LINKS} == links_of("people")


@pytest.mark.parametrize(
    ("model", "first", "second"),
    [
        (Community, {"name": "Aulne"}, {"name": "Bouleau"}),
        (Participant, {"code": "07"}, {"code": "12"}),
        (Unwanted, {"said_on": NEXT_DAY}, {"said_on": DAY}),
        (Name, {"kind": "never_print"}, {"kind": "own"}),
        (Introduction, {"heard_on": DAY, "number": 2}, {"heard_on": NEXT_DAY, "number": 1}),
        (Introduction, {"number": 1}, {"number": 2}),
        (RangUs, {"at": LATER}, {"at": AT}),
    ],
)
def test_rows_come_back_in_their_order(model, first, second):
    assert come_back_in_order(model, first, second)


def test_person_is_called_by_the_code_and_never_by_a_name():
    assert str(make(Participant, code="12", call_name="Danuta")) == "12"
    assert "Danuta" not in repr(make(Participant, call_name="Danuta"))


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (Community(name="Aulne"), "Aulne"),
        (OutsideIntroducer(code="X2", label="the chaplaincy"), "X2"),
        (NeverRing(), "never"),
        (RangUs(typed="Danuta"), "rang us"),
    ],
)
def test_other_rows_are_called_by_what_says_nothing(row, said):
    assert str(row) == said


def test_language_that_a_person_prefers_comes_first():
    assert Participant(languages="ar fr").language_list == ["ar", "fr"]
    assert Participant().language_list == []


def test_log_key_is_no_other_key_of_a_person():
    who = make(Participant)
    assert who.log_key not in {who.pk, make(Participant).log_key}
