"""What the artist asks of the whole web: by hand, by brute force and with nobody."""

from collections import Counter
from datetime import date, timedelta

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as some

from relations.people.values import Risk, Standing
from relations.referrals import answers
from relations.referrals.graph import ARTIST, WITHHELD, Kind, Web, Word, web
from relations.referrals.values import Known
from tests.referrals.projects import UNTIDY, Habits, project

DAY = date(2024, 1, 1)


def heard(text: str, outside: str = "") -> Web:
    """A web of "AB" (A told us of B) and "A" (found), one a day; "?B" is withheld."""
    return web(
        [
            Word(
                pair[-1],
                pair[:-1].replace(WITHHELD, ""),
                DAY + timedelta(at),
                at,
                is_withheld=pair.startswith(WITHHELD),
            )
            for at, pair in enumerate(text.split())
        ],
        outside.split(),
    )


def one(code: str, group: str = "alder", standing: Standing = Standing.NAMED) -> Known:
    sat = standing is Standing.TAKING_PART
    met = sat or standing is Standing.MET
    return Known(
        code=code,
        community=group,
        standing=standing,
        level=Risk.RAISED,
        has_sat=sat,
        has_print=False,
        was_asked=met or standing is Standing.SAID_NO,
        was_met=met,
    )


def grouped(**groups: str) -> dict[str, Known]:
    """Groups by name, each with the codes of its people."""
    return {code: one(code, group) for group, codes in groups.items() for code in codes}


# --- How sure, how far, through whom.


def test_the_ground_says_how_much_is_sure() -> None:
    words = [
        Word("A", ARTIST, DAY), Word("B", "A", DAY + timedelta(1), 1, is_exact=False),
        Word("B", ARTIST, DAY + timedelta(2), 2), Word("A", "B", DAY + timedelta(3), 3),
        Word("C", "D", DAY + timedelta(4), 4), Word("A", "C", DAY + timedelta(5), 5),
        Word("E", "", DAY + timedelta(6), 6, is_withheld=True),
    ]  # fmt: skip
    assert answers.ground(web(words)) == answers.Ground(
        people=3,
        hearings=7,
        further=1,
        spoke_for=1,
        too_early=2,
        unreached=1,
        withheld=1,
        inexact=1,
    )


def test_waves_and_lines_are_counted_the_largest_line_first() -> None:
    found = heard("A AB BC X1D ?E EF", "X1")
    assert answers.far(found).waves == (2, 3, 1)
    assert answers.far(found).lines == (("A", 3), (WITHHELD, 2), ("X1", 1))


def test_a_wave_that_nobody_is_known_of_is_counted_as_nobody() -> None:
    stub = Word("A", "", DAY, wave=2, is_withheld=True)
    assert answers.far(web([stub])).waves == (0, 0, 1)


def test_who_was_reached_only_through_whom_most_first() -> None:
    found = heard("A AB AC BD CD DE")
    assert answers.only_through(found) == (("A", 4, 2), ("D", 1, 1))


# --- What came of it.


def test_what_came_of_each_is_counted_and_sorted_by_count() -> None:
    known = {
        "B": one("B", standing=Standing.TAKING_PART),
        "C": one("C", standing=Standing.SAID_NO),
        "E": one("E", standing=Standing.MET),
    }
    found = heard("A AB AC AD BE")  # of D nothing is known
    assert answers.came_of_it(found, known) == (
        ("A", 3, 2, 1, 1, 1, None),
        ("B", 1, 1, 1, 0, 0, None),
    )


def test_an_interval_is_given_from_five_on() -> None:
    found = heard("A AB AC AD AE AF G GH GI GJ GK")
    known = {code: one(code, standing=Standing.TAKING_PART) for code in "BCDEF"}
    five, four = answers.came_of_it(found, known)
    assert five.interval == pytest.approx((0.5655, 1.0), abs=5e-5)  # 5 of 5, by hand: 1/(1+z²/5)
    assert four.interval is None


def test_leaning_is_on_the_first_introductions_alone() -> None:
    found = heard("A AB AC AD BE BA CE ?F")
    assert answers.leaning(found) == answers.Leaning(2, 4, 16 / 10, 0.75, 1.0)


# --- Doors.


def test_doors_are_counted_by_group_and_all_together_are_everybody() -> None:
    found = heard("A AB BC X1D ?E EF AG GH", "X1")
    table = answers.doors(found, grouped(alder="AB", birch="CDEF"))  # of G and H not known
    assert table.groups == (("birch", 4), ("", 2), ("alder", 2))
    assert table.rows == (
        ("birch", {"birch": 1}),
        ("", {"": 1}),
        ("alder", {"alder": 1, "birch": 1, "": 1}),
    )
    assert (table.by_artist, table.by_outside, table.by_withheld) == (
        {"alder": 1},
        {"birch": 1},
        {"birch": 1},
    )
    assert (table.within, table.across) == (2, 1)
    assert table.openers == (("alder", "A", ARTIST), ("birch", "C", "B"))
    assert [like.index for like in table.likes] == [None, None]


