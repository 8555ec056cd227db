"""Who could be told apart on a map without names."""

from hypothesis import given
from hypothesis import strategies as some

from relations.referrals.graph import web
from relations.referrals.shapes import Apart, Shapes, apart
from tests.referrals.projects import UNTIDY, project

PAIR = {"A": ["B"], "B": ["A"], "C": ["D"], "D": ["C"]}


def test_two_pairs_look_alike_until_their_groups_are_marked() -> None:
    groups = {"A": "alder", "B": "alder", "C": "alder", "D": "birch"}
    assert apart(PAIR, groups) == Shapes(4, by_shape=Apart(0, 4), by_group=Apart(1, 4))


def test_five_who_look_alike_hide_each_other() -> None:
    star = {"M": list("ABCDE"), **{leaf: ["M"] for leaf in "ABCDE"}}
    shapes = apart(star, dict.fromkeys("MABCDE", "alder"))
    assert shapes.by_shape == Apart(alone=1, few=1)


def test_only_who_is_on_the_map_is_counted_but_all_their_links_are() -> None:
    """C is outside: not on the map as a person, but its link is what tells B from A."""
    row = {"A": ["B"], "B": ["A", "C"], "C": ["B"]}
    assert apart(row, {"A": "", "B": ""}) == Shapes(2, Apart(2, 2), Apart(2, 2))


def test_whoever_has_no_link_at_all_is_on_the_map_too() -> None:
    assert apart({}, {"A": "", "B": ""}).by_shape == Apart(alone=0, few=2)
    assert apart({}, {}) == Shapes(0, Apart(0, 0), Apart(0, 0))


@given(some.integers(1, 60), some.integers(0, 999))
def test_more_that_is_seen_never_hides_more(people: int, seed: int) -> None:
    given = project(people, seed, UNTIDY)
    found = web(given.words, given.outside)
    shapes = apart(found.beside, {code: given.known[code].community for code in found.reached})
    assert shapes.by_shape.alone <= shapes.by_shape.few <= shapes.people
    assert shapes.by_shape.alone <= shapes.by_group.alone
    assert shapes.by_shape.few <= shapes.by_group.few <= shapes.people == len(found.reached)
