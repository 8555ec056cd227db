"""The drawing as facts: one row a person, in its order."""

from datetime import date, timedelta

from relations.people.values import Risk, Standing
from relations.referrals import graph
from relations.referrals.drawing import Drawn, growth
from relations.referrals.facts import Fact, facts
from relations.referrals.graph import WITHHELD, Word
from relations.referrals.values import Known, Person
from tests.referrals.grown import GROUPS, drawn

DAY = date(2024, 1, 1)
NAMES = {"ash": "Ash", "oak": "Oak"}


def known(code: str, community: str = "oak") -> Known:
    return Known(code, community, Standing.TAKING_PART, Risk.GRAVE, has_sat=True, has_print=False)


def small(only: set[str] | None = None, groups: tuple[str, ...] = ("ash", "oak")) -> list[Fact]:
    heard = [
        ("A", ""),
        ("B", "A"),
        ("C", "X1"),
        ("B", "C"),
        ("A", "B"),
        ("D", "C"),
        ("C", "A"),
        ("D", "Z"),
    ]
    words = [Word(who, by, DAY + timedelta(n), n) for n, (who, by) in enumerate(heard)]
    web = graph.web([*words, Word("E", "", DAY, 9, 1, is_withheld=True)], ["X1"])
    people = {code: Person(code, code, "oak") for code in "ABCDE"}
    plan = Drawn(web, people, {"X1": "X1"}, groups, only=only)
    return facts(plan, {code: known(code) for code in "ABCDE"}, NAMES)


def one(code: str, found: list[Fact]) -> Fact:
    return next(fact for fact in found if fact.code == code)


def test_facts_stand_in_the_order_of_the_rows_and_leave_out_who_is_outside() -> None:
    plan = drawn(60)
    marks = [spot.code for spot in growth(plan).spots if spot.shape >= 0]
    knew = {code: known(code, person.community) for code, person in plan.people.items()}
    assert [fact.code for fact in facts(plan, knew, dict.fromkeys(GROUPS, "x"))] == marks


def test_a_fact_says_who_told_us_first_later_and_once_we_had_met() -> None:
    found = small()
    assert (one("A", found).source, one("A", found).spoke) == ("", ("B",))
    assert (one("B", found).source, one("B", found).spoke) == ("A", ("C",))
    assert (one("C", found).source, one("C", found).is_outside) == ("X1", True)
    assert one("C", found).also == ("A",)
    assert one("E", found).source == WITHHELD
    assert one("D", found).also == ()  # told of by Z, whom nobody knows: a question, no fact


def test_a_fact_says_how_far_out_and_how_many_hang_there() -> None:
    found = {fact.code: (fact.wave, fact.only_through) for fact in small()}
    assert found == {"A": (0, 1), "B": (1, 0), "C": (1, 1), "D": (2, 0), "E": (1, 0)}


def test_who_told_us_is_cut_off_where_only_some_are_drawn() -> None:
    cut = {fact.code for fact in small({"B", "D", "E"}) if fact.is_cut}
    assert cut == {"B", "D"}
    assert not [fact for fact in small() if fact.is_cut]


def test_the_first_of_a_group_opened_it() -> None:
    assert [(fact.code, fact.opened) for fact in small() if fact.opened] == [("A", "Oak")]


def test_a_sixth_group_shares_its_shape_and_is_named() -> None:
    assert not any(fact.is_doubled for fact in small())
    assert all(fact.is_doubled for fact in small(groups=("a", "b", "c", "d", "e", "oak")))
