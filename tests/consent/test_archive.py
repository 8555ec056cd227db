"""Copies for the archive: made as PDF/A-3 with the record inside, sealed, never made again."""

import hashlib
import json
import shutil
import subprocess
from io import BytesIO

import pikepdf
import pytest

from relations.consent import actions, archive, printing
from relations.consent.history import KeptCopy
from relations.consent.models import Form
from relations.consent.paper import LengthError
from relations.documents.render import MissingLetters
from relations.privacy.crypt import SealBroken
from relations.privacy.files import scans
from relations.privacy.refused import Refused
from tests import cast
from tests.consent import desk

pytestmark = pytest.mark.django_db
ATTACHED = "consent-record.jsonld"


@pytest.fixture
def stood() -> Form:
    """A form that this site printed in two frozen wordings, and that came to stand."""
    held = desk.frozen("fr", "ar")
    person = cast.danuta()
    desk.sitting("12/T6", person)
    form, _content = actions.print_form(
        first=held["ar"], second=held["fr"], by=cast.assistant(), at=desk.AT, person=person,
        serial=desk.serial(),
    )  # fmt: skip
    actions.file(serial=desk.serial(), content=desk.scan(), by=cast.assistant(), at=desk.AT)
    form.refresh_from_db()
    return desk.read_twice(form, desk.WHOLE | {"uses": ["book"]})


@pytest.fixture
def kept(stood) -> KeptCopy:
    assert archive.lay_out_some(by=cast.artist(), at=desk.AT) == 1
    return stood.kept.get()


def rows(number: int = 3) -> list[Form]:
    """Forms that stand, as rows whose paper nobody lays out."""
    desk.sitting("12/T6", cast.danuta())
    return [desk.standing(70_042 + one) for one in range(number)]


def test_copy_is_a_pdf_a_3_whose_title_is_the_number_of_the_form(kept, stood):
    with pikepdf.open(BytesIO(archive.content(kept))) as document:
        with document.open_metadata() as metadata:
            assert metadata["pdfaid:part"] == "3"
            assert metadata["pdfaid:conformance"] == "B"
            assert metadata["dc:title"] == stood.sheet.serial
        assert str(document.docinfo["/Title"]) == stood.sheet.serial
        assert document.Root.OutputIntents
        assert len(document.pages) == 2


def test_attached_record_is_the_one_that_was_kept_to_the_byte(kept):
    with pikepdf.open(BytesIO(archive.content(kept))) as document:
        assert list(document.attachments) == [ATTACHED]
        file = document.attachments[ATTACHED].get_file()
        content = file.read_bytes()
        (described, *_same) = document.Root.AF
        assert described.AFRelationship == "/Data"
    assert hashlib.sha256(content).hexdigest() == kept.record_digest
    assert content == kept.record.encode()
    assert json.loads(content)["dct:identifier"] == desk.serial()


def test_copy_is_sealed_under_its_digest(kept):
    content = archive.content(kept)
    assert hashlib.sha256(content).hexdigest() == kept.digest
    assert (kept.made_at, kept.made_by) == (desk.AT, cast.artist())
    sealed = scans().path_of(kept.file).read_bytes()
    assert b"%PDF" not in sealed
    assert desk.serial().encode() not in sealed


