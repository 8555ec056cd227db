"""What a form proves, out of the register: each step kept, each use in its one status."""

import hashlib
import json
from datetime import date

import pytest

from relations.consent import actions, evidence, papers
from relations.consent.events import Happened
from relations.consent.history import FormStep
from relations.consent.mandatory import Item
from relations.consent.models import GuardianAnswer
from relations.consent.record import UseStatus
from relations.consent.values import Use
from relations.people.models import Speaker
from tests import cast
from tests.consent import desk
from tests.rows import make

pytestmark = pytest.mark.django_db

U = UseStatus


def happened(form):
    return [one.what for one in sorted(evidence.record(form, on=cast.days(9)).events, key=_by_life)]


def _by_life(event):
    return event.at.date(), list(Happened).index(event.what)


def statuses(form, on=cast.TODAY):
    form.refresh_from_db()
    return evidence.record(form, on=on).statuses


def stood(number=70_042, **answers):
    """A form of Danuta's one sitting that stands."""
    person = cast.danuta()
    if not person.sittings.exists():
        desk.sitting("12/T6", person)
    return desk.standing(number, person, **answers)


def test_record_holds_codes_versions_and_digest_of_the_paper():
    form = stood()
    made = evidence.record(form, on=cast.TODAY)
    assert (made.serial, made.code) == (form.sheet.serial, form.person.code)
    assert made.languages == ("fr", "ar")
    assert made.digest == form.sheet.digest
    assert made.is_settled
    assert made.answers == papers.said(form)


def test_every_step_is_kept_with_its_day_and_none_is_written_over():
    form = desk.paper(70_042, cast.danuta())
    moves = ("brought_back_blank", "carried", "filled_in", "left_with_them", "missing")
    for number, to in enumerate(moves):
        actions.move_form(form=form, to=to, by=cast.assistant(), on=cast.days(number))
    steps = FormStep.objects.filter(form=form)
    assert [(one.number, one.state) for one in steps] == list(enumerate(moves, start=1))
    assert [one.on for one in steps] == [cast.days(number) for number in range(5)]


def test_whole_life_of_a_form_stands_in_its_record():
    form = stood(uses=["book"])
    actions.take_back(
        person=form.person, scope="use", use="book", said_on=cast.TODAY, by=cast.assistant(),
        at=desk.AT,
    )  # fmt: skip
    form.refresh_from_db()
    found = happened(form)
    life = ["printed", "given", "filed", "read", "read", "settled", "taken_back_in_part"]
    assert sorted(found) == sorted(life)


def test_form_that_a_newer_one_takes_the_place_of_says_so():
    older = stood()
    stood(70_043, given_on=date(2026, 11, 21))
    assert happened(older)[-1] == "replaced"


def test_ways_that_a_use_can_stand():
    form = stood(uses=["book", "web"], last_day=date(2026, 12, 1))
    said = statuses(form)
    assert (said[Use.BOOK], said[Use.PRESS]) == (U.YES, U.NO)
    assert statuses(form, on=date(2026, 12, 2))[Use.BOOK] == U.ENDED
    actions.take_back(
        person=form.person, scope="use", use="web", said_on=cast.TODAY, by=cast.artist(),
        at=desk.AT,
    )  # fmt: skip
    said = statuses(form)
    assert (said[Use.BOOK], said[Use.WEB]) == (U.YES, U.TAKEN_BACK)


def test_yes_that_was_said_before_is_said_again():
    stood(uses=["book"])
    newer = stood(70_043, uses=["book"], given_on=date(2026, 11, 21))
    assert statuses(newer)[Use.BOOK] == U.YES_AGAIN


@pytest.mark.parametrize(
    ("state", "status"),
    [("carried", U.ASKED), ("left_with_them", U.THINKING), ("spoilt", U.NOT_ASKED)],
)
def test_paper_that_was_not_answered_is_asked_or_thought_over(state, status):
    form = desk.paper(70_042, cast.danuta(), state)
    assert set(statuses(form).values()) == {status}


