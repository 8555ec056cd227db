"""What a record would give away, and what sealing ties buys."""

from collections.abc import Iterable
from datetime import date
from itertools import combinations

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from relations.people.values import Risk, Standing
from relations.referrals import steps
from relations.referrals.graph import ARTIST, Web, Word, web
from relations.referrals.values import Known
from tests.referrals.projects import UNTIDY, Project, project

DAY = date(2024, 1, 1)


def told(*pairs: str) -> Web:
    """A web of pairs "AB": A told us of B; whoever nobody told of was found."""
    found = {pair[0] for pair in pairs} - {pair[1] for pair in pairs}
    starts = [Word(code, ARTIST, DAY) for code in sorted(found)]
    return web([*starts, *(Word(p[1], p[0], DAY, at) for at, p in enumerate(pairs))])


def known(**levels: Risk) -> dict[str, Known]:
    return {
        code: Known(code, "", Standing.NAMED, level, has_sat=False, has_print=False)
        for code, level in levels.items()
    }


def ordinary(codes: Iterable[str]) -> dict[str, Known]:
    return known(**dict.fromkeys(codes, Risk.ORDINARY))


def drawn(found: Web) -> nx.Graph:
    graph = nx.Graph({code: list(near) for code, near in found.beside.items()})
    assert not list(nx.selfloop_edges(graph))
    return graph


def sizes(graph: nx.Graph) -> dict[str, int]:
    """How many are within two steps of each, by networkx."""
    return {
        code: len(nx.single_source_shortest_path_length(graph, code, cutoff=2)) - 1
        for code in graph
    }


def weight(given: Project, code: str) -> int:
    return steps.WEIGHT[given.known[code].level if code in given.known else steps.UNKNOWN]


# --- What a record shows.


def test_a_record_shows_one_and_two_steps_and_how_many_of_them_are_at_risk() -> None:
    found = told("AB", "BC", "CD", "BE")
    people = known(A=Risk.ORDINARY, B=Risk.ORDINARY, C=Risk.GRAVE, D=Risk.RAISED)
    assert steps.within_of(found, people, "B") == ("B", 3, 4, 1, 2)  # of E nothing is known
    assert steps.within_of(found, people, "D") == ("D", 1, 2, 1, 0)


def test_links_of_every_kind_stand_in_a_record_once() -> None:
    """B spoke for A later, and C was named too early by A and then told of by A."""
    words = [
        Word("C", "A", DAY, 0), Word("A", ARTIST, date(2024, 2, 1), 1),
        Word("B", "A", date(2024, 2, 2), 2), Word("A", "B", date(2024, 2, 3), 3),
        Word("C", "A", date(2024, 2, 4), 4), Word("Q", "P", DAY, 5),
    ]  # fmt: skip
    found = web(words)
    assert found.beside == {"A": ["C", "B"], "B": ["A"], "C": ["A"], "P": ["Q"], "Q": ["P"]}
    assert steps.within_of(found, {}, "Q").one == 1


def test_the_artist_and_whoever_is_withheld_lead_nowhere() -> None:
    found = web([Word("A", ARTIST, DAY), Word("B", "", DAY, 1, wave=2, is_withheld=True)])
    assert [one.two for one in steps.within(found, {})] == [0, 0]


def test_somebody_outside_has_a_record_too_and_counts_as_raised() -> None:
    found = web([Word("A", "X1", DAY, 0), Word("B", "X1", DAY, 1)], ["X1"])
    first, *_ = steps.within(found, ordinary("AB"))
    assert first == ("A", 1, 2, 0, 1)
    assert steps.within_of(found, ordinary("AB"), "X1").one == 2


@given(some.integers(0, 60), some.integers(0, 999), some.integers(1, 9))
def test_the_worst_records_are_the_worst_of_all(people: int, seed: int, most: int) -> None:
    given = project(people, seed, UNTIDY)
    found = web(given.words, given.outside)
    by_size = sorted((-size, code) for code, size in sizes(drawn(found)).items())
    worst = steps.within(found, given.known, most)
    assert [(-one.two, one.code) for one in worst] == by_size[:most]
    assert list(worst) == [steps.within_of(found, given.known, one.code) for one in worst]


# --- What to seal first.


def test_of_a_row_of_three_either_tie_gives_the_goal() -> None:
    plan = steps.seal_first(told("AB", "BC"), ordinary("ABC"), goal=1)
    (one,) = plan.sealings
    assert (one.one, one.other, one.fewer, one.fewer_at_risk, one.worst) == ("A", "B", 4, 0, 1)
    assert (plan.worst, plan.shown, plan.is_reached) == (2, 6, True)
    assert [(link.introducer, link.person) for link in one.links] == [("A", "B")]


def test_the_tie_that_shows_somebody_at_grave_risk_is_sealed_first() -> None:
    people = known(A=Risk.ORDINARY, B=Risk.ORDINARY, C=Risk.GRAVE)
    (one,) = steps.seal_first(told("AB", "BC"), people, goal=1).sealings
    assert (one.one, one.other, one.fewer_at_risk) == ("B", "C", 2)


def test_all_that_two_said_of_each_other_is_one_tie() -> None:
    found = web([Word("A", ARTIST, DAY), Word("B", "A", DAY, 1), Word("A", "B", DAY, 2)])
    (one,) = steps.seal_first(found, {}, goal=0).sealings
    assert [(link.introducer, link.person) for link in one.links] == [("A", "B"), ("B", "A")]


