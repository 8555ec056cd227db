"""A tick or a sentence; two forms on one page have no name in common."""

from uuid import uuid4

from relations.privacy.refused import Refused
from relations.rights.letting_forms import LetGoForm, PostponeForm
from relations.rights.words import REFUSED


def test_nothing_goes_without_the_tick():
    form = LetGoForm({"token": str(uuid4())}, path="/")
    assert not form.is_valid()
    assert form.errors["was_read"] == ["Read it, then tick it."]
    assert LetGoForm({"token": str(uuid4()), "was_read": "on"}, path="/").is_valid()


def test_sentence_is_asked_for_and_kept_as_typed():
    form = PostponeForm({"token": str(uuid4()), "sentence": "  "}, path="/")
    assert not form.is_valid()
    assert set(form.errors) == {"sentence"}
    form = PostponeForm({"token": str(uuid4()), "sentence": "x" * 141}, path="/")
    assert set(form.errors) == {"sentence"}
    assert form["sentence"].value() == "x" * 141
    form = PostponeForm({"token": str(uuid4()), "sentence": "A niece asked."}, path="/")
    assert form.is_valid()
    form.refuse(Refused("no_sentence"))
    assert form.errors["sentence"] == [REFUSED["no_sentence"]]


def test_two_forms_of_the_page_share_no_id():
    both = [form(path="/") for form in (LetGoForm, PostponeForm)]
    ids = [field.id_for_label for form in both for field in form if field.id_for_label]
    assert len(ids) == len(set(ids)) == 4
