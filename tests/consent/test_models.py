"""What the register of wordings, forms and answers refuses."""

import pytest

from relations.consent.models import (
    CaptionAnswer,
    Clause,
    ConditionDecision,
    Form,
    PictureAnswer,
    QuoteAnswer,
    Reading,
    SpeakerAnswer,
    TakenBack,
    Wording,
)
from relations.documents.models import Sheet
from relations.people.models import Participant
from relations.pictures.models import Caption, Picture, Quote
from relations.privacy.models import User
from tests.constraints import cases, constraints_of, fate, links, links_of, once_in, refused_by
from tests.rows import AT, DAY, LATER, NEXT_DAY, come_back_in_order, make, twice

pytestmark = pytest.mark.django_db

SETTLED = {"state": "standing", "given_on": DAY, "settled_at": AT, "wording_was_read": True}


def standing(**given):
    return make(Form, **SETTLED | {"person": make(Participant)} | given)


def read_twice(**given):
    form = make(Form)
    return [make(Reading, form=form, number=number, **given) for number in (1, 2)]


def both(model, first, second):
    user = make(User)
    return make(model, **{first: user, second: user})


NEVER = [
    ("form_state_known", lambda: make(Form, state="liked")),
    ("wording_version_once", lambda: twice(Wording, language="fr", version=900)),
    ("wording_read_by_a_second_person", lambda: both(Wording, "written_by", "read_by")),
    ("wording_frozen_was_read", lambda: make(Wording, frozen_at=AT)),
    ("wording_frozen_was_read", lambda: make(Wording, frozen_at=AT, read_by=make(User))),
    ("wording_frozen_was_read", lambda: make(Wording, frozen_at=AT, read_on=DAY)),
    ("clause_key_once", lambda: twice(Clause, wording=make(Wording))),
    ("clause_approved_by_another", lambda: both(Clause, "translated_by", "approved_by")),
    ("Form.sheet", lambda: twice(Form, sheet=make(Sheet))),
    ("form_standing_is_settled_and_read", lambda: standing(person=None)),
    ("form_standing_is_settled_and_read", lambda: standing(given_on=None)),
    ("form_standing_is_settled_and_read", lambda: standing(settled_at=None)),
    ("form_standing_is_settled_and_read", lambda: standing(wording_was_read=False)),
    ("form_first_day_before_last", lambda: make(Form, first_day=NEXT_DAY, last_day=DAY)),
    ("form_has_a_wording_or_is_old", lambda: make(Form, first_wording=None)),
    ("reading_number_once", lambda: twice(Reading, form=make(Form))),
    ("reading_by_two_people", lambda: read_twice(by=make(User))),
    ("reading_first_or_second", lambda: make(Reading, number=0)),
    ("reading_first_or_second", lambda: make(Reading, number=3)),
    ("picture_answer_once", lambda: twice(PictureAnswer, form=make(Form), picture=make(Picture))),
    ("caption_answer_once", lambda: twice(CaptionAnswer, form=make(Form), caption=make(Caption))),
    ("quote_answer_once", lambda: twice(QuoteAnswer, form=make(Form), quote=make(Quote))),
    ("condition_decided_once", lambda: twice(ConditionDecision, form=make(Form))),
    ("taken_back_scope_fits", lambda: make(TakenBack, use="web")),
    ("taken_back_scope_fits", lambda: make(TakenBack, picture=make(Picture))),
    ("taken_back_scope_fits", lambda: make(TakenBack, scope="use")),
    (
        "taken_back_scope_fits",
        lambda: make(TakenBack, scope="use", use="web", picture=make(Picture)),
    ),
    ("taken_back_scope_fits", lambda: make(TakenBack, scope="picture")),
    (
        "taken_back_scope_fits",
        lambda: make(TakenBack, scope="picture", use="web", picture=make(Picture)),
    ),
    ("taken_back_scope_fits", lambda: make(TakenBack, scope="some")),
    ("speaker_answer_once_a_day", lambda: twice(SpeakerAnswer, person=make(Participant))),
]
MAY = [
    ("form_state_known", lambda: make(Form, state="spoilt")),
    ("wording_version_once", lambda: make(Wording, language="ar", version=900)),
    (
        "wording_read_by_a_second_person",
        lambda: make(Wording, written_by=make(User), read_by=make(User)),
    ),
    # Who wrote one from before the site is not known.
    ("wording_read_by_a_second_person", lambda: make(Wording, read_by=make(User))),
    (
        "wording_frozen_was_read",
        lambda: make(Wording, frozen_at=AT, read_by=make(User), read_on=DAY),
    ),
    ("clause_key_once", lambda: twice(Clause)),
    (
        "clause_approved_by_another",
        lambda: make(Clause, translated_by=make(User), approved_by=make(User)),
    ),
    ("form_standing_is_settled_and_read", standing),
    ("form_standing_is_settled_and_read", lambda: make(Form, state="doubtful")),
    ("form_first_day_before_last", lambda: make(Form, first_day=DAY, last_day=DAY)),
    ("form_first_day_before_last", lambda: make(Form, first_day=DAY)),
    ("form_has_a_wording_or_is_old", lambda: make(Form, first_wording=None, is_from_before=True)),
    ("reading_number_once", read_twice),
    ("reading_by_two_people", lambda: twice(Reading, by=make(User))),
    ("reading_first_or_second", lambda: make(Reading, number=2)),
    ("picture_answer_once", lambda: twice(PictureAnswer, picture=make(Picture))),
    ("caption_answer_once", lambda: twice(CaptionAnswer, caption=make(Caption))),
    ("quote_answer_once", lambda: twice(QuoteAnswer, quote=make(Quote))),
    ("condition_decided_once", lambda: twice(ConditionDecision)),
    ("taken_back_scope_fits", lambda: make(TakenBack)),
    ("taken_back_scope_fits", lambda: make(TakenBack, scope="use", use="web")),
    ("taken_back_scope_fits", lambda: make(TakenBack, scope="picture", picture=make(Picture))),
    ("speaker_answer_once_a_day", lambda: twice(SpeakerAnswer)),
]
NEEDS = {"TakenBack.picture": {"scope": "picture"}}
LINKS = links(
    kept="Wording.written_by Wording.read_by Clause.translated_by Clause.approved_by Form.sheet "
    "Form.person Form.first_wording Form.second_wording Form.carried_by Form.witness "
    "Form.interpreter Form.recording Form.settled_by Reading.by ConditionDecision.decided_by "
    "TakenBack.heard_by",
    gone="Clause.wording Reading.form GuardianAnswer.form PictureAnswer.form "
    "PictureAnswer.picture CaptionAnswer.form CaptionAnswer.caption QuoteAnswer.form "
    "QuoteAnswer.quote ConditionDecision.form TakenBack.person TakenBack.picture "
    "SpeakerAnswer.person",
)


