"""The rows of the spot sheet against the project's table of ways, written out by hand."""

from dataclasses import replace

import pytest

from relations.consent import spot
from relations.consent.completeness import (
    Authority,
    Doubt,
    Giving,
    Guardian,
    Missing,
    Way,
    complete,
    doubtful,
)
from relations.consent.spot import Ask
from relations.meetings.helping import NO_INTERPRETER, NO_WITNESS

# job.md, "What makes a form complete", column "Must be there"; the lines that a witness, an
# interpreter, a supporter and a child bring stand there in rows of their own.
ALL = {"day", "own_language", "copy", "explained_by"}
WITNESSED = {"witness", "witness_apart", "witness_stayed", "witness_reads"}
INTERPRETED = {"interpreter", "interpreter_apart", "language_pair"}
RECORDED = {"recording", "serial_and_day", "one_by_one", "two_of_ours"}
CHILD = {"holders", "childs_words", "child_heard_apart"}
ALWAYS = {
    Way.SIGNED: ALL | {"mark"},
    Way.MARK_AND_WITNESS: ALL | {"mark", "read_aloud"} | WITNESSED,
    Way.SPOKEN: ALL | RECORDED,
    Way.SIGN_LANGUAGE: ALL | RECORDED | INTERPRETED | {"video_kept_apart"},
    Way.WITH_SUPPORT: ALL | {"mark", "supporter", "plain_version", "second_talk", "same_answers"},
    Way.CHILD: ALL | CHILD,
}
SOMETIMES = {
    Way.SIGNED: {"read_aloud"} | WITNESSED | INTERPRETED | CHILD,
    Way.MARK_AND_WITNESS: INTERPRETED | CHILD,
    Way.SPOKEN: INTERPRETED | CHILD,
    Way.SIGN_LANGUAGE: CHILD,
    Way.WITH_SUPPORT: {"read_aloud"} | WITNESSED | INTERPRETED | CHILD,
    Way.CHILD: WITNESSED | INTERPRETED,
}
# The same table, column "Makes it doubtful"; whoever has power may be tied in any way.
ANY_WAY = {
    *("signed_before_explained", "other_language", "witness_tied", "interpreter_tied"),
    "answers_changed",
}
LONG_YES = {Way.SPOKEN, Way.SIGN_LANGUAGE}


def column(rows, way: Way, ask: Ask) -> set[str]:
    at = tuple(Way).index(way)
    return {row.code for row in rows if row.cells[at] is ask}


@pytest.mark.parametrize("way", Way)
def test_each_way_asks_for_the_lines_of_the_table(way):
    rows = spot.missing()
    assert column(rows, way, Ask.ALWAYS) == ALWAYS[way]
    assert column(rows, way, Ask.SOMETIMES) == SOMETIMES[way]


@pytest.mark.parametrize("way", Way)
def test_each_way_has_the_doubts_of_the_table(way):
    rows = spot.doubts()
    always = ANY_WAY | ({"one_long_yes"} if way in LONG_YES else set())
    child = {"no_holder"}
    assert column(rows, way, Ask.ALWAYS) == (always | child if way is Way.CHILD else always)
    assert column(rows, way, Ask.SOMETIMES) == (set() if way is Way.CHILD else child)


def test_every_line_and_every_doubt_of_the_rule_has_its_row_in_order():
    assert [row.code for row in spot.missing()] == list(Missing)
    assert [row.code for row in spot.doubts()] == list(Doubt)
    assert all(any(row.cells) for row in (*spot.missing(), *spot.doubts()))


def test_a_line_says_under_which_condition_it_is_asked():
    said = {row.code: row.conditions for row in spot.missing()}
    assert said["read_aloud"] == ("if_not_reading",)
    assert said["witness"] == ("if_not_reading", "if_interpreter")
    assert said["interpreter_apart"] == ("if_interpreter",)
    assert said["holders"] == ("if_child",)
    assert said["mark"] == said["recording"] == ()


@pytest.mark.parametrize("way", Way)
@pytest.mark.parametrize("facts", [{}, *spot.CONDITIONS.values()])
def test_the_rule_never_names_a_line_that_the_sheet_does_not_show(way, facts):
    bare = Giving(way, **{"can_read": True, **facts})
    tied = replace(
        bare,
        witness="w",
        witness_ties=NO_WITNESS,
        interpreter_ties=NO_INTERPRETER,
        guardians=(Guardian(Authority.OTHER),),
    )
    for giving in (bare, tied):
        shown = {*column(spot.missing(), way, Ask.ALWAYS)}
        shown |= column(spot.missing(), way, Ask.SOMETIMES)
        assert set(complete(giving)) <= shown
        doubted = {*column(spot.doubts(), way, Ask.ALWAYS)}
        doubted |= column(spot.doubts(), way, Ask.SOMETIMES)
        assert set(doubtful(giving)) <= doubted