def test_where_no_single_tie_helps_those_of_a_record_above_the_goal_go() -> None:
    """Four who all know each other: no record shows fewer until the second tie of one is gone."""
    plan = steps.seal_first(told("AB", "AC", "AD", "BC", "BD", "CD"), ordinary("ABCD"), goal=2)
    assert plan.sealings[0].fewer == 0
    assert plan.is_reached
    assert plan.sealings[-1].worst <= 2


def test_a_tie_far_from_every_record_above_the_goal_is_left() -> None:
    star = told("AB", "AC", "AD", "AE", "XY")
    people = {**ordinary("ABCDE"), **known(X=Risk.GRAVE, Y=Risk.GRAVE)}
    plan = steps.seal_first(star, people, goal=2)
    assert all("X" not in (one.one, one.other) for one in plan.sealings)
    assert plan.sealings[-1].worst == 2


def test_a_list_that_is_cut_short_says_so() -> None:
    plan = steps.seal_first(told("AB", "BC", "CD"), {}, goal=0, most=1)
    assert (len(plan.sealings), plan.is_reached) == (1, False)


def test_a_goal_that_is_held_already_asks_for_nothing() -> None:
    assert steps.seal_first(told("AB"), {}, goal=1) == steps.Plan(1, 1, 2, (), is_reached=True)
    assert steps.seal_first(web([]), {}, goal=0) == steps.Plan(0, 0, 0, (), is_reached=True)


def test_a_goal_below_nobody_is_refused() -> None:
    with pytest.raises(ValueError, match="fewer than nobody"):
        steps.seal_first(told("AB"), {}, goal=-1)


@settings(max_examples=60)
@given(some.integers(2, 30), some.integers(0, 999), some.integers(0, 12))
def test_each_tie_buys_what_it_says_and_no_other_would_have_bought_more(
    people: int, seed: int, goal: int
) -> None:
    given = project(people, seed, UNTIDY)
    found = web(given.words, given.outside)
    graph = drawn(found)
    plan = steps.seal_first(found, given.known, goal, most=6)
    assert (plan.worst, plan.shown) == (max(sizes(graph).values()), sum(sizes(graph).values()))
    for one in plan.sealings:
        offers = {pair: bought(given, graph, pair, goal) for pair in graph.edges}
        mine = offers[
            (one.one, one.other) if (one.one, one.other) in offers else (one.other, one.one)
        ]
        assert mine[:2] == max(offer[:2] for offer in offers.values())
        assert one.fewer == mine[2]
        graph.remove_edge(one.one, one.other)
        assert one.worst == max(sizes(graph).values())
    assert plan.is_reached == (max(sizes(graph).values()) <= goal)


def bought(
    given: Project, graph: nx.Graph, pair: tuple[str, str], goal: int
) -> tuple[int, int, int]:
    """How a tie helps, the weight and the people it takes from all records: by doing it."""
    before, less = sizes(graph), graph.copy()
    less.remove_edge(*pair)
    after = sizes(less)
    fell = {code for code in graph if after[code] < before[code]}
    over = {code for code in graph if before[code] > goal}
    helps = 2 if fell & over else 1 if set(pair) & over else 0
    weights = sum(
        weight(given, other)
        for code in fell
        for other in (
            nx.single_source_shortest_path_length(graph, code, cutoff=2).keys()
            - nx.single_source_shortest_path_length(less, code, cutoff=2).keys()
        )
    )
    return helps, weights, sum(before.values()) - sum(after.values())


def best_of_three(graph: nx.Graph) -> int:
    """The fewest that all records together show once the best three ties are sealed."""
    found = sum(sizes(graph).values())
    for three in combinations(graph.edges, 3):
        less = graph.copy()
        less.remove_edges_from(three)
        found = min(found, sum(sizes(less).values()))
    return found


def test_three_ties_one_after_the_other_are_mostly_as_good_as_any_three() -> None:
    """By trying all threes of thirty small projects: 26 are as good, none leaves a tenth more."""
    left, best = [], []
    for seed in range(1, 31):
        found = web(project(14, seed).words)
        plan = steps.seal_first(found, ordinary(found.beside), goal=0, most=3)
        left.append(plan.shown - sum(one.fewer for one in plan.sealings))
        best.append(best_of_three(drawn(found)))
    assert all(one <= 1.1 * other for one, other in zip(left, best, strict=True))
    assert sum(one == other for one, other in zip(left, best, strict=True)) == 26


# --- To seal a person.


@given(some.integers(1, 40), some.integers(0, 999))
def test_to_seal_a_person_is_to_take_all_their_ties(people: int, seed: int) -> None:
    given = project(people, seed, UNTIDY)
    found = web(given.words, given.outside)
    for one in steps.most_tied(found, given.known):
        graph = drawn(found)
        shown = sum(sizes(graph).values())
        assert one.ties == graph.degree(one.code)
        graph.remove_edges_from(list(graph.edges(one.code)))
        assert one.fewer == shown - sum(sizes(graph).values())
        assert one.worst == max(sizes(graph).values())
        assert 0 <= one.fewer_at_risk <= one.fewer


def test_the_most_tied_come_first_and_who_has_none_is_not_listed() -> None:
    found = told("AB", "AC", "CD")
    assert [one.code for one in steps.most_tied(found, {})] == ["A", "C", "B", "D"]
    assert steps.most_tied(web([Word("A", ARTIST, DAY)]), {}) == ()
