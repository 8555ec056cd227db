"""A drawing as SVG: well formed, in the order of the rows, with nothing in it but what was said."""

import dataclasses
import re
from xml.etree import ElementTree as ET

import pytest

from relations.referrals.drawing import NAMES, growth
from relations.referrals.geometry import Curve, Tick
from relations.referrals.svg import FILE, PAGE, Said, mark, write
from relations.referrals.waves import waves
from tests.referrals.grown import drawn

SVG = "{http://www.w3.org/2000/svg}"
SAID = Said("Growth of the line of 01", "One row a person.", strip="reached each month")


def parsed(text: str) -> ET.Element:
    """Read it as XML, which a browser does for a file and WeasyPrint on paper."""
    if "xmlns" not in text:
        text = text.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
    return ET.fromstring(text)


def words(root: ET.Element) -> list[str]:
    return [one.text for one in root.iter() if one.text]


def test_every_person_is_a_link_to_their_row_in_the_order_of_the_rows() -> None:
    made = growth(drawn(60))
    names = {spot.code: f"{spot.code}, has sat" for spot in made.spots if spot.shape >= 0}
    links = list(parsed(write(made, dataclasses.replace(SAID, names=names), PAGE)).iter(f"{SVG}a"))
    people = [spot.code for spot in made.spots if spot.shape >= 0]
    assert [link.get("href") for link in links] == [f"#p{code}" for code in people]
    assert [link.get("aria-label") for link in links] == [f"{code}, has sat" for code in people]
    assert not [link for link in links if link.find(f"{SVG}title") is not None]


def test_the_whole_is_a_group_with_a_title_and_a_description() -> None:
    root = parsed(write(growth(drawn(42)), SAID, PAGE))
    assert root.get("role") == "group"
    titles = {one.get("id"): one.text for one in root if one.tag in (f"{SVG}title", f"{SVG}desc")}
    assert titles[root.get("aria-labelledby")] == SAID.title
    assert titles[root.get("aria-describedby")] == SAID.desc


def test_without_names_it_holds_no_code_beside_the_labels_it_was_given() -> None:
    plain = drawn(42)
    people = {code: dataclasses.replace(one, label="*") for code, one in plain.people.items()}
    veiled = dataclasses.replace(plain, people=people, outside={"X1": "*", "X2": "*"}, notes={})
    root = parsed(write(growth(veiled), Said("t", "d", ticks=lambda _: "y")))
    assert set(words(root)) == {"*", "t", "d", "y"}
    assert not list(root.iter(f"{SVG}a"))
    values = [value for one in root.iter() for value in one.attrib.values()]
    assert not [value for value in values if re.search(r"X1|X2|alder|birch", value)]


def test_what_is_fluid_has_its_places_in_per_cent_and_no_pixels_across() -> None:
    text = write(growth(drawn(42)), SAID, PAGE)
    places = re.findall(r'\b(?:x|x1|x2)="([^"]+)"', text)
    assert [place for place in places if not place.endswith("%")] == ["8"]  # words of the strip
    assert all(0 <= float(place[:-1]) <= 100 for place in places if place.endswith("%"))
    assert 'width="100%"' in text


def test_a_drawing_that_had_to_grow_keeps_its_width() -> None:
    wide = dataclasses.replace(growth(drawn(42)), width=500)
    assert 'width="500"' in write(wide, SAID, PAGE)


def test_what_is_not_fluid_is_in_pixels_and_twigs_leave_in_a_bend() -> None:
    text = write(growth(drawn(42, is_named=True), NAMES), SAID)
    assert "%" not in re.sub(r"<text[^>]*>[^<]*", "", text)
    assert "Q" in text


def test_every_word_is_escaped() -> None:
    plain = drawn(3)
    people = {c: dataclasses.replace(one, label="<b>&") for c, one in plain.people.items()}
    said = Said("<t>", "<d>", dict.fromkeys(people, '">'), {}, "<s>", lambda _: "<y>")
    text = write(
        growth(dataclasses.replace(plain, people=people, notes=dict.fromkeys(people, "<n>"))), said
    )
    found = words(parsed(text))
    assert {"<b>&", "<t>", "<d>", "<s>", "<y>", "<n>"} <= set(found)


