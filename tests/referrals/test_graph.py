"""The sweep over all that was heard: days, waves, and how many came of whom."""

from datetime import date, timedelta
from random import Random

from hypothesis import assume, given
from hypothesis import strategies as some

from relations.referrals.graph import (
    ARTIST,
    WITHHELD,
    Kind,
    Link,
    Reached,
    Web,
    Word,
    came_of,
    sweep,
    told_of,
    web,
)
from tests.referrals.projects import UNTIDY, hangs_on, project

DAY = date(2024, 1, 1)


def day(number: int) -> date:
    return DAY + timedelta(days=number)


def word(person: str, introducer: str, on: int, number: int = 0) -> Word:
    return Word(person, introducer, day(on), number)


def test_own_starts_are_wave_zero_and_the_next_are_one_further() -> None:
    reached = sweep([word("A", "", 0), word("B", "A", 1), word("C", "B", 2)])
    assert reached["A"] == Reached(day(0), "", 0, line="A")
    assert reached["B"] == Reached(day(1), "A", 1, line="A")
    assert reached["C"] == Reached(day(2), "B", 2, line="A")
    assert list(reached) == ["A", "B", "C"]


def test_the_first_introduction_counts_even_where_a_later_path_is_shorter() -> None:
    long_way = [word("A", "", 0), word("B", "A", 1), word("C", "B", 2)]
    reached = sweep([*long_way, word("C", "A", 3)])
    assert (reached["C"].first, reached["C"].wave) == ("B", 2)


def test_an_own_start_counts_before_an_introduction_of_the_same_day() -> None:
    reached = sweep([word("A", "", 0), word("B", "A", 1, 0), word("B", "", 1, 1)])
    assert reached["B"] == Reached(day(1), "", 0, line="B")


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
    assert sweep([word("A", "X1", 0)], ["X1"])["A"] == Reached(day(0), "X1", 1, line="X1")


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


# --- What each hearing was, and who hangs on whom.


def kinds(*words: Word, outside: str = "") -> list[str]:
    return [link.kind.value for link in web(words, outside.split()).links]


def test_each_hearing_is_first_further_spoken_for_or_too_early() -> None:
    found = web(
        [word("A", "", 0), word("B", "A", 1), word("C", "B", 2), word("C", "A", 3, 1),
         word("A", "C", 4), word("B", "D", 5), Word("D", "X1", day(6), is_exact=False)],
        ["X1"],
    )  # fmt: skip
    assert found.links == (
        Link("", "A", day(0), Kind.FIRST),
        Link("A", "B", day(1), Kind.FIRST),
        Link("B", "C", day(2), Kind.FIRST),
        Link("A", "C", day(3), Kind.FURTHER),
        Link("C", "A", day(4), Kind.SPOKE_FOR),
        Link("D", "B", day(5), Kind.TOO_EARLY),
        Link("X1", "D", day(6), Kind.FIRST, is_exact=False),
    )


def test_two_who_told_of_each_other_are_first_and_spoken_for() -> None:
    assert kinds(word("A", "", 0), word("B", "A", 1), word("A", "B", 1, 1)) == [
        "first", "first", "spoke_for",
    ]  # fmt: skip


def test_two_who_only_told_of_each_other_were_never_reached() -> None:
    found = web([word("A", "B", 0), word("B", "A", 0, 1)])
    assert (dict(found.reached), dict(found.hanging)) == ({}, {})
    assert {link.kind for link in found.links} == {Kind.TOO_EARLY}


def test_what_somebody_says_of_themselves_is_a_question() -> None:
    found = web([word("A", "A", 0), word("A", "", 1), word("A", "A", 2)])
    assert [link.kind for link in found.links] == ["too_early", "first", "too_early"]
    assert found.beside == {"A": []}


def test_an_own_start_after_an_introduction_is_a_further_road() -> None:
    found = web([word("A", "", 0), word("B", "A", 1), word("C", "B", 2), word("C", "", 3)])
    assert found.links[-1].kind is Kind.FURTHER
    assert (hangs_on(found)["C"], found.hanging) == (ARTIST, {"A": 1})


def test_a_withheld_hearing_names_nobody_and_hangs_on_nobody() -> None:
    stub = Word("B", "A", day(2), 1, wave=4, is_withheld=True)
    found = web([word("A", "", 0), word("C", "A", 1), stub, word("D", "B", 3)])
    assert found.links[2] == Link(WITHHELD, "B", day(2), Kind.FIRST)
    assert found.reached["B"] == Reached(day(2), "", 4, True, WITHHELD)
    assert (found.reached["D"].wave, found.reached["D"].line) == (5, WITHHELD)
    assert found.hanging == {"A": 1, "B": 1}
    assert found.reached["B"].source == WITHHELD
    again = Word("C", "", day(9), 9, is_withheld=True)
    assert web([word("A", "", 0), word("C", "A", 1), again]).hanging == {}


def test_whoever_is_outside_counts_who_hangs_on_them_but_hangs_on_nobody() -> None:
    found = web([word("A", "X1", 0), word("B", "X2", 1), word("C", "A", 2), word("C", "B", 3)],
                ["X1", "X2", "X3"])  # fmt: skip
    assert found.hanging == {"X1": 1, "X2": 1}
    assert hangs_on(found) == {"A": "X1", "B": "X2", "C": ARTIST}
    assert found.told_of == {"X1": 1, "X2": 1, "A": 1}


