"""Which numbers are said, and what somebody learns who subtracts, compares and knows the rule.

Thresholds and the worked example: `checks.md` 8. ResDAC 2024 on the cell size policy of the US
Centers for Medicare and Medicaid Services; NHS England on Hospital Episode Statistics from
September 2018 (1 to 7 hidden; the rounding to the nearest five is from memory).
"""

from collections import defaultdict
from itertools import product

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from relations.rights.counts import (
    FAR,
    LEAST,
    LEAST_GRAVE,
    Cell,
    Kind,
    Said,
    Table,
    alone,
    may_stand_together,
    table,
)
from tests.rights.solving import ranges

# Who sat in the demo, by group, as job.md F13 has them; grave harm may come to some of R.
SAT = {"Y": 7, "T": 9, "N": 6, "R": 6, "F": 4}


def cells(counts, grave=(), hides_zero=True):
    return [
        Cell(key, count, LEAST_GRAVE if key in grave else LEAST, hides_zero)
        for key, count in counts.items()
    ]


def words(made):
    """What stands on the paper."""
    rows = {key: (said.kind.value, said.number) for key, said in made.rows.items()}
    return {**rows, "total": (made.total.kind.value, made.total.number)}


def of(*counts, least=(), hides_zero=True):
    """A table of these counts under the keys a, b, c and so on."""
    wide = [*least, *([LEAST] * len(counts))]
    return [Cell(k, n, w, hides_zero) for k, n, w in zip("abcdefgh", counts, wide, strict=False)]


def test_demo_is_said_as_the_rule_has_it():
    assert words(table(cells(SAT, grave="R"))) == {
        "Y": ("number", 7),
        "T": ("number", 9),
        "N": ("number", 6),
        "R": ("under", 10),
        "F": ("under", 5),
        "total": ("about", 30),
    }


def test_one_that_is_hidden_alone_takes_the_next_smallest_with_it():
    said = words(table(cells(SAT)))
    assert said["N"] == ("not_shown", 0)
    assert (said["F"], said["R"]) == (("under", 5), ("number", 6))
    # From 30 on, whoever knows that N is no more than R would leave F two, three or four.
    assert said["total"] == ("about", 25)


@pytest.mark.parametrize(
    ("rule", "shown"),
    [
        ({}, [0, None, 5, 7, 8, 10, 11, 12, 13]),
        ({"least": 11}, [0, None, None, None, None, None, 11, 12, 13]),
        ({"least": 8, "nearest": 5}, [0, None, None, None, 10, 10, 10, 10, 15]),
    ],
    ids=["five", "CMS", "HES"],
)
def test_thresholds_of_public_offices(rule, shown):
    assert [alone(n, **rule) for n in (0, 1, 5, 7, 8, 10, 11, 12, 13)] == shown


def test_zero_is_hidden_where_it_says_something():
    assert alone(0, hides_zero=True) is None
    assert words(table(of(0, 12, 14)))["a"] == ("under", 5)
    assert words(table(of(0, 12, 14, hides_zero=False)))["a"] == ("number", 0)


# Rows and columns of the worked example; which of them are hidden, and what is left of the three.
THREE_BY_THREE = ((20, 3, 17), (12, 14, 9), (8, 25, 11))


@pytest.mark.parametrize(
    ("hidden", "left"),
    [
        (["01"], (3, 3)),
        (["01", "00", "11"], (3, 3)),
        (["01", "02", "11", "12"], (0, 17)),
    ],
)
def test_solver_gives_the_ranges_of_the_worked_example(hidden, left):
    values = {f"{r}{c}": THREE_BY_THREE[r][c] for r, c in product(range(3), repeat=2)}
    within = {name: (0, 119) if name in hidden else (n, n) for name, n in values.items()}
    lines = [[f"{r}{c}" for c in range(3)] for r in range(3)]
    lines += [[f"{r}{c}" for r in range(3)] for c in range(3)]
    totals = [sum(values[name] for name in line) for line in lines]
    sums = [(dict.fromkeys(line, 1), n, n) for line, n in zip(lines, totals, strict=True)]
    assert ranges(within, sums)["01"] == left


