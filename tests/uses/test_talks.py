"""Which talks free most pictures: by hand, beside a search through everything, and by its bound."""

from itertools import chain, combinations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from relations.consent.answers import NEXT_ACTION, Answer, Code, NextAction, Reason, Result
from relations.uses import talks
from relations.uses.talks import SPOKEN_WITH, Talk, circles, ladder, needs
from tests.consent.strategies import sixty_times


def stopped(*stops):
    found = tuple(Reason(about, code) for about, code in stops)
    return Answer(Result.NOT_CLEARED if stops else Result.CLEARED, found, (), None)


def waiting(**said):
    """`K1="ab"`: picture K1 waits for a talk with a and one with b."""
    return {code: frozenset(map(Talk, people)) for code, people in said.items()}


BOOK = {
    "K10": stopped(("10", Code.CHECK_IN)),
    "K18": stopped(("18", Code.CHECK_IN)),
    "K20": stopped(("20", Code.CHECK_IN)),
    "K07": stopped(("07", Code.ENDED)),
    "G01": stopped(("07", Code.ENDED)),
    "K32": stopped(("32", Code.CHECK_IN), ("32", Code.USE)),
    "K13": stopped(("13", Code.CHECK_IN), ("13", Code.GUARDIAN)),
    "K35": stopped(("35", Code.CHECK_IN), ("35", Code.HOLD)),
    "K27": stopped(("27", Code.WITHDRAWN)),
    "K36": stopped(("K36", Code.QUOTE)),
    "K01": stopped(),
}


def test_three_talks_stand_between_the_book_and_three_pictures():
    """The book of the invented scenario, from job.md journey 9: only CHECK-IN, three talks."""
    found = ladder(needs(BOOK, SPOKEN_WITH))
    assert found.whole.talks == (Talk("10"), Talk("18"), Talk("20"))
    assert found.whole.frees == ("K10", "K18", "K20")
    assert [len(rung.frees) for rung in found.rungs] == [1, 2, 3]


def test_a_talk_settles_what_can_be_asked_and_nothing_else():
    found = needs(BOOK)
    assert set(found) == {"K10", "K18", "K20", "K07", "G01", "K32", "K13"}
    assert found["K32"] == {Talk("32")}
    # A child and the parent who is missing are two talks.
    assert found["K13"] == {Talk("13"), Talk("13", is_with_others=True)}


def test_the_best_single_talk_is_the_one_that_frees_two():
    first, *others = ladder(needs(BOOK)).rungs
    assert (first.talks, first.frees) == ((Talk("07"),), ("G01", "K07"))
    assert [len(rung.frees) for rung in others] == [3, 4, 5, 6, 7]
    assert all(rung.is_exact for rung in (first, *others))


def test_two_of_three_talks_may_free_more_than_the_best_one_and_another():
    """a alone frees one, b and c together three: the best pair leaves the best single out."""
    found = ladder(waiting(K1="a", K2="bc", K3="bc", K4="cb"))
    assert [(rung.talks, len(rung.frees)) for rung in found.rungs] == [
        ((Talk("a"),), 1),
        ((Talk("b"), Talk("c")), 3),
        ((Talk("a"), Talk("b"), Talk("c")), 4),
    ]


def test_nothing_waits_for_a_talk():
    found = ladder({})
    assert (found.rungs, found.whole.talks, found.whole.frees) == ((), (), ())
    assert found.whole.is_exact


def test_pictures_that_share_no_talk_stand_in_circles_of_their_own():
    parts = circles(waiting(K1="ab", K2="c", K3="bd", K4="c"))
    assert [sorted(part) for part in parts] == [["K1", "K3"], ["K2", "K4"]]


def test_every_next_action_is_settled_by_a_talk_or_is_not():
    settled = {NEXT_ACTION[code] for code in talks.SETTLED_BY_TALK}
    assert settled == {NextAction.TALK, NextAction.SHOW_OR_READ, NextAction.ASK_WHO_MAY_ANSWER}
    assert Code.WITHDRAWN not in talks.SETTLED_BY_TALK


PEOPLE = "abcdefgh"
SOME = st.frozensets(st.sampled_from([Talk(code) for code in PEOPLE]), min_size=1, max_size=4)
WAITING = st.dictionaries(st.sampled_from([f"K{number:02}" for number in range(14)]), SOME)


def searched(found, count):
    """The most that so many talks can free, found by trying every set of them."""
    every = sorted(set(chain.from_iterable(found.values())))
    tried = combinations(every, min(count, len(every)))
    return max(sum(some <= set(talks) for some in found.values()) for talks in tried)


@sixty_times
@given(WAITING)
def test_a_rung_is_what_trying_everything_finds(found):
    rungs = ladder(found).rungs
    for rung in rungs:
        assert rung.is_exact
        assert len(rung.frees) == searched(found, len(rung.talks))
        assert set(rung.frees) == {code for code, some in found.items() if some <= set(rung.talks)}
    # Between two rungs more talks free no more.
    for count in range(1, len(PEOPLE) + 1):
        reached = [len(rung.frees) for rung in rungs if len(rung.talks) <= count]
        assert not found or max(reached, default=0) == searched(found, count)


@sixty_times
@given(WAITING)
@example(waiting(K0="ab", K1="ad", K2="bc", K3="ac", K4="abe"))  # abe is picked, and abc frees more
def test_a_bound_is_never_less_than_what_can_be_reached(found):
    """The way of large circles, taken in small ones where all can be tried."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(talks, "EXACT", 0)
        fallen_back = ladder(found)
    for rung in fallen_back.rungs:
        most = searched(found, len(rung.talks))
        assert len(rung.frees) <= most <= rung.at_most
        assert set(rung.frees) == {code for code, some in found.items() if some <= set(rung.talks)}
    # The best single talk is known for certain; of several that are picked, only the bound is.
    if single := searched(found, 1):
        first = fallen_back.rungs[0]
        assert (len(first.talks), len(first.frees)) == (1, single)


@sixty_times
@given(WAITING)
def test_fewer_talks_than_all_never_free_everything(found):
    whole = ladder(found).whole
    assert set(whole.frees) == set(found)
    for talk in whole.talks:
        assert any(talk in some for some in found.values())


def test_large_circle_says_how_far_off_it_may_be():
    """Sixteen people in a ring, each picture waiting for two neighbours: two talks free one."""
    ring = [chr(ord("a") + number) for number in range(16)]
    pairs = zip(ring, [*ring[1:], ring[0]], strict=True)
    found = ladder(waiting(**{f"K{place:02}": "".join(pair) for place, pair in enumerate(pairs)}))
    assert [(len(rung.talks), len(rung.frees), rung.at_most) for rung in found.rungs[:3]] == [
        (2, 1, 2),
        (3, 2, 3),
        (4, 3, 4),
    ]
    assert not found.rungs[0].is_exact
    assert len(found.whole.frees) == 16 == len(found.whole.talks)


def test_thousands_of_pictures_in_one_circle_are_answered_at_once():
    found = ladder(
        {
            f"K{number:04}": frozenset({Talk(f"{number % 97}"), Talk(f"{number % 89}")})
            for number in range(5_000)
        }
    )
    assert len(found.whole.frees) == 5_000
    assert found.rungs[-1].at_most >= len(found.rungs[-1].frees) > 0
