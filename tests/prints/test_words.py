"""Every state of a print, every step and every promise has its words."""

from relations.prints import lab, words
from relations.prints.models import PromiseKind
from relations.prints.promises import Otherwise
from relations.prints.rules import ENDINGS, Answered, Facts, PrintState, may_move


def test_every_state_has_a_name_a_sentence_with_its_day_and_a_press():
    for table in (words.STATES, words.SAYS, words.STEPS):
        assert set(table) == set(PrintState)
    assert all("%(day)s" in str(said) for said in words.SAYS.values())


def test_every_refusal_of_a_step_has_its_words():
    codes = {
        code
        for old in PrintState
        for new in PrintState
        for facts in (Facts(), Facts(rounds=2, asked_this_trip=True, is_left_alone=True))
        for code in may_move(old, new, facts)
    }
    assert codes <= set(words.REFUSED)


def test_every_promise_and_every_ending_has_its_words():
    assert set(words.PROMISES) == set(PromiseKind)
    assert set(words.ENDINGS) == set(ENDINGS)
    assert set(words.ANSWERS) == set(Answered)


def test_everything_about_the_lab_has_its_words():
    for table, codes in (
        (words.WHY_NOW, lab.Why),
        (words.CAME, ["", *lab.Came]),
        (words.FAULTS, lab.Fault),
        (words.SURFACES, lab.Surface),
        (words.UNUSUAL, lab.Unusual),
    ):
        assert set(table) == set(codes)
        assert len({str(said) for said in table.values()}) == len(table)


def test_every_way_to_end_otherwise_has_its_words():
    assert set(words.CLOSED_HOW) == {*ENDINGS, "apology", "lost"}
    assert set(words.OTHERWISE) == set(words.OTHERWISE_SAYS) == set(Otherwise)
    assert {"ended_already", "ended_before", "why"} <= set(words.REFUSED)
