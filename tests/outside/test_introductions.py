"""Who was reached through whom beside published figures, networkx and brute force."""

import json
from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import networkx as nx
import pytest

from relations.people.values import Risk, Standing
from relations.referrals.answers import came_of_it, doors, far, leaning, one_door
from relations.referrals.figures import coleman, effective, wilson
from relations.referrals.graph import ARTIST, WITHHELD, Kind, Web, Word, web
from relations.referrals.shapes import Apart, apart
from relations.referrals.steps import two_steps, within_of
from relations.referrals.values import Known
from tests.referrals.projects import UNTIDY, USUAL, Project, hangs_on, project

DEMO = json.loads((Path(__file__).parent.parent / "cases" / "demo.json").read_text("utf-8"))
DAY = date(2024, 1, 1)
# (how many people, seed, habits): 300 projects, half of them untidy.
PROJECTS = [(5 + seed % 36, seed, UNTIDY if seed % 2 else USUAL) for seed in range(300)]


def heard(arcs: Iterable[tuple[str, str]], order: str, root: str = "R") -> Web:
    """A web of arcs (from, to), where each is reached on a day of its own, in `order`."""
    days = {code: DAY + timedelta(number) for number, code in enumerate(order.split())}
    words = [
        Word(person, ARTIST if told == root else told, max(days[person], days.get(told, DAY)), at)
        for at, (told, person) in enumerate(arcs)
    ]
    return web(words)


def arcs(text: str) -> list[tuple[str, str]]:
    return [(one[0], one[-1]) for one in text.split()]


def above(found: Web, root: str = "R") -> dict[str, str]:
    """Whom each hangs on, where the artist is written as the root of the figure."""
    return {code: over or root for code, over in hangs_on(found).items()}


# --- Whom a person hangs on. Where a figure has a circle, one of the two was reached first, and
# what the later one says comes as "spoke for": it opened no road. So a circle is tested by its
# parts without it, each with what networkx 3.6.1 gives for that part.

LENGAUER_TARJAN = arcs(
    "R>A R>B R>C A>D B>A B>D B>E C>F C>G D>L E>H F>I G>I G>J H>K I>K J>I L>H H>E K>I"
)


def test_lengauer_and_tarjan_figure_1_without_its_circles() -> None:
    """TOPLAS 1979; arcs from memory, the figures of this part by networkx 3.6.1."""
    found = heard(LENGAUER_TARJAN, "R B C A D E F G L J H I K")
    tree = {"F": "C", "G": "C", "J": "G", "L": "D", "E": "B", "I": "C"}
    assert above(found) == {code: tree.get(code, "R") for code in "ABCDEFGHIJKL"}
    assert [(link.introducer, link.person) for link in found.links if link.kind == "spoke_for"] == [
        ("H", "E"), ("K", "I"),
    ]  # fmt: skip


def test_the_page_of_boost_and_the_picture_of_domrel() -> None:
    """Both as in the tests of networkx 3.6.1: what goes back changes nothing in them."""
    boost = heard(arcs("0>1 1>2 1>3 2>7 3>4 4>5 4>6 5>7 6>4"), "0 1 2 3 4 5 6 7", "0")
    assert above(boost, "0") == dict(zip("1234567", "0113441", strict=True))
    domrel = heard(arcs("1>2 2>3 2>4 2>6 3>5 4>5 5>2"), "1 2 3 4 5 6", "1")
    assert above(domrel, "1") == {"2": "1", "3": "2", "4": "2", "5": "2", "6": "2"}


@pytest.mark.parametrize("order", ["5 3 4 1 2", "5 4 3 2 1", "5 3 2 4 1", "5 4 1 3 2"])
def test_cooper_harvey_and_kennedy_figure_2_whoever_was_reached_first(order: str) -> None:
    """A Simple, Fast Dominance Algorithm, 2001; arcs as in the tests of networkx 3.6.1."""
    figure = arcs("1>2 2>1 3>2 4>1 5>3 5>4")
    found = heard(figure, order, "5")
    assert above(found, "5") == without_going_back(figure, order, "5")


@pytest.mark.parametrize("order", ["6 4 5 1 2 3", "6 5 1 4 3 2", "6 4 3 2 5 1", "6 4 2 1 3 5"])
def test_cooper_harvey_and_kennedy_figure_4_whoever_was_reached_first(order: str) -> None:
    figure = arcs("1>2 2>1 2>3 3>2 4>2 4>3 5>1 6>4 6>5")
    found = heard(figure, order, "6")
    assert above(found, "6") == without_going_back(figure, order, "6")