@pytest.mark.parametrize(("name", "attempt"), cases(NEVER))
def test_database_refuses_what_cannot_be(name, attempt):
    with refused_by("consent", name):
        attempt()


@pytest.mark.parametrize(("name", "attempt"), cases(MAY))
def test_database_takes_what_is_near_it_and_can_be(name, attempt):
    attempt()


@pytest.mark.parametrize(("link", "expected"), LINKS)
def test_row_whose_other_end_is_deleted(link, expected):
    assert fate("consent", link, **NEEDS.get(link, {})) == expected


def test_no_constraint_and_no_link_is_left_out():
    assert {name for name, _ in NEVER} == constraints_of("consent") | once_in("consent")
    assert {name for name, _ in MAY} == constraints_of("consent")
    assert {name for name, _ in LINKS} == links_of("consent")


@pytest.mark.parametrize(
    ("model", "first", "second"),
    [
        (Wording, {"language": "ar", "version": 1}, {"version": 902}),
        (Wording, {"version": 902}, {"version": 901}),
        (Clause, {"number": 1}, {"number": 2}),
        (Reading, {"number": 1}, {"number": 2}),
        (TakenBack, {"heard_at": LATER}, {"heard_at": AT}),
        (SpeakerAnswer, {"said_on": DAY}, {"said_on": NEXT_DAY}),
    ],
)
def test_rows_come_back_in_their_order(model, first, second):
    assert come_back_in_order(model, first, second)


def test_blank_form_says_no_to_everything():
    form = make(Form)
    assert (form.uses, form.name_form, form.place_word) == ([], "none", "none")
    assert (form.if_cannot_answer, form.if_died) == ("ask", "ask")
    assert not (form.seen_everywhere or form.wording_was_read or form.may_keep)
    assert (form.only_countries, form.missing_lines) == (None, None)


def test_wording_and_clause_are_called_by_what_they_are():
    wording = make(Wording, language="fr", version=900)
    assert str(wording) == "fr 900"
    assert str(make(Clause, wording=wording, key="stop")) == "stop"


def test_forms_of_one_day_stand_in_the_order_of_hour_then_serial():
    papers = [make(Sheet, serial=serial) for serial in ("00003-00", "00001-00", "00002-00")]
    three, one, two = (make(Form, sheet=sheet, given_on=DAY, given_at="10:00") for sheet in papers)
    early = make(Form, given_on=DAY, given_at="09:00")
    assert list(Form.objects.all()) == [early, one, two, three]
