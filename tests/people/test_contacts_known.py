"""What the register knows of a file's numbers: whose they are, and which may not be rung."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from relations.people import actions
from relations.people.contacts import Entry, look
from relations.people.contacts_known import Seen, seen
from relations.people.models import NeverRing
from tests import cast

pytestmark = pytest.mark.django_db


def shown(*entries: Entry) -> list[Seen]:
    return seen(look(entries, "FR"), "FR")


def test_a_number_is_shown_with_whose_it_is_and_that_the_file_has_it_twice() -> None:
    cast.marcel()
    first, second, third = shown(
        Entry("Nour", ("04 65 71 00 01",)),
        Entry("Lia", ("+33 4 65 71 00 01 ext. 4",)),
        Entry("Awa", ("06",)),
    )
    assert (first.numbers[0].shown, first.numbers[0].whose) == ("+33 4 65 71 00 01", ("01",))
    assert (first.numbers[0].is_shared, second.numbers[0].is_shared) == (True, True)
    number = third.numbers[0]
    assert (number.shown, number.problem, number.whose, number.is_shared) == (
        *("06", "too_short", (), False),
    )
    assert [one.refused for one in (first, second, third)] == ["", "", ""]


def test_a_line_is_refused_wherever_in_it_a_number_stands_that_may_not_be_rung() -> None:
    marcel = cast.marcel()
    actions.never_ring(person=marcel, by=cast.artist(), at=cast.moment())
    found = shown(
        Entry("Nour", ("06 39 98 00 51", "0465710001")),
        Entry("Lia", ("home 04 65 71 00 01 or so",)),
        Entry("Awa", (), "ring 04 65 71 00 01"),
        Entry("Bruno", ("06 39 98 00 52",), "met 2026"),
    )
    assert [one.refused for one in found] == ["never_ring"] * 3 + [""]
    NeverRing.objects.update(undone_at=cast.moment())
    assert {one.refused for one in shown(Entry("Nour", ("0465710001",)))} == {""}


def test_on_a_shared_line_it_is_refused_once_nobody_knows_who_asked() -> None:
    """As `queries.may_not_be_rung` has it for somebody new."""
    marcel, nour = cast.marcel(), cast.person("51", "Nour")
    cast.line(nour, "04 65 71 00 01")
    marcel.lines.update(is_shared=True)
    laid = actions.never_ring(person=marcel, by=cast.artist(), at=cast.moment())
    assert not laid.whole_number
    assert shown(Entry("Lia", ("0465710001",)))[0].refused == ""
    NeverRing.objects.update(who=None)
    assert shown(Entry("Lia", ("0465710001",)))[0].refused == "never_ring"


def test_two_questions_are_asked_however_many_lines() -> None:
    lines = look([Entry(f"A{at}", (f"06 39 98 00 {at}",)) for at in range(40, 60)], "FR")
    with CaptureQueriesContext(connection) as asked:
        assert len(seen(lines, "FR")) == 20
    assert len(asked) == 2
