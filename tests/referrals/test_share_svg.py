"""The share drawing as a picture: areas are numbers, and nothing is written but what is said."""

import re
from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given

from relations.referrals.blocks import say
from relations.referrals.said import NOTHING, Block, Row, Said
from relations.referrals.share_svg import (
    COLOURS,
    SOFT,
    Text,
    Words,
    drawn,
    lay,
    marks,
    placed,
    svg,
)
from tests.referrals.test_blocks import batches, drawings, growing

RECT, TEXT = (f"{{http://www.w3.org/2000/svg}}{name}" for name in ("rect", "text"))
UPRIGHT = r'd="M([\d.]+) [\d.]+L([\d.]+) '
SAID = Said(
    (
        Row(("a",), (Block(4046, 4046, 9), Block(4047, 4047, 5), Block(4048, 4051, 10))),
        Row(("c",), (Block(4040, 4041, 0),)),
        Row(("b", "d"), (Block(4047, 4050, 8), Block(4051, 4051, 0))),
    )
)
WORDS = Words([("Oak & Elm", "24 people"), ("Other groups", "8 people")], "July", ["One.", "Two."])


def test_the_area_of_a_bar_is_its_number_of_people():
    bars = lay(SAID, WORDS).bars
    areas = [(bar.width + 3) * bar.height for bar in bars]
    people = [9, 5, 10, 8]
    assert [area / areas[0] * 9 for area in areas] == pytest.approx(people)
    assert [bar.colour for bar in bars] == [COLOURS[0]] * 3 + [SOFT]


def test_every_row_has_its_name_its_people_and_its_numbers_and_empty_ones_are_not_there():
    picture = lay(SAID, WORDS)
    assert [row.groups for row in drawn(SAID)] == [("a",), ("b", "d")]
    assert [text.words for text in picture.texts] == [
        *("2023", "July", "2024", "July", "2025", "July"),
        *("Oak & Elm", "24 people", "9", "5", "10"),
        *("Other groups", "8 people", "8"),
        *("One.", "Two."),
    ]


def test_nothing_leaves_the_sheet_and_no_two_rows_meet():
    picture = lay(SAID, WORDS)
    for bar in picture.bars:
        assert 0 < bar.x < bar.x + bar.width < picture.width
        assert 0 < bar.y < bar.y + bar.height < picture.height
    first, second = picture.bars[0], picture.bars[-1]
    assert first.y + first.height < second.y - 20
    assert all(0 < text.y <= picture.height - 5 for text in picture.texts)


@pytest.mark.parametrize(("halves", "named"), [(6, 6), (30, 15), (80, 13)])
def test_only_so_much_of_the_axis_is_named_as_there_is_room_for(halves, named):
    said = Said((Row(("a",), (Block(4000, 3999 + halves, 30),)),))
    picture = lay(said, Words([("a", "30 people")], "July", []))
    axis = [text for text in picture.texts if text.words == "July" or text.words.isdigit()]
    assert len([text for text in axis if not text.is_middle]) == named


def test_without_blocks_only_words_are_drawn():
    picture = lay(NOTHING, Words([], "July", ["About 25 people.", "No more."]))
    assert (picture.bars, picture.rules) == ((), ())
    assert [(text.words, text.is_bold) for text in picture.texts] == [
        ("About 25 people.", True), ("No more.", False),
    ]  # fmt: skip


def test_the_file_is_marks_and_words_without_titles_names_of_parts_or_links():
    root = ElementTree.fromstring(svg(lay(SAID, WORDS)))
    seen = {(one.tag.split("}")[1], *one.attrib) for one in root.iter()}
    kinds = {tag for tag, *_ in seen}
    assert kinds == {"svg", "path", "rect", "text"}
    names = {name for _, *names in seen for name in names}
    assert not names & {"id", "class", "href", "style", "aria-label", "title", "data-x"}
    assert "Oak & Elm" in [one.text for one in root.iter()]


def test_what_is_drawn_follows_from_what_is_said_alone():
    counts = {("a", 4046): 31, ("b", 4047): 7}
    first = say(counts)
    later = say({**counts, ("a", 4047): 4}, first)
    words = Words([("a", ""), ("b", "")], "July", [])
    assert svg(lay(first, words)) == svg(lay(later, words))
    assert marks(lay(first, words)) in svg(lay(first, words))


def test_words_from_right_to_left_keep_their_full_stop():
    words = Words(WORDS.rows, "يوليو", ["عدد الأشخاص: 42."])
    written = svg(lay(SAID, words))
    assert ">\u2067عدد الأشخاص: 42.\u2069</text>" in written
    assert ">\u2067يوليو\u2069</text>" in written
    assert ">Oak &amp; Elm</text>" in written
    assert not re.search("[\u2066-\u2069]", svg(lay(SAID, WORDS)))


def test_in_a_page_it_is_as_wide_as_there_is_room():
    root = ElementTree.fromstring(svg(lay(SAID, WORDS), 'role="img"'))
    assert (root.get("role"), root.get("width")) == ("img", None)


def test_on_paper_words_stand_where_they_stand_in_the_file_to_scale():
    begins = placed(Text(14, 100, 20, "Oak"), 0.5)
    assert (begins.left, begins.top, begins.size) == ("7.00", "41.50", "10.00")
    middle = placed(Text(500, 100, 20, "9", is_middle=True), 0.5)
    assert float(middle.left) + float(middle.width) / 2 == 250


def as_read(content: str) -> dict[tuple[str, int, int], int]:
    """What an attacker reads out of the file alone: row, first and last half-year, people."""
    root = ElementTree.fromstring(content)
    texts = [(float(one.get("x")), one.text) for one in root.iter(TEXT)]
    bars = (one.attrib for one in root.iter(RECT))
    upright = {float(x) for x, end in re.findall(UPRIGHT, content) if x == end}
    left, wide = min(upright), sorted(upright)[1] - min(upright)
    x, year = next((x, int(word)) for x, word in texts if word.isdigit())
    first = 2 * year - round((x - left) / wide - 0.05)
    found, row = {}, ""
    for _, word in texts:
        if word.startswith("row "):
            row = word
        elif row and word.isdigit():
            bar = next(bars)
            start = first + round((float(bar["x"]) - left) / wide)
            last = start + round(float(bar["width"]) / wide) - 1
            found[row, start, last] = int(word)
    assert next(bars, None) is None
    return found


@given(batches)
def test_two_files_of_a_growing_project_leave_no_number_from_one_to_four(batches):
    read = []
    for said in drawings(growing(batches)):
        rows = [(f"row {row.name}", "people") for row in drawn(said)]
        read.append(as_read(svg(lay(said, Words(rows, "July", [])))))
        assert read[-1] == {
            (f"row {row.name}", block.first, block.last): block.count
            for row in said.rows
            for block in row.blocks
        }
    for before, after in combinations(read, 2):
        moves = [after[place] - before[place] for place in before.keys() & after.keys()]
        whole = sum(after.values()) - sum(before.values())
        assert not {1, 2, 3, 4}.intersection([*moves, whole])
        assert min(after.values()) >= 5
