"""A stack is read part by part, a broken page harms no other, and pages are put together again."""

import pikepdf
import pytest

from relations.documents import actions, stacks
from relations.documents.sorting import Place, Why
from relations.documents.split import Stack, look
from relations.privacy.files import scans
from tests.documents import scanner
from tests.documents.test_actions import (
    NUMBER,
    OTHER,
    noted,
    received,
    sheet,
    sides,
    stack,
)

pytestmark = pytest.mark.django_db


def test_files_sent_at_once_lie_in_one_stack_in_the_order_sent():
    pdf = scanner.pdf(sides(NUMBER, 1, 2), 150)
    photo = scanner.jpeg(sides(OTHER, 1)[0])
    upload = received(photo, pdf)
    assert upload.count == 3
    with scans().open(upload.file) as sealed:
        content = sealed.read()
    codes = [look(content, page).codes[0].text.split("/")[1:3] for page in (1, 2, 3)]
    assert codes == [[scanner.serial(OTHER), "1"], [scanner.serial(NUMBER), "1"],
                     [scanner.serial(NUMBER), "2"]]  # fmt: skip


def test_pages_of_the_tray_are_put_together_in_the_order_given():
    sheet()
    upload = noted(stack(*sides(NUMBER, 2, 1)))
    ((_, pages),) = actions.lying(upload)
    assert [page.side for page in pages] == [1, 2]
    straight = stacks.together(pages)
    actions.to_tray(pages=pages, why=Why.WHOSE)
    actions.to_tray(pages=pages, why=Why.TWO_SCANS)
    assert [page.file != "" for page in pages] == [True, True]
    with Stack(stacks.together(pages)) as again, Stack(straight) as first:
        assert len(again) == len(first) == 2
        for page in (1, 2):
            assert again.look(page).codes == first.look(page).codes


def test_page_that_does_not_open_waits_and_keeps_no_other_from_its_place(monkeypatch):
    sheet()
    upload = stack(*sides(NUMBER, 1), scanner.blank())
    picture = Stack._picture

    def breaks(self, page):
        if page == 2:
            raise pikepdf.PdfError("a stream that ends too soon")
        return picture(self, page)

    monkeypatch.setattr(Stack, "_picture", breaks)
    found = [(page.place, page.why) for page in noted(upload).pages.order_by("number")]
    assert found == [(Place.FOUND, ""), (Place.WAITING, Why.NO_CODE)]


def test_stack_is_looked_at_part_by_part_and_nothing_is_left_at_its_end():
    upload = stack(*sides(NUMBER, 1), scanner.blank(), *sides(NUMBER, 2))
    seen = stacks.look_on(upload, 2)
    assert [page.number for page in seen] == [1, 2]
    assert [bool(page.alone) for page in seen] == [False, True]
    upload = actions.note(upload=upload, seen=seen)
    assert [page.number for page in stacks.look_on(upload, 2)] == [3]
    assert stacks.look_on(noted(upload)) == []


def test_stack_that_is_one_file_alone_stays_as_it_was_cleaned():
    content = scanner.pdf([scanner.blank()], 150)
    assert stacks.joined([content]) == content
