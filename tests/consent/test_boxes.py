"""What two readings of one paper make together: where they differ, and what acts meanwhile."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.consent.boxes import BLANK, differ, settled, stricter, whole
from relations.consent.values import NameForm, Use, Wish
from relations.pictures.values import PlaceWord

countries = st.sets(st.sampled_from(["FR", "BE", "PE"]))
days = st.none() | st.dates(date(2026, 1, 1), date(2027, 1, 1))
readings = st.fixed_dictionaries(
    {
        "way": st.sampled_from(["signed", "spoken"]),
        "given_on": days,
        "may_keep": st.sampled_from([None, True, False]),
        "uses": st.sets(st.sampled_from(list(Use))),
        "only_countries": st.none() | countries,
        "not_countries": countries,
        "seen_everywhere": st.booleans(),
        "first_day": days,
        "last_day": days,
        "name_form": st.sampled_from([form.value for form in NameForm]),
        "agreed_name": st.sampled_from(["", "Lia", "Léa"]),
        "place_word": st.sampled_from([word.value for word in PlaceWord]),
        "no_face": st.booleans(),
        "show_first": st.booleans(),
        "approves_captions": st.booleans(),
        "own_condition": st.sampled_from(["", "not in summer", "not in winter"]),
        "if_cannot_answer": st.sampled_from([wish.value for wish in Wish]),
        "if_died": st.sampled_from([wish.value for wish in Wish]),
        "childs_answer": st.sampled_from(["", "yes", "no"]),
        "copy_kept": st.sampled_from([None, True, False]),
        "lines_missing": st.sets(st.sampled_from(["witness", "mark"])),
    }
)


def test_blank_paper_allows_nothing_and_asks():
    assert whole({}) == dict(BLANK)
    assert (BLANK["uses"], BLANK["name_form"], BLANK["if_died"]) == ([], "none", "ask")


def test_days_and_lists_come_out_in_one_writing():
    read = whole({"given_on": date(2026, 11, 20), "uses": [Use.WEB, "book", "web"]})
    assert read["given_on"] == "2026-11-20"
    assert read["uses"] == ["book", "web"]


def test_box_that_the_paper_does_not_have_is_an_error():
    with pytest.raises(KeyError, match="colour"):
        whole({"colour": "red"})


def test_each_use_is_a_box_of_its_own():
    one = {"uses": ["book", "web"], "no_face": True}
    assert differ(one, one) == ()
    assert differ(one, {"uses": ["book", "press"]}) == ("uses.press", "uses.web", "no_face")


def test_settling_takes_the_chosen_answer_of_every_box_that_differs():
    one, two = {"uses": ["book", "web"]}, {"uses": ["book", "press"], "last_day": "2027-01-01"}
    chosen = {"uses.web": False, "uses.press": True, "last_day": None}
    assert settled(one, two, chosen) == whole({"uses": ["book", "press"]})


@pytest.mark.parametrize("chosen", [{}, {"uses.web": True, "no_face": True}])
def test_settling_needs_exactly_the_boxes_that_differ(chosen):
    with pytest.raises(KeyError):
        settled({"uses": ["web"]}, {}, chosen)


def test_yes_counts_only_where_both_read_one():
    both = stricter({"uses": ["book", "web"], "seen_everywhere": True}, {"uses": ["book"]})
    assert both["uses"] == ["book"]
    assert both["seen_everywhere"] is False


def test_limit_counts_where_either_read_one():
    one = {"only_countries": ["FR", "BE"], "last_day": "2027-01-01", "no_face": True}
    two = {"not_countries": ["PE"], "last_day": "2026-12-01", "first_day": "2026-06-01"}
    both = stricter(one, two)
    assert both["only_countries"] == ["BE", "FR"]
    assert both["not_countries"] == ["PE"]
    assert (both["first_day"], both["last_day"]) == ("2026-06-01", "2026-12-01")
    assert both["no_face"] is True


def test_countries_on_which_both_agree_are_those_that_both_read():
    assert stricter({"only_countries": ["FR"]}, {"only_countries": ["BE"]})["only_countries"] == []


def test_name_of_which_two_spellings_were_read_is_not_shown():
    one = {"name_form": "pseudonym", "agreed_name": "Lia"}
    both = stricter(one, {"name_form": "pseudonym", "agreed_name": "Léa"})
    assert (both["name_form"], both["agreed_name"]) == ("none", "")


def test_days_between_which_nothing_is_left_allow_no_country():
    both = stricter({"first_day": "2027-06-01"}, {"last_day": "2027-01-01"})
    assert (both["first_day"], both["last_day"]) == ("2027-01-01", "2027-01-01")
    assert both["only_countries"] == []


def test_childs_no_outweighs_a_yes_and_a_lone_yes_is_none():
    assert stricter({"childs_answer": "yes"}, {"childs_answer": "no"})["childs_answer"] == "no"
    assert stricter({"childs_answer": "yes"}, {})["childs_answer"] == ""
    assert stricter({"childs_answer": "yes"}, {"childs_answer": "yes"})["childs_answer"] == "yes"


def test_way_of_which_two_were_read_is_unknown():
    assert stricter({"way": "signed"}, {"way": "spoken"})["way"] == ""


@given(readings)
def test_equal_readings_are_their_own_stricter_reading(reading):
    days_cross = reading["first_day"] and reading["last_day"]
    if days_cross and reading["first_day"] > reading["last_day"]:
        return
    assert stricter(reading, reading) == whole(reading)
    assert differ(reading, reading) == ()


@given(readings, readings)
def test_stricter_reading_never_opens_what_one_of_both_closes(one, two):
    both = stricter(one, two)
    assert set(both["uses"]) <= {use.value for use in one["uses"] & two["uses"]}
    for each in (whole(one), whole(two)):
        assert set(each["not_countries"]) <= set(both["not_countries"])
        assert set(each["lines_missing"]) <= set(both["lines_missing"])
        if each["only_countries"] is not None:
            assert set(both["only_countries"]) <= set(each["only_countries"])
        if each["last_day"]:
            assert both["last_day"] <= each["last_day"]
        assert both["no_face"] >= each["no_face"]
    assert not (both["first_day"] and both["last_day"]) or both["first_day"] <= both["last_day"]


@given(readings, readings)
def test_order_of_the_readers_does_not_matter(one, two):
    first, second = stricter(one, two), stricter(two, one)
    first.pop("own_condition"), second.pop("own_condition")
    assert first == second


@given(readings, readings)
def test_settling_as_one_of_both_read_gives_that_reading(one, two):
    read = whole(two)
    chosen = {
        box: box.partition(".")[2] in read["uses"] if box.startswith("uses.") else read[box]
        for box in differ(one, two)
    }
    assert settled(one, two, chosen) == read
