"""The numbers that leave the house: blocks of five, and nothing smaller between two drawings."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.referrals.blocks import down, held, say
from relations.referrals.said import Block, Row, Said

GROUPS = "abcd"
FIRST = 4040  # a half-year
# What happens between two drawings: people of a group, and the half-year they were reached in.
came = st.tuples(st.sampled_from(GROUPS), st.integers(FIRST, FIRST + 9), st.integers(1, 7))
batches = st.lists(st.lists(came, max_size=8), min_size=2, max_size=6)
Person = tuple[str, int, int]


def counted(people: Iterable[Person]) -> Counter[tuple[str, int]]:
    return Counter((group, half) for group, half, _ in people)


def a_row(group: str, *blocks: tuple[int, int, int], since: int = 0) -> Row:
    return Row(tuple(group), tuple(Block(*block) for block in blocks), since)


def growing(batches: Sequence[Sequence[tuple[str, int, int]]]) -> list[set[Person]]:
    """Who has been reached at each drawing; the first has the fewest that are needed."""
    found = [{("a", FIRST + number % 3, number) for number in range(30)}]
    for number, batch in enumerate(batches):
        new = {
            (group, half, 1000 * number + 10 * at + one)
            for at, (group, half, many) in enumerate(batch, start=100)
            for one in range(many)
        }
        found.append(found[-1] | new)
    return found


def of_row(row: Row, said: Said, people: set[Person]) -> set[Person]:
    """Who counts in a row, worked out apart: alone from a half-year on, or joined."""
    alone = {one.groups[0]: one.since for one in said.rows if one.since}
    if row.since:
        return {one for one in people if one[0] == row.groups[0] and one[1] >= row.since}
    return {
        one for one in people
        if one[0] in row.groups and not (one[0] in alone and one[1] >= alone[one[0]])
    }  # fmt: skip


def within(block: Block, people: Iterable[Person]) -> set[Person]:
    return {one for one in people if block.first <= one[1] <= block.last}


def drawings(reached: Sequence[set[Person]]) -> list[Said]:
    found = [say(counted(reached[0]))]
    for people in reached[1:]:
        found.append(say(counted(people), found[-1]))
    return found


def behind(drawn: Sequence[Said], reached: Sequence[set[Person]]) -> list[list[set[Person]]]:
    """The people behind each block of each drawing: a held number stays with those of before."""
    found: list[list[set[Person]]] = []
    kept: dict[tuple[tuple[str, int], int, int], tuple[int, set[Person]]] = {}
    for said, people in zip(drawn, reached, strict=True):
        now = {}
        for row in said.rows:
            for block in row.blocks:
                place = (row.name, block.first, block.last)
                count, those = kept.get(place, (0, set()))
                if count != block.count:
                    those = within(block, of_row(row, said, people))
                assert len(those) == block.count
                now[place] = block.count, those
        kept = now
        found.append([those for _, those in now.values()])
    return found


def numbers(said: Said) -> list[int]:
    return [block.count for row in said.rows for block in row.blocks]


def moves(before: Said, after: Said) -> list[int]:
    """By how much each block of the later drawing differs from those it was drawn over."""
    old = {row.name: row for row in before.rows}
    found, seen = [], set()
    for row in after.rows:
        for block in row.blocks:
            over = [
                one for one in old.get(row.name, Row(row.groups)).blocks
                if block.first <= one.first and one.last <= block.last
            ]  # fmt: skip
            seen |= {(row.name, one) for one in over}
            found.append(block.count - sum(one.count for one in over))
    assert seen == {(row.name, one) for row in before.rows for one in row.blocks}
    return found


@given(batches)
def test_no_algebra_of_all_drawings_of_a_growing_project_singles_out_fewer_than_five(batches):
    """Every set that the drawings speak of, cut by every other: all parts have five or more."""
    reached = growing(batches)
    drawn = drawings(reached)
    signs: defaultdict[Person, set[tuple[int, int]]] = defaultdict(set)
    for number, sets in enumerate(behind(drawn, reached)):
        for at, those in enumerate(sets):
            for one in those:
                signs[one].add((number, at))
    parts = Counter(frozenset(sign) for sign in signs.values())
    assert all(size >= 5 for size in parts.values()), parts


@given(batches)
def test_any_two_drawings_of_a_growing_project_leave_no_number_from_one_to_four(batches):
    drawn = drawings(growing(batches))
    for before, after in pairwise(drawn):
        assert all(move == 0 or move >= 5 for move in moves(before, after))
    for before, after in combinations(drawn, 2):
        assert after.people == before.people or after.people - before.people >= 5
    assert all(number >= 5 for said in drawn for number in numbers(said))


@given(batches)
def test_what_is_said_is_never_more_than_true_and_is_true_the_first_time(batches):
    reached = growing(batches)
    drawn = drawings(reached)
    assert drawn[0].people == 30
    assert all(said.people <= len(people) for said, people in zip(drawn, reached, strict=True))
    whole = say(counted(reached[-1]))
    assert whole.people == len(reached[-1])
    assert min(numbers(whole)) >= 5


@given(batches, st.lists(st.integers(0, 60), min_size=2, max_size=6), st.randoms())
def test_no_union_of_blocks_moves_by_less_than_five_when_people_leave_and_change_groups(
    batches, leaving, random
):
    people, said = growing(batches[:1])[-1], None
    for batch, many in zip(batches, leaving, strict=False):
        now = say(counted(people), said or Said())
        for total in _unions(moves(said, now) if said else []):
            assert total == 0 or abs(total) >= 5
        assert all(number == 0 or number >= 5 for number in numbers(now))
        said = now
        gone = random.sample(sorted(people), min(many, len(people)))
        people = people - set(gone)
        people |= {(random.choice(GROUPS), half, n) for _, half, n in gone[::2]}
        people |= {(group, half, 10_000 + n) for group, half, many in batch for n in range(many)}


def _unions(moves: Sequence[int]) -> set[int]:
    found = {0}
    for move in moves:
        found |= {move + total for total in found}
    return found


def test_half_years_are_joined_until_each_block_holds_five():
    said = say({("a", 1): 9, ("a", 2): 3, ("a", 3): 2, ("a", 6): 17, ("a", 7): 1})
    assert said.rows == (a_row("a", (1, 1, 9), (2, 3, 5), (4, 7, 18)),)
    assert said.people == 32


def test_small_groups_are_joined_and_come_last():
    said = say({("a", 5): 25, ("b", 1): 3, ("c", 2): 4})
    assert said.rows == (a_row("a", (5, 5, 25)), a_row("bc", (1, 2, 7)))
    assert [row.is_joined for row in said.rows] == [False, True]


def test_a_group_too_small_even_so_is_joined_with_the_smallest():
    said = say({("a", 5): 25, ("b", 1): 6, ("c", 2): 4})
    assert said.rows == (a_row("a", (5, 5, 25)), a_row("bc", (1, 2, 10)))


@pytest.mark.parametrize(("people", "about"), [(0, 0), (4, 0), (5, 5), (28, 25), (29, 25)])
def test_under_thirty_people_only_a_rounded_total_is_said(people, about):
    said = say({("a", 1): people}, within=12, across=8)
    assert said == Said(about=about)
    assert said.people == 0


def test_once_blocks_were_said_they_stay_though_the_project_is_small_again():
    before = say({("a", 1): 30})
    assert say({("a", 1): 20}, before).rows == (a_row("a", (1, 1, 20)),)


def test_within_and_across_are_rounded_down():
    said = say({("a", 1): 30}, within=14, across=4)
    assert (said.within, said.across) == (10, 0)
    assert down(15) == 15


def test_within_and_across_stay_as_they_were_while_the_blocks_do():
    before = say({("a", 1): 30}, within=14, across=4)
    assert say({("a", 1): 31}, before, within=15, across=5) == before
    after = say({("a", 1): 35}, before, within=18, across=5)
    assert (after.within, after.across) == (15, 5)


@pytest.mark.parametrize(
    ("said", "true", "now"),
    [(9, 9, 9), (9, 13, 9), (9, 14, 14), (9, 5, 9), (12, 7, 7), (9, 4, 0), (9, 0, 0), (5, 1, 5),
     (0, 4, 0), (0, 5, 5)],
)  # fmt: skip
def test_a_number_is_held_until_five_came_or_left(said, true, now):
    assert held(said, true) == now


def test_people_of_a_block_that_is_closed_wait_until_they_are_five():
    before = say({("a", 1): 30})
    assert say({("a", 1): 34}, before) == before
    assert say({("a", 1): 35}, before).rows == (a_row("a", (1, 1, 35)),)


def test_the_next_half_years_open_a_block_or_lengthen_the_last_or_wait():
    before = say({("a", 3): 30})
    assert say({("a", 3): 30, ("a", 4): 4}, before) == before
    longer = say({("a", 3): 32, ("a", 4): 3}, before)
    assert longer.rows == (a_row("a", (3, 4, 35)),)
    assert say({("a", 3): 30, ("a", 5): 5}, before).rows == (a_row("a", (3, 3, 30), (4, 5, 5)),)


def test_an_earlier_day_that_is_known_late_opens_a_block_or_lengthens_the_first_or_waits():
    before = say({("a", 3): 30})
    assert say({("a", 3): 30, ("a", 1): 4}, before) == before
    assert say({("a", 3): 31, ("a", 1): 4}, before).rows == (a_row("a", (1, 3, 35)),)
    assert say({("a", 3): 30, ("a", 1): 6}, before).rows == (a_row("a", (1, 2, 6), (3, 3, 30)),)


def test_a_new_small_group_waits_and_joins_others_once_they_are_five():
    before = say({("a", 1): 30})
    assert say({("a", 1): 30, ("b", 1): 4}, before) == before
    joined = say({("a", 1): 30, ("b", 1): 4, ("c", 1): 2}, before)
    assert joined.rows == (a_row("a", (1, 1, 30)), a_row("bc", (1, 1, 6)))
    more = {("a", 1): 30, ("b", 1): 4, ("c", 1): 2, ("d", 1): 4}
    assert say(more, joined) == joined
    more |= {("d", 1): 3, ("e", 1): 3}
    assert say(more, joined).rows[-1] == a_row("bcde", (1, 1, 12))


def test_a_new_group_of_five_has_its_row():
    before = say({("b", 2): 30})
    after = say({("b", 2): 30, ("a", 1): 5}, before)
    assert after.rows == (a_row("a", (1, 1, 5)), a_row("b", (2, 2, 30)))


def test_a_joined_group_stands_alone_for_whoever_comes_after_what_was_said():
    before = say({("a", 1): 25, ("b", 1): 3, ("c", 1): 2})
    counts = {("a", 1): 25, ("b", 1): 3, ("c", 1): 2, ("b", 2): 6, ("c", 2): 1}
    parted = say(counts, before)
    assert parted.rows == (
        a_row("a", (1, 1, 25)), a_row("b", (2, 2, 6), since=2), a_row("bc", (1, 1, 5)),
    )  # fmt: skip
    later = say(counts | {("b", 1): 8, ("b", 2): 11, ("c", 2): 4}, parted)
    assert later.rows == (
        a_row("a", (1, 1, 25)), a_row("b", (2, 2, 11), since=2), a_row("bc", (1, 2, 14)),
    )  # fmt: skip


def test_who_left_is_said_to_be_gone_once_they_are_five_and_a_block_may_empty():
    before = say({("a", 1): 30, ("b", 1): 9})
    assert say({("a", 1): 26, ("b", 1): 9}, before) == before
    emptied = say({("a", 1): 20, ("b", 1): 3}, before)
    assert emptied.rows == (a_row("a", (1, 1, 20)), a_row("b", (1, 1, 0)))
    assert say({("a", 1): 20}, emptied) == emptied


def test_six_who_change_their_group_are_said_at_once():
    before = say({("a", 1): 30, ("", 1): 6})
    assert say({("a", 1): 36}, before).rows == (
        Row(("",), (Block(1, 1, 0),)),
        a_row("a", (1, 1, 36)),
    )


def test_where_coming_and_leaving_would_leave_one_only_the_greater_is_said():
    before = say({("a", 1): 30, ("b", 1): 6})
    assert say({("a", 1): 37}, before).rows == (a_row("a", (1, 1, 37)), a_row("b", (1, 1, 6)))
    before = say({("a", 1): 30, ("b", 1): 40})
    less = say({("a", 1): 35, ("b", 1): 34}, before)
    assert less.rows == (a_row("a", (1, 1, 30)), a_row("b", (1, 1, 34)))
    assert say({("a", 1): 35, ("b", 1): 34}, less).people == 69


def test_sixty_people_come_to_blocks_that_sum_to_sixty():
    """The size of the picture in the design: five groups over three years."""
    counts = {(group, 4046 + at): n for group, row in {
        "a": (9, 5, 4, 2, 3, 1), "b": (2, 1, 3, 1, 0, 2), "c": (0, 5, 3, 0, 5, 0),
        "d": (0, 2, 1, 2, 1, 2), "e": (0, 3, 0, 2, 1, 0),
    }.items() for at, n in enumerate(row)}  # fmt: skip
    said = say(counts)
    assert (said.people, min(numbers(said)), len(numbers(said))) == (60, 5, 8)


def test_nobody_yet_says_nothing():
    assert say({}) == Said()