def test_the_first_of_a_group_may_come_from_outside_or_be_withheld() -> None:
    found = heard("X1A ?B", "X1")
    table = answers.doors(found, grouped(alder="A", birch="B"))
    assert table.openers == (("alder", "A", "X1"), ("birch", "B", WITHHELD))


def test_like_by_like_is_said_from_ten_introductions_on() -> None:
    """By hand: half of twenty are of the group, and eight of ten it told us of: .6."""
    found = heard("A AB AC AD AE AF AG AH AI AJ AK K L M N O P Q R S")
    known = grouped(alder="ABCDEFGHIL", birch="JKMNOPQRST")
    like = answers.doors(found, known).likes[0]
    assert (like.group, like.people, like.told_of, like.within) == ("alder", 10, 10, 8)
    assert like.index == pytest.approx((0.8 - 10 / 19) / (1 - 10 / 19))


def test_one_door_is_more_than_thirty_per_cent_of_a_group() -> None:
    three = heard("A B C D E F G AH AI AJ")
    assert answers.one_door(three, grouped(alder="ABCDEFGHIJ")) == ()
    four = heard("A B C D E F AG AH AI AJ")
    assert answers.one_door(four, grouped(alder="ABCDEFGHIJ")) == (("A", "alder", 4, 10),)


def test_a_door_may_stand_behind_another_and_open_to_another_group() -> None:
    """X1 told of A, and all of birch came through A, most of them through C."""
    found = heard("X1A AB BC CD CE CF", "X1")
    doors = answers.one_door(found, grouped(alder="A", birch="BCDEF"))
    assert doors == (
        ("A", "birch", 5, 5),
        ("X1", "birch", 5, 5),
        ("B", "birch", 4, 5),
        ("C", "birch", 3, 5),
        ("X1", "alder", 1, 1),
    )


def test_people_whose_group_is_not_known_are_no_group() -> None:
    assert answers.one_door(heard("A AB AC"), {}) == ()
    assert answers.doors(heard("A AB AC"), {}).likes == ()


# --- All of it by brute force, and with nobody.


def cut_off(found: Web, code: str) -> set[str]:
    """Whom the artist does not get to once one is taken out."""
    roads = nx.DiGraph()
    roads.add_edges_from((ARTIST, other) for other in found.outside)
    for link in found.links:
        if link.kind in (Kind.FIRST, Kind.FURTHER):
            roads.add_edge(ARTIST if link.introducer == WITHHELD else link.introducer, link.person)
    roads.add_node(ARTIST)
    there = roads.subgraph(node for node in roads if node != code)
    return {*found.reached} - {code} - nx.descendants(there, ARTIST)


@given(some.integers(0, 40), some.integers(0, 999))
def test_one_door_is_found_by_taking_each_out(people: int, seed: int) -> None:
    given = project(people, seed, Habits(outside=2, withheld=0.05, groups=("alder", "birch")))
    found, known = web(given.words, given.outside), given.known
    sizes = Counter(known[code].community for code in found.reached)
    flagged = {
        (code, group, count, sizes[group])
        for code in {*found.reached, *found.outside}
        for group, count in Counter(known[x].community for x in cut_off(found, code)).items()
        if count > 0.30 * sizes[group]
    }
    doors = answers.one_door(found, known)
    assert set(doors) == flagged
    assert [one.hanging for one in doors] == sorted((one.hanging for one in doors), reverse=True)


@given(some.integers(0, 60), some.integers(0, 999))
def test_every_answer_counts_the_same_people(people: int, seed: int) -> None:
    given = project(people, seed, UNTIDY)
    found, known = web(given.words, given.outside), given.known
    everybody = len(found.reached)
    ground, far, table = answers.ground(found), answers.far(found), answers.doors(found, known)
    assert ground.people == sum(far.waves) == sum(line.people for line in far.lines) == everybody
    assert ground.people + ground.unreached == people
    assert (
        sum(getattr(ground, kind) for kind in ("further", "spoke_for", "too_early"))
        == ground.hearings - everybody
    )
    told = sum(one.told_of for one in answers.came_of_it(found, known))
    assert (
        told
        == answers.leaning(found).introductions
        == table.within + table.across + sum(table.by_outside.values())
    )
    by_way = (table.by_artist, table.by_outside, table.by_withheld)
    assert table.within + table.across + sum(sum(way.values()) for way in by_way) == everybody
    assert sum(table.by_withheld.values()) == ground.withheld


def test_with_nobody_every_answer_is_empty() -> None:
    nobody = web([])
    assert answers.ground(nobody) == answers.Ground(*[0] * 8)
    assert answers.far(nobody) == answers.Far((), ())
    assert answers.only_through(nobody) == answers.came_of_it(nobody, {}) == ()
    assert answers.leaning(nobody) == answers.Leaning(0, 0, None, None, None)
    table = answers.doors(nobody, {})
    assert (table.groups, table.rows, table.openers, table.within) == ((), (), (), 0)
    assert answers.one_door(nobody, {}) == ()
