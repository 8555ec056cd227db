"""Every code of the introductions has its words."""

from relations.people.values import LinkOver
from relations.referrals import words
from relations.referrals.graph import Kind
from relations.referrals.questions import Ask


def test_every_code_has_words():
    assert set(words.KINDS) == set(Kind)
    assert set(words.OVER) == set(LinkOver)
    assert set(words.ASKED) == set(words.SETTLES) == set(Ask)
