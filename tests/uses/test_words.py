"""Every code has its words, in one place."""

from relations.consent.answers import Code, NextAction
from relations.consent.values import Use
from relations.uses import rules, words


def test_every_reason_has_a_sentence_and_a_next_action():
    assert set(words.REASONS) == set(Code)
    for said in words.REASONS.values():
        assert str(said.reason).endswith(".")
        assert str(said.next).endswith((".", "them."))


def test_every_next_action_and_every_force_has_its_heading():
    assert set(words.ACTIONS) == set(NextAction)
    assert set(words.FORCES) == set(rules.Force)


def test_every_line_to_undo_has_its_sentence():
    from datetime import UTC, datetime

    at = datetime(2026, 11, 23, 8, tzinfo=UTC)
    books = [rules.ShownUse("book", press_on=at.date().replace(year=year)) for year in (2025, 2027)]
    uses = [*books, *(rules.ShownUse(use) for use in Use if use != "book")]
    found = {
        line.code
        for use in uses
        for risk in ("ordinary", "grave")
        for line in rules.undo_lines(use, at, risk)
    }
    assert found == set(words.UNDO)


def test_a_question_stands_where_an_answer_stands():
    assert set(words.MAY) == set(words.ASKS) == set(Use)


def test_every_kind_of_use_has_a_word_of_the_trade_of_its_own():
    assert len(Use) == 11
    for table in (words.THIS, words.BEGINS, words.MAY, words.ASKS):
        assert set(table) == set(Use)
        assert len({str(word) for word in table.values()}) == 11
