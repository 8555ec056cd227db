"""What the register of papers and scans refuses."""

import pytest

from relations.documents.models import Layout, Page, Scan, Sheet, Upload
from tests.constraints import cases, constraints_of, fate, links, links_of, once_in, refused_by
from tests.rows import AT, LATER, come_back_in_order, make, twice

pytestmark = pytest.mark.django_db

NEVER = [
    ("Layout.digest", lambda: twice(Layout, digest="ab")),
    ("Sheet.serial", lambda: twice(Sheet, serial="70042-74")),
    ("sheet_serial_shape", lambda: make(Sheet, serial="70042")),
    ("sheet_serial_shape", lambda: make(Sheet, serial="7004274")),
    ("sheet_serial_shape", lambda: make(Sheet, serial="7004a-74")),
    ("sheet_serial_shape", lambda: make(Sheet, serial=" 0042-74")),
    ("sheet_serial_shape", lambda: make(Sheet, serial="٧٠٠٤٢-٧٤")),
    ("sheet_printed_has_digest", lambda: make(Sheet, printed_at=AT)),
    ("sheet_printed_has_digest", lambda: make(Sheet, digest="ab")),
    ("Scan.file", lambda: twice(Scan, file="f")),
    ("Scan.digest", lambda: twice(Scan, digest="ab")),
    ("upload_looked_at_no_more_than_it_has", lambda: make(Upload, count=1, looked=2)),
    ("upload_kept_until_ended", lambda: make(Upload, file="", ended_at=None)),
    ("page_place_known", lambda: make(Page, place="lost")),
    ("page_number_once", lambda: twice(Page, upload=make(Upload), number=1)),
    ("page_that_waits_is_kept", lambda: make(Page, place="waiting", file="")),
    ("page_set_aside_says_why", lambda: make(Page, place="aside", file="f", word="")),
]
MAY = [
    ("sheet_serial_shape", lambda: make(Sheet, serial="70042-74")),
    ("sheet_printed_has_digest", lambda: make(Sheet)),
    ("sheet_printed_has_digest", lambda: make(Sheet, digest="ab", printed_at=AT)),
    ("upload_looked_at_no_more_than_it_has", lambda: make(Upload, file="f", count=1, looked=1)),
    ("upload_kept_until_ended", lambda: make(Upload, file="", ended_at=AT)),
    ("page_place_known", lambda: make(Page, place="waiting", file="f")),
    ("page_number_once", lambda: [make(Page, number=1), make(Page, number=1)]),
    ("page_that_waits_is_kept", lambda: make(Page, place="filed", file="")),
    ("page_set_aside_says_why", lambda: make(Page, place="aside", file="f", word="a menu")),
]
LINKS = links(
    kept="Sheet.printed_by Sheet.layout Scan.sheet Scan.filed_by Upload.sent_by "
    "Page.upload Page.sheet Page.placed_by",
    cut="Page.scan",
)


@pytest.mark.parametrize(("name", "attempt"), cases(NEVER))
def test_database_refuses_what_cannot_be(name, attempt):
    with refused_by("documents", name):
        attempt()


@pytest.mark.parametrize(("name", "attempt"), cases(MAY))
def test_database_takes_what_is_near_it_and_can_be(name, attempt):
    attempt()


@pytest.mark.parametrize(("link", "expected"), LINKS)
def test_row_whose_other_end_is_deleted(link, expected):
    assert fate("documents", link) == expected


def test_no_constraint_and_no_link_is_left_out():
    assert {name for name, _ in NEVER} == constraints_of("documents") | once_in("documents")
    assert {name for name, _ in MAY} == constraints_of("documents")
    assert {name for name, _ in LINKS} == links_of("documents")


@pytest.mark.parametrize(
    ("model", "first", "second"),
    [
        (Scan, {"filed_at": AT}, {"filed_at": LATER}),
    ],
)
def test_rows_come_back_in_their_order(model, first, second):
    assert come_back_in_order(model, first, second)


def test_sheet_is_called_by_its_serial():
    assert str(make(Sheet, serial="70042-74")) == "70042-74"