def without_going_back(figure: list[tuple[str, str]], order: str, root: str) -> Mapping[str, str]:
    place = {code: number for number, code in enumerate(order.split())}
    forward = nx.DiGraph([(one, two) for one, two in figure if place[one] < place[two]])
    return over(nx.immediate_dominators(forward, root), root)


def over(found: Mapping[str, str], root: str) -> dict[str, str]:
    """The answer of networkx without its root, which some versions put in."""
    return {code: above for code, above in found.items() if code != root}


def test_a_small_forest_by_hand() -> None:
    """Worked by hand: C has two who told of them, so that losing A alone does not cut C off."""
    found = web(
        [
            *(Word("S", "", DAY, 0), Word("T", "", DAY, 1)),
            *(Word("A", "S", DAY + timedelta(1), 2), Word("B", "S", DAY + timedelta(1), 3)),
            *(Word("C", "A", DAY + timedelta(2), 4), Word("C", "B", DAY + timedelta(3), 5)),
            *(Word("D", "A", DAY + timedelta(4), 6), Word("E", "C", DAY + timedelta(5), 7)),
            *(Word("F", "T", DAY + timedelta(6), 8), Word("G", "F", DAY + timedelta(7), 9)),
        ]
    )
    waves = {code: one.wave for code, one in found.reached.items()}
    assert waves == dict(zip("STABCDEFG", (0, 0, 1, 1, 2, 2, 3, 1, 2), strict=True))
    assert above(found) == dict(zip("STABCDEFG", "RRSSSACTF", strict=True))
    assert found.hanging == {"S": 5, "A": 1, "C": 1, "T": 2, "F": 1}


# --- Equality with networkx and with brute force on 300 invented projects.


def forward(found: Web) -> nx.DiGraph:
    """What may have opened a road, from the artist on."""
    roads = nx.DiGraph()
    roads.add_node(ARTIST)
    roads.add_edges_from((ARTIST, code) for code in found.outside)
    for link in found.links:
        if link.kind in (Kind.FIRST, Kind.FURTHER):
            roads.add_edge(ARTIST if link.introducer == WITHHELD else link.introducer, link.person)
    return roads


def cut_off(roads: nx.DiGraph, code: str) -> int:
    """How many the artist does not get to once one is taken out, that one not counted."""
    there = roads.subgraph(node for node in roads if node != code)
    return len(nx.descendants(roads, ARTIST)) - 1 - len(nx.descendants(there, ARTIST))


def swept_again_and_again(given: Project) -> dict[str, tuple[str, int]]:
    """Who was reached through whom and how far out, day by day, until a sweep places nobody."""
    waves = dict.fromkeys(given.outside, 0)
    found: dict[str, tuple[str, int]] = {}
    for day in sorted({word.on for word in given.words}):
        todays = [word for word in given.words if word.on == day]
        todays.sort(key=lambda word: (bool(word.introducer), word.number))
        placed = -1
        while placed != len(found):
            placed = len(found)
            for word in todays:
                is_known = not word.introducer or word.introducer in waves
                if word.person not in found and is_known:
                    wave = waves[word.introducer] + 1 if word.introducer else word.wave or 0
                    waves[word.person] = wave
                    found[word.person] = word.source, wave
    return found


@pytest.mark.parametrize("part", range(6))
def test_300_projects_are_swept_as_by_brute_force(part: int) -> None:
    for people, seed, habits in PROJECTS[part::6]:
        given = project(people, seed, habits)
        found = web(given.words, given.outside)
        assert {
            code: (one.source, one.wave) for code, one in found.reached.items()
        } == swept_again_and_again(given), seed


@pytest.mark.parametrize("part", range(6))
def test_300_projects_hang_as_networkx_and_brute_force_say(part: int) -> None:
    for people, seed, habits in PROJECTS[part::6]:
        given = project(people, seed, habits)
        found = web(given.words, given.outside)
        roads = forward(found)
        assert nx.is_directed_acyclic_graph(roads)
        tree = over(nx.immediate_dominators(roads, ARTIST), ARTIST)
        assert hangs_on(found) == {code: tree[code] for code in found.reached}, seed
        counted = {code: cut_off(roads, code) for code in roads if code != ARTIST}
        assert found.hanging == {code: count for code, count in counted.items() if count}, seed


