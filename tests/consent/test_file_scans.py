"""The command splits, turns and files scans, and says what is missing and what waits."""

import io

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from relations.consent.management.commands import file_scans
from relations.consent.models import Form
from relations.consent.states import State as FormState
from relations.documents import stacks
from relations.documents.models import Page, Scan, Sheet, Upload
from tests import cast
from tests.consent import desk
from tests.consent.stack import NUMBER, OTHER, sides
from tests.documents import scanner

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def hands():
    cast.artist(), cast.assistant(), cast.keeper()


def file(*paths, **how):
    said, wrong = io.StringIO(), io.StringIO()
    try:
        call_command("file_scans", *map(str, paths), stdout=said, stderr=wrong, **how)
    except CommandError as error:
        wrong.write(str(error))
    return said.getvalue(), wrong.getvalue()


def scan(folder, name, *pictures):
    path = folder / name
    path.write_bytes(scanner.pdf(pictures, 150))
    return path


def test_stack_is_filed_part_by_part_and_every_page_is_told(tmp_path, monkeypatch):
    monkeypatch.setattr(stacks.look_on, "__defaults__", (2,))
    desk.paper(person=cast.danuta())
    desk.paper(OTHER)
    lying = [*sides(NUMBER, 2, turned=180), scanner.blank(), *sides(OTHER, 1)]
    said, wrong = file(scan(tmp_path, "one.pdf", *lying))
    assert wrong == ""
    assert "2 of 3 pages looked at" in said and "3 of 3 pages looked at" in said
    assert f"{desk.serial()}: 2; missing: 1" in said
    assert "page 2, in the tray: Nothing is on this page." in said
    assert (
        f"page 3, in the tray: {desk.serial(OTHER)}. This form was printed for nobody yet." in said
    )
    assert Form.objects.get(sheet__serial=desk.serial()).state == FormState.SCANNED
    assert Scan.objects.get().filed_by == cast.artist()


def test_who_files_may_be_named_and_must_be_somebody_who_files_papers(tmp_path):
    desk.paper(person=cast.danuta())
    path = scan(tmp_path, "one.pdf", *sides(NUMBER, 1))
    assert "Only the artist and assistants" in file(path, by="aude")[1]
    assert not Upload.objects.exists()
    file(path, by="loic")
    assert Scan.objects.get().filed_by == cast.assistant()


def test_without_an_artist_somebody_must_be_named(tmp_path):
    type(cast.artist()).objects.filter(role="artist").delete()
    assert "name one with --by" in file(scan(tmp_path, "one.pdf", scanner.blank()))[1]


def test_file_that_is_no_scan_is_named_and_the_others_are_filed(tmp_path):
    words = tmp_path / "words.txt"
    words.write_text("no scan")
    said, wrong = file(words, scan(tmp_path, "blank.pdf", scanner.blank()))
    assert "words.txt: This is no image and no PDF." in wrong
    assert "1 of 2 files were not taken." in wrong
    assert "blank.pdf" in said and Page.objects.count() == 1


def test_file_that_is_not_there_or_too_large_stops_before_anything_is_taken(tmp_path, monkeypatch):
    there = scan(tmp_path, "blank.pdf", scanner.blank())
    assert "cannot be read" in file(there, tmp_path / "absent.pdf")[1]
    monkeypatch.setattr(file_scans, "LARGEST_BYTES", 100)
    assert "is larger than" in file(there)[1]
    assert not Upload.objects.exists()


def test_what_was_filed_before_and_what_was_erased_is_told(tmp_path):
    form = desk.paper(person=cast.danuta())
    path = scan(tmp_path, "one.pdf", *sides(NUMBER, 1))
    file(path)
    assert "1 pages were here already" in file(path)[0]
    desk.paper(OTHER, cast.bruno()).delete()
    said, _ = file(scan(tmp_path, "two.pdf", *sides(OTHER, 1)))
    assert "1 pages are of papers that were erased" in said
    assert form.sheet.scans.count() == 1


def test_sheet_that_is_no_form_is_named_to_be_read(tmp_path):
    Sheet.objects.create(serial=desk.serial(), kind="take_back", pages=1)
    said, _ = file(scan(tmp_path, "one.pdf", *sides(NUMBER, 1, kind="T")))
    assert "Somebody takes something back" in said
