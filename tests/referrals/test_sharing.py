"""Maps in disguise: other codes each time, half-years for days, and no tie that is not true."""

import hmac
from datetime import date

import pytest

from relations.referrals.graph import ARTIST, WITHHELD, Kind, Link, Reached, Word, web
from relations.referrals.sharing import (
    Part,
    counts,
    disguise,
    fresh_key,
    of_part,
    pseudonyms,
    within_and_across,
)
from relations.referrals.values import Person

KEY, OTHER = b"k" * 32, b"o" * 32
GROUPS = {"01": "oak", "02": "oak", "03": "elm", "04": "elm", "05": "", "06": "elm"}
WORDS = [
    Word("01", "", date(2024, 1, 9), 1),
    Word("02", "01", date(2024, 3, 5), 2),
    Word("03", "02", date(2024, 8, 20), 3),
    Word("04", "X1", date(2024, 8, 21), 4),
    Word("05", "", date(2024, 9, 2), 5, wave=2, is_withheld=True),
    Word("03", "01", date(2024, 9, 3), 6),
    Word("03", "05", date(2024, 9, 4), 7),
    Word("06", "99", date(2023, 12, 31), 8),
]
ALL = web(WORDS, ["X1"])
PEOPLE = {
    code: Person(code, f"Name {code}", group, has_sat=code == "03", has_print=code == "03")
    for code, group in GROUPS.items()
}


def test_a_key_is_fresh_for_each_export():
    assert len({fresh_key() for _ in range(20)}) == 20
    assert len(fresh_key()) == 32


def test_pseudonyms_are_stable_under_one_key_and_have_nothing_in_common_under_two():
    codes = [f"{number:02}" for number in range(1, 61)]
    one, again, two = pseudonyms(codes, KEY), pseudonyms(codes[::-1], KEY), pseudonyms(codes, OTHER)
    assert one == again
    assert sorted(one.values()) == [f"P{number:03}" for number in range(1, 61)]
    # By chance one code in sixty keeps its place; six would be far more than chance.
    assert sum(one[code] == two[code] for code in codes) < 6
    assert sum(one[code] == f"P{int(code):03}" for code in codes) < 6


def test_pseudonyms_follow_the_order_of_the_hashes():
    order = sorted(
        ["01", "20", "X1"], key=lambda code: hmac.new(KEY, code.encode(), "sha256").digest()
    )
    assert list(pseudonyms(["01", "20", "X1"], KEY)) == order


def test_everybody_counts_in_a_group_and_a_half_year_withheld_and_too_early_ones_too():
    assert counts(ALL, GROUPS) == {
        ("oak", 4048): 2, ("elm", 4049): 2, ("", 4049): 1, ("elm", 4047): 1,
    }  # fmt: skip
    assert counts(ALL, GROUPS).total() == len(GROUPS)
    assert counts(web([]), {}) == {}


def test_told_of_within_a_group_and_across_counts_first_hearings_between_people_of_groups():
    assert within_and_across(ALL, GROUPS) == (1, 1)


@pytest.mark.parametrize(
    ("part", "name", "codes"),
    [
        (Part.LINE, "01", ["01", "02", "03"]),
        (Part.LINE, "X1", ["04"]),
        (Part.LINE, WITHHELD, ["05"]),
        (Part.GROUP, "elm", ["03", "04"]),
        (Part.GROUP, "", ["05"]),
        (Part.GROUP, "ash", []),
    ],
)
def test_a_part_is_one_line_or_one_group(part, name, codes):
    assert of_part(ALL, GROUPS, part, name) == codes


def test_a_line_in_disguise_has_its_shape_its_half_years_and_no_code():
    shown = disguise(ALL, PEOPLE, KEY, only=["01", "02", "03"])
    names = pseudonyms(["01", "02", "03"], KEY)
    half, next_half = date(2024, 1, 1), date(2024, 7, 1)
    first, second, third = (names[code] for code in ("01", "02", "03"))
    assert shown.web.reached == {
        first: Reached(half, ARTIST, 0, line=first, is_exact=False),
        second: Reached(half, first, 1, line=first, is_exact=False),
        third: Reached(next_half, second, 2, line=first, is_exact=False),
    }
    assert shown.web.hanging == {first: 2}
    assert set(shown.web.links) == {
        Link(ARTIST, first, half, Kind.FIRST, is_exact=False),
        Link(first, second, half, Kind.FIRST, is_exact=False),
        Link(second, third, next_half, Kind.FIRST, is_exact=False),
        Link(first, third, next_half, Kind.FURTHER, is_exact=False),
        Link(WITHHELD, third, next_half, Kind.SPOKE_FOR, is_exact=False),
    }
    assert shown.people[third] == Person(third, third, "elm", has_sat=True, has_print=True)
    said = repr(shown)
    assert not [word for word in ("Name", "'01'", "'02'", "'03'", "X1", "20)") if word in said]


def test_whoever_was_told_of_by_somebody_who_is_not_on_the_map_is_no_own_start():
    shown = disguise(ALL, PEOPLE, KEY, only=of_part(ALL, GROUPS, Part.GROUP, "elm"))
    names = pseudonyms(["03", "04", "X1"], KEY)
    half = date(2024, 7, 1)
    told = Reached(half, "", 2, is_withheld=True, line=WITHHELD, is_exact=False)
    assert shown.web.reached[names["03"]] == told
    outside = Reached(half, names["X1"], 1, line=names["X1"], is_exact=False)
    assert shown.web.reached[names["04"]] == outside
    assert shown.web.outside == {names["X1"]}


def test_whoever_is_left_out_is_nowhere_on_the_map_and_a_stub_stands_for_them():
    shown = disguise(ALL, PEOPLE, KEY, only=["01", "03"])
    names = pseudonyms(["01", "03"], KEY)
    assert set(shown.people) == set(shown.web.reached) == set(names.values())
    assert shown.web.reached[names["03"]].source == WITHHELD
    assert shown.web.hanging == {names["01"]: 2}


def test_the_order_says_no_more_than_half_year_wave_and_the_new_code():
    words = [Word(f"{n:02}", "", date(2024, 1, 1 + n), n) for n in range(1, 25)]
    whole = web(words)
    marks = {code: Person(code, code) for code in whole.reached}
    shown = disguise(whole, marks, KEY, only=list(whole.reached))
    assert list(shown.web.reached) == [f"P{number:03}" for number in range(1, 25)]
