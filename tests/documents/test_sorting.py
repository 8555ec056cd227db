"""A page belongs where its code says, to a person's eyes where it says nothing or two things."""

import pytest

from relations.documents.qr import PageCode
from relations.documents.sorting import Judged, Why, clashes, is_beside, judge, missing
from tests.documents.scanner import KEY, payload, serial

OLD = bytes(32)
NUMBER = 70_042
PAGE = PageCode("F", serial(NUMBER), 1, "A7")


def said(*texts, is_blank=False, is_torn=False, keys=(KEY,)):
    return judge(texts, is_blank=is_blank, is_torn=is_torn, keys=keys)


def test_page_is_known_by_either_of_its_codes_and_by_both():
    text = payload(NUMBER, 1)
    assert said(text) == said(text, text) == Judged(PAGE, None)
    assert said("HTTPS://EXAMPLE.ORG", text) == Judged(PAGE, None)


def test_page_printed_before_a_rekey_is_known_by_an_earlier_key():
    text = payload(NUMBER, 1, OLD)
    assert said(text) == Judged(None, Why.FOREIGN)
    assert said(text, keys=(KEY, OLD)) == Judged(PAGE, None)


@pytest.mark.parametrize(
    ("texts", "how", "why"),
    [
        ((), {"is_blank": True}, Why.BLANK),
        ((), {}, Why.NO_CODE),
        ((), {"is_torn": True}, Why.TORN),
        (("HTTPS://EXAMPLE.ORG",), {"is_torn": True}, Why.NO_CODE),
        ((payload(NUMBER, 1, OLD),), {}, Why.FOREIGN),
        ((payload(NUMBER, 1)[:-1] + "A",), {}, Why.FOREIGN),
        ((payload(NUMBER, 1), payload(70_043, 1)), {}, Why.TWO_PAPERS),
        ((payload(NUMBER, 1), payload(NUMBER, 2)), {}, Why.TWO_PAPERS),
    ],
)
def test_page_that_cannot_be_placed_says_why(texts, how, why):
    assert said(*texts, **how) == Judged(None, why)


def test_stop_card_under_the_serial_of_a_form_is_not_the_form():
    assert not is_beside(PAGE, "form")
    assert is_beside(PageCode("C", PAGE.serial, 1, "A7"), "form")
    assert not is_beside(PageCode("D", PAGE.serial, 1, "A7"), "order"), "a kind without letter"


def test_missing_sides_are_named_in_order():
    assert missing(4, [3, 1, 1]) == (2, 4)
    assert missing(2, [1, 2]) == ()
    assert missing(2, []) == (1, 2)


def test_sides_that_are_here_twice_ask_a_person_and_the_others_do_not():
    assert clashes({"a": 1, "b": 2}, []) == {}
    assert clashes({"a": 1, "b": 1, "c": 2}, []) == {"a": Why.TWO_SCANS, "b": Why.TWO_SCANS}
    assert clashes({"a": 1, "b": 2}, [2]) == {"b": Why.ANOTHER_SCAN}
    assert clashes({"a": 1, "b": 1}, [1]) == dict.fromkeys("ab", Why.ANOTHER_SCAN)