@pytest.mark.parametrize("part", range(6))
def test_300_projects_fall_into_the_lines_and_steps_of_networkx(part: int) -> None:
    for people, seed, habits in PROJECTS[part::6]:
        given = project(people, seed, habits)
        found = web(given.words, given.outside)
        assert lines(found) == {
            frozenset(line) - found.outside for line in nx.weakly_connected_components(first(found))
        } - {frozenset()}, seed
        beside = nx.Graph()
        beside.add_nodes_from(found.reached)
        beside.add_nodes_from(link.person for link in found.links)
        beside.add_edges_from(
            (link.introducer, link.person)
            for link in found.links
            if link.introducer not in (ARTIST, WITHHELD)
        )
        for code in beside:
            steps = nx.single_source_shortest_path_length(beside, code, cutoff=2)
            assert two_steps(found.beside, code) == set(steps) - {code}, (seed, code)
            one = within_of(found, given.known, code)
            assert (one.one, one.two) == (len(beside[code]), len(steps) - 1)


def first(found: Web) -> nx.DiGraph:
    """The first introductions alone; all who are withheld hang on one stub."""
    tree = nx.DiGraph()
    tree.add_nodes_from(found.reached)
    tree.add_edges_from((one.first, code) for code, one in found.reached.items() if one.first)
    stubs = [code for code, one in found.reached.items() if one.is_withheld]
    tree.add_edges_from(pairwise(stubs))
    return tree


def lines(found: Web) -> set[frozenset[str]]:
    by_line = defaultdict(set)
    for code, one in found.reached.items():
        by_line[one.line].add(code)
    return {frozenset(codes) for codes in by_line.values()}


# --- Steps: networkx's own data sets, each tie as one hearing.


def hearings(graph: nx.Graph) -> Web:
    """Each tie as a hearing; the first in the list is the artist's own start."""
    codes = {node: str(node) for node in graph}
    starts = [Word(code, ARTIST, DAY, number) for number, code in enumerate(codes.values())]
    ties = [
        Word(codes[two], codes[one], DAY + timedelta(1), number)
        for number, (one, two) in enumerate(graph.edges)
    ]
    return web([*starts, *ties])


def test_the_karate_club_within_one_and_two_steps() -> None:
    """networkx 3.6.1; degrees and steps as its own functions give them."""
    found = hearings(nx.karate_club_graph())
    seen = {code: within_of(found, {}, code) for code in found.beside}
    assert {code: (seen[code].one, seen[code].two) for code in ("0", "33", "16")} == {
        "0": (16, 25), "33": (17, 23), "16": (2, 5),
    }  # fmt: skip
    assert (seen["32"].one, seen["2"].one) == (12, 10)


@pytest.mark.parametrize(
    ("graph", "links"),
    [
        (nx.florentine_families_graph(), {"Medici": 6, "Guadagni": 4, "Strozzi": 4}),
        (nx.les_miserables_graph(), {"Valjean": 36, "Gavroche": 22, "Marius": 19, "Javert": 17}),
        (nx.davis_southern_women_graph(), {"E8": 14, "E9": 12, "Evelyn Jefferson": 8}),
    ],
    ids=["florentine families", "les miserables", "southern women"],
)
def test_other_data_sets_have_their_published_numbers_of_links(
    graph: nx.Graph, links: dict[str, int]
) -> None:
    found = hearings(graph)
    assert {code: within_of(found, {}, code).one for code in links} == links
    assert all(
        within_of(found, {}, code).two
        == len(nx.single_source_shortest_path_length(graph, code, cutoff=2)) - 1
        for code in graph
    )


def test_from_a_star_with_m_leaves_everybody_sees_m_within_two_steps() -> None:
    found = hearings(nx.star_graph(7))
    assert {within_of(found, {}, code).two for code in found.beside} == {7}


# --- What is told apart by shape alone, by hand.


def shape(graph: nx.Graph) -> Apart:
    ties = {str(node): [str(other) for other in graph[node]] for node in graph}
    return apart(ties, dict.fromkeys(ties, "one group")).by_shape


