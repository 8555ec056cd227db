"""What is open is asked, with the day that makes it a question; nothing is guessed."""

from datetime import date

from relations.people.rules import ends
from relations.people.values import Precision, Refusal
from relations.referrals.graph import ARTIST, WITHHELD, Word, web
from relations.referrals.questions import Ask, Hearing, questions

NOT_SAT = (Refusal.INTRODUCER_HAS_NOT_SAT,)


def hearing(person, source, on, precision=Precision.DAY):
    return Hearing(f"{person}<{source}", person, source, on, ends(on, precision), precision)


def asked(*heard, refused=None, outside=()):
    """What is asked of these hearings, each as who told us of whom, and on which day."""
    words = [
        Word(
            one.person,
            "" if one.source == WITHHELD else one.source,
            one.first,
            number,
            is_withheld=one.source == WITHHELD,
        )
        for number, one in enumerate(heard)
    ]
    found = questions(web(words, outside), heard, refused or {})
    return [(one.ask, one.hearing.key, one.reached_on) for one in found]


def day(number, month=3):
    return date(2026, month, number)


def test_word_of_somebody_reached_only_later_is_asked_about_with_their_day():
    start, late = hearing("A", ARTIST, day(1)), hearing("B", ARTIST, day(20))
    early = hearing("C", "B", day(10))
    assert asked(start, late, early) == [(Ask.TOO_EARLY, "C<B", day(20))]
    assert asked(start, late, hearing("C", "B", day(20))) == []


def test_word_of_somebody_never_reached_is_asked_about_without_a_day():
    both = hearing("A", "B", day(1)), hearing("B", "A", day(1))
    assert asked(*both) == [
        (Ask.NEVER_REACHED, "A<B", None), (Ask.NEVER_REACHED, "B<A", None),
    ]  # fmt: skip


def test_name_by_somebody_who_has_not_sat_waits_and_is_asked_once():
    start, told = hearing("28", ARTIST, day(1)), hearing("41", "28", day(2))
    assert asked(start, told, refused={told.key: NOT_SAT}) == [(Ask.HAS_NOT_SAT, "41<28", None)]
    other = hearing("41", "X2", day(3))
    refused = {told.key: NOT_SAT, other.key: ()}
    assert asked(start, told, other, refused=refused, outside=("X2",)) == []
    refused[other.key] = NOT_SAT
    again = asked(start, told, other, refused=refused, outside=("X2",))
    assert again == [(Ask.HAS_NOT_SAT, "41<X2", None)]


def test_name_refused_for_another_reason_is_no_question_of_the_web():
    told = hearing("41", ARTIST, day(2))
    assert asked(told, refused={told.key: (Refusal.NOT_ASKED_FIRST,)}) == []


def test_name_of_which_every_link_is_sealed_is_asked_about():
    sealed = hearing("41", WITHHELD, day(2))
    assert asked(sealed, refused={sealed.key: NOT_SAT}) == [(Ask.SEALED, "41<?", None)]
    own = hearing("41", ARTIST, day(3))
    assert asked(sealed, own, refused={sealed.key: NOT_SAT, own.key: ()}) == []


def test_order_within_a_month_is_assumed_only_where_something_hangs_on_it():
    start = hearing("A", ARTIST, day(1, 1))
    alone = hearing("B", "A", day(1), Precision.MONTH)
    assert asked(start, alone) == []
    beside = hearing("B", "X1", day(31))
    assert asked(start, alone, beside, outside=("X1",)) == [(Ask.ORDER, "B<A", day(1, 1))]
    after = hearing("B", "X1", day(1, 4))
    assert asked(start, alone, after, outside=("X1",)) == []


def test_order_is_assumed_where_whoever_told_us_was_reached_in_that_very_year():
    start = hearing("A", ARTIST, day(1, 1))
    told = hearing("B", "A", day(1, 1), Precision.YEAR)
    assert asked(start, told) == [(Ask.ORDER, "B<A", day(1, 1))]


def test_word_of_a_year_in_which_whoever_told_us_was_reached_may_have_been_in_time():
    start, late = hearing("A", ARTIST, day(1)), hearing("B", ARTIST, day(20))
    told = hearing("C", "B", day(1, 1), Precision.YEAR)
    assert asked(start, late, told) == [(Ask.ORDER, "C<B", day(20))]
    before = hearing("C", "B", date(2025, 1, 1), Precision.YEAR)
    assert asked(start, late, before) == [(Ask.TOO_EARLY, "C<B", day(20))]


def test_questions_come_by_kind_then_by_day():
    start, late = hearing("A", ARTIST, day(1)), hearing("B", ARTIST, day(25))
    heard = (hearing("D", "B", day(12)), hearing("C", "B", day(10)), hearing("E", "Z", day(15)))
    keys = [key for _, key, _ in asked(start, late, *heard)]
    assert keys == ["E<Z", "C<B", "D<B"]