def test_paper_that_was_read_once_is_unsettled_whatever_it_says():
    form = desk.filed(70_042)
    actions.read(form=form, answers=desk.WHOLE, by=cast.assistant(), at=desk.AT)
    assert set(statuses(form).values()) == {U.UNSETTLED}


def test_blank_of_nobody_is_asked_of_nobody():
    form = desk.paper(70_042)
    assert set(statuses(form).values()) == {U.NOT_ASKED}
    assert Item.PRINCIPAL_ID in evidence.lacking(form, on=cast.TODAY)


def test_of_several_sittings_the_one_that_opens_least_counts():
    person = cast.danuta()
    first, second = desk.sitting("12/T5", person), desk.sitting("12/T6", person)
    older = desk.standing(70_042, person, uses=["book"])
    newer = desk.filed(70_043, person)
    actions.read(form=newer, answers=desk.WHOLE | {"uses": []}, by=cast.assistant(), at=desk.AT)
    newer.sittings.set([second])
    assert {one.code for one in older.sittings.all()} == {first.code, second.code}
    assert statuses(older)[Use.BOOK] == U.NO


def test_no_of_a_speaker_counts_while_the_sitter_cannot_answer():
    form = stood(uses=["book", "web"])
    make(Speaker, person=form.person)
    form.person.condition, form.person.condition_on = "cannot_answer", cast.TODAY
    form.person.save()
    for use, is_yes in (("book", True), ("web", False)):
        actions.speaker_says(
            person=form.person, use=use, is_yes=is_yes, on=cast.TODAY, by=cast.artist()
        )
    said = statuses(form)
    assert (said[Use.BOOK], said[Use.WEB]) == (U.YES, U.TAKEN_BACK_FOR_THEM)
    assert statuses(form, on=cast.days(-1))[Use.WEB] == U.YES  # before it was said


def test_what_was_said_for_them_before_the_form_does_not_bind_it():
    form = stood(uses=["web"])
    make(Speaker, person=form.person)
    form.person.condition, form.person.condition_on = "cannot_answer", cast.TODAY
    form.person.save()
    actions.speaker_says(
        person=form.person, use="web", is_yes=False, on=date(2026, 11, 19), by=cast.artist()
    )
    assert statuses(form)[Use.WEB] == U.YES


def test_no_of_a_holder_of_authority_takes_every_use():
    form = stood(uses=["book"])
    make(GuardianAnswer, form=form, is_yes=False, said_on=cast.TODAY)
    assert set(statuses(form).values()) == {U.TAKEN_BACK_FOR_THEM}


def test_own_no_of_the_sitter_is_told_as_theirs_even_where_another_said_it_too():
    form = stood(uses=["book"])
    make(GuardianAnswer, form=form, is_yes=False, said_on=cast.TODAY)
    actions.take_back(
        person=form.person, scope="all", said_on=cast.TODAY, by=cast.artist(), at=desk.AT
    )
    assert set(statuses(form).values()) == {U.TAKEN_BACK}


def test_picture_that_was_taken_back_is_told_by_its_code():
    form = stood()
    picture = desk.picture("K12", form.sittings.get(), form.person)
    actions.take_back(
        person=form.person, scope="picture", picture=picture, said_on=cast.TODAY,
        by=cast.artist(), at=desk.AT,
    )  # fmt: skip
    events = evidence.record(form, on=cast.TODAY).events
    assert [one.picture for one in events if one.what is Happened.TAKEN_BACK_IN_PART] == ["K12"]


def test_paper_from_before_has_the_language_that_was_noted():
    person = cast.danuta()
    form = actions.bring_in(
        serial=desk.serial(), person=person, given_on=date(2024, 5, 21), language="pt",
        way="signed", sittings=[desk.sitting("12/T2", person)], answers={}, by=cast.artist(),
        at=desk.AT,
    )  # fmt: skip
    made = evidence.record(form, on=cast.TODAY)
    assert made.languages == ("pt",)
    assert Happened.PRINTED not in {one.what for one in made.events}
    assert Item.NOTICE in evidence.lacking(form, on=cast.TODAY)


