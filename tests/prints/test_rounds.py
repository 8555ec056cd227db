"""The order of a round against every order there is, and what it says of doors it leaves."""

from itertools import combinations, permutations
from random import Random

import pytest

from relations.prints.rounds import AT_A_DOOR, DAY, MOST, Door, Span, between, plan, unknown

QUARTERS = ("la Forme", "Bastide-Claire", "quai des Ferries", "les Corderies", "le Môle")
WHOLE_DAY = Span(0, DAY)
# Source: the issue; how far from the best an order may be.
NEAR = 1.05
PAIR = {("la Forme", "le Môle"): 20}


def generated(chance: Random, count: int, *, hours: bool) -> tuple[list[Door], dict, Span]:
    """A round of so many doors in five quarters, with minutes that obey no map, from ten on."""
    minutes = {
        pair: chance.randint(3, 45)
        for pair in permutations(QUARTERS, 2)
        if chance.random() < 0.5 or pair[0] < pair[1]
    }
    minutes |= {(one, one): chance.randint(0, 6) for one in QUARTERS}
    doors = []
    for number in range(count):
        opens = chance.choice([0, 10 * 60, 11 * 60]) if hours else 0
        closes = opens + chance.choice([90, 240]) if opens else DAY
        doors.append(Door(str(number), chance.choice(QUARTERS), opens, closes))
    return (
        doors,
        minutes,
        Span(10 * 60, 17 * 60 if hours else DAY, chance.choice(["", QUARTERS[0]])),
    )


def brute(doors: list[Door], minutes: dict, span: Span) -> tuple[int, int]:
    """Most doors that any order serves, and the soonest end of those; worked out by trying all."""
    for size in range(len(doors), 0, -1):
        ends = [
            end
            for some in combinations(doors, size)
            for order in permutations(some)
            if (end := walked(order, minutes, span)) is not None
        ]
        if ends:
            return size, min(ends)
    return 0, span.sets_out


def walked(order: tuple[Door, ...], minutes: dict, span: Span) -> int | None:
    at, here = span.sets_out, span.quarter
    for door in order:
        if here:
            back = minutes.get((door.quarter, here), 0 if here == door.quarter else None)
            road = minutes.get((here, door.quarter), back)
            if road is None:
                return None
            at += road
        at = max(at, door.opens) + AT_A_DOOR
        if at > door.closes or at > span.ends:
            return None
        here = door.quarter
    return at


def agrees(doors: list[Door], minutes: dict, span: Span) -> None:
    walk = plan(doors, minutes, span)
    count, end = brute(doors, minutes, span)
    assert len(walk.stops) == count
    assert walk.ends - span.sets_out <= NEAR * (end - span.sets_out)
    # Exact means more than near.
    assert walk.ends == end
    by_key = {door.key: door for door in doors}
    order = tuple(by_key[key] for key, _minute in walk.stops)
    assert walked(order, minutes, span) == walk.ends, "what it says is what walking it takes"
    assert walk.minutes == walk.travel + walk.waiting + AT_A_DOOR * count
    assert len(walk.left) == len(doors) - count


@pytest.mark.parametrize("hours", [False, True])
def test_no_order_of_a_generated_round_is_better_than_the_one_found(hours):
    chance = Random(16)
    for _ in range(40):
        agrees(*generated(chance, chance.randint(0, 5), hours=hours))
    agrees(*generated(chance, 6, hours=hours))


@pytest.mark.long
@pytest.mark.parametrize("hours", [False, True])
def test_no_order_of_seven_or_eight_doors_is_better(hours):
    chance = Random(8)
    for count in (7, 7, 7, 7, 7, 8, 8, 8):
        agrees(*generated(chance, count, hours=hours))


def soonest(doors: list[Door], minutes: dict, span: Span) -> tuple[int, int]:
    """As `brute`, from one set of doors to the next: for more of them than can be tried in turn."""
    ends = {(1 << last, last): end for last in range(len(doors))
            if (end := walked((doors[last],), minutes, span)) is not None}  # fmt: skip
    found = [(0, span.sets_out)]
    while ends:
        found += [(-seen.bit_count(), end) for (seen, _last), end in ends.items()]
        longer: dict[tuple[int, int], int] = {}
        for (seen, last), at in ends.items():
            for fresh in (one for one in range(len(doors)) if not seen >> one & 1):
                onward = Span(at, span.ends, doors[last].quarter)
                end = walked((doors[fresh],), minutes, onward)
                if end is not None:
                    key = (seen | 1 << fresh, fresh)
                    longer[key] = min(end, longer.get(key, end))
        ends = longer
    count, end = min(found)
    return -count, end