@pytest.mark.skipif(shutil.which("qpdf") is None, reason="qpdf is not there")
def test_qpdf_finds_nothing_wrong_with_it(kept, tmp_path):
    path = tmp_path / "copy.pdf"
    path.write_bytes(archive.content(kept))
    done = subprocess.run(["qpdf", "--check", path], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "No syntax or stream encoding errors" in done.stdout


def test_it_is_made_once_and_never_laid_out_again(kept, stood, monkeypatch):
    monkeypatch.setattr(archive, "archive_copy", _never)
    assert archive.lay_out_some(by=cast.artist(), at=desk.later(1)) == 0
    assert not archive.waiting().exists()
    actions.take_back(
        person=stood.person, scope="all", said_on=cast.TODAY, by=cast.artist(), at=desk.later(2)
    )
    before = (kept.file, kept.digest, kept.record)
    kept.refresh_from_db()
    assert (kept.file, kept.digest, kept.record) == before
    assert b"taken_back" not in kept.record.encode()


def _never(**_):
    raise AssertionError("laid out again")


def test_form_that_stands_anew_has_another_copy_beside_the_first(kept, stood):
    actions.move_form(form=stood, to="doubtful", by=cast.artist(), on=cast.TODAY)
    actions.settle(form=stood, answers={}, by=cast.artist(), at=desk.later(1))
    assert archive.lay_out_some(by=cast.artist(), at=desk.later(2)) == 1
    first, second = stood.kept.all()
    assert (first.pk, first.digest) == (kept.pk, kept.digest)
    assert second.digest != first.digest
    assert second.file != first.file


def test_paper_from_before_is_not_ours_to_lay_out(stood):
    Form.objects.filter(pk=stood.pk).update(first_wording=None, is_from_before=True)
    stood.refresh_from_db()
    assert not archive.waiting().exists()
    with pytest.raises(Refused) as refused:
        printing.archive_copy(form=stood, record=None)
    assert refused.value.codes == ("from_before",)


def test_settling_lays_nothing_out(monkeypatch):
    monkeypatch.setattr(archive, "archive_copy", _never)
    desk.sitting("12/T6", cast.danuta())
    form = desk.standing()
    assert form.state == "standing"
    assert list(archive.waiting()) == [form]


@pytest.mark.parametrize("fault", [MissingLetters(["U+0B95 க"]), LengthError(3)])
def test_one_that_cannot_be_laid_out_is_left_waiting_and_the_others_are_made(monkeypatch, fault):
    bad, *_good = rows()

    def lay(*, form, record):
        if form.pk == bad.pk:
            raise fault
        return b"%PDF " + record.content

    monkeypatch.setattr(archive, "archive_copy", lay)
    assert archive.lay_out_some(by=cast.artist(), at=desk.AT) == 2
    assert list(archive.waiting()) == [bad]
    with pytest.raises(Refused) as refused:
        archive.lay_out_some(by=cast.artist(), at=desk.AT)
    assert refused.value.codes == ("cannot_be_laid_out",)


def test_so_many_are_made_at_once_and_the_rest_wait(monkeypatch):
    rows()
    monkeypatch.setattr(archive, "AT_ONCE", 2)
    monkeypatch.setattr(archive, "archive_copy", lambda *, form, record: record.content)
    made = [archive.lay_out_some(by=cast.artist(), at=desk.AT) for _ in range(3)]
    assert made == [2, 1, 0]


def test_two_who_press_at_once_keep_one_file(monkeypatch):
    (form,) = rows(1)

    def lay(*, form, record):
        """Somebody else made it meanwhile."""
        form.kept.update(file="a" * 36, digest="0" * 64, made_at=desk.AT)
        return record.content

    monkeypatch.setattr(archive, "archive_copy", lay)
    before = scans().names()
    archive.lay_out_some(by=cast.artist(), at=desk.AT)
    assert scans().names() == before
    assert form.kept.get().file == "a" * 36


def test_form_that_stood_before_copies_were_kept_has_its_record_kept_now(monkeypatch):
    (form,) = rows(1)
    form.kept.all().delete()
    assert list(archive.waiting()) == [form]
    monkeypatch.setattr(archive, "archive_copy", lambda *, form, record: record.content)
    assert archive.lay_out_some(by=cast.artist(), at=desk.AT) == 1
    assert form.kept.get().stood_on == cast.TODAY


def test_only_the_artist_makes_them():
    with pytest.raises(Refused) as refused:
        archive.lay_out_some(by=cast.assistant(), at=desk.AT)
    assert refused.value.codes == ("artist_only",)


def test_copy_that_was_changed_on_the_disk_does_not_open(kept):
    path = scans().path_of(kept.file)
    sealed = bytearray(path.read_bytes())
    sealed[len(sealed) // 2] ^= 1
    path.write_bytes(sealed)
    with pytest.raises(SealBroken):
        archive.content(kept)
