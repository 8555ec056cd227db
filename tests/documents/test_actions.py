"""A stack is sealed first, noted once, and let go of when every page of it lies elsewhere."""

from io import BytesIO

import pikepdf
import pytest
from django.db import IntegrityError, transaction

from relations.documents import actions, filing, stacks
from relations.documents.models import Page, Scan, Sheet, Upload
from relations.documents.sorting import Place, Why
from relations.documents.split import look
from relations.privacy.files import scans
from relations.privacy.keys import keyring
from relations.privacy.models import GoneFile
from relations.privacy.refused import Refused
from tests import cast
from tests.documents import scanner

pytestmark = pytest.mark.django_db
NUMBER, OTHER = 70_042, 70_043
AT = cast.moment()


def sheet(number=NUMBER, kind="order", pages=2):
    return Sheet.objects.create(serial=scanner.serial(number), kind=kind, pages=pages)


def sides(number, *pages):
    return scanner.sides(number, *pages, key=keyring.subkey("mark"), kind="D")


def received(*files):
    return actions.receive(files=files, by=cast.assistant(), at=AT)


def stack(*pictures):
    return received(scanner.pdf(pictures, 150))


def noted(upload):
    return actions.note(upload=upload, seen=stacks.look_on(upload))


def filed(upload, paper):
    ((_, pages),) = actions.lying(upload)
    content = stacks.together(pages)
    how = {"by": cast.assistant(), "at": AT}
    scan = filing.file(sheet=paper, found=filing.inspect(content), **how)
    actions.filed(pages=pages, scan=scan, **how)
    return scan


def test_what_is_received_is_sealed_before_a_page_is_looked_at():
    upload = stack(*sides(NUMBER, 1))
    assert (upload.looked, upload.count, upload.ended_at) == (0, 1, None)
    sealed = scans().path_of(upload.file).read_bytes()
    assert b"%PDF" not in sealed and b"JFIF" not in sealed


def test_page_is_noted_by_what_its_codes_say():
    sheet()
    upload = noted(stack(*sides(NUMBER, 2), scanner.blank()))
    found, blank = upload.pages.order_by("number")
    assert (found.place, found.sheet, found.side) == (Place.FOUND, Sheet.objects.get(), 2)
    assert (found.file, found.digest != "") == ("", True)
    assert (blank.place, blank.why, blank.sheet) == (Place.WAITING, Why.BLANK, None)
    with scans().open(blank.file) as sealed:
        assert look(sealed.read()).is_blank


def test_stack_is_not_ended_while_a_page_lies_in_it_alone():
    paper = sheet()
    upload = stack(*sides(NUMBER, 1, 2))
    assert actions.end(upload=upload, at=AT).ended_at is None
    upload = noted(upload)
    assert actions.end(upload=upload, at=AT).file == upload.file
    filed(upload, paper)
    ended = actions.end(upload=upload, at=AT)
    assert (ended.file, ended.ended_at) == ("", AT)
    assert actions.end(upload=upload, at=cast.moment(hour=20)).ended_at == AT
    assert GoneFile.objects.filter(name=upload.file).exists()


def test_file_let_go_is_deleted_once_that_is_certain(django_capture_on_commit_callbacks):
    paper = sheet()
    with django_capture_on_commit_callbacks(execute=True):
        upload = noted(stack(*sides(NUMBER, 1)))
        filed(upload, paper)
        actions.end(upload=upload, at=AT)
        assert scans().exists(upload.file)
    assert not scans().exists(upload.file)
    assert not GoneFile.objects.exists()


def test_same_page_is_known_by_its_digest_wherever_it_lies():
    sheet()
    one = scanner.pdf(sides(NUMBER, 1), 150)
    noted(received(one))
    again = noted(received(one, scanner.pdf([scanner.blank()], 150)))
    assert [page.place for page in again.pages.order_by("number")] == [Place.TWICE, Place.WAITING]
    third = noted(received(one))
    assert third.pages.get().place == Place.TWICE


def test_page_whose_paper_was_erased_leaves_nothing_and_is_looked_at_anew_if_sent_again():
    sheet()
    one = scanner.pdf(sides(NUMBER, 1), 150)
    upload = noted(received(one))
    actions.not_kept(pages=upload.pages.all())
    assert noted(received(one)).pages.get().place == Place.FOUND


