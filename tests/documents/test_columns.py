from dataclasses import replace

import pytest

from relations.documents.columns import (
    ClausesDifferError,
    Column,
    MarkupError,
    PaperClause,
    clauses,
    labelled,
    line,
)

CLAUSES = (PaperClause("one", 1, "One", "First."), PaperClause("two", 2, "Two", "Second."))
ENGLISH = Column("en", CLAUSES, {"page_of": "side {page} of {pages}", "way_signed": "signed"})
ARABIC = replace(ENGLISH, lang="ar", labels={"page_of": "{page}/{pages}", "way_signed": "موقّع"})


def test_a_column_knows_which_way_it_runs_and_how_it_counts_pages():
    assert (ENGLISH.direction, ARABIC.direction) == ("ltr", "rtl")
    assert ENGLISH.page_words(1, 2) == "side 1 of 2"


def test_a_line_says_the_same_in_both_columns():
    [said] = labelled((ENGLISH, ARABIC), "way_", ["signed"])
    assert [(cell.lang, cell.order, cell.words) for cell in said.cells] == [
        ("en", "first", "signed"),
        ("ar", "second", "موقّع"),
    ]
    assert line((ENGLISH, ARABIC), "x", [("a", "more"), ("b", "")]).first.more == "more"


def test_clauses_are_paired_by_key_in_the_order_asked():
    paired = clauses((ENGLISH, ARABIC), ("one", "two"))
    assert [said.code for said in paired.values()] == ["1", "2"]
    assert paired["two"].second.more == "Second."


@pytest.mark.parametrize(
    "other",
    [CLAUSES[:1], CLAUSES[::-1], (CLAUSES[0], CLAUSES[1]._replace(number=3))],
    ids=["one less", "another order", "another number"],
)
def test_columns_that_do_not_hold_the_same_clauses_are_refused(other):
    with pytest.raises(ClausesDifferError):
        clauses((ENGLISH, replace(ARABIC, clauses=other)), ("one", "two"))


def test_a_clause_that_the_paper_has_no_place_for_is_refused():
    with pytest.raises(ClausesDifferError):
        clauses((ENGLISH, ARABIC), ("one",))


@pytest.mark.parametrize(
    "changed",
    [
        {"heading": "<b>"},
        {"labels": {"page_of": "a < b"}},
        {"clauses": (PaperClause("one", 1, "<i", "x"),)},
        {"clauses": (PaperClause("one", 1, "x", "x<!--"),)},
    ],
)
def test_words_that_could_be_markup_are_refused(changed):
    with pytest.raises(MarkupError):
        replace(ENGLISH, **changed)