@pytest.mark.parametrize("hours", [False, True])
def test_no_order_of_nine_or_ten_doors_is_better(hours):
    chance = Random(10)
    for count in (9, 10, 10):
        doors, minutes, span = generated(chance, count, hours=hours)
        walk = plan(doors, minutes, span)
        assert (len(walk.stops), walk.ends) == soonest(doors, minutes, span)
    few = generated(chance, 5, hours=hours)
    assert soonest(*few) == brute(*few)


def test_same_round_has_the_same_order_each_time_and_a_round_of_nothing_takes_no_time():
    doors, minutes, span = generated(Random(3), MOST, hours=False)
    assert plan(doors, minutes, span) == plan(doors, minutes, span)
    nothing = plan([], {}, Span(600, 700))
    assert (nothing.stops, nothing.minutes, nothing.left) == ((), 0, ())


def test_more_than_ten_doors_are_no_round():
    doors = [Door(str(number), "la Forme") for number in range(MOST + 1)]
    with pytest.raises(ValueError, match="at most 10"):
        plan(doors, {}, WHOLE_DAY)


def test_minutes_are_travel_and_eight_at_each_door():
    doors = [Door("a", "la Forme"), Door("b", "le Môle"), Door("c", "la Forme")]
    walk = plan(doors, PAIR, Span(600, DAY, "la Forme"))
    assert walk.stops == (("a", 600), ("c", 608), ("b", 636))
    assert (walk.travel, walk.waiting, walk.minutes, walk.ends) == (20, 0, 20 + 3 * 8, 644)


def test_one_waits_until_a_door_opens_and_that_is_counted():
    walk = plan([Door("a", "la Forme", opens=660)], {}, Span(600, DAY))
    assert walk.stops == (("a", 660),)
    assert (walk.travel, walk.waiting, walk.minutes) == (0, 60, 68)


def test_nearest_door_is_not_the_first_where_another_one_closes():
    doors = [Door("near", "la Forme"), Door("far", "le Môle", opens=600, closes=630)]
    walk = plan(doors, PAIR, Span(600, DAY, "la Forme"))
    assert [key for key, _minute in walk.stops] == ["far", "near"]


def test_door_that_cannot_be_reached_is_left_with_the_reason():
    early = Door("early", "la Forme", closes=607)
    late = Door("late", "la Forme", opens=1000)
    lost = Door("lost", "the hill")
    span = Span(600, 900, "la Forme")
    assert plan([early], {}, span).left == (("early", "hours_passed"),)
    assert plan([late], {}, span).left == (("late", "dark"),)
    assert plan([lost], {}, span).left == (("lost", "minutes_unknown"),)
    assert not plan([lost], {}, span).stops
    nine = [Door(str(number), "the hill") for number in range(9)]
    assert not plan(nine, {}, span).stops


def test_two_doors_of_the_same_hour_in_two_quarters_are_not_for_one_round():
    doors = [Door("a", "la Forme", 600, 610), Door("b", "le Môle", 600, 610)]
    walk = plan(doors, PAIR, Span(600, DAY))
    assert walk.stops == (("a", 600),)
    assert walk.left == (("b", "not_together"),)


def test_door_that_would_be_reached_after_the_others_but_in_the_dark_is_left_for_that():
    doors = [Door("a", "la Forme"), Door("b", "le Môle")]
    walk = plan(doors, PAIR, Span(600, 620, "la Forme"))
    assert walk.stops == (("a", 600),)
    assert walk.left == (("b", "dark"),)


def test_quarter_to_which_nobody_knows_the_way_from_another_is_said_to_be_unknown():
    walk = plan([Door("a", "la Forme"), Door("b", "the hill")], PAIR, Span(600, DAY))
    assert len(walk.stops) == 1
    assert [code for _key, code in walk.left] == ["minutes_unknown"]


def test_minutes_hold_both_ways_unless_the_way_back_is_noted():
    assert between(PAIR, "le Môle", "la Forme") == 20
    assert between({**PAIR, ("le Môle", "la Forme"): 25}, "le Môle", "la Forme") == 25
    assert between(PAIR, "la Forme", "la Forme") == 0
    assert between({("la Forme", "la Forme"): 4}, "la Forme", "la Forme") == 4
    assert between(PAIR, "la Forme", "the hill") is None


def test_pairs_of_quarters_without_minutes_are_listed_once():
    assert unknown(["le Môle", "la Forme", "the hill", "le Môle"], PAIR) == [
        ("la Forme", "the hill"),
        ("le Môle", "the hill"),
    ]
    assert unknown(["le Môle", "la Forme"], PAIR) == []