def test_an_inexact_day_goes_along_with_how_somebody_was_reached() -> None:
    found = web([Word("A", "", date(2024, 3, 1), is_exact=False), word("B", "A", 90)])
    assert [one.is_exact for one in found.reached.values()] == [False, True]


def test_of_nobody_there_is_nothing() -> None:
    nobody = web([], ["X1"])
    assert (dict(nobody.reached), nobody.links, dict(nobody.hanging)) == ({}, (), {})
    assert (dict(nobody.beside), dict(nobody.told_of)) == ({}, {})


def test_a_long_chain_entered_backwards_on_one_day_is_one_chain() -> None:
    last = 3000
    backwards = [word(str(n), str(n + 1) if n < last else "", 0, n) for n in range(last + 1)]
    found = web(backwards)
    assert found.reached["0"].wave == last
    assert found.hanging[str(last)] == last


def test_a_day_entered_in_disorder_is_swept_again_for_the_first_that_can_be_placed() -> None:
    """C waits for B in the first sweep, and A's word of C comes in it: A counts, not B."""
    words = [word("C", "B", 1, 0), word("B", "A", 1, 1), word("C", "A", 1, 2), word("A", "", 0)]
    assert sweep(words)["C"].first == "A"
    later = [word("D", "C", 1, 0), word("D", "B", 1, 1), word("B", "A", 1, 2), word("C", "B", 1, 3)]
    assert sweep([word("A", "", 0), *later])["D"].first == "C"


def test_a_web_of_parts_made_elsewhere_shows_them_and_nothing_else() -> None:
    found = web([word("A", "", 0), word("B", "A", 1)], ["X1"])
    disguised = Web.of_parts(found.reached, found.links, found.outside, found.hanging)
    assert (disguised.reached, disguised.links) == (found.reached, found.links)
    assert (disguised.outside, disguised.hanging) == ({"X1"}, {"A": 1})
    assert (disguised.heard, disguised.beside) == ([], {})


def test_a_sealed_hearing_is_no_own_start_of_its_day() -> None:
    """C was told of by B before D was; whether B is named still changes nothing for D."""
    open_words = [
        word("A", "", 0),
        word("B", "A", 1, 1),
        word("D", "A", 2, 2),
        word("D", "B", 2, 3),
    ]
    sealed = [*open_words[:2], word("D", "A", 2, 2), Word("D", "", day(2), 3, 2, is_withheld=True)]
    assert sweep(open_words)["D"].first == sweep(sealed)["D"].first == "A"


@given(some.integers(1, 40), some.integers(0, 10_000), some.integers(0, 39))
def test_to_seal_a_hearing_moves_nobody(people: int, seed: int, which: int) -> None:
    given = project(people, seed)
    found = web(given.words)
    code, one = list(found.reached.items())[which % people]
    assume(one.first)  # an own start names nobody who could be sealed
    hearing = found.first[code]
    stub = Word(code, "", hearing.on, hearing.number, one.wave, is_withheld=True)
    again = web([stub if w is hearing else w for w in given.words])
    assert list(again.reached) == list(found.reached)
    assert [one.wave for one in again.reached.values()] == [
        one.wave for one in found.reached.values()
    ]
    assert sum(again.hanging.values()) <= sum(found.hanging.values())


def renamed(code: str) -> str:
    return f"{code[::-1]}-{code}" if code else code


@given(some.integers(0, 40), some.integers(0, 10_000))
def test_other_codes_for_the_same_people_change_nothing(people: int, seed: int) -> None:
    given = project(people, seed, UNTIDY)
    found = web(given.words, given.outside)
    others = [
        Word(renamed(w.person), renamed(w.introducer), w.on, w.number, w.wave, w.is_withheld)
        for w in given.words
    ]
    again = web(others, map(renamed, given.outside))
    assert [link.kind for link in again.links] == [link.kind for link in found.links]
    assert again.hanging == {renamed(code): count for code, count in found.hanging.items()}
    assert [one.wave for one in again.reached.values()] == [
        one.wave for one in found.reached.values()
    ]


def with_one_more(people: int, seed: int, chance: Random, *, is_later: bool) -> tuple[Web, Web]:
    """A project without and with one more hearing: of two, the one reached later tells, or not."""
    given = project(people, seed, UNTIDY)
    found = web(given.words, given.outside)
    pair = sorted(chance.sample(range(people), 2), reverse=not is_later)
    codes = list(found.reached)
    more = word(codes[pair[0]], codes[pair[1]], 9999, 9999)
    return found, web([*given.words, more], given.outside)


@given(some.integers(2, 40), some.integers(0, 10_000), some.randoms(use_true_random=False))
def test_who_speaks_for_somebody_reached_before_moves_nobody(
    people: int, seed: int, chance: Random
) -> None:
    found, again = with_one_more(people, seed, chance, is_later=True)
    assert again.links[-1].kind is Kind.SPOKE_FOR
    assert (again.reached, hangs_on(again)) == (found.reached, hangs_on(found))


@given(some.integers(2, 40), some.integers(0, 10_000), some.randoms(use_true_random=False))
def test_a_further_road_never_makes_more_hang_on_others(
    people: int, seed: int, chance: Random
) -> None:
    found, again = with_one_more(people, seed, chance, is_later=False)
    assert again.links[-1].kind is Kind.FURTHER
    assert again.reached == found.reached
    assert sum(again.hanging.values()) <= sum(found.hanging.values())