def test_each_line_is_called_at_the_left_where_words_are_given() -> None:
    made = growth(drawn(42), NAMES)
    lines = {line.root: (f"line of {line.root}", f"{line.people} people") for line in made.lines}
    said = dataclasses.replace(SAID, lines=lines)
    assert words(parsed(write(made, said))).count("line of 01") == 1
    assert words(parsed(write(made, said, with_words=False))) == [SAID.title, SAID.desc]


def test_without_words_only_marks_and_lines_are_left() -> None:
    root = parsed(write(growth(drawn(42), NAMES), SAID, with_words=False))
    assert not list(root.iter(f"{SVG}text"))
    assert words(root) == [SAID.title, SAID.desc]


def test_signs_say_who_is_outside_withheld_or_told_of_again() -> None:
    made = growth(drawn(60))
    used = [one.get("href") for one in parsed(write(made, SAID)).iter(f"{SVG}use")]
    assert used.count("#go") == len([one for one in made.spots if one.shape < 0]) > 0
    assert used.count("#gw") == len([one for one in made.spots if one.is_withheld]) > 0
    assert used.count("#gt") == len([one for one in made.spots if one.is_ticked]) > 0


def test_every_mark_that_is_used_is_there_once() -> None:
    root = parsed(write(growth(drawn(60)), SAID))
    ids = [one.get("id") for one in root.iter() if one.get("id")]
    assert len(ids) == len(set(ids))
    assert {one.get("href")[1:] for one in root.iter(f"{SVG}use")} <= set(ids)


@pytest.mark.parametrize("shape", range(6))
def test_a_mark_is_filled_once_sat_and_ringed_with_a_print_and_nothing_else(shape: int) -> None:
    plain = mark(shape, has_sat=False, has_print=False)
    sat = mark(shape, has_sat=True, has_print=False)
    ringed = mark(shape, has_sat=True, has_print=True)
    assert sat.replace(' fill="#17191c"/>', "/>") == plain
    assert re.sub(r'<circle r="10.4"[^>]*>', "", ringed) == sat
    assert "scale(0.5)" in mark(shape, has_sat=True, has_print=True, scale=0.5)
    assert FILE.line in ringed


def test_no_two_groups_look_alike_in_black() -> None:
    assert len({mark(shape, has_sat=True, has_print=False) for shape in range(6)}) == 6


def test_a_curve_leads_from_who_told_us_too_and_is_dotted_where_that_was_later() -> None:
    made = growth(drawn(42))
    for curve, dashes in (
        (Curve(20, 100, 80, 40, is_later=False), "6 3"),
        (Curve(80, 100, 20, 40, is_later=True), "1.5 3"),
    ):
        text = write(dataclasses.replace(made, curves=[curve]), SAID)
        inner = next(one for one in parsed(text).iter(f"{SVG}svg") if one.get("viewBox"))
        assert inner.get("width") == f"{60 * 100 / 328:.4g}%"
        assert inner[0].get("stroke-dasharray") == dashes


def test_words_at_the_axis_may_be_any() -> None:
    said = dataclasses.replace(SAID, ticks=lambda tick: "" if tick.is_year else f"m{tick.on.month}")
    found = words(parsed(write(growth(drawn(42), NAMES), said)))
    assert "m4" in found
    assert "2023" not in found
    assert Tick(0, made_on(), True, True).is_year


def made_on() -> object:
    return growth(drawn(3)).ticks[0].on


def test_whoever_has_no_label_is_a_mark_alone() -> None:
    plain = drawn(9)
    quiet = dataclasses.replace(plain, unlabelled={*plain.people, *plain.outside})
    root = parsed(write(growth(quiet), dataclasses.replace(SAID, ticks=lambda _: "")))
    assert words(root) == [SAID.title, SAID.desc, SAID.strip]
    assert len(list(root.iter(f"{SVG}use"))) >= 9


def test_columns_have_two_short_words_over_them() -> None:
    found = waves(drawn(42))
    heads = [(f"step {step}", f"{people} people") for step, people in enumerate(found.people)]
    text = write(found.growth, Said("t", "d", heads=heads))
    assert words(parsed(text))[2 : 2 + 2 * len(heads)] == [one for head in heads for one in head]
