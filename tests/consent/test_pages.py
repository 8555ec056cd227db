"""What the pages show, and what they hide from whoever must not see it yet."""

import pytest

from relations.consent import actions, pages
from relations.consent.models import SpeakerAnswer
from relations.consent.values import Use
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db


def test_second_reader_does_not_see_the_first_reading_on_the_page():
    form = desk.filed()
    actions.read(form=form, answers=desk.WHOLE, by=cast.assistant(), at=desk.AT)
    form.refresh_from_db()
    context = pages.shown(cast.artist(), form, cast.TODAY)
    assert context["may_read"] and context["says"] == []


def test_assistant_sees_where_the_paper_is_and_nothing_it_says():
    context = pages.shown(cast.assistant(), desk.standing(), cast.TODAY)
    assert not {"says", "uses", "readings", "guardians"} & set(context)
    assert context["scans"] == []


def test_artist_sees_what_a_settled_form_says_and_when_it_has_ended():
    form = desk.standing(only_countries=["FR", "BE"], last_day=cast.days(-1))
    context = pages.shown(cast.artist(), form, cast.TODAY)
    said = {str(label): words for label, words in context["says"]}
    assert said["Only in"] == "Belgium and France"
    assert said["Name"] == "full name"
    assert dict(context["uses"])[Use.BOOK] is True
    assert dict(context["uses"])[Use.WEB] is False
    assert context["has_ended"]


def test_doubtful_form_says_why_it_does_not_stand():
    form = desk.standing(lines_missing=["witness"])
    context = pages.shown(cast.artist(), form, cast.TODAY)
    assert context["why_not"] == ["incomplete"]
    assert not context["may_settle"]  # both read the same: there is nothing to choose
    assert pages.shown(cast.artist(), desk.paper(70_050), cast.TODAY)["why_not"] == []


def test_childs_form_asks_for_those_who_answer_for_the_child():
    context = pages.shown(cast.artist(), desk.standing(person=cast.lucas()), cast.TODAY)
    assert context["is_child"] and context["why_not"] == ["guardians_open"]


def test_boxes_that_differ_come_with_both_answers_and_nothing():
    form = desk.read_twice(
        desk.filed(),
        desk.WHOLE | {"uses": ["web"], "last_day": "2027-01-01", "no_face": True},
        desk.WHOLE | {"uses": [], "last_day": "2027-02-01"},
    )
    boxes = {box: answers for box, _label, answers in pages.boxes_that_differ(form)}
    assert [value for value, _words in boxes["uses.web"]] == [True, False]
    assert boxes["last_day"] == [
        ("2027-01-01", "1 January 2027"),
        ("2027-02-01", "1 February 2027"),
        (None, "nothing"),
    ]
    assert boxes["no_face"] == [(True, "yes"), (False, "no")]
    assert pages.boxes_that_differ(desk.filed(70_043, cast.bruno())) == []


@pytest.mark.parametrize(
    ("box", "value", "words"),
    [
        ("only_countries", None, "no limit"),
        ("only_countries", [], "nowhere"),
        ("not_countries", [], "nothing"),
        ("not_countries", ["PE"], "Peru"),
        ("lines_missing", ["witness", "day"], "the witness, signed and dated, the day"),
        ("way", "spoken", "spoken, on record"),
        ("childs_answer", "no", "no"),
        ("childs_answer", "yes", "yes"),
        ("agreed_name", "Lia", "\u2068Lia\u2069"),
        ("copy_kept", False, "no"),
    ],
)
def test_answer_is_said_in_words(box, value, words):
    assert pages.in_words(box, value) == words


def test_what_can_still_be_noted_is_what_lies_beside_the_form():
    made = desk.sitting("12/T2", cast.danuta())
    picture = desk.picture("K12", made, cast.danuta())
    desk.caption(picture, "c1", "Old words.")
    newest = desk.caption(picture, "c2", "New words.")
    said = desk.quote("q1", cast.danuta())
    form = desk.standing(own_condition="never in our street")
    found = pages.open_answers(form)
    assert (found.sittings, found.pictures) == ([made], [(picture, None)])
    assert (found.captions, found.quotes) == ([newest], [said])
    assert found.undecided == ["book", "exhibition"]
    assert not found.is_child
    how = {"form": form, "on": cast.TODAY, "by": cast.artist()}
    actions.answer_picture(picture=picture, is_yes=False, **how)
    actions.answer_caption(caption=newest, **how)
    actions.answer_quote(quote=said, **how)
    actions.decide_condition(use="book", can=True, **how)
    found = pages.open_answers(form)
    assert found.pictures == [(picture, False)]
    assert (found.captions, found.quotes, found.undecided) == ([], [], ["exhibition"])


def test_child_is_asked_once():
    form = desk.standing(person=cast.lucas())
    assert pages.open_answers(form).is_child
    actions.answer_child(form=form, is_yes=True, on=cast.TODAY, by=cast.artist())
    assert not pages.open_answers(form).is_child


def test_moves_of_the_artist_are_those_whose_guards_hold_today():
    form = desk.standing(last_day=cast.days(-1))
    assert pages.moves_of_artist(cast.artist(), form, cast.TODAY) == ["doubtful", "ended"]
    assert pages.moves_of_artist(cast.assistant(), form, cast.TODAY) == []


def test_words_of_a_speaker_come_newest_first():
    for on in (cast.days(-2), cast.TODAY):
        SpeakerAnswer.objects.create(person=cast.rachid(), use="book", is_yes=True, said_on=on)
    said = pages.said_by_speaker(cast.rachid())
    assert [one.said_on for one in said] == [cast.TODAY, cast.days(-2)]
