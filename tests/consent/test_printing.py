"""A blank form is printed in two read languages, under a serial of its own, the same each time."""

import hashlib
from io import BytesIO

import pikepdf
import pytest

from relations.consent import actions
from relations.consent.models import Form
from relations.consent.printing import (
    new_serial,
    print_form,
    print_proof,
    read_serial,
    reprint,
)
from relations.consent.states import State as FormState
from relations.documents.models import Sheet
from relations.documents.serials import read_serial as checked
from relations.privacy.keys import keyring
from relations.privacy.refused import Refused
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db


def refused(act, **how):
    with pytest.raises(Refused) as caught:
        act(**how)
    return caught.value.codes


def test_form_in_two_read_languages_is_printed_and_comes_out_the_same_again():
    held = desk.frozen("fr", "ar")
    form, content = print_form(
        first=held["ar"], second=held["fr"], person=cast.danuta(), by=cast.assistant(), at=desk.AT
    )
    sheet = form.sheet
    assert sheet.digest == hashlib.sha256(content).hexdigest()
    assert str(checked(sheet.serial)) == sheet.serial
    assert (form.state, form.person, form.wording_was_read) == (
        FormState.PRINTED,
        cast.danuta(),
        True,
    )
    with pikepdf.open(BytesIO(content)) as document:
        assert len(document.pages) == 2
    assert reprint(form=form) == content
    Sheet.objects.filter(pk=sheet.pk).update(digest="0" * 64)
    form.sheet.refresh_from_db()
    assert refused(reprint, form=form) == ("not_the_same",)


def test_form_printed_before_a_rekey_comes_out_the_same(monkeypatch):
    held = desk.frozen("fr", "ar")
    form, content = print_form(first=held["ar"], second=held["fr"], by=cast.artist(), at=desk.AT)
    earlier = keyring.subkey("mark")
    monkeypatch.setattr(keyring, "mark_keys", lambda: [b"k" * 32, earlier])
    assert reprint(form=form) == content
    monkeypatch.setattr(keyring, "mark_keys", lambda: [b"k" * 32])
    assert refused(reprint, form=form) == ("not_the_same",)


def test_form_is_not_printed_while_a_wording_is_unread():
    held = desk.frozen("fr")
    how = {"by": cast.artist(), "at": desk.AT}
    assert refused(print_form, first=held["ar"], second=held["fr"], **how) == ("first_unread",)
    assert refused(print_form, first=held["ar"], second=held["ne"], **how) == (
        "first_unread",
        "second_unread",
    )
    assert not Form.objects.exists()


def test_proof_of_unread_wordings_has_no_number_and_leaves_no_row():
    held = desk.wordings()
    content = print_proof(first=held["fr"], second=held["ar"])
    assert content.startswith(b"%PDF-")
    assert not Sheet.objects.exists()


def test_two_languages_must_differ_and_hold_the_same_clauses():
    held = desk.frozen("fr", "ar")
    how = {"first": held["fr"], "by": cast.artist(), "at": desk.AT}
    assert refused(print_form, second=held["fr"], **how) == ("same_language",)
    held["ar"].clauses.last().delete()
    assert refused(print_form, second=held["ar"], **how) == ("clauses_differ",)


def test_versions_of_two_numbers_are_both_on_the_paper():
    held = desk.frozen("fr", "ar")
    texts = {clause.key: ("x", clause.text) for clause in held["fr"].clauses.all()}
    newer = actions.write_wording(language="fr", texts=texts, by=cast.artist())
    for clause in newer.clauses.all():
        actions.approve(clause=clause, by=desk.reader(), on=cast.TODAY)
    actions.freeze(wording=newer, by=desk.reader(), at=desk.AT)
    form, _ = print_form(first=newer, second=held["ar"], by=cast.artist(), at=desk.AT)
    assert form.sheet.version == "0201"


def test_paper_from_before_was_not_printed_here():
    form = desk.paper(first_wording=None, second_wording=None, is_from_before=True)
    assert refused(reprint, form=form) == ("from_before",)


def test_serial_is_drawn_or_given_and_never_used_twice():
    desk.paper(70_042)
    with pytest.raises(Refused, match="serial_taken"):
        new_serial("70042-74")
    assert new_serial(desk.serial(70_043)) == desk.serial(70_043)
    drawn = new_serial(None)
    assert str(checked(drawn)) == drawn


@pytest.mark.parametrize(("typed", "code"), [("70042-75", "mistyped"), ("7004", "shape")])
def test_serial_with_a_wrong_digit_is_mistyped_and_not_unknown(typed, code):
    with pytest.raises(Refused) as caught:
        read_serial(typed)
    assert caught.value.codes == (code,)
