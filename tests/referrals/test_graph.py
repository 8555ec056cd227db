"""The sweep over all that was heard: days, waves, and how many came of whom."""

from datetime import date, timedelta
from random import Random

from hypothesis import given
from hypothesis import strategies as some

from relations.referrals.graph import Reached, Word, came_of, sweep, told_of

DAY = date(2024, 1, 1)


def day(number: int) -> date:
    return DAY + timedelta(days=number)


def word(person: str, introducer: str, on: int, number: int = 0) -> Word:
    return Word(person, introducer, day(on), number)


def test_own_starts_are_wave_zero_and_the_next_are_one_further() -> None:
    reached = sweep([word("A", "", 0), word("B", "A", 1), word("C", "B", 2)])
    assert reached["A"] == Reached(day(0), "", 0)
    assert reached["B"] == Reached(day(1), "A", 1)
    assert reached["C"] == Reached(day(2), "B", 2)
    assert list(reached) == ["A", "B", "C"]


def test_the_first_introduction_counts_even_where_a_later_path_is_shorter() -> None:
    long_way = [word("A", "", 0), word("B", "A", 1), word("C", "B", 2)]
    reached = sweep([*long_way, word("C", "A", 3)])
    assert (reached["C"].first, reached["C"].wave) == ("B", 2)


def test_an_own_start_counts_before_an_introduction_of_the_same_day() -> None:
    reached = sweep([word("A", "", 0), word("B", "A", 1, 0), word("B", "", 1, 1)])
    assert reached["B"] == Reached(day(1), "", 0)


def test_a_chain_entered_backwards_on_one_day_is_still_a_chain() -> None:
    backwards = [word("D", "C", 1, 0), word("C", "B", 1, 1), word("B", "A", 1, 2)]
    reached = sweep([word("A", "", 0), *backwards])
    assert [reached[code].wave for code in "BCD"] == [1, 2, 3]


def test_of_two_on_one_day_the_one_entered_first_counts() -> None:
    starts = [word("A", "", 0, 0), word("B", "", 0, 1)]
    reached = sweep([*starts, word("C", "B", 1, 2), word("C", "A", 1, 3)])
    assert reached["C"].first == "B"


def test_who_was_reached_after_the_person_did_not_reach_them() -> None:
    reached = sweep([word("B", "A", 0), word("A", "", 5)])
    assert "B" not in reached
    assert reached["A"].wave == 0


def test_somebody_outside_is_there_from_the_beginning() -> None:
    assert sweep([word("A", "X1", 0)], ["X1"])["A"] == Reached(day(0), "X1", 1)


def test_an_erased_link_keeps_its_wave() -> None:
    stub = Word("A", "", day(0), wave=3, is_withheld=True)
    reached = sweep([stub, word("B", "A", 1)])
    assert (reached["A"].wave, reached["A"].is_withheld) == (3, True)
    assert reached["B"].wave == 4
    unknown = Word("C", "", day(0), is_withheld=True)
    assert sweep([unknown])["C"].wave == 0


def test_who_told_of_whom_is_counted_directly_and_all_the_way() -> None:
    reached = sweep([word("A", "", 0), word("B", "A", 1), word("C", "B", 2), word("D", "B", 3)])
    assert told_of(reached) == {"A": 1, "B": 2}
    assert came_of(reached) == {"A": 3, "B": 2}


def a_project(seed: int) -> list[Word]:
    """People 0..19, each told of by somebody entered before, on rising days."""
    chance = Random(seed)
    return [
        word(str(n), str(chance.randrange(n)) if n and chance.random() < 0.8 else "", n // 3, n)
        for n in range(20)
    ]


@given(some.integers(0, 10_000), some.randoms(use_true_random=False))
def test_the_order_in_which_rows_are_read_changes_nothing(seed: int, chance: Random) -> None:
    words = a_project(seed)
    shuffled = list(words)
    chance.shuffle(shuffled)
    assert sweep(shuffled) == sweep(words)


@given(some.integers(0, 10_000))
def test_a_later_introduction_moves_nobody(seed: int) -> None:
    words = a_project(seed)
    reached = sweep(words)
    later = [word(str(n), str((n + 7) % 20), 50, 100 + n) for n in range(20)]
    assert sweep([*words, *later]) == reached


@given(some.integers(0, 10_000))
def test_everybody_came_of_an_own_start_or_is_one(seed: int) -> None:
    reached = sweep(a_project(seed))
    starts = [code for code, one in reached.items() if not one.first]
    assert len(starts) + sum(came_of(reached)[code] for code in starts) == 20
