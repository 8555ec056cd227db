"""What is said beside a form, and a no, which acts the moment it is heard."""

from datetime import timedelta

import pytest

from relations.consent import spoken
from relations.consent.models import ConditionDecision, Form, SpeakerAnswer, TakenBack
from relations.consent.states import State as FormState
from relations.people.models import Participant, Speaker
from relations.people.values import Standing
from relations.privacy.refused import Refused
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db
TODAY = cast.TODAY


def refused(act, **how):
    with pytest.raises(Refused) as caught:
        act(**how)
    return caught.value.codes


@pytest.fixture
def shown():
    """Danuta's picture with its caption and her quote, and her form that stands."""
    made = desk.sitting("12/T2", cast.danuta())
    picture = desk.picture("K12", made, cast.danuta())
    words, said = desk.caption(picture), desk.quote("q1", cast.danuta())
    return desk.standing(), picture, words, said


def how(form, **more):
    return {"form": form, "on": TODAY, "by": cast.artist(), **more}


def test_later_answer_on_a_picture_takes_the_place_of_the_earlier(shown):
    form, picture, *_ = shown
    spoken.answer_picture(**how(form, picture=picture, is_yes=True))
    spoken.answer_picture(**how(form, picture=picture, is_yes=False))
    assert [answer.is_yes for answer in form.picture_answers.all()] == [False]


def test_answers_are_theirs_alone(shown):
    form, *_ = shown
    other = desk.picture("K01", desk.sitting("01/T1", cast.marcel()), cast.marcel())
    assert refused(spoken.answer_picture, **how(form, picture=other, is_yes=True)) == ("not_in_it",)
    assert refused(spoken.answer_caption, **how(form, caption=desk.caption(other))) == (
        "not_in_it",
    )
    theirs = desk.quote("q2", cast.marcel())
    assert refused(spoken.answer_quote, **how(form, quote=theirs)) == ("not_their_words",)


def test_caption_and_quote_are_noted_once(shown):
    form, _, words, said = shown
    for _time in range(2):
        spoken.answer_caption(**how(form, caption=words))
        spoken.answer_quote(**how(form, quote=said))
    assert (form.caption_answers.count(), form.quote_answers.count()) == (1, 1)


def test_nothing_is_said_beside_a_blank_or_before_the_form(shown):
    form, picture, *_ = shown
    early = how(form, picture=picture, is_yes=True) | {"on": form.given_on - timedelta(1)}
    assert refused(spoken.answer_picture, **early) == ("before_the_form",)
    blank = desk.paper(70_050)
    assert refused(spoken.answer_child, **how(blank, is_yes=True)) == ("not_given",)


def test_childs_form_stands_once_every_holder_of_authority_has_answered():
    form = desk.standing(person=cast.lucas())
    assert form.state == FormState.DOUBTFUL
    spoken.answer_guardian(**how(form, authority="parent", is_yes=True))
    assert form.state == FormState.DOUBTFUL
    spoken.answer_guardian(**how(form, authority="court", is_yes=True, name="A name"))
    assert form.state == FormState.STANDING
    more = how(form, authority="parent", is_yes=True)
    assert refused(spoken.answer_guardian, **more) == ("too_many",)


def test_childs_no_is_not_turned_into_a_yes():
    form = desk.filed(person=cast.lucas())
    assert spoken.answer_child(**how(form, is_yes=True)).childs_answer == "yes"
    assert spoken.answer_child(**how(form, is_yes=False)).childs_answer == "no"
    assert refused(spoken.answer_child, **how(form, is_yes=True)) == ("said_no",)


def test_no_of_a_child_stands_against_a_yes_of_a_page_that_was_opened_before():
    form = desk.filed(person=cast.lucas())
    opened_before = Form.objects.get(pk=form.pk)
    spoken.answer_child(**how(form, is_yes=False))
    assert refused(spoken.answer_child, **how(opened_before, is_yes=True)) == ("said_no",)
    form.refresh_from_db()
    assert form.childs_answer == "no"


def test_condition_in_their_own_words_is_decided_by_the_artist_use_by_use(shown):
    form, *_ = shown
    decide = how(form, use="book", can=True)
    assert refused(spoken.decide_condition, **decide) == ("no_condition",)
    form.own_condition = "never in our street"
    form.save()
    assistant = decide | {"by": cast.assistant()}
    assert refused(spoken.decide_condition, **assistant) == ("artist_only",)
    spoken.decide_condition(**decide)
    spoken.decide_condition(**decide | {"can": False})
    assert [*ConditionDecision.objects.values_list("use", "can")] == [("book", False)]


def test_all_that_was_said_at_one_showing_is_noted_together(shown):
    _, picture, words, said = shown
    form = desk.filed(70_051, wording_was_read=False)
    form = desk.read_twice(form, desk.WHOLE | {"own_condition": "never in our street"})
    assert form.state == FormState.DOUBTFUL
    spoken.answer_all(
        **how(form),
        sittings=[picture.sitting],
        pictures={picture: True},
        captions=[words],
        quotes=[said],
        child=True,
        conditions={"book": True},
        wording_was_read=True,
    )
    form.refresh_from_db()
    assert form.picture_answers.get().is_yes
    assert (form.caption_answers.count(), form.quote_answers.count()) == (1, 1)
    assert (form.childs_answer, form.decisions.get().can) == ("yes", True)
    assert (form.wording_was_read, form.state) == (True, FormState.STANDING)