def test_pages_are_taken_out_of_a_stack_nobody_has_looked_at():
    theirs, other = sheet(), sheet(OTHER)
    upload = stack(*sides(NUMBER, 1), *sides(OTHER, 1), *sides(NUMBER, 2))
    before = upload.file
    actions.take_out(upload=upload, sheets=[theirs])
    upload.refresh_from_db()
    assert upload.file != before and GoneFile.objects.filter(name=before).exists()
    assert upload.looked == upload.count
    with scans().open(upload.file) as sealed:
        content = sealed.read()
    assert [look(content, page).is_blank for page in (1, 2, 3)] == [True, False, True]
    assert [paper for paper, _ in actions.lying(upload)] == [other]
    assert set(upload.pages.filter(sheet=theirs).values_list("place", flat=True)) == {
        Place.NOT_KEPT
    }


def test_stack_without_pages_of_these_papers_is_left_as_it_is():
    theirs = sheet()
    sheet(OTHER)
    upload = stack(*sides(OTHER, 1))
    actions.take_out(upload=upload, sheets=[theirs])
    assert Upload.objects.get().file == upload.file


def test_stack_that_does_not_open_keeps_nobody_from_being_erased():
    theirs = sheet()
    upload = stack(*sides(NUMBER, 1))
    scans().path_of(upload.file).write_bytes(b"RELF and then other bytes")
    actions.take_out(upload=upload, sheets=[theirs])
    scans().delete(upload.file)
    actions.take_out(upload=upload, sheets=[theirs])
    assert not Page.objects.exists()


def test_page_is_set_aside_with_a_word_and_only_while_it_waits():
    upload = noted(stack(scanner.blank()))
    how = {"word": "blank", "by": cast.assistant(), "at": AT}
    actions.set_aside(pages=upload.pages.all(), **how)
    page = Page.objects.get()
    assert (page.place, page.word, page.placed_by) == (Place.ASIDE, "blank", cast.assistant())
    assert scans().exists(page.file)
    actions.set_aside(pages=[page], **how | {"word": "a cover"})
    actions.not_kept(pages=[page])
    with pytest.raises(Refused, match="not_waiting"):
        actions.set_aside(pages=[page], **how)


def test_paper_whose_scan_nobody_split_takes_no_further_page_by_machine():
    paper = sheet()
    upload = noted(stack(*sides(NUMBER, 1)))
    how = {"sheet": paper, "filed_at": AT, "filed_by": cast.artist()}
    Scan.objects.create(file="x", media_type="a", digest="d", size=1, **how)
    ((_, pages),) = actions.lying(upload)
    assert actions.part_clashing(sheet=paper, pages=pages) == []
    assert Page.objects.get().why == Why.ANOTHER_SCAN


def test_more_pages_than_a_stack_can_be_are_refused():
    document = pikepdf.new()
    for _ in range(actions.MOST_PAGES // 2 + 1):
        document.add_blank_page()
    out = BytesIO()
    document.save(out)
    with pytest.raises(Refused, match="too_many_pages"):
        received(out.getvalue(), out.getvalue())


def test_larger_file_is_taken_where_whoever_asks_says_so():
    content = scanner.pdf([scanner.blank()], 150)
    how = {"files": [content], "by": cast.assistant(), "at": AT}
    with pytest.raises(Refused, match="too_large"):
        actions.receive(**how, largest=len(content) - 1)
    assert actions.receive(**how, largest=len(content)).count == 1


@pytest.mark.parametrize(
    "wrong",
    [{"place": "waiting", "file": ""}, {"place": "aside", "word": ""}, {"place": "nowhere"}],
)
def test_database_itself_keeps_a_page_that_waits(wrong):
    upload = noted(stack(scanner.blank()))
    with pytest.raises(IntegrityError), transaction.atomic():
        upload.pages.update(**{"word": "", **wrong})


def test_database_itself_keeps_a_stack_that_is_not_ended():
    upload = stack(scanner.blank())
    for wrong in ({"file": ""}, {"looked": 2}):
        with pytest.raises(IntegrityError), transaction.atomic():
            Upload.objects.filter(pk=upload.pk).update(**wrong)
