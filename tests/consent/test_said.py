"""All that hangs on forms and people comes in one query, each row under its owner."""

from datetime import date, timedelta

import pytest

from relations.consent.models import (
    CaptionAnswer,
    ConditionDecision,
    Form,
    GuardianAnswer,
    PictureAnswer,
    QuoteAnswer,
    SpeakerAnswer,
    TakenBack,
)
from relations.consent.said import Hung, Said, by_people, on_forms
from relations.documents.models import Sheet
from relations.documents.serials import check
from relations.pictures.models import Caption, Picture
from tests.consent.register import AT, BLANK_PERSON, Register, user

DAY = date(2026, 11, 20)

pytestmark = pytest.mark.django_db


@pytest.fixture
def register():
    return Register(user())


@pytest.fixture
def people(register):
    return [register.person(BLANK_PERSON | {"code": code}) for code in ("01", "02")]


def paper(register, person):
    """A form of one sitting, and nothing else on it."""
    number = f"200{person.code}"
    form = Form.objects.create(
        sheet=Sheet.objects.create(serial=f"{number}-{check(number)}", kind="form"),
        person=person,
        is_from_before=True,
        state_on=DAY,
    )
    form.sittings.add(register.sitting("s1"))
    return form


def shot(register):
    return Picture.objects.create(code="K1", sitting=register.sitting("s1"), made_on=DAY)


def test_every_table_that_hangs_on_a_form_is_heard(register, people, django_assert_num_queries):
    form, other = (paper(register, person) for person in people)
    picture = shot(register)
    caption = Caption.objects.create(picture=picture, version="c9", words="", written_at=AT)
    PictureAnswer.objects.create(form=form, picture=picture, is_yes=False, said_on=DAY)
    CaptionAnswer.objects.create(form=form, caption=caption, said_on=DAY)
    QuoteAnswer.objects.create(form=form, quote=register.quote("q1", "01"), said_on=DAY)
    ConditionDecision.objects.create(
        form=form, use="book", can=True, decided_on=DAY, decided_by=register.by
    )
    GuardianAnswer.objects.create(form=form, authority="parent", is_yes=False, said_on=DAY)
    with django_assert_num_queries(1):
        found = on_forms([form.pk, other.pk])
    assert set(found[form.pk]) == {
        Hung("sitting", form.pk, "s1", is_yes=True),
        Hung("picture", form.pk, "K1", is_yes=False),
        Hung("caption", form.pk, "K1/c9", is_yes=True),
        Hung("quote", form.pk, "q1", is_yes=True),
        Hung("decision", form.pk, "book", is_yes=True),
        Hung("guardian", form.pk, "parent", is_yes=False),
    }
    assert found[other.pk] == [Hung("sitting", other.pk, "s1", is_yes=True)]


def test_what_hangs_on_a_form_not_asked_for_stays_out(register, people):
    form = paper(register, people[0])
    assert on_forms([]) == {}
    assert set(on_forms([form.pk])) == {form.pk}


def took_back(person, by, on, **what):
    return TakenBack.objects.create(
        person=person, said_on=on, heard_at=AT, heard_by=by, answer_due_on=on, **what
    )


def test_what_people_said_comes_by_day_until_the_day_asked_for(
    register, people, django_assert_num_queries
):
    person, other = people
    picture = shot(register)
    before = DAY - timedelta(1)
    took_back(person, register.by, DAY, scope="all")
    took_back(person, register.by, before, scope="use", use="web")
    took_back(other, register.by, DAY + timedelta(1), scope="picture", picture=picture)
    for on, is_yes in ((DAY, False), (DAY + timedelta(1), True)):
        SpeakerAnswer.objects.create(person=other, use="book", is_yes=is_yes, said_on=on)
    with django_assert_num_queries(1):
        found = by_people([person.pk, other.pk], DAY)
    assert found[person.pk] == [Said("use", "web", True, before), Said("all", "all", True, DAY)]
    # A no that was said after that day acts all the same; a word of a speaker does not yet.
    assert found[other.pk] == [
        Said("speaker", "book", False, DAY),
        Said("picture", "K1", True, DAY + timedelta(1)),
    ]
