"""What the register of wordings, forms and answers refuses."""

from importlib import import_module

import pytest
from django.apps import apps

from relations.consent.history import FormStep, KeptCopy
from relations.consent.models import (
    CaptionAnswer,
    Clause,
    ConditionDecision,
    Form,
    PaperOf,
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
from tests.consent import desk
from tests.constraints import cases, constraints_of, fate, links, links_of, once_in, refused_by
from tests.rows import AT, DAY, LATER, NEXT_DAY, come_back_in_order, make, twice

pytestmark = pytest.mark.django_db

SETTLED = {"state": "standing", "given_on": DAY, "settled_at": AT, "wording_was_read": True}

LAID_OUT = {"file": "a" * 36, "digest": "0" * 64, "made_at": AT}


def standing(**given):
    return make(Form, **SETTLED | {"person": make(Participant)} | given)


def read_twice(**given):
    form = make(Form)
    return [make(Reading, form=form, number=number, **given) for number in (1, 2)]


def both(model, first, second):
    user = make(User)
    return make(model, **{first: user, second: user})


def approved(**given):
    said = {"read_back": "So it says.", "read_back_by": make(User), "approved_on": DAY}
    return make(Clause, **{"state": "approved", "approved_by": make(User), **said, **given})


def sent_back(**given):
    return make(
        Clause, **{"state": "drafted", "why": "Too long.", "sent_back_by": make(User), **given}
    )


NEVER = [
    ("form_state_known", lambda: make(Form, state="liked")),
    ("wording_version_once", lambda: twice(Wording, language="fr", version=900)),
    ("wording_read_by_a_second_person", lambda: both(Wording, "written_by", "read_by")),
    ("wording_frozen_was_read", lambda: make(Wording, frozen_at=AT)),
    ("wording_frozen_was_read", lambda: make(Wording, frozen_at=AT, read_by=make(User))),
    ("wording_frozen_was_read", lambda: make(Wording, frozen_at=AT, read_on=DAY)),
    ("clause_key_once", lambda: twice(Clause, wording=make(Wording))),
    ("clause_paper_is_printed", lambda: make(Clause, paper="poster")),
    ("clause_approved_by_another", lambda: both(Clause, "translated_by", "approved_by")),
    ("clause_read_back_by_another", lambda: both(Clause, "translated_by", "read_back_by")),
    ("clause_approved_was_read_back", lambda: approved(read_back="")),
    ("clause_approved_was_read_back", lambda: approved(read_back_by=None)),
    ("clause_approved_was_read_back", lambda: make(Clause, state="read_back")),
    ("clause_approved_by_somebody", lambda: approved(approved_by=None)),
    ("clause_approved_by_somebody", lambda: approved(approved_on=None)),
    ("clause_sent_back_is_a_draft_and_says_why", lambda: sent_back(why="")),
    ("clause_sent_back_is_a_draft_and_says_why", lambda: sent_back(state="translated")),
    ("Form.sheet", lambda: twice(Form, sheet=make(Sheet))),
    ("form_standing_is_settled_and_read", lambda: standing(person=None)),
    ("form_standing_is_settled_and_read", lambda: standing(given_on=None)),
    ("form_standing_is_settled_and_read", lambda: standing(settled_at=None)),
    ("form_standing_is_settled_and_read", lambda: standing(wording_was_read=False)),
    ("form_first_day_before_last", lambda: make(Form, first_day=NEXT_DAY, last_day=DAY)),
    ("form_has_a_wording_or_is_old", lambda: make(Form, first_wording=None)),
    ("form_step_number_once", lambda: twice(FormStep, form=make(Form))),
    ("kept_copy_number_once", lambda: twice(KeptCopy, form=make(Form))),
    ("kept_copy_file_once", lambda: twice(KeptCopy, **LAID_OUT)),
    ("kept_copy_made_has_digest", lambda: make(KeptCopy, **LAID_OUT | {"digest": ""})),
    ("kept_copy_made_has_digest", lambda: make(KeptCopy, **LAID_OUT | {"made_at": None})),
    ("kept_copy_made_has_digest", lambda: make(KeptCopy, **LAID_OUT | {"file": ""})),
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
    (
        "paper_of_somebody_once",
        lambda: twice(PaperOf, sheet=make(Sheet), person=make(Participant)),
    ),
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
    ("clause_paper_is_printed", lambda: make(Clause, paper="stop_card")),
    (
        "clause_read_back_by_another",
        lambda: make(Clause, translated_by=make(User), read_back_by=make(User)),
    ),
    ("clause_approved_was_read_back", approved),
    ("clause_approved_by_somebody", approved),
    ("clause_sent_back_is_a_draft_and_says_why", sent_back),
    (
        "clause_approved_by_another",
        lambda: make(Clause, translated_by=make(User), approved_by=make(User)),
    ),
    ("form_standing_is_settled_and_read", standing),
    ("form_standing_is_settled_and_read", lambda: make(Form, state="doubtful")),
    ("form_first_day_before_last", lambda: make(Form, first_day=DAY, last_day=DAY)),
    ("form_first_day_before_last", lambda: make(Form, first_day=DAY)),
    ("form_has_a_wording_or_is_old", lambda: make(Form, first_wording=None, is_from_before=True)),
    ("form_step_number_once", lambda: twice(FormStep)),
    ("kept_copy_number_once", lambda: twice(KeptCopy)),
    # Not laid out yet: neither has a file.
    ("kept_copy_file_once", lambda: twice(KeptCopy)),
    ("kept_copy_made_has_digest", lambda: make(KeptCopy, **LAID_OUT)),
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
    ("paper_of_somebody_once", lambda: twice(PaperOf, sheet=make(Sheet))),
    ("speaker_answer_once_a_day", lambda: twice(SpeakerAnswer)),
]
NEEDS = {
    "TakenBack.picture": {"scope": "picture"},
    "Clause.sent_back_by": {"state": "drafted", "why": "Too long."},
}
LINKS = links(
    kept="Wording.written_by Wording.read_by Clause.translated_by Clause.approved_by "
    "Clause.read_back_by Clause.sent_back_by Form.sheet "
    "Form.person Form.first_wording Form.second_wording Form.carried_by Form.witness "
    "Form.interpreter Form.recording Form.settled_by KeptCopy.made_by Reading.by "
    "ConditionDecision.decided_by TakenBack.heard_by CaptionAnswer.read_by "
    "CaptionAnswer.interpreter QuoteAnswer.read_by QuoteAnswer.interpreter",
    cut="Form.trip",
    gone="Clause.wording FormStep.form KeptCopy.form Reading.form GuardianAnswer.form "
    "PictureAnswer.form PictureAnswer.picture CaptionAnswer.form CaptionAnswer.caption "
    "QuoteAnswer.form QuoteAnswer.quote ConditionDecision.form TakenBack.person TakenBack.picture "
    "SpeakerAnswer.person PaperOf.sheet PaperOf.person",
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


def test_home_whose_clauses_were_approved_before_is_asked_to_say_them_back():
    desk.frozen("fr", "ar")
    desk.paper()
    held = {one.language: one for one in Wording.objects.all()}
    Form.objects.update(second_wording=None)
    name = "relations.consent.migrations.0002_read_back_and_further_papers"
    import_module(name).ask_to_say_back(apps, None)
    assert not Clause.objects.filter(state="approved").exists()
    assert not Clause.objects.exclude(approved_by=None).exists()
    for wording in held.values():
        wording.refresh_from_db()
    assert held["fr"].frozen_at is not None, "a form holds it"
    assert (held["ar"].frozen_at, held["ar"].read_by, held["ar"].read_on) == (None, None, None)
