"""Reasons are put together by what is done next, then by whom it is done with."""

from relations.consent.answers import NEXT_ACTION, Answer, Code, NextAction, Reason, Result
from relations.uses import grouping


def answer(*stops, conditions=()):
    result = Result.NOT_CLEARED if stops else Result.CLEARED
    if conditions and not stops:
        result = Result.CONDITIONS
    return Answer(
        result,
        tuple(Reason(*one) for one in stops),
        tuple(Reason(*one) for one in conditions),
        None,
    )


ANSWERS = {
    "K07": answer(("07", Code.ENDED)),
    "G01": answer(("07", Code.ENDED), conditions=[("08", Code.CHECK_IN)]),
    "K35": answer(("35", Code.HOLD), ("35", Code.CHECK_IN)),
    "K01": answer(),
    "K03": answer(conditions=[("03", Code.TELL_FIRST)]),
}


def test_totals_count_each_answer_once():
    assert grouping.totals(ANSWERS.values()) == grouping.Totals(1, 1, 3)


def test_stops_are_grouped_by_next_action_in_order_and_by_person():
    talk, look = grouping.stops(ANSWERS)
    assert (talk.action, look.action) == (NextAction.TALK, NextAction.LOOK_INTO)
    assert [line.about for line in talk.lines] == ["07", "35"]
    assert talk.lines[0].reasons == ((Code.ENDED, ("K07", "G01")),)
    assert talk.pictures == ("K07", "G01", "K35")


def test_one_talk_frees_every_picture_that_nothing_else_keeps_off():
    talk, look = grouping.stops(ANSWERS)
    assert talk.lines[0].frees == ("K07", "G01")
    # 35 is on hold as well: the talk alone frees nothing, nor does the hold.
    assert talk.lines[1].frees == () == look.lines[0].frees
    assert (talk.lines[0].waits, talk.lines[1].waits) == ((), ("K35",))


def test_two_reasons_of_one_next_action_stand_in_one_line():
    both = {"K10": answer(("10", Code.USE), ("10", Code.CHECK_IN))}
    (group,) = grouping.stops(both)
    (line,) = group.lines
    assert line.reasons == ((Code.USE, ("K10",)), (Code.CHECK_IN, ("K10",)))
    assert (line.pictures, line.frees) == (("K10",), ("K10",))


def test_another_sitter_keeps_a_picture_off_too():
    (talk,) = grouping.stops({"G01": answer(("07", Code.ENDED), ("09", Code.USE))})
    assert [line.frees for line in talk.lines] == [(), ()]


def test_conditions_are_listed_where_nothing_stands_against_the_picture():
    (group,) = grouping.conditions(ANSWERS)
    assert [line.about for line in group.lines] == ["03"]


def test_all_reasons_of_one_person_stand_together_whatever_is_done_next():
    lines = {line.about: line for line in grouping.by_person(ANSWERS)}
    assert list(lines) == ["03", "07", "08", "35"]
    assert lines["35"].reasons == ((Code.HOLD, ("K35",)), (Code.CHECK_IN, ("K35",)))
    # Both stand against K35 and both are about 35: settled with 35, it is free.
    assert lines["35"].frees == ("K35",)
    assert lines["07"].frees == ("K07", "G01")
    # A condition keeps nothing off.
    assert (lines["08"].pictures, lines["08"].frees) == (("G01",), ())


def test_picture_that_two_people_keep_off_is_freed_by_neither():
    lines = grouping.by_person({"G01": answer(("07", Code.ENDED), ("09", Code.USE))})
    assert [line.frees for line in lines] == [(), ()]


def test_every_next_action_has_its_place_in_the_order():
    assert set(grouping.ORDER) == set(NextAction) >= set(NEXT_ACTION.values())
