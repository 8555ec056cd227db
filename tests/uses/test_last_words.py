"""The fewest talks that serve every plan, in the order of the calendar (F12)."""

from datetime import date, timedelta
from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from relations.people.values import Risk
from relations.uses.last_words import Need, Talk, talks

TODAY = date(2026, 11, 23)


def need(person: str, plan: str, opens: int, before: int, **more: object) -> Need:
    """Days counted from today."""
    opens_on, before_on = (TODAY + timedelta(days=days) for days in (opens, before))
    return Need(person, plan, opens_on, before_on, **more)


def said(found: tuple[Talk, ...]) -> list[tuple[str, int, int, str]]:
    return [
        (
            talk.person,
            (talk.from_on - TODAY).days,
            (talk.before - TODAY).days,
            " ".join(one.plan for one in talk.needs),
        )
        for talk in found
    ]


def test_one_talk_serves_every_plan_whose_windows_share_a_day() -> None:
    found = talks([need("20", "E1", -106, 74), need("20", "B1", -4, 56)], TODAY)
    assert said(found) == [("20", 0, 56, "B1 E1")]


def test_windows_that_share_no_day_are_two_talks() -> None:
    found = talks([need("29", "P1", 5, 10), need("29", "B1", 10, 24)], TODAY)
    assert said(found) == [("29", 5, 10, "P1"), ("29", 10, 24, "B1")]


def test_what_has_begun_is_past_every_talk() -> None:
    assert talks([need("20", "E1", -30, 0)], TODAY) == ()


def test_calendar_comes_first_then_the_gravest_then_what_frees_most() -> None:
    found = talks(
        [
            need("12", "E1", 0, 9, risk=Risk.GRAVE),
            need("10", "B1", 0, 8, pictures=("K10",)),
            need("18", "B1", 0, 8, pictures=("K18", "K19"), frees=("K18",)),
            need("20", "B1", 0, 8, pictures=("K20", "K21"), risk=Risk.RAISED),
            need("30", "B1", 0, 8, risk=Risk.GRAVE),
            need("08", "B1", 0, 8, risk=Risk.ORDINARY, frees=("K08",)),
            need("07", "B1", 2, 8, risk=Risk.GRAVE),
        ],
        TODAY,
    )
    assert [talk.person for talk in found] == ["30", "18", "20", "10", "08", "07", "12"]


def test_a_talk_adds_up_what_waits_for_it() -> None:
    (talk,) = talks(
        [
            need("20", "E1", 0, 9, pictures=("K20", "G01"), frees=("G01",), stops=True),
            need("20", "B1", 0, 8, pictures=("K20",), frees=("K20",), of_speaker=True),
        ],
        TODAY,
    )
    assert (talk.pictures, talk.frees) == (("G01", "K20"), ("G01", "K20"))
    assert (talk.stops, talk.of_speaker) == (True, True)


@given(
    st.lists(
        st.tuples(st.integers(-5, 8), st.integers(1, 6)).map(
            lambda pair: (pair[0], pair[0] + pair[1])
        ),
        max_size=5,
    )
)
def test_no_fewer_talks_would_do_and_each_day_of_a_talk_serves_all_of_it(windows) -> None:
    needs = [need("20", f"P{n}", opens, before) for n, (opens, before) in enumerate(windows)]
    open_ones = [one for one in needs if one.before > TODAY]
    found = talks(needs, TODAY)
    assert sorted(one.plan for talk in found for one in talk.needs) == sorted(
        one.plan for one in open_ones
    )
    for talk in found:
        for one in talk.needs:
            assert one.opens_on <= talk.from_on < talk.before <= one.before
    assert len(found) == fewest(open_ones)


def fewest(needs: list[Need]) -> int:
    """By trying every set of days."""
    days = [TODAY + timedelta(days=n) for n in range(15)]
    for amount in range(len(needs) + 1):
        for chosen in combinations(days, amount):
            if all(any(n.opens_on <= day < n.before for day in chosen) for n in needs):
                return amount
    raise AssertionError("a talk for each is enough")
