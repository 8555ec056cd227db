"""One level of access with a clear day for each picture; the latest of its sitters' days counts."""

from datetime import date

import pytest

from relations.consent.answers import Code, Reason, judged
from relations.consent.values import Form, Person, Use
from relations.rights.deposit import Entry, Level, closed_until, entry, shown_count

ON, SOON, LATER = date(2026, 11, 23), date(2030, 1, 1), date(2040, 1, 1)


def person(code="07", first_day=None, uses=(Use.ARCHIVE,), **rest):
    said = {"is_filed": True, "is_read": True, "is_complete": True, **rest}
    form = Form(ON, frozenset({"S"}), frozenset(uses), first_day=first_day, **said)
    return Person(code, forms=(form,))


def answer(stops=(), conditions=()):
    reasons = [tuple(Reason("07", code) for code in codes) for codes in (stops, conditions)]
    return judged(*reasons, None)


def test_latest_day_of_all_sitters_counts():
    people = [person("07", SOON), person("12", LATER), person("19")]
    assert closed_until(people) == LATER
    assert closed_until([person()]) is None
    assert entry("K07", answer([Code.TOO_EARLY]), people, ON) == Entry(
        "K07", Level.CLOSED_UNTIL, LATER
    )


@pytest.mark.parametrize("rest", [{"is_filed": False}, {"is_read": False}, {"uses": (Use.BOOK,)}])
def test_day_of_a_form_that_opens_no_archive_is_none(rest):
    assert closed_until([person("07", LATER, **rest)]) is None


def test_open_where_everybody_says_yes_from_now_on():
    for first_day in (None, date(2020, 1, 1), ON):
        assert entry("K07", answer(), [person("07", first_day)], ON) == Entry("K07", Level.OPEN)


@pytest.mark.parametrize(
    "stops", [[Code.USE], [Code.NO_FORM], [Code.STRANGER], [Code.TOO_EARLY, Code.WITHDRAWN]]
)
def test_anything_else_that_stands_against_it_leaves_it_out(stops):
    assert entry("K07", answer(stops), [person("07", LATER)], ON) is None


def test_too_early_without_a_day_that_anybody_named_is_left_out():
    assert entry("K07", answer([Code.TOO_EARLY]), [person()], ON) is None


def test_a_condition_closes_it_until_each_was_asked_again():
    found = answer(conditions=[Code.CHECK_IN])
    assert entry("K07", found, [person()], ON) == Entry("K07", Level.ASK_AGAIN)
    assert entry("K07", found, [person("07", LATER)], ON) == Entry("K07", Level.ASK_AGAIN, LATER)


@pytest.mark.parametrize(("count", "shown"), [(0, 0), (1, None), (4, None), (5, 5), (60, 60)])
def test_few_forms_are_no_number(count, shown):
    assert shown_count(count) == shown