def test_who_is_alone_in_a_ring_a_row_and_a_star() -> None:
    """By hand: nobody in a ring; the middle of a row of five; the middle of a star."""
    assert shape(nx.cycle_graph(8)).alone == 0
    assert shape(nx.path_graph(5)).alone == 1
    assert shape(nx.star_graph(6)).alone == 1
    assert shape(nx.path_graph(5)).few == 5
    assert shape(nx.cycle_graph(4)).few == 4


# --- Figures.


@pytest.mark.parametrize(
    ("successes", "trials", "low", "high"),
    [
        *((81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605)),
        *((0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)),
    ],
)
def test_wilsons_interval_is_that_of_newcombe(
    successes: int, trials: int, low: float, high: float
) -> None:
    """Newcombe 1998, table I (from memory); equal to what statsmodels gives."""
    assert wilson(successes, trials) == pytest.approx((low, high), abs=5e-5)


@pytest.mark.parametrize(
    ("counts", "like"),
    [
        *(([30, 30, 20, 20], 3.846154), ([25] * 4, 4), ([40, 30, 20, 10], 10 / 3)),
        *(([5, 3, 1, 1], 2.777778), ([100], 1), ([10, 0, 0], 1), ([4, 3, 2, 1], 10 / 3)),
        *(([7] * 7, 7), ([1, 41, 0, 0, 12, 13], 2.250125)),
    ],
)
def test_effective_number_is_the_inverse_of_the_sum_of_squares(
    counts: list[int], like: float
) -> None:
    """Shares of the US merger guidelines (sum of squares 2,600 and 2,500 of 10,000); the last is
    scikit-bio 0.7.4's own example for inv_simpson."""
    assert effective(counts) == pytest.approx(like, abs=1e-6)


@pytest.mark.parametrize(
    ("own", "share", "index"),
    [
        *((0.85, 0.38, 0.7581), (0.85, 0.51, 0.6939), (0.8, 0.5, 0.6)),
        *((0.5, 0.5, 0), (0.2, 0.6, -0.6667), (1, 0.5, 1), (0.3, 0.5, -0.4)),
    ],
)
def test_colemans_index(own: float, share: float, index: float) -> None:
    """Coleman 1958 as Heckathorn 2002 uses it (formula from memory); 38 and 85 per cent are a
    published example of a school, the others by hand."""
    assert coleman(own, share) == pytest.approx(index, abs=5e-5)


# --- The rehearsal: job.md F4 and its rows.


@pytest.fixture(scope="module")
def rehearsal() -> tuple[Web, dict[str, Known]]:
    words = [
        Word(person["code"], told, date.fromisoformat(person["heard_on"]), number)
        for number, person in enumerate(DEMO["people"])
        for told in person["introduced_by"] or [ARTIST]
    ]
    known = {
        person["code"]: Known(
            code=person["code"],
            community=person["community"],
            standing=Standing.NAMED,
            level=Risk(person["risk"] or "raised"),
            has_sat=bool(person["forms"]),
            has_print=False,
        )
        for person in DEMO["people"]
    }
    return web(words, DEMO["outside_introducers"]), known


def test_the_rehearsal_hangs_on_few(rehearsal: tuple[Web, dict[str, Known]]) -> None:
    found, _ = rehearsal
    most = {code: found.hanging[code] for code in ("01", "20", "X1", "10", "X2", "21")}
    assert most == {"01": 19, "20": 11, "X1": 10, "10": 9, "X2": 8, "21": 6}
    assert sorted(found.hanging.values(), reverse=True)[:6] == list(most.values())
    assert len(far(found).waves) - 1 == 5
    assert [tuple(line) for line in far(found).lines] == [
        ("01", 20), ("X1", 10), ("X2", 8), ("X3", 3), ("06", 1),
    ]  # fmt: skip
    assert leaning(found).introductions == 40


def test_the_rehearsal_has_one_door_only_to_each_of_its_groups(
    rehearsal: tuple[Web, dict[str, Known]],
) -> None:
    found, known = rehearsal
    worst = {}
    for one in one_door(found, known):
        assert one.hanging > 0.30 * one.people
        worst.setdefault(one.group, (one.code, one.hanging, one.people))
    assert worst == {
        "bouleau": ("X1", 10, 10), "cedre": ("01", 10, 10), "erable": ("X2", 8, 8),
        "aulne": ("01", 7, 9), "frene": ("X3", 3, 5),
    }  # fmt: skip
    table = doors(found, known)
    assert table.within + table.across == 34
    assert sum(one.told_of for one in came_of_it(found, known)) == 40