def test_fewer_than_five_together_take_the_next_smallest_with_them():
    assert words(table(of(1, 1, 1, 7, 20)))["d"] == ("not_shown", 0)
    assert words(table(of(4, 4, 4, 7, 20)))["d"] == ("number", 7)


def test_two_under_five_always_take_another_with_them():
    # That none was would tell that they are five or more together, so that neither is zero.
    assert words(table(of(4, 4, 9, 20)))["c"] == ("not_shown", 0)


def test_small_project_says_only_that_it_is_small():
    assert words(table(of(3))) == {"a": ("under", 5), "total": ("under", 5)}
    assert words(table([])) == {"total": ("under", 5)}
    assert words(table(of(7, least=[10])))["total"] == ("about", 5)


def test_large_numbers_are_said_as_they_are():
    assert words(table(of(40, 60))) == {
        "a": ("number", 40),
        "b": ("number", 60),
        "total": ("about", 100),
    }


@pytest.mark.parametrize("wrong", [[Cell("a", 1), Cell("a", 2)], [Cell("a", -1)]])
def test_table_that_cannot_have_been_counted_is_refused(wrong):
    with pytest.raises(ValueError, match="counted once"):
        table(wrong)


def check_five_values_are_left(least, most, hides_zero):
    """Every table there is, sorted by what would be printed of it: nothing else is to learn."""
    alike = defaultdict(list)
    for counts in product(range(most + 1), repeat=len(least)):
        if sum(counts) <= most:
            made = table(of(*counts, least=least, hides_zero=hides_zero))
            alike[tuple(words(made).items())].append(counts)
    looked = 0
    for said, tables in alike.items():
        # Where the total reaches the end of what was gone through, some tables are missing.
        if max(map(sum, tables)) > most - 14:
            continue
        for place, (_, (kind, number)) in enumerate(said[:-1]):
            if kind == "under":
                values = {counts[place] for counts in tables}
                assert len(values) >= min(5, number - (not hides_zero)), (said, values)
                looked += 1
    assert looked > 5


@pytest.mark.parametrize("hides_zero", [True, False])
def test_whoever_knows_the_rule_still_finds_five_values(hides_zero):
    check_five_values_are_left((5, 5), 40, hides_zero)
    check_five_values_are_left((10, 5), 40, hides_zero)
    check_five_values_are_left((5, 5, 5), 24, hides_zero)


@pytest.mark.long
@pytest.mark.parametrize("hides_zero", [True, False])
@pytest.mark.parametrize(
    ("least", "most"),
    [((10, 5, 5), 40), ((10, 10, 5), 40), ((5, 5, 5, 5), 32), ((10, 5, 5, 5), 34)],
    ids=str,
)
def test_whoever_knows_the_rule_finds_five_values_in_larger_tables(least, most, hides_zero):
    check_five_values_are_left(least, most, hides_zero)


def read(said: Said, most: int = 60) -> tuple[int, int]:
    """What a careful reader takes a row for who knows that it may stand as last time."""
    if said.kind is Kind.NUMBER:
        number = said.number
        if not said.is_kept:
            return number, number
        # What would be hidden now stands as last time too, where it was less than nine.
        return (0 if number < LEAST_GRAVE + 4 else number - 4), number + 4
    if said.kind is Kind.UNDER:
        return said.low, said.number + 3 if said.is_kept else said.number - 1
    return 0, most


def learnt(made: Table):
    """The ranges of the rows that are left to somebody who subtracts."""
    rows = {key: read(said) for key, said in made.rows.items()}
    return ranges(rows, [(dict.fromkeys(rows, 1), made.total.low, made.total.high)])


