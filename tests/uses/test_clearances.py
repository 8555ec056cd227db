"""What a venue is told, for how long, and what a newer sheet changes."""

import re
from datetime import date
from pathlib import Path

import pytest

from relations.consent import rules
from relations.consent.answers import Code
from relations.consent.values import Plan, Use
from relations.uses.clearances import (
    BY_WORD,
    LONGEST,
    TOLD,
    Change,
    Instruction,
    Line,
    changes,
    instructions,
    may_give_word,
    valid_until,
)

TODAY, START, END = date(2026, 11, 23), date(2027, 2, 5), date(2027, 4, 18)


def plan(use=Use.EXHIBITION, starts_on=START, **other):
    return Plan(use=use, starts_on=starts_on, **{"countries": None, "ends_on": END, **other})


def test_every_condition_that_the_rule_can_give_has_its_instruction():
    source = "".join(path.read_text() for path in Path(rules.__file__).parent.glob("*.py"))
    given = set(re.findall(r"condition\(Code\.([A-Z_0-9]+)\)", source))
    assert {"LAST_WORD", "AS_WRITTEN", "ASK_AT_18"} <= given
    assert {Code[name] for name in given} <= TOLD.keys()


@pytest.mark.parametrize(
    ("codes", "told"),
    [
        ((), ()),
        (("SPEAKER", "NAMED-LESS"), ()),
        (("LAST-WORD",), ("wait",)),
        (("TELL-FIRST", "CHECK-IN"), ("wait",)),
        (("ASK-AT-18",), ("until",)),
        (("AS-WRITTEN", "TAKE-DOWN-BY", "MADE-UNDER-18"), ("wait", "until", "written")),
        (("SOMETHING-NEW",), ("wait",)),
    ],
)
def test_a_venue_is_told_what_to_do_and_several_reasons_sound_alike(codes, told):
    assert instructions(codes) == told


@pytest.mark.parametrize(
    ("codes", "may"),
    [
        ((), False),
        (("AS-WRITTEN",), False),
        (("TELL-FIRST",), True),
        (("MADE-UNDER-18", "ASK-AT-18"), True),
        (("TELL-FIRST", "LAST-WORD"), False),
        (("SOMETHING-NEW",), False),
    ],
)
def test_a_word_is_enough_only_where_no_talk_and_no_form_is_missing(codes, may):
    assert may_give_word(codes) is may
    assert all(TOLD[code] is Instruction.WAIT for code in BY_WORD)


@pytest.mark.parametrize(
    ("days", "planned", "until"),
    [
        # The earliest look-again day, worked by hand: E1 of the demo, K30 on 2027-01-06.
        ((date(2027, 4, 18), None, date(2027, 1, 6)), plan(), date(2027, 1, 6)),
        ((), plan(), END),
        ((None,), plan(ends_on=None), TODAY + LONGEST),
        ((None,), plan(ends_on=date(2026, 11, 1)), TODAY + LONGEST),
        ((None,), plan(Use.BOOK, ends_on=None), START),
        ((None,), plan(is_one_day=True), START),
        ((None,), plan(Use.BOOK, date(2026, 11, 1), ends_on=None), TODAY + LONGEST),
        ((None,), plan(Use.BOOK, TODAY), TODAY),
    ],
)
def test_a_sheet_is_valid_to_the_earliest_day_on_which_an_answer_is_looked_at(days, planned, until):
    assert valid_until(days, planned, TODAY) == until


def test_changes_are_what_a_newer_sheet_says_otherwise_and_no_more():
    wait = (Instruction.WAIT,)
    old = [
        Line("K01", "a"),
        Line("K02", "b"),
        Line("K03", "c", wait),
        Line("K04", "d", (Instruction.UNTIL,), END),
        Line("K05", "e", until=END),
    ]
    new = [
        Line("K01", "another"),
        Line("K03", "c", wait, word_on=TODAY),
        Line("K04", "other", (Instruction.UNTIL,), START),
        Line("K05", "e", until=START),  # a day that the venue is not told
        Line("K06", "f"),
    ]
    assert changes(old, new) == (
        ("K01", (Change.CAPTION,)),
        ("K02", (Change.GONE,)),
        ("K03", (Change.INSTRUCTION,)),
        ("K04", (Change.CAPTION, Change.INSTRUCTION)),
        ("K06", (Change.NEW,)),
    )
    assert changes(old, old) == ()


def test_a_picture_waits_until_the_word_is_given():
    line = Line("K03", "", (Instruction.WAIT,))
    assert line.waits
    assert not Line("K03", "", (Instruction.WAIT,), word_on=TODAY).waits
    assert not Line("K03", "").waits
