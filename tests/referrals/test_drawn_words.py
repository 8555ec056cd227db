"""The words of the drawings."""

import dataclasses
from datetime import date

import pytest
from django.utils import translation

from relations.languages.direction import strip_marks
from relations.people.values import Risk, Standing
from relations.referrals import drawn_words as say
from relations.referrals import graph
from relations.referrals.facts import Fact
from relations.referrals.geometry import Tick
from relations.referrals.graph import WITHHELD, Word
from relations.referrals.values import Known

DAY = date(2024, 3, 1)
FACT = Fact(
    code="05", community="oak", group="Oak", has_sat=True, has_print=True, on=DAY, is_exact=True,
    source="01", is_outside=False, is_cut=False, also=(), spoke=(), only_through=0, wave=1,
    opened="", is_doubled=False,
)  # fmt: skip


def label(code: str) -> str:
    return f"<{code}>"


def fact(**rest: object) -> Fact:
    return dataclasses.replace(FACT, **rest)


def test_aloud_says_all_of_a_mark() -> None:
    assert strip_marks(say.aloud(FACT, label)) == (
        "<05>, Oak, has sat, print in hand, word from <01>, heard Mar 2024"
    )
    more = fact(
        has_sat=False, has_print=False, source="", also=("07", WITHHELD), spoke=("08", ""),
        only_through=3, group="",
    )  # fmt: skip
    assert strip_marks(say.aloud(more, label)) == (
        "<05>, No group noted, has not sat, met by ourselves, heard Mar 2024, "
        "also <07> and somebody withheld, spoken for by <08> and ourselves, "
        "3 people reached only through them"
    )


def test_a_note_says_only_what_the_drawing_cannot_show() -> None:
    assert say.note(FACT, label) == ""
    told = fact(is_doubled=True, is_cut=True, also=("07",), spoke=("08",), opened="Oak")
    assert say.note(told, label) == (
        "\u2068Oak\u2069, word from \u2068<01>\u2069, also <07>, "
        "spoken for by <08>, first of \u2068Oak\u2069"
    )
    # A list sets apart only what could turn the line.
    assert say.note(fact(also=("07",)), lambda _code: "\u0646\u0648\u0631") == (
        "also \u2068\u0646\u0648\u0631\u2069"
    )
    with translation.override("ar"):
        assert "\u2068<07>\u2069" in say.note(fact(also=("07",)), label)
    # A code is no word that could turn the line.
    assert "\u2068" not in say.note(fact(is_cut=True, also=("07",)), str)


def test_a_month_is_only_a_year_where_no_more_was_noted() -> None:
    assert say.month(DAY) == "Mar 2024"
    assert say.month(DAY, is_exact=False) == "Mar 2024"
    assert say.month(date(2024, 1, 1), is_exact=False) == "2024"
    assert say.month(date(2024, 1, 1)) == "Jan 2024"


def test_ticks_are_years_and_months_in_the_language_of_the_reader() -> None:
    assert say.tick(Tick(0, date(2024, 1, 1), is_year=True, is_said=True)) == "2024"
    quarter = Tick(0, date(2024, 4, 1), is_year=False, is_said=True)
    assert say.tick(quarter) == "Apr"
    with translation.override("fr"):
        assert say.tick(quarter) == "avr."


@pytest.mark.parametrize("kind", ["growth", "waves", "person", "lines"])
def test_every_kind_of_drawing_has_a_title_with_what_is_drawn(kind: str) -> None:
    assert say.title(say.line_of("01"), kind).startswith("Line of 01")


def test_lines_and_groups_are_called_by_code_and_name() -> None:
    assert say.line_of(WITHHELD) == "Through somebody withheld"
    assert (say.group("Oak"), say.group("")) == ("Oak", "No group noted")
    assert say.line("01", 20) == ("line of 01", "20 people")
    assert say.line("06", 1) == ("line of 06", "")
    assert (say.span("01", 9), say.span(WITHHELD, 2)) == ("01: 9", "withheld: 2")


def test_descriptions_count() -> None:
    assert say.desc(2).startswith("2 people")
    assert say.by_line(3).startswith("3 lines")


def known(code: str, community: str = "") -> Known:
    return Known(code, community, Standing.NAMED, Risk.ORDINARY, has_sat=False, has_print=False)


def test_under_the_drawing_stand_those_told_of_too_early_and_those_of_whom_no_word_is_noted() -> (
    None
):
    words = [Word("A", "", DAY, 0), Word("B", "C", DAY, 1), Word("A", "C", DAY, 2)]
    web = graph.web(words)
    everybody = {code: known(code, "oak") for code in "ABD"}
    found = say.under(web, everybody, None, None)
    assert found == [
        "B is not drawn: C told us before we knew C.",
        "C told us of A before we knew C: not drawn, but a question.",
        "Nobody noted who told us of D.",
    ]
    assert say.under(web, everybody, {"A"}, None) == [found[1]]
    assert say.under(web, everybody, set(), "oak") == [found[2]]
    assert say.under(web, everybody, set(), "ash") == []