def check_nothing_is_learnt(made, counts):
    for key, (low, high) in learnt(made).items():
        assert low <= counts[key] <= high
        said = made.rows[key]
        if said.kind is not Kind.NUMBER:
            own = said.number - 1 - said.low if said.kind is Kind.UNDER else 4
            assert high - low >= min(4, own), (words(made), key)


COUNTS = st.lists(st.integers(0, 14), min_size=1, max_size=5)


@given(COUNTS, st.lists(st.sampled_from([5, 10]), min_size=5, max_size=5), st.booleans())
@settings(max_examples=150)
def test_nobody_who_subtracts_pins_a_hidden_number(counts, least, hides_zero):
    made = table(of(*counts, least=least, hides_zero=hides_zero))
    assert all(
        said.kind is not Kind.NUMBER or said.number == n
        for said, n in zip(made.rows.values(), counts, strict=True)
    )
    assert made.total.low <= sum(counts) <= made.total.high
    assert made.total.kind is Kind.UNDER or made.total.number % 5 == 0
    check_nothing_is_learnt(made, dict(zip("abcdefgh", counts, strict=False)))


@given(
    st.lists(st.integers(0, 9), min_size=3, max_size=3),
    st.lists(st.integers(0, 9), min_size=3, max_size=3),
    st.lists(st.sampled_from([5, 10]), min_size=3, max_size=3),
)
@settings(max_examples=100)
def test_nobody_learns_more_from_both_tables_of_a_report(sat, others, least):
    """All who sat were heard of: the one total is no larger than the other, and that is known."""
    heard = [one + other for one, other in zip(reversed(sat), others, strict=True)]
    few, many = table(of(*sat, least=least)), table(of(*heard, hides_zero=False))
    assume(may_stand_together(few, many))
    rows = {
        f"{table}{key}": said
        for table, made in (("few ", few), ("many ", many))
        for key, said in made.rows.items()
    }
    names = [[name for name in rows if name.startswith(which)] for which in ("few", "many")]
    sums = [
        (dict.fromkeys(names[0], 1), few.total.low, few.total.high),
        (dict.fromkeys(names[1], 1), many.total.low, many.total.high),
        ({**dict.fromkeys(names[0], -1), **dict.fromkeys(names[1], 1)}, 0, FAR),
    ]
    found = ranges({name: read(said, most=30) for name, said in rows.items()}, sums)
    for name, said in rows.items():
        if said.kind is Kind.UNDER:
            low, high = found[name]
            assert high - low >= min(4, said.number - 1 - said.low), name


@given(
    COUNTS,
    st.lists(st.lists(st.integers(-9, 9), min_size=5, max_size=5), min_size=1, max_size=4),
    st.lists(st.sampled_from([5, 10]), min_size=5, max_size=5),
)
@settings(max_examples=150)
def test_no_two_reports_one_after_the_other_differ_by_one_to_four(counts, moves, least):
    made = table(of(*counts, least=least))
    for move in moves:
        counts = [max(0, n + by) for n, by in zip(counts, move, strict=False)]
        before, made = made, table(of(*counts, least=least), made)
        for key, said in made.rows.items():
            old = before.rows[key]
            if said.kind is old.kind is Kind.NUMBER:
                assert not 0 < abs(said.number - old.number) < 5
            elif (said.kind, said.number) != (old.kind, old.number):
                # What the one may mean and what the other may mean are five apart,
                # unless it is hidden beside another one now.
                apart = max(said.low - old.high, old.low - said.high)
                assert apart >= 5 or said.kind is Kind.NOT_SHOWN
        if Kind.ABOUT is made.total.kind is before.total.kind:
            assert abs(made.total.number - before.total.number) % 5 == 0
        assert made.total.low <= sum(counts) <= made.total.high
        check_nothing_is_learnt(made, dict(zip("abcdefgh", counts, strict=False)))