def test_what_was_not_said_changes_nothing(shown):
    form, picture, *_ = shown
    spoken.answer_all(**how(form), sittings=[picture.sitting])
    form.refresh_from_db()
    assert not form.picture_answers.exists()
    assert form.childs_answer == ""


def speaks(person, **more):
    return Speaker.objects.create(person=person, named_on=TODAY, **more)


def says(person, *, is_yes, use="exhibition"):
    return spoken.speaker_says(person=person, use=use, is_yes=is_yes, on=TODAY, by=cast.artist())


def test_nobody_speaks_for_one_who_can_answer():
    speaks(cast.danuta(), speaker=cast.bruno())
    assert refused(says, person=cast.danuta(), is_yes=True) == ("can_answer",)


def test_nobody_speaks_who_was_not_named():
    assert refused(says, person=cast.rachid(), is_yes=True) == ("no_speaker",)


def test_next_of_kin_may_only_say_no():
    speaks(cast.rachid(), name="A brother", is_next_of_kin=True)
    assert refused(says, person=cast.rachid(), is_yes=True) == ("kin_may_only_narrow",)
    assert says(cast.rachid(), is_yes=False).is_yes is False


def test_speakers_no_outweighs_a_yes_of_the_same_day():
    speaks(cast.rachid(), speaker=cast.marcel())
    says(cast.rachid(), is_yes=True)
    says(cast.rachid(), is_yes=True)
    assert says(cast.rachid(), is_yes=False).is_yes is False
    assert refused(says, person=cast.rachid(), is_yes=True) == ("said_no",)
    assert SpeakerAnswer.objects.count() == 1


def take_back(person=None, scope="all", by=None, **more):
    return spoken.take_back(
        person=person or cast.danuta(),
        scope=scope,
        said_on=more.pop("said_on", TODAY),
        by=by or cast.assistant(),
        at=desk.AT,
        **more,
    )


def test_all_taken_back_withdraws_every_form_and_the_person_steps_back(shown):
    form, *_ = shown
    heard = take_back()
    form.refresh_from_db()
    assert form.state == FormState.WITHDRAWN
    assert Participant.objects.get(code="12").standing == Standing.STEPPED_BACK
    assert heard.answer_due_on == TODAY + timedelta(days=14)
    assert heard.heard_by == cast.assistant()


def test_one_use_taken_back_withdraws_in_part_and_all_of_it_later(shown):
    form, *_ = shown
    take_back(scope="use", use="web")
    form.refresh_from_db()
    assert form.state == FormState.WITHDRAWN_IN_PART
    assert Participant.objects.get(code="12").standing == Standing.TAKING_PART
    take_back(scope="use", use="book")
    take_back()
    form.refresh_from_db()
    assert form.state == FormState.WITHDRAWN


def test_one_picture_is_taken_back_by_someone_who_is_in_it(shown):
    _, picture, *_ = shown
    assert take_back(scope="picture", picture=picture).picture == picture
    other = cast.marcel()
    assert refused(take_back, person=other, scope="picture", picture=picture) == ("not_in_it",)


def test_same_no_on_the_same_day_is_kept_once(shown):
    assert take_back() == take_back()
    assert TakenBack.objects.count() == 1


def test_no_is_heard_of_one_who_has_no_form_and_is_not_taking_part():
    assert take_back(cast.bruno()).scope == "all"
    assert Participant.objects.get(code="19").standing == Standing.MET


@pytest.mark.parametrize(
    "wrong", [{"scope": "use"}, {"scope": "all", "use": "web"}, {"scope": "picture"}]
)
def test_scope_that_does_not_fit_is_refused(wrong):
    assert refused(take_back, **wrong) == ("scope",)


def test_no_cannot_be_heard_before_it_is_said():
    assert refused(take_back, said_on=cast.days(1)) == ("day_in_future",)


def test_no_that_is_older_than_the_form_leaves_the_newer_form_alone(shown):
    form, *_ = shown
    take_back(scope="use", use="web", said_on=form.given_on - timedelta(1))
    form.refresh_from_db()
    assert form.state == FormState.STANDING


def test_they_are_told_once_what_became_of_every_no(shown):
    person = take_back(scope="use", use="web").person
    take_back(person, scope="use", use="book")
    answer = {"person": person, "by": cast.assistant()}
    assert refused(spoken.answer_them, **answer, on=cast.days(-400)) == ("before_they_said",)
    assert spoken.answer_them(**answer, on=cast.days(1)) == 2
    assert spoken.answer_them(**answer, on=cast.days(2)) == 0
    assert set(TakenBack.objects.values_list("answered_on", flat=True)) == {cast.days(1)}
