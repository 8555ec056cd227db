"""Every state of a print, every step and every promise has its words."""

from relations.prints import words
from relations.prints.models import PromiseKind
from relations.prints.rules import ENDINGS, Facts, PrintState, may_move


def test_every_state_has_a_name_a_sentence_with_its_day_and_a_press():
    for table in (words.STATES, words.SAYS, words.STEPS):
        assert set(table) == set(PrintState)
    assert all("%(day)s" in str(said) for said in words.SAYS.values())


def test_every_refusal_of_a_step_has_its_words():
    codes = {
        code
        for old in PrintState
        for new in PrintState
        for facts in (Facts(), Facts(rounds=2, asked_this_trip=True))
        for code in may_move(old, new, facts)
    }
    assert codes <= set(words.REFUSED)


def test_every_promise_and_every_ending_has_its_words():
    assert set(words.PROMISES) == set(PromiseKind)
    assert set(words.ENDINGS) == set(ENDINGS)
