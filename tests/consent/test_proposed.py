"""Marks on a scan propose what opens nothing; every yes is left for a person to press."""

from itertools import product

import pytest

from relations.consent import paper
from relations.consent.boxes import BLANK, differ, stricter, whole
from relations.consent.kinds import KINDS
from relations.consent.proposed import (
    ALL,
    CHOICES,
    HOLDS_BACK,
    OPENS,
    PAIRS,
    UNSURE,
    WAYS,
    Proposed,
    boxes,
    parts,
    propose,
)
from relations.consent.values import FormKind
from relations.documents.marks import Mark

EMPTY, MARKED, NOT_CLEAR = Mark.EMPTY, Mark.MARKED, Mark.UNSURE
EVERY_BOX = [code for box in ALL for code in boxes(box)]
BLANK_PAPER = dict.fromkeys(EVERY_BOX, EMPTY)


def proposed(box: str, **marks: Mark) -> Proposed:
    """What one box starts with, where its parts are marked so and all else is empty."""
    codes = dict(zip((part.replace(" ", "_") for part in parts(box)), boxes(box), strict=True))
    return propose(BLANK_PAPER | {codes[part]: mark for part, mark in marks.items()})[box]


@pytest.mark.parametrize("box", PAIRS)
@pytest.mark.parametrize(
    ("yes", "no", "expected"),
    [
        (MARKED, EMPTY, Proposed(None, is_open=True, saw="yes")),
        (EMPTY, MARKED, Proposed(False)),
        (EMPTY, EMPTY, Proposed(None)),
        (MARKED, MARKED, Proposed(None, saw=UNSURE)),
        (MARKED, NOT_CLEAR, Proposed(None, saw=UNSURE)),
        (NOT_CLEAR, MARKED, Proposed(None, saw=UNSURE)),
        (NOT_CLEAR, EMPTY, Proposed(None, saw=UNSURE)),
        (EMPTY, NOT_CLEAR, Proposed(None, saw=UNSURE)),
        (NOT_CLEAR, NOT_CLEAR, Proposed(None, saw=UNSURE)),
    ],
)
def test_yes_is_asked_only_beside_a_clean_no(box, yes, no, expected):
    assert proposed(box, yes=yes, no=no) == expected


@pytest.mark.parametrize("box", OPENS)
def test_single_box_that_opens_stands_unmarked_where_it_is_not_clear(box):
    found = [propose(BLANK_PAPER | {box: mark})[box] for mark in (EMPTY, NOT_CLEAR, MARKED)]
    assert found == [
        Proposed(False),
        Proposed(False, saw=UNSURE),
        Proposed(False, is_open=True, saw="mark"),
    ]


@pytest.mark.parametrize("box", HOLDS_BACK)
def test_single_box_that_holds_back_is_asked_where_it_is_not_clear(box):
    """To let it stand as not marked would show more than they may have allowed."""
    found = [propose(BLANK_PAPER | {box: mark})[box] for mark in (EMPTY, NOT_CLEAR, MARKED)]
    assert found == [
        Proposed(False),
        Proposed(False, is_open=True, saw=UNSURE),
        Proposed(False, is_open=True, saw="mark"),
    ]


@pytest.mark.parametrize("box", ["name_form", "place_word"])
def test_no_name_and_no_place_stand_and_more_is_asked(box):
    assert proposed(box) == Proposed("none")
    assert proposed(box, none=MARKED) == Proposed("none")
    finest = {"name_form": "full", "place_word": "exact"}[box]
    assert proposed(box, **{finest: MARKED}) == Proposed("none", is_open=True, saw=finest)
    for other in (MARKED, NOT_CLEAR):
        assert proposed(box, none=other, **{finest: MARKED}) == Proposed("none", saw=UNSURE)
    assert proposed(box, **{finest: NOT_CLEAR}) == Proposed("none", saw=UNSURE)


@pytest.mark.parametrize("box", ["if_cannot_answer", "if_died"])
def test_stop_and_ask_stand_and_to_go_on_is_asked(box):
    assert proposed(box) == Proposed("ask")
    assert proposed(box, ask=MARKED) == Proposed("ask")
    assert proposed(box, stop=MARKED) == Proposed("stop")
    assert proposed(box, go_on=MARKED) == Proposed("ask", is_open=True, saw="go on")
    assert proposed(box, go_on=NOT_CLEAR) == Proposed("ask", saw=UNSURE)


@pytest.mark.parametrize("box", ["if_cannot_answer", "if_died"])
@pytest.mark.parametrize(
    "marks",
    [{"stop": NOT_CLEAR}, {"stop": MARKED, "go_on": MARKED}, {"stop": NOT_CLEAR, "ask": MARKED}],
)
def test_stop_that_may_be_marked_is_asked_for(box, marks):
    assert proposed(box, **marks) == Proposed("ask", is_open=True, saw=UNSURE)


def test_way_is_always_asked_since_no_way_opens_nothing():
    assert proposed("way") == Proposed("", is_open=True)
    assert proposed("way", signed=MARKED) == Proposed("", is_open=True, saw="signed")
    both = proposed("way", signed=MARKED, with_support=MARKED)
    assert both == Proposed("", is_open=True, saw=UNSURE)


def test_box_of_which_a_part_was_not_looked_at_is_read_by_hand():
    seen = {code: EMPTY for code in EVERY_BOX if code not in ("uses.web.no", "name_form.none")}
    assert set(ALL) - set(propose(seen)) == {"uses.web", "name_form"}
    assert propose({}) == {}


def test_marks_of_boxes_that_are_in_no_reading_change_nothing():
    assert propose({"ready.all": MARKED, "authority.first.court": MARKED}) == {}


def reading(start: dict[str, Proposed]) -> dict:
    """What would be read where a person presses nothing and every open box stays blank."""
    answers = {}
    for box, one in start.items():
        if not box.startswith("uses."):
            answers[box] = BLANK[box] if one.is_open else one.answer
    assert not any(one.answer for box, one in start.items() if box.startswith("uses."))
    return whole(answers)


@pytest.mark.parametrize("mark", [EMPTY, NOT_CLEAR, MARKED])
def test_paper_marked_all_over_proposes_no_more_than_a_blank_one(mark):
    found = reading(propose(dict.fromkeys(EVERY_BOX, mark)))
    opened = [box for box in differ(found, BLANK) if stricter(found, BLANK)[box] != found[box]]
    assert opened == []


@pytest.mark.parametrize("box", ALL)
def test_no_marks_whatever_let_more_stand_than_a_blank_paper(box):
    """Every combination of marks on the boxes of one line."""
    for marks in product(Mark, repeat=len(boxes(box))):
        one = propose(dict(zip(boxes(box), marks, strict=True)))[box]
        assert one.answer is not True
        if not one.is_open and box not in PAIRS:
            assert stricter({box: one.answer}, BLANK)[box] == one.answer


def test_codes_are_those_of_the_paper():
    assert WAYS == KINDS[FormKind.ADULT].ways == KINDS[FormKind.GROUP].ways
    assert set(CHOICES["if_died"]) == set(paper.WISHES)
