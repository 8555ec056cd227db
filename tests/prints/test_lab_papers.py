"""What is carried to the lab says codes and sizes, and nothing of anybody."""

import hashlib
import subprocess
from io import BytesIO
from zipfile import ZipFile

import pikepdf
import pytest
from django.utils import translation

from relations.documents.models import Sheet
from relations.people.models import Participant
from relations.people.values import Risk
from relations.pictures.actions import set_light_copy
from relations.prints import lab_papers
from relations.prints.models import LabLine, LabOrder, Print
from relations.privacy.models import AccessEntry
from relations.privacy.refused import Refused
from relations.today.management.drawings import portrait
from tests import cast
from tests.prints.frames import made
from tests.prints.test_stripping import SAYS, telling
from tests.rows import make

pytestmark = pytest.mark.django_db


def order(*rows: Print, size: str = "11 x 14 in") -> LabOrder:
    found = make(LabOrder, code="L4711", currency="EUR")
    for number, row in enumerate(rows, start=1):
        make(LabLine, order=found, print=row, number=number, size=size)
    return found


def slip(of: LabOrder) -> tuple[Sheet, bytes]:
    return lab_papers.print_slip(order=of, by=cast.assistant(), at=cast.moment())


def words(content: bytes) -> str:
    ran = subprocess.run(
        ["pdftotext", "-layout", "-", "-"], input=content, capture_output=True, check=True
    )
    return " ".join(ran.stdout.decode().split())


def refused(act, *args, **said):
    with pytest.raises(Refused) as caught:
        act(*args, **said)
    return caught.value.codes


@pytest.mark.needs("pdftotext")
def test_slip_says_codes_sizes_in_both_measures_and_what_is_cut(settings):
    settings.RELATIONS_PROJECT = "Harbour faces"
    row = made(cast.danuta(), "K12", "ordered")
    sheet, content = slip(order(row))
    said = words(content)
    assert row.code not in said.replace(" ", ""), "else it would tell whose face an envelope holds"
    for expected in ("Order L4711", "K12", "11 × 14 in", "279.4 × 355.6 mm", "1.8 %", sheet.serial):
        assert expected in said, expected
    for kept in ("Danuta", "Harbour", "assistant", "Marcel", "12:", "09:00"):
        assert kept not in said, kept
    assert (sheet.kind, sheet.digest) == ("lab_slip", hashlib.sha256(content).hexdigest())
    with pikepdf.open(BytesIO(content)) as pdf:
        assert str(pdf.docinfo.get("/Title")) == sheet.serial
        assert not set(pdf.docinfo) & {"/Author", "/Subject", "/Keywords"}


@pytest.mark.needs("pdftotext")
def test_grave_sitter_is_on_no_slip_whatever_was_ordered_before():
    rows = [made(cast.danuta(), "K12", "ordered"), made(cast.marcel(), "K01", "at_the_lab")]
    of = order(*rows)
    Participant.objects.filter(code="01").update(level=Risk.GRAVE)
    assert "K01" not in words(slip(of)[1])
    Participant.objects.update(level=Risk.GRAVE)
    assert refused(slip, of) == ("nothing_on_it",)


@pytest.mark.needs("pdftotext")
@pytest.mark.parametrize(("language", "says"), [("fr", "mat"), ("ar", "K12")])
def test_slip_is_in_the_language_of_the_screen(language, says):
    of = order(made(cast.danuta(), "K12", "ordered"), size="20 x 25 cm")
    with translation.override(language):
        assert says in words(slip(of)[1])


def names(content: bytes) -> dict[str, bytes]:
    with ZipFile(BytesIO(content)) as packed:
        assert {one.date_time for one in packed.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        return {one.filename: packed.read(one) for one in packed.infolist()}


def test_files_are_named_by_code_and_say_nothing_else():
    rows = [made(cast.danuta(), "K12", "ordered"), made(cast.marcel(), "K01", "ordered")]
    for row in rows:
        copy = portrait(row.picture.code, [True])
        set_light_copy(picture=row.picture, light_copy=copy, by=cast.artist(), at=cast.moment())
    of = order(*rows)
    given = {"K12": telling("JPEG")}
    packed = lab_papers.files(order=of, given=given, by=cast.artist())
    found = names(packed)
    assert sorted(name.partition(".")[0] for name in found) == ["K01-small", "K12"]
    assert SAYS in given["K12"] and SAYS not in b"".join(found.values())
    assert lab_papers.files(order=of, given=given, by=cast.artist()) == packed
    assert AccessEntry.objects.filter(verb="files", kind=lab_papers.KIND).count() == 2


def test_files_of_whoever_came_into_danger_do_not_leave():
    rows = [made(cast.danuta(), "K12", "at_the_lab"), made(cast.marcel(), "K01", "at_the_lab")]
    of = order(*rows)
    assert [one.code for one in lab_papers.pictures(cast.artist(), of)] == ["K01", "K12"]
    Participant.objects.filter(code="01").update(level=Risk.GRAVE)
    given = {"K12": telling("PNG"), "K01": telling("PNG")}
    assert set(names(lab_papers.files(order=of, given=given, by=cast.artist()))) == {"K12.png"}
    Print.objects.filter(person__code="12").update(not_at_the_lab=True)
    assert [one.code for one in lab_papers.pictures(cast.artist(), of)] == ["K01"]


def test_files_are_those_of_people_in_sight():
    of = order(made(cast.danuta(), "K12", "ordered"), made(cast.marcel(), "K01", "ordered"))
    cast.in_sight(cast.marcel(), cast.assistant())
    assert [one.code for one in lab_papers.pictures(cast.assistant(), of)] == ["K01"]


def test_what_is_no_picture_or_not_there_is_refused():
    of = order(made(cast.danuta(), "K12", "ordered"))
    sent = {"order": of, "by": cast.artist()}
    assert refused(lab_papers.files, given={}, **sent) == ("nothing_on_it",)
    assert refused(lab_papers.files, given={"K12": b"%PDF"}, **sent) == ("not_a_picture",)
    half = telling("PNG")[:60]
    assert refused(lab_papers.files, given={"K12": half}, **sent) == ("broken",)
