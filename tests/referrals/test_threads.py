"""Reach against what was hoped for, what is open with whom, and whom to thank."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as some

from relations.people.values import Risk, Standing
from relations.referrals.graph import ARTIST, WITHHELD, Kind, Link, Word, web
from relations.referrals.threads import Group, Rule, Thread, reach, threads, to_thank
from relations.referrals.values import Known

SPRING, SUMMER, AUTUMN = date(2025, 4, 1), date(2025, 7, 1), date(2025, 10, 1)


def known(code: str, group: str = "aulne", **more: object) -> Known:
    plain = Known(code, group, Standing.NAMED, Risk.RAISED, has_sat=False, has_print=False)
    return replace(plain, **more)  # type: ignore[arg-type]


def sitter(code: str, on: date | None = SPRING, **more: object) -> Known:
    usual = {"has_sat": True, "was_asked": True, "was_met": True, "sat_on": on}
    return known(code, **{"standing": Standing.TAKING_PART, **usual, **more})


def asked(code: str, since: date = SPRING, **more: object) -> Known:
    usual = {"was_asked": True, "since": since, "standing": Standing.THINKING_IT_OVER}
    return known(code, **{**usual, **more})


def link(introducer: str, person: str, on: date = SPRING, kind: Kind = Kind.FIRST) -> Link:
    return Link(introducer, person, on, kind)


def open_with(*people: Known, hoped: int | None = 9, links: tuple[Link, ...] = ()) -> list[Thread]:
    groups = reach(people, (), {"aulne": hoped})
    return list(threads(people, groups, links).open)


def said(*people: Known, **more: object) -> list[tuple[Rule, str]]:
    return [(one.rule, one.code) for one in open_with(*people, **more)]  # type: ignore[arg-type]


# Shares worked by hand: of three told of, two are of Aulne; of two who sat, one is.
def test_each_group_is_counted_against_what_was_hoped_for_and_as_a_share_of_all():
    people = [
        sitter("01", has_print=True),
        asked("02"),
        known("03", standing=Standing.SAID_NO, was_asked=True),
        sitter("20", group="cedre"),
    ]
    aulne, cedre = reach(people, ["02", "03", "20"], {"aulne": 3, "cedre": None})
    assert aulne == Group("aulne", 3, 2, 3, 1, 1, 1, 1, of_told=2 / 3, of_sat=1 / 2)
    assert (aulne.missing, cedre.missing) == (2, None)
    assert (cedre.told, cedre.sat, cedre.of_told, cedre.of_sat) == (1, 1, 1 / 3, 1 / 2)


def test_more_than_was_hoped_for_leaves_nothing_missing():
    (group,) = reach([sitter("01"), sitter("02")], (), {"aulne": 1})
    assert group.missing == 0


def test_a_sitter_who_steps_back_or_wants_no_ring_has_not_said_no_to_sitting():
    (group,) = reach([sitter("01", standing=Standing.NEVER_RING)], (), {"aulne": 1})
    assert (group.sat, group.said_no) == (1, 0)


def test_those_of_no_known_group_stand_last_and_only_where_there_are_any():
    alone = known("05", group="")
    assert [one.community for one in reach([alone], (), {"aulne": 1})] == ["aulne", ""]
    assert [one.community for one in reach([], (), {"aulne": 1})] == ["aulne"]
    assert reach([], (), {"aulne": 1})[0].of_sat == 0.0


# introductions.md 1.6, the three rules.
def test_a_print_that_is_owed_is_open_whatever_was_hoped_for_since_the_sitting():
    owed = sitter("01", owes_print=True, asked_to_tell_on=SUMMER)
    assert open_with(owed, hoped=None) == [Thread(Rule.PRINT_OWED, "01", "aulne", SPRING)]


def test_who_was_asked_and_not_met_is_open_where_sitters_are_missing():
    assert open_with(asked("02")) == [Thread(Rule.NOT_MET, "02", "aulne", SPRING)]
    assert said(asked("02", was_met=True)) == []
    assert said(known("02")) == []


def test_a_sitter_who_told_of_nobody_and_was_never_asked_to_is_open_where_sitters_are_missing():
    assert said(sitter("03")) == [(Rule.NOT_ASKED, "03")]
    assert said(sitter("03", asked_to_tell_on=SUMMER)) == []
    assert said(sitter("03"), links=(link("03", "04"),)) == []
    assert said(sitter("03", standing=Standing.GONE_QUIET)) == []


@pytest.mark.parametrize("hoped", [None, 0, 1])
def test_where_nobody_said_how_many_or_enough_have_sat_nobody_is_rung_for_more(hoped):
    assert said(sitter("03"), asked("02"), hoped=hoped) == []


def test_who_is_of_no_known_group_is_missing_in_none():
    assert said(asked("02", group="")) == []


def test_threads_stand_by_rule_and_then_oldest_first_with_unknown_days_last():
    people = (
        asked("05", AUTUMN),
        asked("04", SUMMER),
        asked("03", SPRING),
        sitter("01", None, owes_print=True, asked_to_tell_on=SPRING),
        sitter("02", SUMMER, owes_print=True, asked_to_tell_on=SPRING),
    )
    assert [code for _, code in said(*people)] == ["02", "01", "03", "04", "05"]


@pytest.mark.parametrize("standing", ["said_no", "never_ring", "let_go", "closed"])
def test_who_wants_no_more_of_us_is_in_no_list(standing):
    over = sitter("01", owes_print=True, standing=Standing(standing))
    assert said(over) == []
    assert to_thank([link("01", "02")], {"01": over, "02": sitter("02")}, {}) == ()


def test_who_is_on_hold_is_left_out_and_that_some_are_is_counted():
    people = [sitter("01", owes_print=True, is_held=True), asked("02")]
    found = threads(people, reach(people, (), {"aulne": 9}), ())
    assert ([one.code for one in found.open], found.held) == (["02"], 2)


def thanks(*links: Link, last: date | None = None, **people: Known) -> list[tuple[str, ...]]:
    known_by = {code.removeprefix("p"): one for code, one in people.items()}
    return [(one.introducer, *one.people) for one in to_thank(links, known_by, {"X1": last})]


def test_whoever_told_us_of_people_who_sat_is_to_be_thanked_most_people_first():
    found = thanks(
        link("01", "03"), link("02", "04"), link("02", "05"), link("01", "06"),
        p01=sitter("01"), p02=sitter("02"), p03=sitter("03"), p04=sitter("04"), p05=sitter("05"),
        p06=known("06"),
    )  # fmt: skip
    assert found == [("02", "04", "05"), ("01", "03")]


@pytest.mark.parametrize(("last", "is_due"), [(None, True), (SPRING, True), (SUMMER, False)])
def test_thanks_are_due_for_sittings_after_the_last_ones(last, is_due):
    links, people = [link("01", "03"), link("X1", "03")], {"03": sitter("03", SUMMER)}
    people["01"] = sitter("01", thanked_on=last)
    found = {one.introducer: one.last for one in to_thank(links, people, {"X1": last})}
    assert found == ({"01": last, "X1": last} if is_due else {})


def test_a_word_put_in_after_the_sitting_is_thanked_for_from_its_own_day():
    spoke = link("01", "03", AUTUMN, Kind.SPOKE_FOR)
    people = {"01": sitter("01", thanked_on=SUMMER), "03": sitter("03", SPRING)}
    assert [one.people for one in to_thank([spoke], people, {})] == [("03",)]


def test_a_sitting_without_a_day_is_thanked_for_once():
    people = {"03": sitter("03", None)}
    assert thanks(link("X1", "03"), p03=people["03"]) == [("X1", "03")]
    assert thanks(link("X1", "03"), last=SPRING, p03=people["03"]) == []


def test_nobody_is_thanked_for_what_came_too_early_nor_the_artist_nor_who_is_withheld():
    sat = sitter("03")
    for told in (link("01", "03", kind=Kind.TOO_EARLY), link(ARTIST, "03"), link(WITHHELD, "03")):
        assert thanks(told, p01=sitter("01"), p03=sat) == []
    assert thanks(link("01", "03"), p01=sitter("01", is_held=True), p03=sat) == []
    assert thanks(link("01", "gone"), p01=sitter("01")) == []


@given(some.lists(some.tuples(some.integers(0, 5), some.integers(0, 5), some.booleans())))
def test_nobody_is_thanked_twice_for_one_person_and_only_for_those_who_sat(told):
    words = [
        Word(f"{number}{person}", f"{number - 1}{introducer}" if number else "", SPRING, at)
        for at, (introducer, person, _) in enumerate(told)
        for number in (0, 1, 2)
    ]
    found = web(words)
    people = {code: sitter(code) if code[0] == "2" else known(code) for code in found.reached}
    for one in to_thank(found.links, people, {}):
        assert len(set(one.people)) == len(one.people) > 0
        assert all(code.startswith("2") for code in one.people)
