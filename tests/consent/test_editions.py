"""Whether a form may be printed in two languages, and who may approve what, as rules on paper."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.consent.editions import (
    Reading,
    Stand,
    Text,
    approval_codes,
    behind,
    pair_codes,
    printing_codes,
    reader_codes,
    reading_codes,
)
from relations.consent.values import ClauseState

APPROVED = ClauseState.APPROVED
FR = Text("fr", True, 1, {"who": Stand(1, APPROVED, 1), "stop": Stand(2, APPROVED, 3)})
AR = replace(FR, language="ar")
MAY = Reading(
    is_frozen=False,
    knows_language=True,
    wrote_it=False,
    has_read_back=True,
    was_sent_back=False,
    is_behind=False,
)


def with_clause(text, name, stand):
    return replace(text, clauses={**text.clauses, name: stand})


def test_two_languages_read_on_the_same_edition_may_be_printed():
    assert printing_codes(FR, AR) == ()


@pytest.mark.parametrize("state", [state for state in ClauseState if state != APPROVED])
def test_one_clause_that_waits_stops_the_paper(state):
    unread = with_clause(AR, "who", Stand(1, state, 1))
    assert printing_codes(FR, unread) == ("second_unread",)
    assert printing_codes(unread, FR) == ("first_unread",)
    assert printing_codes(unread, unread) == ("first_unread", "second_unread")


def test_wording_that_nobody_froze_is_not_read():
    assert printing_codes(replace(FR, is_frozen=False), AR) == ("first_unread",)


def test_wording_without_a_clause_is_not_read():
    assert not replace(FR, clauses={}).is_ready


@pytest.mark.parametrize(
    "other",
    [
        with_clause(AR, "who", Stand(1, APPROVED, 2)),
        with_clause(AR, "stop", Stand(2, APPROVED, 2)),
        replace(AR, lines_edition=2),
    ],
)
def test_two_languages_read_on_two_editions_are_not_printed(other):
    assert printing_codes(FR, other) == printing_codes(other, FR) == ("editions_differ",)
    assert pair_codes(FR, other) == ()


@pytest.mark.parametrize(
    ("other", "code"),
    [
        (FR, "same_language"),
        (with_clause(AR, "day", Stand(3, APPROVED, 1)), "clauses_differ"),
        (with_clause(AR, "stop", Stand(5, APPROVED, 3)), "clauses_differ"),
    ],
)
def test_wordings_that_do_not_belong_together_make_not_even_a_proof(other, code):
    assert pair_codes(FR, other) == printing_codes(FR, other) == (code,)


def test_second_person_who_knows_the_language_may_approve_what_was_said_back():
    assert approval_codes(MAY) == reading_codes(MAY) == reader_codes(MAY) == ()


@pytest.mark.parametrize(
    ("changed", "codes"),
    [
        ({"is_frozen": True}, ("frozen",)),
        ({"knows_language": False}, ("not_your_language",)),
        ({"wrote_it": True}, ("same_person",)),
        ({"knows_language": False, "wrote_it": True}, ("not_your_language", "same_person")),
        ({"was_sent_back": True, "is_behind": True}, ("sent_back",)),
        ({"is_behind": True, "has_read_back": False}, ("source_moved",)),
        ({"has_read_back": False}, ("not_read_back",)),
    ],
)
def test_clause_is_not_approved_where_anything_is_missing(changed, codes):
    assert approval_codes(replace(MAY, **changed)) == codes


def test_nobody_reads_back_what_is_to_be_written_anew_but_may_send_back_what_is_late():
    assert reading_codes(replace(MAY, is_behind=True)) == ("source_moved",)
    assert reading_codes(replace(MAY, was_sent_back=True)) == ("sent_back",)
    assert reader_codes(replace(MAY, is_behind=True, was_sent_back=True)) == ()
    assert reading_codes(replace(MAY, has_read_back=False)) == ()


def test_clause_that_follows_another_edition_is_behind():
    own = {"who": 2, "stop": 1}
    assert behind({"who": 1, "stop": 1, "more": 7}, own) == {"who"}
    assert behind(own, own) == behind(own, {}) == frozenset()


@given(st.tuples(*[st.booleans()] * 6))
def test_approval_needs_every_one_of_its_conditions(facts):
    said = Reading(*facts)
    assert (approval_codes(said) == ()) == (said == MAY)
