"""A blank form is printed in two read languages, under a serial of its own, the same each time."""

import hashlib
from io import BytesIO

import pikepdf
import pytest

from relations.consent import actions, paper
from relations.consent.models import Form, Wording
from relations.consent.printing import (
    Blank,
    new_serial,
    print_each,
    print_form,
    print_proof,
    read_serial,
    reprint,
)
from relations.consent.states import State as FormState
from relations.consent.values import FormKind
from relations.documents import layouts
from relations.documents.models import Sheet
from relations.documents.serials import read_serial as checked
from relations.privacy.files import scans
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


def test_printed_bytes_are_kept_sealed_and_never_laid_out_again(monkeypatch):
    held = desk.frozen("fr", "ar")
    form, content = print_form(first=held["ar"], second=held["fr"], by=cast.artist(), at=desk.AT)
    sealed = scans().path_of(form.sheet.kept).read_bytes()
    assert form.sheet.serial.encode() not in sealed and b"%PDF" not in sealed
    monkeypatch.setattr(paper, "pdfs", lambda papers: pytest.fail("laid out again"))
    assert reprint(form=form) == content
    Sheet.objects.filter(pk=form.sheet.pk).update(digest="0" * 64)
    form.sheet.refresh_from_db()
    assert refused(reprint, form=form) == ("not_as_kept",)
    scans().delete(form.sheet.kept)
    assert refused(reprint, form=form) == ("not_as_kept",)


def test_places_of_the_boxes_are_kept_with_the_paper():
    held = desk.frozen("fr", "ar")
    form, _ = print_form(first=held["ar"], second=held["fr"], by=cast.artist(), at=desk.AT)
    assert layouts.places(form.sheet.layout, 1)["uses.web.yes"][2:] == (4.2, 4.2)


def test_form_from_before_its_bytes_were_kept_is_laid_out_again_and_compared():
    held = desk.frozen("fr", "ar")
    form, content = print_form(first=held["ar"], second=held["fr"], by=cast.artist(), at=desk.AT)
    Sheet.objects.filter(pk=form.sheet.pk).update(kept="")
    form.sheet.refresh_from_db()
    assert reprint(form=form) == content
    Sheet.objects.filter(pk=form.sheet.pk).update(digest="0" * 64)
    form.sheet.refresh_from_db()
    assert refused(reprint, form=form) == ("not_the_same",)


def test_nothing_is_kept_of_forms_whose_rows_cannot_stand(monkeypatch):
    held = desk.frozen("fr", "ar")
    blank = Blank(held["ar"], held["fr"])
    before = scans().names()
    monkeypatch.setattr(Form.objects, "create", lambda **row: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        print_each(blank, [None, None], by=cast.artist(), at=desk.AT)
    assert scans().names() == before
    assert not Sheet.objects.exists()


@pytest.mark.parametrize("kind", FormKind)
def test_each_kind_is_printed_and_stands_in_the_row(kind):
    held = desk.frozen("fr", "en")
    form, content = print_form(
        first=held["fr"], second=held["en"], by=cast.artist(), at=desk.AT, kind=kind
    )
    assert form.kind == kind
    with pikepdf.open(BytesIO(content)) as document:
        assert len(document.pages) == 2


def test_wording_from_before_a_kind_cannot_print_it_and_still_prints_the_rest():
    held = desk.frozen("fr", "en")
    labels = {key: said for key, said in held["fr"].labels.items() if key != "again_at_18"}
    Wording.objects.filter(pk=held["fr"].pk).update(labels=labels)
    held["fr"].refresh_from_db()
    how = {"first": held["fr"], "second": held["en"], "by": cast.artist(), "at": desk.AT}
    assert refused(print_form, kind=FormKind.CHILD, **how) == ("words_missing",)


def test_neutral_heading_is_a_choice(monkeypatch):
    held = desk.frozen("fr", "en")
    made = []
    monkeypatch.setattr(paper, "pdfs", lambda papers: made.extend(papers) or [b"x"])
    how = {"first": held["fr"], "second": held["en"], "by": cast.artist(), "at": desk.AT}
    print_form(**how)
    print_form(**how, has_heading=True)
    assert [(one.first.heading, one.second.heading) for one in made] == [
        ("", ""),
        ("Feuille de portrait", "Portrait paper"),
    ]


def test_forms_are_printed_on_the_paper_that_the_site_is_set_to(monkeypatch, settings):
    held = desk.frozen("fr", "en")
    made = []
    monkeypatch.setattr(paper, "pdfs", lambda papers: made.extend(papers) or [b"x"])
    settings.RELATIONS_PAPER_SIZE = "Letter"
    print_form(first=held["fr"], second=held["en"], by=cast.artist(), at=desk.AT)
    assert [one.size for one in made] == ["Letter"]


def test_wordings_too_long_for_a_sheet_are_refused(monkeypatch):
    def too_long(papers):
        raise paper.LengthError(3)

    held = desk.frozen("fr", "en")
    monkeypatch.setattr(paper, "pdfs", too_long)
    how = {"first": held["fr"], "second": held["en"]}
    assert refused(print_form, by=cast.artist(), at=desk.AT, **how) == ("too_long",)
    assert refused(print_proof, **how) == ("too_long",)


def test_form_printed_before_a_rekey_comes_out_the_same(monkeypatch):
    held = desk.frozen("fr", "ar")
    form, content = print_form(first=held["ar"], second=held["fr"], by=cast.artist(), at=desk.AT)
    Sheet.objects.filter(pk=form.sheet.pk).update(kept="")
    form.sheet.refresh_from_db()
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
    texts = {clause.name: ("x", clause.text) for clause in held["fr"].clauses.all()}
    newer = actions.write_wording(language="fr", texts=texts, by=cast.artist())
    for clause in newer.clauses.all():
        desk.approve(clause)
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
