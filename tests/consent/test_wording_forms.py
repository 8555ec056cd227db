"""What may be typed on the page of a wording by its reader, and on its page by who writes it."""

import pytest

from relations.consent.approvals import seal, send_back
from relations.consent.source import own
from relations.consent.texts import Clause
from relations.consent.wording_forms import WordingForm, WriteForm
from relations.consent.wordings import write_wording
from relations.privacy.refused import Refused
from tests import cast
from tests.consent import desk
from tests.consent.test_forms import post
from tests.consent.test_wordings import texts

pytestmark = pytest.mark.django_db


def written(model, language, **changed):
    form = WriteForm(user=cast.artist(), model=model, language=language)
    said = {name: field.initial for name, field in form.fields.items() if name != "token"}
    said = {name: value for name, value in said.items() if value is not None}
    return WriteForm(
        post(**{**said, **changed}), user=cast.artist(), model=model, language=language
    )


def read(wording, user=None, **said):
    return WordingForm(post(**said), user=user or desk.reader(), wording=wording)


def test_clauses_are_written_with_the_words_that_are_there():
    model = desk.wordings()["fr"]
    form = written(model, "fr", text_who="Nous sommes deux.")
    assert form.is_valid(), form.errors
    assert form.texts["who"][1] == "Nous sommes deux."
    assert (form.labels, form.stands) == (model.labels, frozenset())
    legends = [str(group.legend) for group in form.groups()][:2]
    assert legends == ["Release form: clauses", "Release form: words on the lines"]


def test_artists_words_stand_beside_a_translation_and_nothing_beside_their_own():
    held = desk.wordings()
    form = WriteForm(user=cast.artist(), model=held["fr"], language="fr")
    says = own().clauses.get(paper="form", key="who").text
    assert form.fields["text_who"].help_text == f'<span lang="en" dir="ltr">{says}</span>'
    assert form.fields["label_yes"].help_text == '<span lang="en" dir="ltr">yes</span>'
    mine = WriteForm(user=cast.artist(), model=held["en"], language="en")
    assert (mine.fields["text_who"].help_text, mine.fields["label_yes"].help_text) == ("", "")


def test_first_version_of_a_language_is_empty_beside_the_words_of_another():
    model = desk.wordings()["fr"]
    form = WriteForm(user=cast.artist(), model=model, language="it")
    assert form.fields["text_who"].initial == ""
    says = model.clauses.get(paper="form", key="who").text
    assert form.fields["text_who"].help_text == f'<span lang="fr" dir="ltr">{says}</span>'
    assert form.fields["label_yes"].help_text == '<span lang="fr" dir="ltr">oui</span>'
    assert "text_who" in written(model, "it").errors


def test_clauses_and_lines_of_another_paper_have_a_part_of_their_own():
    model = desk.wordings()["fr"]
    Clause.objects.create(wording=model, paper="spot", key="us", number=1, text="Deux.")
    model.labels["spot.where_we_are"] = "Où"
    form = written(model, "fr", **{"text_spot.us": "Nous deux."})
    assert form.is_valid(), form.errors
    assert form.texts["spot.us"] == ("", "Nous deux.")
    parts = {str(group.legend): group.fields for group in form.groups()}
    assert "text_spot.us" in parts["Spot sheet: clauses"]
    assert "label_spot.where_we_are" in parts["Spot sheet: words on the lines"]


def test_clause_that_waits_may_be_said_to_hold_as_it_is():
    held = desk.wordings()
    clause = held["fr"].clauses.get(paper="form", key="who")
    send_back(clause=clause, by=desk.reader(), on=cast.TODAY, why="Who is two?")
    write_wording(language="en", texts=texts(held["en"], day=("Day", "I sign.")), by=cast.artist())
    form = written(held["fr"], "fr", stands_who="on")
    assert form.is_valid(), form.errors
    assert form.stands == {"who"}
    ticks = [name for name in form.fields if name.startswith("stands_")]
    assert ticks == ["stands_who", "stands_day"]
    assert str(form.fields["stands_who"].help_text) == "Sent back: Who is two?"
    assert "have changed" in str(form.fields["stands_day"].help_text)
    assert "stands_who" in form.groups()[0].fields


def test_reader_has_a_field_for_each_clause_that_they_did_not_write():
    wording = desk.wordings()["fr"]
    clause = wording.clauses.get(paper="form", key="who")
    form = WordingForm(user=desk.reader(), wording=wording)
    assert str(form.fields["said_who"].label) == "What it says, in English"
    Clause.objects.filter(pk=clause.pk).update(translated_by=desk.reader())
    assert "said_who" not in WordingForm(user=desk.reader(), wording=wording).fields
    assert [*WordingForm(user=cast.artist(), wording=wording).fields] == ["act", "token"]


def test_artists_own_words_are_said_back_in_other_words():
    form = WordingForm(user=desk.reader(), wording=desk.wordings()["en"])
    assert str(form.fields["said_who"].label) == "What it says, in other words, in English"


def test_press_holds_what_was_pressed_and_all_that_was_typed():
    wording = desk.wordings()["fr"]
    words = wording.clauses.get(paper="form", key="who").words
    said = {"said_plain": " We take a picture. ", "why_day": "Long."}
    form = read(wording, act="approve:who", seal_who=seal(words), seal_="lines", **said)
    assert form.is_valid(), form.errors
    pressed = form.pressed
    assert (pressed.act, pressed.name, form.name) == ("approve", "who", "who")
    assert (pressed.said["plain"], pressed.whys["day"]) == ("We take a picture.", "Long.")
    assert pressed.seals == {"who": seal(words), "": "lines"}


@pytest.mark.parametrize("act", ["freeze", "keep", "approve:spot.who", "send_back:day"])
def test_presses_of_the_page_are_known(act):
    assert read(desk.wordings()["fr"], act=act).is_valid()


@pytest.mark.parametrize("act", ["", "like", "approve", "approve:a.b.c", "freeze:who"])
def test_no_other_press_is(act):
    assert not read(desk.wordings()["fr"], act=act).is_valid()


@pytest.mark.parametrize(
    ("code", "field"),
    [("not_read_back", "said_who"), ("why_missing", "why_who"), ("same_person", "__all__")],
)
def test_what_is_missing_stands_beside_the_clause_that_was_pressed(code, field):
    form = read(desk.wordings()["fr"], act="approve:who")
    assert form.is_valid()
    form.refuse(Refused(code))
    assert list(form.errors) == [field]