def test_number_that_moved_by_four_is_said_as_last_time():
    first = table(of(12, 20, 30))
    assert words(table(of(16, 20, 30), first)) == words(first)
    assert words(table(of(17, 20, 30), first))["a"] == ("number", 17)


def test_small_moves_do_not_add_up_unseen():
    said = table(of(12, 20))
    for more in (14, 16):
        said = table(of(more, 20), said)
    assert words(said)["a"] == ("number", 12)
    assert words(table(of(17, 20), said))["a"] == ("number", 17)


def test_hidden_number_is_shown_once_it_is_five_from_all_it_may_have_been():
    first = table(of(4, 20, 30))
    assert words(table(of(8, 20, 30), first))["a"] == ("under", 5)
    assert words(table(of(9, 20, 30), first))["a"] == ("number", 9)


def test_number_that_fell_is_not_betrayed_by_being_hidden():
    # Of five, only zero would be five away: "under 5" would say that nobody is left.
    assert words(table(of(0, 20, 30), table(of(5, 20, 30))))["a"] == ("number", 5)
    assert words(table(of(0, 20, 30), table(of(9, 20, 30))))["a"] == ("under", 5)


def test_total_that_moved_by_four_is_said_as_last_time():
    first = table(of(12, 20))
    assert words(first)["total"] == ("about", 30)
    grown = table([*of(12, 20), Cell("c", 4, hides_zero=True)], first)
    assert words(grown)["total"] == ("about", 30)
    assert words(table([*of(12, 20), Cell("c", 5)], first))["total"] == ("about", 35)


def test_what_was_shown_last_time_hides_last():
    first = table(of(6, 20, 30))
    more = [*of(6, 20, 30), Cell("x", 8), Cell("y", 2, hides_zero=True)]
    said = words(table(more, first))
    assert (said["a"], said["x"]) == (("number", 6), ("not_shown", 0))
    only = [*of(6, 20, 30), Cell("y", 2, hides_zero=True)]
    assert words(table(only, first))["a"] == ("not_shown", 0)


def test_what_was_not_shown_stays_so_until_it_is_five_larger_than_it_may_have_been():
    first = table(of(4, 6, 9))
    assert words(first)["b"] == ("not_shown", 0)
    assert words(table(of(4, 13, 9), first))["b"] == ("not_shown", 0)
    assert words(table(of(9, 13, 9), first))["b"] == ("not_shown", 0)
    assert words(table(of(9, 14, 9), first))["b"] == ("number", 14)


def test_total_is_not_shown_where_standing_as_last_time_would_tell_too_much():
    first = table(of(5, 4))
    assert words(first) == {"a": ("not_shown", 0), "b": ("under", 5), "total": ("about", 5)}
    # Twelve is within four of nine; but "about 5" beside a new 10 would leave a at most three.
    second = table(of(2, 10), first)
    assert words(second)["total"] == ("not_shown", 0)
    assert words(table(of(2, 10), second))["total"] == ("about", 10)


def test_steps_of_the_total_stay_where_they_were():
    first = table(of(4, 4, 4, 21))
    later = table(of(4, 4, 4, 27), first)
    # The same is hidden, so the same is known of it: what it comes to lies in the same step.
    assert later.anchor == first.anchor
    assert (later.total.low - 27, later.total.high - 27) == (
        first.total.low - 21,
        first.total.high - 21,
    )


def test_two_tables_stand_together_unless_the_one_total_tells_of_the_other():
    few = table(of(4, 4, 4, 20))
    assert may_stand_together(few, table(of(40, 60)))
    # Nobody else was ever heard of: with 25 in all, and five at least beside it, a is nobody.
    assert not may_stand_together(table(of(0, 5, 20)), table(of(12, 13)))
    # All 43 were photographed, and b is no more than c: a is three or four.
    assert not may_stand_together(table(of(13, 30)), table(of(4, 19, 20)))
    assert few.hidden == {"a", "b", "c"}
    assert FAR > 10**6