def test_form_that_comes_to_stand_leaves_its_record_to_the_byte():
    form = stood()
    kept = form.kept.get()
    assert (kept.number, kept.stood_on, kept.file) == (1, cast.TODAY, "")
    content = kept.record.encode()
    assert kept.record_digest == hashlib.sha256(content).hexdigest()
    assert content == evidence.as_file(form, on=cast.TODAY)


def test_form_that_does_not_stand_leaves_none():
    form = stood(lines_missing=["signature"])
    assert form.state == "doubtful"
    assert not form.kept.exists()


def test_form_that_stands_anew_leaves_another_and_the_first_stays():
    form = stood(uses=["book", "web"])
    first = form.kept.get()
    actions.move_form(form=form, to="doubtful", by=cast.artist(), on=cast.TODAY)
    form.refresh_from_db()
    actions.settle(form=form, answers={}, by=cast.artist(), at=desk.AT)
    form.refresh_from_db()
    papers.write(form, papers.said(form))
    one, two = form.kept.all()
    assert (one.pk, one.record) == (first.pk, first.record)
    assert two.number == 2
    assert '"doubtful"' in two.record
    assert '"doubtful"' not in one.record


def test_nothing_more_is_kept_of_a_form_that_stands_already():
    form = stood()
    assert evidence.stand(form, on=cast.days(3)) is True
    assert form.kept.count() == 1


def test_child_whose_last_holder_answers_stands_and_leaves_its_record():
    child = cast.danuta()
    child.born_earliest = child.born_latest = date(2012, 1, 1)
    child.authority_holders = 1
    child.save()
    form = stood()
    assert form.state == "doubtful"
    actions.answer_guardian(
        form=form, authority="parent", is_yes=True, on=cast.TODAY, by=cast.artist()
    )
    assert form.kept.count() == 1


def test_settings_that_are_empty_are_named_as_missing(settings):
    form = stood()
    empty = {Item.PARTY_NAME, Item.PARTY_ADDRESS, Item.JURISDICTION, Item.STORED_IN}
    names = ("PROJECT", "PROJECT_ADDRESS", "LAW_OF", "STORED_IN")
    for name, said in zip(names, ("", "", "", ""), strict=True):
        setattr(settings, f"RELATIONS_{name}", said)
    assert empty < set(evidence.lacking(form, on=cast.TODAY))
    for name, said in zip(names, ("Atelier", "1 quai des Essais", "FR", "FR"), strict=True):
        setattr(settings, f"RELATIONS_{name}", said)
    settings.RELATIONS_PROJECT_CONTACT = "atelier@example.org"
    form.sheet.version = "2"
    assert evidence.lacking(form, on=cast.TODAY) == ()


def test_receipt_is_the_record_with_a_number():
    form = stood()
    receipt = json.loads(evidence.as_file(form, on=cast.TODAY, is_receipt=True))
    record = json.loads(evidence.as_file(form, on=cast.TODAY))
    assert set(receipt) - set(record) == {"ours:receipt"}


def test_nothing_of_the_person_is_in_the_bytes():
    """Name, number, place and their own words are planted; a code and ticks are all there is."""
    person = cast.danuta()
    cast.line(person, "06 39 98 00 42")
    form = stood(agreed_name="Zéphirine Kaddour", name_form="pseudonym", own_condition="Rue Oursin")
    content = evidence.as_file(form, on=cast.TODAY).decode()
    planted = (person.call_name, "Zéphirine", "Kaddour", "Oursin", "06 39", "639980042")
    assert person.call_name
    assert not [word for word in planted if word in content]
    assert form.agreed_name == "Zéphirine Kaddour"
